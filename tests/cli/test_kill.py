"""A print killed at any moment, and prints at the same moment: no half file, no code twice, no lie on record."""

from __future__ import annotations

import datetime as dt
import json
import random
import shutil
import signal
import subprocess
import time
from dataclasses import replace
from hashlib import sha256

import pytest
from cli_runs import BALM, CREAM, command, environment, process
from pypdf import PdfReader

KILLS = 25
AT_ONCE = 8
FAST = ("--no-verify",)


@pytest.fixture
def shop(shop):
    """A new workshop, on the day that processes see."""
    return replace(shop, today=dt.date.today())


@pytest.fixture
def used_shop(used_shop):
    """A printed workshop, on the day that processes see."""
    return replace(used_shop, today=dt.date.today())


def begin(folder, *args):
    return subprocess.Popen(command(*args), cwd=folder, env=environment(), stdin=subprocess.DEVNULL,
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def seconds_of_a_print(shop):
    began = time.monotonic()
    assert process("print", BALM, "--count", "3", cwd=shop.folder).code == 0
    return time.monotonic() - began


def whole_files(shop, seen=()):
    """Every PDF under a final name opens and has its page; returns their names."""
    found = {path.name: path for path in shop.folder.glob("prints/*.pdf")}
    for name in found.keys() - set(seen):
        assert len(PdfReader(found[name]).pages) == 1, name
    return set(found)


def sound(shop):
    """The files are whole; the record proves, or names the file of a print alone."""
    whole_files(shop)
    if not (shop.folder / "records.sqlite").exists():
        return []
    ran = shop.run("records", "check")
    faults = [line for line in ran.err.splitlines() if line.startswith(("error", "warning"))]
    assert all("prints/" in line for line in faults), ran.err
    return faults


def on_record(shop):
    ran = shop.run("batch", "list", "--json")
    return [item["code"] for item in ran.json["items"]] if ran.code == 0 else []


@pytest.mark.slow
def test_killed_print_leaves_no_half_file_and_no_code_twice(shop, samples):
    chance = random.Random(20260503)
    whole = seconds_of_a_print(shop)
    codes = on_record(shop)
    cut, files, kills = 0, set(), samples(KILLS)
    for number in range(kills):
        child = begin(shop.folder, "print", BALM, "--count", "3", *(FAST if number % 2 else ()))
        time.sleep(chance.uniform(0.2, 1.05) * whole)
        child.send_signal(signal.SIGKILL)
        child.communicate()
        cut += child.returncode == -signal.SIGKILL
        files = whole_files(shop, files)
        now = on_record(shop)
        assert now[: len(codes)] == codes and len(set(now)) == len(now) <= len(codes) + 1
        codes = now
    assert cut > kills / 4
    sound(shop)
    after = shop.document("print", BALM, "--count", "3")
    assert after["code"] not in codes and (shop.folder / after["file"]).is_file()


MOMENTS = ["labeltool.records.prints.Prints.add", "labeltool.workflow.publish.put", "labeltool.workflow.issue.make_pdf",
           "labeltool.records.batches.Batches.open", "labeltool.workflow.publish.os.fsync"]
DIE = """
import os, signal, sys
from unittest.mock import patch
from labeltool.cli.main import run
where, when = sys.argv[1:3]
target, _, name = where.rpartition(".")
import pkgutil
real = pkgutil.resolve_name(where)
def act(*args, **kwargs):
    if when == "after":
        real(*args, **kwargs)
    os.kill(os.getpid(), signal.SIGKILL)
with patch(where, act):
    run(sys.argv[3:])
"""


ANOTHER = """
import sys
from unittest.mock import patch
from labeltool.cli.main import run
from labeltool.workflow import publish
real = publish.put
def twice(temporary, target):
    real(temporary, target)
    real(temporary, target)
with patch("labeltool.workflow.publish.put", twice):
    run(sys.argv[1:])
"""


@pytest.mark.parametrize("when", ["before", "after"])
@pytest.mark.parametrize("where", MOMENTS)
def test_killed_at_each_step_the_next_print_goes_on(used_shop, where, when):
    words = [*command()[:2], DIE, where, when, "print", BALM, "--count", "2"]
    ran = subprocess.run(words, cwd=used_shop.folder, env=environment(), capture_output=True, check=False)
    assert ran.returncode == -signal.SIGKILL, ran.stderr
    faults = sound(used_shop)
    codes = on_record(used_shop)
    assert faults == []
    after = used_shop.document("print", BALM, "--count", "2")
    assert after["code"] not in codes
    for code in codes:
        assert used_shop.run("print", code, "--count", "2").code == 0
    left = [path.name for path in (used_shop.folder / "prints").iterdir() if not path.name.endswith(".pdf")]
    assert left == [".unfinished"] and len(list((used_shop.folder / "prints" / ".unfinished").iterdir())) <= 1


@pytest.mark.parametrize("by", ["the next print", "records check"])
def test_print_whose_file_never_got_its_name_gets_it(used_shop, by):
    words = [*command()[:2], DIE, "labeltool.workflow.publish.put", "before", "print", BALM, "--count", "2"]
    subprocess.run(words, cwd=used_shop.folder, env=environment(), capture_output=True, check=False)
    code = on_record(used_shop)[-1]
    row = used_shop.document("batch", "show", code)["prints"][0]
    assert not (used_shop.folder / row["file"]).exists()
    if by == "records check":
        assert f"{row['file']} was printed" in used_shop.done("records", "check").err
    else:
        used_shop.done("print", BALM, "--count", "1")
    assert sha256((used_shop.folder / row["file"]).read_bytes()).hexdigest() == row["sha256"]
    assert used_shop.done("records", "check").out.endswith("the record is sound\n")


def test_file_put_in_place_by_another_meanwhile_is_no_fault(used_shop):
    words = [*command()[:2], ANOTHER, "print", BALM, "--count", "2"]
    ran = subprocess.run(words, cwd=used_shop.folder, env=environment(), capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
    assert used_shop.done("records", "check").out.endswith("the record is sound\n")


def test_prints_at_the_same_moment_get_codes_of_their_own(used_shop):
    calls = [("print", (BALM, CREAM)[number % 2], "--count", "1", "--json", *FAST) for number in range(AT_ONCE)]
    children = [begin(used_shop.folder, *call) for call in calls]
    done = [child.communicate() for child in children]
    assert [child.returncode for child in children] == [0] * AT_ONCE, done
    found = [json.loads(out) for out, _ in done]
    assert len({item["code"] for item in found}) == len({item["file"] for item in found}) == AT_ONCE
    for item in found:
        text = PdfReader(used_shop.folder / item["file"]).pages[0].extract_text()
        assert item["code"] in "".join(text.split()), item["file"]
    assert sound(used_shop) == []
    assert used_shop.done("records", "check").code == 0


def test_more_labels_of_one_batch_at_the_same_moment(used_shop):
    children = [begin(used_shop.folder, "print", "260503A31", "--count", "1", "--json", *FAST) for _ in range(4)]
    done = [child.communicate() for child in children]
    assert [child.returncode for child in children] == [0] * 4, done
    assert sorted(json.loads(out)["file"] for out, _ in done) == [f"prints/260503A31-{n}.pdf" for n in range(2, 6)]


def test_same_key_at_the_same_moment_prints_once(used_shop):
    call = ("print", BALM, "--count", "1", "--once", "k", "--json", *FAST)
    children = [begin(used_shop.folder, *call) for _ in range(4)]
    done = [child.communicate() for child in children]
    assert [child.returncode for child in children] == [0] * 4, done
    assert len({json.loads(out)["code"] for out, _ in done}) == 1
    assert len(on_record(used_shop)) == 3
    code = json.loads(done[0][0])["code"]
    assert len(used_shop.document("batch", "show", code)["prints"]) == 1


def test_stopped_by_hand_it_says_so(used_shop):
    shutil.rmtree(used_shop.folder / "prints")
    child = begin(used_shop.folder, "print", "formulas/*.toml", "--count", "20000", "--stock", "a4-2x4-99.1x67.7")
    time.sleep(1.0)
    child.send_signal(signal.SIGINT)
    _, err = child.communicate()
    assert b"Traceback" not in err
    assert child.returncode in (0, 2)
    for pdf in (used_shop.folder / "prints").glob("*.pdf"):
        assert len(PdfReader(pdf).pages) == 2500
