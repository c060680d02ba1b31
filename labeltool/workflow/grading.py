"""The predicted grade of labels: asked of read-back with the stock's printer and face, kept with a print, and told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from labeltool import tables
from labeltool.finding import Finding
from labeltool.readback.model import Expected, LabelReading
from labeltool.readback.quality.model import Grade, Standard
from labeltool.readback.quality.press import Press, press_of
from labeltool.readback.quality.scale import letter, standard
from labeltool.stock.contrast import channels
from labeltool.stock.model import Stock

KEY = "grade"  # in a print's extra


@cache
def rules() -> Standard:
    """The shipped thresholds."""
    return standard(tables.toml("readback", "print_quality"))


def press_for(stock: Stock, behind: str | None) -> Press:
    """How a stock's print comes out. `behind`: "#rrggbb" of what clear stock lies on, None where it is not known."""
    red = channels(behind)[0] if behind is not None else None
    own = channels(stock.face)[0] if stock.face.startswith("#") else None
    return press_of(tables.toml("readback", "presses"), stock.medium, stock.face, red, own)


def grades_of(data: bytes, expected: Expected, stock: Stock, behind: str | None) -> tuple[Grade | None, ...]:
    """The predicted grade of each expected label of a PDF; None for one without a symbol."""
    from labeltool.readback.grade import Forecast

    view_deg = tables.toml("readback", "presses")["container"]["view"]
    return Forecast(stock.dpi, press_for(stock, behind), rules(), view_deg).labels(data, expected)


def with_grades(labels: Sequence[LabelReading], grades: Sequence[Grade | None]) -> tuple[LabelReading, ...]:
    """The labels with their grades and what limits them."""
    return tuple(
        replace(label, grade=found.value, limits=found.limits) if found else label
        for label, found in zip(labels, grades, strict=True)
    )


def kept(grades: Sequence[Grade | None]) -> dict[str, Any] | None:
    """The lowest of the grades as a print's row keeps it; None where no label has a symbol."""
    found = [item for item in grades if item is not None]
    if not found:
        return None
    lowest = min(found, key=lambda item: item.value)
    return {"value": lowest.value, "limits": list(lowest.limits)}


def told(value: float, limits: Sequence[str]) -> str:
    """A grade in words: "predicted grade B (3.4), limited by modulation: a larger module …"."""
    text = f"predicted grade {letter(value, rules().letters)} ({value:.1f})"
    if not limits:
        return text
    named = " and ".join(name.replace("-", " ").replace("non ", "non-") for name in limits)
    return f"{text}, limited by {named}: {helps(limits)}"


def helps(limits: Sequence[str]) -> str:
    """What would help where these limit a grade."""
    return "; ".join(dict.fromkeys(rules().advice(name) for name in limits))


def told_of(extra: Mapping[str, Any] | None) -> str | None:
    """The grade that a print's row keeps, in words; None where it keeps none."""
    found = (extra or {}).get(KEY)
    return told(found["value"], found["limits"]) if found else None


def low(extra: Mapping[str, Any] | None) -> Iterator[Finding]:
    """A warning where the grade that a print's row keeps is below C."""
    found = (extra or {}).get(KEY)
    if found and found["value"] < rules().wanted:
        grade, _, _ = told(found["value"], found["limits"]).partition(": ")
        yield Finding("grade.low", "warning", f"the symbol has a {grade}", limit=f"{rules().wanted} (C) or better",
                      source="ISO/IEC 15415; GS1 General Specifications", confidence="memory",
                      do=helps(found["limits"]))
