"""Sheets of paper: the weighing sheet, the batch sheet, the recall sheet."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from io import BytesIO
from pathlib import Path

from labeltool import tables
from labeltool.batch.model import PlanRow, Weighed
from labeltool.batch.reconcile import Account
from labeltool.batch.trace import Trace
from labeltool.output.documents import (
    Block,
    Column,
    Document,
    Facts,
    Heading,
    Signatures,
    Table,
    Words,
    document_sheets,
)
from labeltool.output.pdf import write_pdf
from labeltool.workflow.publish import beside, check_target, put
from labeltool.workflow.recallcsv import recall_csv
from labeltool.workflow.setting import Setting
from labeltool.workflow.showing import ShownBatch
from labeltool.workflow.weighing import Weighing, write_text


def write_document(document: Document, target: Path, author: str, setting: Setting) -> None:
    """Write a document as PDF in one go; it replaces only a PDF that labeltool made. Raises InputError else."""
    path = setting.cwd / target
    check_target(path)
    stream = BytesIO()
    fonts = {tables.font_sha256(weight): tables.font_bytes(weight) for weight in tables.FONT_FILES}
    write_pdf(document_sheets(document, tables.fonts()), stream, fonts=fonts, title=document.title, author=author)
    with beside(path.parent, stream.getvalue()) as temporary:
        put(temporary, path)


def grams(value: Decimal | None) -> str:
    """A mass for a cell."""
    return "" if value is None else f"{value:f} g"


def moment(at: str) -> str:
    """A moment of the record, to the minute."""
    return f"{at[:16].replace('T', ' ')} UTC"


def when(at: str, by: str | None) -> str:
    """A moment of the record, and whose."""
    return f"{moment(at)}, {by}" if by else moment(at)


def weighing_paper(weighing: Weighing, target: Path, setting: Setting) -> None:
    """The weighing sheet: grams by phase, boxes for lot and actual mass, readings, yield, signatures."""
    code = f"batch {weighing.code}, made {weighing.made}" if weighing.code else "no batch opened yet"
    maker = weighing.inputs.workshop.maker.name or ""
    document = Document(
        f"Weighing sheet: {weighing.title}",
        f"{code}. Size {grams(weighing.bench.size_g)}, in steps of {grams(weighing.inputs.workshop.batch.balance_g)}.",
        tuple(_weighing_blocks(weighing)), f"{maker}, {weighing.title}, {code}",
    )
    write_document(document, target, maker, setting)


_TO_WEIGH = (
    Column("Line", 10, "right"), Column("Material", 56), Column("Planned", 24, "right"), Column("Allowed", 36, "right"),
    Column("Lot", 24, box=True), Column("Weighed, g", 24, box=True),
)


def _weighing_blocks(weighing: Weighing) -> Iterator[Block]:
    for phase, rows in weighing.phases():
        yield Heading(f"Phase {phase}" if phase else "To weigh")
        yield Table(_TO_WEIGH, tuple(_to_weigh(weighing, row) for row in rows), 8.2)
    yield Heading("Added beyond the plan")
    yield Table(_TO_WEIGH, (("", "", "", "", "", ""),) * 2, 8.2)
    yield from _measured(weighing)
    yield Signatures(("weighed by, date", "checked by, date"))


def _to_weigh(weighing: Weighing, row: PlanRow) -> tuple[str, ...]:
    material = weighing.materials.get(row.material)
    name = material.name if material else row.material
    done = weighing.bench.on_line(row.line)
    lot = ", ".join(item.lot or "" for item in done)
    actual = f"{weighing.bench.grams_on(row.line):f}" if done else ""
    if row.kind == "to-ph":
        return str(row.line), name, "to pH", f"at most {grams(row.most_g)}" if row.most_g else "", lot, actual
    allowed = weighing.allowed(row)
    spread = f"{allowed[0]:f} to {allowed[1]:f} g" if allowed else ""
    return str(row.line), name, grams(row.grams), spread, lot, actual


def _measured(weighing: Weighing) -> Iterator[Block]:
    span = weighing.inputs.formula.product.ph
    asked = f"pH, {span.low} to {span.high}" if span else "pH, where it is measured"
    columns = (Column("", 46), Column("Reading", 26, box=True), Column("at °C", 20, box=True), Column("", 32, "right"),
               Column("", 26, box=True), Column("", 24, box=True))
    yield Heading("Measured")
    yield Table(columns, ((asked, "", "", "yield, g; filled", "", ""),), 8.2)


def batch_paper(item: ShownBatch, target: Path, setting: Setting) -> None:
    """The batch sheet: all that is on record of a batch."""
    at = item.made.at
    maker = at.inputs.workshop.maker.name or ""
    batch = at.batch
    version = f", version {batch.version}" if batch.version else ""
    document = Document(
        f"Batch {batch.code}", f"{batch.product}{version}. {maker}", tuple(_batch_blocks(item)),
        f"{maker}, batch {batch.code}, as on record {moment(setting.now())}",
    )
    write_document(document, target, maker, setting)


_READINGS = (Column("Reading", 40), Column("Value", 40), Column("at °C", 24), Column("When, by whom", 70))


def _batch_blocks(item: ShownBatch) -> Iterator[Block]:
    batch, bench = item.made.at.batch, item.made.at.bench
    pairs = [("State", batch.state), ("Made", str(batch.made)), ("Size", grams(bench.size_g) or "not said"),
             ("Best before", str(item.made.best_before or "not stated")), ("Opened", when(batch.at, batch.by))]
    pairs += [("Yield", grams(bench.yield_g))] if bench.yield_g is not None else []
    pairs += [("Filled", f"{count} {pack}".strip()) for pack, count in bench.filled]
    yield Facts(tuple(pairs))
    if item.decisions:
        yield Heading("Decisions")
        yield Table((Column("State", 28), Column("When, by whom", 62), Column("Why", 84)), tuple(
            ("open again" if one.state == "open" else one.state, when(one.at, one.by), one.why or "")
            for one in item.decisions))
    yield Heading("Planned and weighed")
    yield _weighed(item)
    if bench.readings:
        yield Heading("Readings")
        yield Table(_READINGS, tuple(
            (one.name, f"{one.value:f} {one.unit}".strip(), "" if one.celsius is None else f"{one.celsius:f}",
             when(one.at, one.by)) for one in bench.readings))
    if item.history:
        yield Heading("Corrections")
        columns = (Column("What", 36), Column("It was", 32), Column("It is", 32), Column("Why", 34),
                   Column("When, by whom", 40))
        yield Table(columns, tuple(
            (one.what, one.was, one.now, one.why, when(one.at, one.by)) for one in item.history))
    notes = tuple((moment(at), by or "", text) for text, at, by in item.notes())
    if notes:
        yield Heading("Notes")
        yield Table((Column("When", 42), Column("By", 20), Column("Note", 112)), notes)
    if item.prepared is not None:
        yield Heading("Ingredients as made")
        yield Words(item.prepared.declaration.joint.text)
    yield from _printed(item)
    yield Signatures(("checked by, date", "released by, date"))


def _weighed(item: ShownBatch) -> Table:
    columns = (Column("Line", 10, "right"), Column("Material", 50), Column("Planned", 24, "right"),
               Column("Weighed", 24, "right"), Column("Lot", 34), Column("Remarks", 32))
    bench = item.made.at.bench
    rows = []
    for row in bench.plan:
        planned = "to pH" if row.kind == "to-ph" else grams(row.grams)
        found = [(str(row.line), row.material, planned, *_actual(item, one)) for one in bench.on_line(row.line)]
        rows += found or [(str(row.line), row.material, planned, "", "", "")]
    rows += [(str(one.line), one.material, "not planned", *_actual(item, one)) for one in bench.additions]
    return Table(columns, tuple(rows))


def _actual(item: ShownBatch, one: Weighed) -> tuple[str, str, str]:
    expires = item.expires(one)
    lot = f"{one.lot or ''}{f', good until {expires}' if expires else ''}"
    return grams(one.grams), lot, "; ".join(part for part in ("corrected" if one.before else "", one.note) if part)


def _printed(item: ShownBatch) -> Iterator[Block]:
    if not item.prints:
        return
    yield Heading("Labels")
    columns = (Column("Print", 12, "right"), Column("Labels", 14, "right"), Column("Artwork", 26), Column("File", 52),
               Column("When, by whom", 42), Column("Remarks", 28))
    yield Table(columns, tuple(
        (str(row.number), str(row.labels), ", ".join(row.artworks), row.file, when(row.at, row.by),
         "; ".join(part for part in (
             row.why or "", "superseded" if row.superseded else "",
             "before release" if (row.extra or {}).get("unreleased") else "") if part))
        for row in item.prints))
    yield Words("; ".join(_account(one) for one in item.accounts) + ".")


def _account(one: Account) -> str:
    filled = f"for {one.filled} filled" if one.filled is not None else "and no count of what was filled"
    ends = (("used", one.used), ("spoiled", one.spoiled), ("left", one.left), ("destroyed", one.destroyed))
    counted = "".join(f", {count} {word}" for word, count in ends if count)
    return f"{one.name}: {one.usable} good labels of {one.printed} printed{counted}, {filled}"


def recall_paper(term: str, found: tuple[Trace, ...], target: Path, setting: Setting) -> None:
    """The recall sheet, as PDF or CSV by the file's name. Raises InputError where it may not be written."""
    if target.suffix.lower() == ".csv":
        write_text(recall_csv(found), target, setting)
        return
    now = f"as on record {moment(setting.now())}"
    document = Document(f"Recall sheet: {term}", now, tuple(_recall_blocks(found)), f"{term}, {now}")
    write_document(document, target, "", setting)


def _recall_blocks(found: tuple[Trace, ...]) -> Iterator[Block]:
    columns = (Column("Batch", 28), Column("Product", 48), Column("Made", 22), Column("State", 22),
               Column("Holds", 24, "right"), Column("Labels", 14, "right"), Column("Back", 16, box=True))
    for item in found:
        labels = sum(one.batch.labels for one in item.batches)
        yield Heading(f"{item.term}, read as {_KINDS[item.kind]}: {len(item.batches)} batches, {labels} labels")
        yield Table(columns, tuple(
            (one.batch.code, one.batch.product, one.batch.made, one.batch.state,
             "not known" if one.grams is None else f"{one.grams:.2f} g", str(one.batch.labels), "")
            for one in item.batches), 8.2)
        if item.uses:
            yield Heading("What went in")
            yield Table((Column("Material", 70), Column("Lot", 60), Column("Mass", 44, "right")), tuple(
                (use.material, use.lot or "not named", grams(use.grams) or "not known") for use in item.uses))
    yield Signatures(("carried out by, date", "checked by, date"))


_KINDS = {"lot": "a lot", "material": "a material", "inci": "an ingredient", "code": "a batch code"}
