"""Sheets of paper: not laid out yet."""

from __future__ import annotations

from typing import Any

from labeltool.errors import input_error


def _refuse(*_: Any) -> None:
    raise input_error("output.name", "only .csv is written so far", do="name a .csv file, or leave -o out")


weighing_paper = recall_paper = batch_paper = _refuse
