from __future__ import annotations

import pytest
from bench_samples import D

from labeltool.batch.model import Reading
from labeltool.batch.readings import KNOWN, reading_findings
from labeltool.formula.model import Span

RANGES = {"ph": Span(D("5.0"), D("5.6"))}


@pytest.mark.parametrize(("name", "value", "found"), [
    ("ph", "5.0", []), ("ph", "5.6", []), ("ph", "4.99", [("bench.range", "warning")]),
    ("ph", "6.5", [("bench.range", "warning")]), ("ph", "14.1", [("bench.reading", "error")]),
    ("viscosity", "12000", []), ("viscosty", "12000", [("bench.reading-name", "error")]),
    ("hp", "5.3", [("bench.reading-name", "error")]), ("smell", "3", [("bench.reading-name", "note")]),
    ("density", "NaN", [("bench.reading", "error")]),
])
def test_readings_are_held_against_names_and_ranges(name, value, found):
    assert [(item.rule, item.level) for item in reading_findings(Reading(name, D(value)), RANGES)] == found


def test_a_slip_is_answered_with_the_name_meant():
    assert reading_findings(Reading("temprature", D(70)), {})[0].do == "did you mean temperature?"
    assert all(not reading_findings(Reading(name, D(7)), {}) for name in KNOWN)


def test_a_name_with_a_range_of_the_formula_is_known():
    assert not reading_findings(Reading("gloss", D(7)), {"gloss": Span(D(5), D(9))})
