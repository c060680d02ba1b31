"""The declaration of a formula as a document: lists by market, lines, doubts, allergens, warnings."""

from __future__ import annotations

from typing import Any

from labeltool.compose.likely import SAMPLES, most_likely
from labeltool.compose.model import Doubt, Line, Percent
from labeltool.rules.model import AllergenAdvice, WarningAdvice
from labeltool.workflow.prepare import Prepared, colours, names

SEED = 1


def declared(prepared: Prepared, more: tuple[Any, ...] = ()) -> dict[str, Any]:
    """The documented JSON object of `declare`; `more` are findings from reading the files."""
    found = prepared.declaration
    lists = {item.market: {"declaration": item.text, "names": list(item.names)} for item in found.markets}
    return {
        "product": prepared.inputs.formula.product.name,
        "markets": lists,
        "label": {
            "markets": list(found.joint_markets),
            "declaration": found.joint.text,
            "names": list(found.joint.names),
        },
        "ingredients": [_line(item) for item in found.lines],
        "doubts": [_doubt(item) for item in found.doubts],
        "allergens": [_allergen(item) for item in prepared.advice.allergens],
        "warnings": [_warning(item) for item in prepared.advice.warnings],
        "problems": [item.as_json() for item in (*more, *prepared.findings)],
    }


def holds(prepared: Prepared) -> tuple[int, int]:
    """In how many of how many seeded random compositions the nominal order is right."""
    return most_likely(prepared.parts, names(), colours(), SEED), SAMPLES


def percent(value: Percent) -> dict[str, Any]:
    """Low, nominal and high as JSON numbers."""
    return {"low": value.low, "nominal": value.nominal, "high": value.high}


def _line(item: Line) -> dict[str, Any]:
    return {
        "inci": f"{item.inci} (nano)" if item.nano else item.inci,
        "percent": percent(item.percent),
        "group": item.group,
        "from": list(item.sources),
    }


def _doubt(item: Doubt) -> dict[str, Any]:
    return {"before": item.before, "after": item.after, "by": item.by, "because": list(item.because)}


def _allergen(item: AllergenAdvice) -> dict[str, Any]:
    return {
        "inci": item.inci,
        "percent": percent(item.percent),
        "threshold": item.threshold,
        "declared": dict(item.declared),
    }


def _warning(item: WarningAdvice) -> dict[str, Any]:
    return {
        "text": item.text, "market": item.market, "source": item.source, "because": item.because,
        "lang": item.lang, "confidence": item.confidence, "required": item.required,
    }
