from __future__ import annotations

import contextlib
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from labeltool.records.store import open_store

SCRIPT = Path(__file__).with_name("record_samples.py")
WRITERS, EACH = 16, 4


def writer(path: Path, count: int) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, str(SCRIPT), str(path), str(count)], stdout=subprocess.PIPE, text=True)


def test_sixteen_writers_at_once_lose_nothing_and_share_no_code(path):
    running = [writer(path, EACH) for _ in range(WRITERS)]
    codes = [line for process in running for line in process.communicate(timeout=120)[0].split()]
    assert [process.returncode for process in running] == [0] * WRITERS
    assert len(codes) == len(set(codes)) == WRITERS * EACH
    with open_store(path) as store:
        assert sorted(store.all_codes()) == sorted(codes)
        assert all([row.number for row in store.prints(code)] == [1] for code in codes)
        assert len(store.events()) == 2 * WRITERS * EACH
        assert not store.check(path.parent).errors


def test_killed_in_the_middle_of_writing_the_chain_stays_good(path):
    chance = random.Random(7)
    told: set[str] = set()
    for _ in range(8):
        process = writer(path, 10_000)
        told.add(process.stdout.readline().strip())
        time.sleep(chance.uniform(0.01, 0.12))
        os.kill(process.pid, signal.SIGKILL)
        told |= set(process.communicate(timeout=30)[0].split())
        with open_store(path) as store:
            assert not store.check(path.parent).errors
            assert told <= set(store.all_codes())
            assert len(store.batches()) == len(set(store.all_codes()))
    assert len(told) >= 8


def test_two_that_make_the_record_at_once_make_one(path):
    running = [writer(path, 1) for _ in range(6)]
    codes = {process.communicate(timeout=60)[0].strip() for process in running}
    with contextlib.closing(open_store(path, create=False)) as store:
        assert set(store.all_codes()) == codes
        assert len(codes) == 6
