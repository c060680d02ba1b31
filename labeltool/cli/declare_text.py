"""The declaration as a sheet that a person reads: lists, composition, order, allergens, warnings."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_EVEN, Decimal

from labeltool.compose.model import Doubt, Line, MarketDeclaration
from labeltool.workflow.prepare import Prepared

STATES = {"certain": "named", "possible": "named, since it may exceed that", "no": "not named"}


def sheet(prepared: Prepared) -> Iterator[str]:
    """The lines of the sheet."""
    product = prepared.inputs.formula.product
    yield f"{product.name}{f', version {product.version}' if product.version else ''}"
    for item in prepared.declaration.markets:
        yield from _list(item, item.market)
    if len(prepared.declaration.joint_markets) > 1:
        yield from _list(prepared.declaration.joint, "label for " + ", ".join(prepared.declaration.joint_markets))
    yield from _composition(prepared.declaration.lines)
    yield from _order(prepared)
    yield from _allergens(prepared)
    yield from _warnings(prepared)
    yield from _materials(prepared)


def _list(item: MarketDeclaration, title: str) -> Iterator[str]:
    yield ""
    yield f"{title}:"
    yield f"  {item.text}"


def figure(value: Decimal) -> str:
    """A percent for reading: at most four decimals, no trailing zeros."""
    rounded = value.quantize(Decimal("0.0001"), ROUND_HALF_EVEN).normalize()
    text = f"{rounded:f}"
    return f"<{Decimal('0.0001')}" if rounded == 0 and value > 0 else text


def _composition(lines: tuple[Line, ...]) -> Iterator[str]:
    yield ""
    yield "composition, % w/w:"
    width = max((len(item.inci) for item in lines), default=4) + 7
    yield f"  {'':{width}} {'low':>9} {'nominal':>9} {'high':>9}  from"
    for item in lines:
        name = f"{item.inci} (nano)" if item.nano else item.inci
        spread = (figure(item.percent.low), figure(item.percent.nominal), figure(item.percent.high))
        cells = " ".join(f"{text:>9}" for text in spread)
        group = "" if item.group in ("main", "minor") else f" [{item.group}]"
        yield f"  {name:{width}} {cells}  {', '.join(item.sources)}{group}"


def _order(prepared: Prepared) -> Iterator[str]:
    yield ""
    doubts = prepared.declaration.doubts
    if not doubts:
        yield "order: proved for every composition within the stated ranges"
        return
    sources = {line.inci: line.sources for line in prepared.declaration.lines}
    count = "1 pair" if len(doubts) == 1 else f"{len(doubts)} pairs"
    yield f"order: {count} could stand the other way round within the stated ranges:"
    for item in doubts:
        yield f"  {_doubt(item, sources)}"
    from labeltool.workflow.declaring import holds

    right, tried = holds(prepared)
    yield f"  the nominal order is printed: it is right in {right:,} of {tried:,} random compositions within the"
    yield "  ranges; narrower figures from these suppliers would settle it"


def _doubt(item: Doubt, sources: dict[str, tuple[str, ...]]) -> str:
    asks = []
    for material in item.because:
        names = [name for name in (item.after, item.before) if material in sources.get(name, ())]
        asks.append(f"the supplier of {material} for its exact {' and '.join(names or (item.after, item.before))}")
    most = f"up to {figure(item.by)} percentage points"
    return f"{item.after} could exceed {item.before} by {most}: ask {'; '.join(asks)}"


def _allergens(prepared: Prepared) -> Iterator[str]:
    found = prepared.advice.allergens
    if not found:
        return
    yield ""
    yield "fragrance allergens:"
    listed = {item.market: item.names for item in prepared.declaration.markets}
    for item in found:
        states = ", ".join(f"{market} {_state(item.inci, state, listed.get(market, ()))}"
                           for market, state in item.declared)
        low, high = figure(item.percent.low), figure(item.percent.high)
        spread = low if low == high else f"{low} to {high}"
        yield f"  {item.inci}: {spread} %, named above {figure(item.threshold)} %: {states}"


def _state(name: str, state: str, names: tuple[str, ...]) -> str:
    """Whether a market's list names an allergen for its law's sake, or has it as an ingredient anyway."""
    return "not asked for, in the list by its own name" if state == "no" and name in names else STATES[state]


def _warnings(prepared: Prepared) -> Iterator[str]:
    for item in prepared.advice.warnings:
        yield ""
        yield f"{item.market}, because of {item.because}: {item.text}"
        yield f"  {item.source} ({item.confidence})"


def _materials(prepared: Prepared) -> Iterator[str]:
    yield ""
    yield "materials:"
    for key, item in prepared.inputs.materials:
        yield f"  {key}: {item.name}; {item.source or 'no source stated'}"
