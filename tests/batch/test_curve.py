"""pH readings against what had been added by then."""

from decimal import Decimal

from labeltool.batch.curve import ph_curve
from labeltool.batch.model import Bench, Correction, Logged, Note, PlanRow, Reading, Size, Weighing

D = Decimal
PLAN = (PlanRow(1, "A", "water", "qs", D(95), D(95)), PlanRow(2, "B", "citric", "to-ph", D(0), None, D(1)))


def curve(*entries: object) -> list[tuple[str, str]]:
    log = [Logged(entry, f"2026-05-03T09:{minute:02d}:00+00:00") for minute, entry in enumerate(entries)]
    return [(str(point.added_g), str(point.ph)) for point in ph_curve(Bench(D(100), PLAN), log)]


def test_adjusters_and_additions_count_and_planned_rows_do_not() -> None:
    assert curve(
        Weighing("water", D(95), 1), Reading("ph", D("6.4")), Weighing("citric", D("0.5"), 2), Reading("ph", D("5.9")),
        Weighing("lactic", D("0.25"), 3), Reading("viscosity", D(9000)), Reading("ph", D("5.5")),
    ) == [("0", "6.4"), ("0.5", "5.9"), ("0.75", "5.5")]


def test_a_corrected_mass_counts_from_then_on() -> None:
    assert curve(
        Weighing("citric", D("0.5"), 2), Reading("ph", D("5.9")),
        Correction(Weighing("citric", D("0.8"), 2), "misread"), Reading("ph", D("5.4")),
    ) == [("0.5", "5.9"), ("0.8", "5.4")]


def test_a_corrected_reading_stands_where_the_wrong_one_stood() -> None:
    assert curve(
        Reading("ph", D("6.4")), Weighing("citric", D("0.5"), 2), Reading("ph", D("59")),
        Weighing("citric", D("0.5"), 2), Correction(Reading("ph", D("5.9")), "a slip"),
    ) == [("0", "6.4"), ("0.5", "5.9")]


def test_sizes_and_notes_are_no_readings() -> None:
    assert curve(Size(D(100)), Note("thick"), Weighing("citric", D(1), 2)) == []
