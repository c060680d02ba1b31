"""docs/walkthrough.md is what the commands say today, typed again on a terminal."""

from __future__ import annotations

import os
import sys

import pytest
from source_tree import ROOT

sys.path.insert(0, str(ROOT / "tools"))

from pseudo_terminal import plain, screen
from walkthrough_docs import PAGE, page


@pytest.mark.slow
def test_the_page_is_what_the_commands_say():
    written, now = PAGE.read_text(encoding="utf-8").splitlines(), page().splitlines()
    assert written == now, "run make docs"
    assert not any("/tmp" in line or "Traceback" in line for line in now)


def run(code, *answers):
    return screen([sys.executable, "-c", code], ROOT, dict(os.environ), answers)


def test_questions_are_answered_in_their_order():
    text = run("a = input('one? '); b = input('two? '); print(b, a)", ("one? ", "x"), ("two? ", "y"))
    assert text == "one? x\ntwo? y\ny x\n"


@pytest.mark.parametrize(("code", "answers"), [
    ("print('no question')", [("one? ", "x")]), ("raise SystemExit(2)", []), ("input('one? ')", [("other? ", "x")]),
])
def test_what_goes_otherwise_than_written_is_an_error(monkeypatch, code, answers):
    monkeypatch.setattr("pseudo_terminal.WAIT_S", 1)
    with pytest.raises(Exception, match=r"unanswered|timed out"):
        run(code, *answers)


def test_colours_and_lines_written_over_are_left_out():
    assert plain(b"\x1b[31mred\x1b[0m\r\nevents: 1\revents: 2\r        \rdone\r\n") == "red\ndone\n"
