"""One batch as a person reads it."""

from __future__ import annotations

from collections.abc import Iterator

from labeltool.batch.made import unweighed
from labeltool.cli.bench import against_release
from labeltool.cli.output import counted
from labeltool.workflow.proof import told_proof
from labeltool.workflow.showing import ShownBatch


def sheet(item: ShownBatch) -> Iterator[str]:
    """The lines of `batch show`."""
    batch, bench = item.made.at.batch, item.made.at.bench
    version = f", version {batch.version}" if batch.version else ""
    yield f"{batch.code}: {batch.product}{version}, made {batch.made}, {batch.state}"
    size = f", {bench.size_g} g" if bench.size_g is not None else ""
    yield f"  opened {batch.at}{f' by {batch.by}' if batch.by else ''}{size}"
    for one in item.decisions:
        state = "open again" if one.state == "open" else one.state
        yield f"  {state} {one.at}{f' by {one.by}' if one.by else ''}{f', why: {one.why}' if one.why else ''}"
    if item.made.best_before:
        yield f"  best before {item.made.best_before}"
    for held in item.made.at.inputs.held:
        yield f"  holds {held.count} × {held.formula}{f' {held.pack}' if held.pack else ''} of batch {held.lot}"
    yield from _bench(item)
    yield from _prints(item)


def _bench(item: ShownBatch) -> Iterator[str]:
    bench = item.made.at.bench
    for one in bench.weighed:
        row = bench.row(one.line)
        planned = f" of {row.grams.normalize():f} g" if row and row.grams is not None else ""
        lot = f", lot {one.lot}" if one.lot else ""
        expires = f" ({day})" if (day := item.expires(one)) else ""
        beyond = "" if row else ", beyond the plan"
        yield f"  line {one.line} {one.material}: {one.grams.normalize():f} g{planned}{lot}{expires}{beyond}"
    left = unweighed(bench)
    if left and bench.size_g is not None:
        yield f"  still to weigh: {', '.join(f'{row.line} {row.material}' for row in left)}"
    for reading in bench.readings:
        at = f" at {reading.celsius} °C" if reading.celsius is not None else ""
        yield f"  {reading.name} {reading.value}{f' {reading.unit}' if reading.unit else ''}{at}, {reading.at}"
    if bench.yield_g is not None:
        share = f", {bench.yield_g * 100 / item.weighed_g:.1f} % of what was weighed" if item.weighed_g else ""
        yield f"  yield {bench.yield_g} g{share}"
    for pack, count in bench.filled:
        yield f"  filled {count}{f' of {pack}' if pack else ''}"
    for change in item.history:
        yield f"  corrected, {change.at}{f' by {change.by}' if change.by else ''}: {change}, why: {change.why}"
    for text, at, by in item.notes():
        yield f"  note, {at}{f' by {by}' if by else ''}: {text}"
    if item.prepared is not None:
        yield f"  as made: {item.prepared.declaration.joint.text}"


def _prints(item: ShownBatch) -> Iterator[str]:
    for row in item.prints:
        why = f", why: {row.why}" if row.why else ""
        old = ", superseded" if row.superseded else ""
        old += ", before release" if (row.extra or {}).get("unreleased") else ""
        label = row.label or " and ".join(row.artworks)
        what = f"{counted(row.labels, 'label')}, {label}{f' for {row.pack}' if row.pack else ''}"
        proof = told_proof(row.extra)
        yield f"  print {row.number}: {what}, {row.file}, {row.at}{why}{old}{', ' if proof else ''}{proof}"
    for one in item.accounts:
        filled = f"{one.filled} filled" if one.filled is not None else "no count of what was filled"
        pack = f" for {one.pack}" if one.pack else ""
        ends = [f"{count} {word}" for count, word in (
            (one.used, "used"), (one.spoiled, "spoiled"), (one.left, "left"), (one.destroyed, "destroyed")) if count]
        what = ", ".join([f"{one.printed} printed", f"{one.usable} good", *ends, filled])
        yield f"  labels {one.artwork}{pack}: {what}"


def next_of(item: ShownBatch) -> str:
    """The command that most likely comes next."""
    batch, bench = item.made.at.batch, item.made.at.bench
    if batch.state == "released" or (batch.state == "open" and not bench.weighed):
        return f"labeltool print {batch.code}" if not item.prints else f"labeltool reprint {batch.code} --why TEXT"
    if item.against:
        return against_release(batch.code, item.against)
    if batch.state == "open":
        return f"labeltool batch bench {batch.code}" if unweighed(bench) else (
            f"labeltool batch release {batch.code} --by NAME")
    return f"labeltool trace {batch.code}"
