"""The bench page of a batch: all that is on record of it, as tables, a curve and a timeline."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any

from labeltool.batch.curve import ph_curve
from labeltool.batch.made import unweighed
from labeltool.batch.model import Weighed
from labeltool.compose.model import Percent
from labeltool.pages.model import BenchPage, Table
from labeltool.records.store import open_store
from labeltool.workflow.codes import record_path
from labeltool.workflow.page_timeline import moments
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.setting import Setting
from labeltool.workflow.showing import ShownBatch, show_batch_whole
from labeltool.workflow.telling import lists_of, told

STEP = Decimal("0.0001")


def bench_page(code: str, paths: Sequence[str], setting: Setting) -> BenchPage:
    """The bench page of a batch on record; `paths`: those of its public page."""
    shown = show_batch_whole(code, setting)
    batch, inputs = shown.made.at.batch, shown.made.at.inputs
    assert setting.workshop is not None
    with open_store(record_path(setting.workshop), create=False) as store:
        timeline = moments(store.events(code))
    prepared = shown.prepared or prepare(inputs, max(batch.made, setting.today))
    span = inputs.formula.product.ph
    return BenchPage(
        code=batch.code, product=batch.product, state=batch.state, facts=tuple(_facts(shown)),
        notices=tuple((item.level, item.text) for item in shown.findings), tables=tuple(_tables(shown, prepared)),
        lists=lists_of(told(prepared)), timeline=timeline, paths=tuple(paths),
        inside=tuple(dict.fromkeys(held.lot for held in inputs.held)),
        curve=tuple((point.added_g, point.ph) for point in ph_curve(shown.made.at.bench, shown.made.at.log)),
        span=(span.low, span.high) if span else None,
    )


def _facts(shown: ShownBatch) -> Iterator[tuple[str, str]]:
    batch, bench = shown.made.at.batch, shown.made.at.bench
    known = shown.made.parts is not None or bool(shown.made.at.inputs.held)
    facts: tuple[tuple[str, Any], ...] = (
        ("Version", batch.version), ("Made", batch.made), ("Opened", _moment(batch.at)), ("By", batch.by),
        ("Size", _grams(bench.size_g)), ("Weighed", _grams(shown.weighed_g or None)), ("Yield", _grams(bench.yield_g)),
        ("Best before", shown.made.best_before), ("Revisions", batch.revisions or None),
        (f"{batch.state} on".capitalize(), _moment(batch.since) if batch.state != "open" else None),
        ("Why", batch.why), ("As made", None if known else "not yet: the formula stands for it"),
    )
    return ((name, str(value)) for name, value in facts if value not in (None, ""))


def _tables(shown: ShownBatch, prepared: Prepared) -> Iterator[Table]:
    yield Table("Weighing", ("Line", "Phase", "Material", "Planned g", "Weighed g", "Lot", "Expires", "By", "Note"),
                (*(_weighed(item, shown) for item in shown.made.at.bench.weighed), *_left(shown)), frozenset((3, 4)))
    yield Table("Readings", ("What", "Value", "Sample", "When (UTC)", "By"), tuple(
        (item.name, f"{item.value} {item.unit}".strip(), f"{item.celsius} °C" if item.celsius is not None else "",
         _moment(item.at), item.by or "") for item in shown.made.at.bench.readings), frozenset((1,)))
    yield Table("Filled", ("Pack", "Count"), tuple(
        (pack or "the one pack", str(count)) for pack, count in shown.made.at.bench.filled), frozenset((1,)))
    yield from _decided(shown)
    notes = tuple((_moment(at), by or "", text) for text, at, by in shown.notes())
    yield Table("Notes", ("When (UTC)", "By", "Note"), notes)
    yield Table("Prints", ("No.", "Labels", "Artwork", "Stock", "File", "When (UTC)", "By", "Remarks"),
                tuple(_print(row) for row in shown.prints), frozenset((1,)))
    yield Table("Labels against packs", ("Pack", "Artwork", "Printed", "Good", "Filled", "Missing", "Left"), tuple(
        (item.pack or "the one pack", item.artwork, str(item.printed), str(item.usable), _or_dash(item.filled),
         str(item.missing), str(item.spare)) for item in shown.accounts), frozenset((2, 3, 4, 5, 6)))
    yield Table("Composition", ("Declared", "Low %", "Nominal %", "High %", "From"), tuple(
        (item.inci, *_percents(item.percent), ", ".join(item.sources)) for item in prepared.declaration.lines),
                frozenset((1, 2, 3)))
    yield Table("Fragrance allergens", ("Name", "Low %", "Nominal %", "High %", "Declared"), tuple(
        (item.inci, *_percents(item.percent), ", ".join(f"{market} {state}" for market, state in item.declared))
        for item in prepared.advice.allergens), frozenset((1, 2, 3)))


def _decided(shown: ShownBatch) -> Iterator[Table]:
    """What was corrected and decided, and what became of labels."""
    yield Table("Corrections", ("What", "It was", "It is", "Why", "When (UTC)", "By"), tuple(
        (item.what, item.was, item.now, item.why, _moment(item.at), item.by or "") for item in shown.history))
    yield Table("Decisions", ("State", "When (UTC)", "By", "Why"), tuple(
        (item.state, _moment(item.at), item.by or "", item.why or "") for item in shown.decisions))
    yield Table("Labels counted", ("Print", "Label", "What became of them", "Count"), tuple(
        (str(item.number), item.label, item.fate, str(item.count)) for item in shown.made.at.bench.counts),
                frozenset((3,)))


def _weighed(item: Weighed, shown: ShownBatch) -> tuple[str, ...]:
    row = shown.made.at.bench.row(item.line)
    again = f"instead of {', '.join(map(str, item.before))} g: {item.why}" if item.before else ""
    beyond = "beyond the plan" if row is None else ""
    return (str(item.line), item.phase, item.material, _or_dash(row.grams if row else None), _padded(item.grams),
            item.lot or "", str(shown.expires(item) or ""), item.by or "",
            "; ".join(part for part in (item.note, again, beyond) if part))


def _left(shown: ShownBatch) -> Iterator[tuple[str, ...]]:
    for row in unweighed(shown.made.at.bench):
        yield (str(row.line), row.phase, row.material, _or_dash(row.grams), "", "", "", "", "still to weigh")


def _print(row: Any) -> tuple[str, ...]:
    again = f"print {row.reprint_of} again" if row.reprint_of else ""
    remarks = (again, row.why or "", "superseded" if row.superseded else "", f"pack {row.pack}" if row.pack else "",
               f"printer {row.printer}" if row.printer else "")
    return (str(row.number), str(row.labels), ", ".join(row.artworks), str((row.stock or {}).get("name", "")), row.file,
            _moment(row.at), row.by or "", "; ".join(part for part in remarks if part))


def _percents(value: Percent) -> tuple[str, str, str]:
    return _percent(value.low), _percent(value.nominal), _percent(value.high)


def _percent(value: Decimal) -> str:
    return f"{value.quantize(STEP):f}"


def _grams(value: Decimal | None) -> str | None:
    return f"{value} g" if value is not None else None


def _padded(value: Decimal) -> str:
    """A mass with two places at least, so that a column of them can be read."""
    return f"{value:.2f}" if value == round(value, 2) else str(value)


def _or_dash(value: object) -> str:
    return "–" if value is None else str(value)


def _moment(at: str) -> str:
    return at[:16].replace("T", " ")
