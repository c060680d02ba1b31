"""batch bench through a real terminal: a process on a pseudo-terminal, typed at as a person does."""

from __future__ import annotations

import os
import pty
import select
import time
from pathlib import Path

import pytest
from bench_shop import small_shop
from cli_runs import command, environment
from serve_runs import heed_ctrl_c

MOST_S = 60


class Sitting:
    """A command on a terminal of its own."""

    def __init__(self, folder: Path, *args: str) -> None:
        child, self.terminal = pty.fork()
        if child == 0:
            os.chdir(folder)
            heed_ctrl_c()
            os.execve(command()[0], command(*args), environment() | {"TERM": "dumb", "COLUMNS": "200"})
        self.child, self.seen, self.told = child, "", 0

    def wait(self, words: str) -> None:
        """Until these words stand on the screen, after those that were waited for before."""
        ends = time.monotonic() + MOST_S
        while words not in self.seen[self.told:]:
            assert time.monotonic() < ends, f"{words!r} never came:\n{self.seen}"
            assert self._read(), f"it ended before {words!r}:\n{self.seen}"
        self.told = self.seen.index(words, self.told) + len(words)

    def _read(self) -> bool:
        if not select.select([self.terminal], [], [], 1)[0]:
            return True
        try:
            data = os.read(self.terminal, 65536)
        except OSError:
            return False
        self.seen += data.decode()
        return bool(data)

    def type(self, keys: str) -> None:
        """Keys pressed."""
        os.write(self.terminal, keys.encode())

    def answer(self, *pairs: tuple[str, str]) -> None:
        """Each question waited for, and answered."""
        for question, typed in pairs:
            self.wait(question)
            self.type(f"{typed}\n")

    def end(self) -> int:
        """The exit code, once it has ended."""
        ends = time.monotonic() + MOST_S
        while self._read():
            assert time.monotonic() < ends, self.seen
        os.close(self.terminal)
        return os.waitstatus_to_exitcode(os.waitpid(self.child, 0)[1])


@pytest.fixture
def shop(tmp_path):
    return small_shop(tmp_path)


@pytest.fixture
def code(shop):
    return shop.done("batch", "open", "plain-test-lotion", "--made", "2026-05-03").out.splitlines()[0]


def test_stopped_by_ctrl_c_in_the_middle_and_gone_on_with(shop, code):
    first = Sitting(shop.folder, "batch", "bench", code)
    first.answer(("size of the batch", "1000g"), ("line 1: water", "901"), ("line 2: glycerin", "50.1"))
    first.wait("lot")
    first.type("\x03")
    assert first.end() == 0 and "still to weigh: 2 glycerin, 3 coconut-ester" in first.seen
    assert [row["material"] for row in shop.document("batch", "show", code)["weighed"]] == ["water"]

    second = Sitting(shop.folder, "batch", "bench", code)
    second.answer(("line 2: glycerin", "60"), ("lot", "G-1"), ("receive it now?", "y"), ("keep it?", "n"))
    second.answer(("grams", "50,1"), ("lot", "G-1"), ("receive it now?", "y"))
    second.answer(("line 3: coconut-ester", "q"))
    assert second.end() == 0 and "line 1: water" not in second.seen
    assert "60 g weighed, 50.00 g planned" in second.seen

    third = Sitting(shop.folder, "batch", "bench", code)
    third.answer(("line 3: coconut-ester", "49"), ("lot", "E-1"), ("receive it now?", "y"), ("to reach the pH", ""))
    third.answer(("pH (5.5 to 6.5)", "6.74"), ("yield", "980g"), ("containers filled", "19"))
    assert third.end() == 0 and "ph 6.74 lies outside the formula's range" in third.seen
    assert "against a release: the last ph read is 6.74" in third.seen
    shown = shop.document("batch", "show", code)
    assert [(row["material"], row["grams"], row["lot"]) for row in shown["weighed"]] == [
        ("water", 901, None), ("glycerin", 50.1, "G-1"), ("coconut-ester", 49, "E-1")]
    shop.done("records", "check")


def test_a_lot_blocked_or_past_its_date_is_told_before_the_mass_is_kept(shop, code):
    shop.done("batch", "bench", code, "--size", "1000g")
    shop.done("lot", "receive", "glycerin", "G-9", "--expires", "2026-05-02", "--received", "2026-01-02")
    shop.done("lot", "block", "G-9", "--why", "smells")
    sitting = Sitting(shop.folder, "batch", "bench", code)
    sitting.answer(("line 1: water", ""), ("line 2: glycerin", "50"), ("lot", "G-9"))
    sitting.wait("lot G-9 of glycerin is blocked: smells")
    sitting.wait("lot G-9 of glycerin expired on 2026-05-02")
    sitting.answer(("line 3", "q"))
    assert sitting.end() == 0
