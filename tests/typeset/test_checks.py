"""The checks themselves: a label spoilt on purpose is found."""

from __future__ import annotations

from dataclasses import replace

import pytest
from test_fit import ARTWORKS, STOCKS
from typeset_checks import dot_faults, faults, grid_faults, last_line_faults
from typeset_samples import lotion

from labeltool import tables
from labeltool.symbol.qr import matrix
from labeltool.typeset.fit import typeset
from labeltool.typeset.frame import Modules, TextRun

TEXT = lotion(14)
ROLL = STOCKS["roll-76x51-203dpi"]


@pytest.fixture(scope="module")
def label():
    return typeset(TEXT, ARTWORKS["back"], ROLL, matrix(TEXT.qr.payload), tables.fonts())


def spoilt(frame, kind, change):
    """The frame with the last item of a kind changed."""
    items = list(frame.items)
    index = max(i for i, item in enumerate(items) if isinstance(item, kind) and item.block != "name")
    items[index] = change(items[index])
    return replace(frame, items=tuple(items))


def test_the_label_itself_is_sound(label):
    assert faults(label, TEXT, ARTWORKS["back"], ROLL) == []


def test_a_line_off_the_grid_is_found(label):
    lines = [item for item in label.items if isinstance(item, TextRun) and item.block == "ingredients"]
    moved = tuple(replace(item, y_mm=item.y_mm + 0.2) if item is lines[-1] else item for item in label.items)
    assert any("grid" in fault for fault in grid_faults(replace(label, items=moved)))


def test_a_close_pitch_is_found(label):
    top = min(item.y_mm for item in label.items if isinstance(item, TextRun))
    close = tuple(replace(item, y_mm=top + (item.y_mm - top) * 0.9) if isinstance(item, TextRun) else item
                 for item in label.items)
    assert any("pitch" in fault for fault in grid_faults(replace(label, items=close)))


def test_a_short_last_line_is_found(label):
    lines = [item for item in label.items if isinstance(item, TextRun) and item.block == "ingredients"]
    cut = tuple(replace(item, text="a.") if item is lines[-1] else item for item in label.items)
    assert last_line_faults(replace(label, items=cut))


def test_thin_stems_and_symbols_between_dots_are_found(label):
    thin = spoilt(label, TextRun, lambda item: replace(item, size_pt=item.size_pt * 0.6))
    assert any("stems" in fault for fault in dot_faults(thin, ROLL))
    moved = spoilt(label, Modules, lambda item: replace(item, x_mm=item.x_mm + 0.05))
    assert any("between dots" in fault for fault in dot_faults(moved, ROLL))
