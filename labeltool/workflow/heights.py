"""How tall a block's letters come out, from its frames and the font's metrics."""

from __future__ import annotations

from labeltool import tables
from labeltool.typeset.frame import TextRun
from labeltool.workflow.design import Design

MM_PER_PT = 25.4 / 72


def height_mm(design: Design, block: str, measure: str) -> float | None:
    """The smallest height of the block's runs, mm: flat x-height ("x") or height of the figures ("figure")."""
    found = [_run_height(run, measure) for frame in design.frames for run in frame.items
             if isinstance(run, TextRun) and run.block == block]
    return min(found, default=None)


def _run_height(run: TextRun, measure: str) -> float:
    font = tables.fonts().of(run.weight)
    units = font.x_height if measure == "x" else font.figure_height
    return font.em(units) * run.size_pt * MM_PER_PT
