"""The words of the demo workshop's products, as a print of one fixed day would have them."""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path

from labeltool.formula.load import load
from labeltool.formula.model import Container
from labeltool.wording.model import LabelText
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.planning import pattern_of
from labeltool.workflow.prepare import prepare
from labeltool.workflow.words import mark_batch, word

DEMO = Path(__file__).resolve().parent.parent / "demo" / "ottersholt"
DAY, CODE = dt.date(2026, 11, 20), "261120A31"


@cache
def demo_labels() -> dict[str, tuple[LabelText, Container | None]]:
    """The label text and container of every formula of the demo, by name."""
    paths = sorted({*(DEMO / "formulas").glob("*.toml")} - {DEMO / "formulas" / "evening-set.toml"})
    return {path.stem: _label(path) for path in paths}


def _label(path: Path) -> tuple[LabelText, Container | None]:
    loaded, findings = load(path, workshop=DEMO, env={}, cwd=DEMO)
    assert loaded is not None and not findings.errors, path
    inputs = Inputs(loaded.workshop, loaded.formula, tuple(sorted(dict(loaded.materials).items())),
                    tuple(loaded.made_here))
    prepared = prepare(inputs, DAY)
    mark, _ = mark_batch(prepared, CODE, "K3", DAY)
    return word(prepared, mark, pattern_of(inputs)).text, inputs.formula.container


def by_length() -> list[LabelText]:
    """The label texts, the one with the most letters first."""
    return sorted((text for text, _ in demo_labels().values()), key=_letters, reverse=True)


def _letters(text: LabelText) -> int:
    return sum(len(block.heading) + len(block.text) for block in text.blocks)


def longest() -> LabelText:
    """The label text with the most letters."""
    return by_length()[0]
