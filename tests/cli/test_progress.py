"""The bar of a long job: on a terminal alone, once the job takes long, and gone at its end."""

from __future__ import annotations

import io
from unittest.mock import patch

import pytest

from labeltool.cli import output
from labeltool.cli.output import BAR, bar, progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("done", "whole", "full"), [
    (0, 10, 0), (1, 10, 2), (5, 10, 10), (9, 10, 18), (10, 10, 20), (11, 10, 20), (0, 0, 20), (1, 10_000, 0),
])
def test_it_is_filled_as_far_as_the_job_has_come(done: int, whole: int, full: int) -> None:
    assert bar(done, whole) == f"[{'#' * full}{' ' * (BAR - full)}]"


def shown(stream: io.StringIO, seconds: float) -> str:
    times = iter((0.0, seconds, seconds))
    with patch.object(output.sys, "stderr", stream), patch.object(output.time, "monotonic", lambda: next(times)), \
         progress() as step:
        step("pages made", 500, 1000)
        step("pages made", 1000, 1000)
    return stream.getvalue()


def test_on_a_terminal_it_is_drawn_and_wiped() -> None:
    text = shown(Terminal(), 60)
    assert "\rpages made [##########          ] 500 of 1,000" in text
    assert text.endswith("\r") and "[####################] 1,000 of 1,000" in text


def test_a_short_job_and_a_file_see_nothing() -> None:
    assert shown(Terminal(), 0.01) == ""
    assert shown(io.StringIO(), 60) == ""
