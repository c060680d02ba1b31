"""labeltool trace: what a lot, a material, an ingredient or a batch touches."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from labeltool.batch.trace import Trace
from labeltool.cli.options import FILE, json_option, workshop_option
from labeltool.cli.output import counted, emit, say, tell
from labeltool.workflow.setting import Setting, real_setting
from labeltool.workflow.tracing import nothing_touched, trace_document, trace_term


@click.command()
@click.argument("term", metavar="TERM")
@click.option("-o", "output", type=FILE, metavar="FILE", help="Write it as a recall sheet: .pdf or .csv.")
@workshop_option
@json_option
def trace(term: str, output: Path | None, workshop: Path | None, as_json: bool) -> int:
    """The batches and prints that a lot, a material, an INCI name or a batch code touches.

    A material answers under its former keys too. For a code, what went into the batch is told, and the batches
    that it went into itself.

    \b
    Example:
      labeltool trace OX-17
      labeltool trace "Benzyl Alcohol" --json
      labeltool trace OX-17 -o recall.pdf

    Exit code 1 where nothing is touched.
    """
    setting = real_setting(workshop)
    found = trace_term(term, setting)
    if output is not None and found:
        from labeltool.workflow.papers import recall_paper

        recall_paper(term, found, output, setting)
    if as_json:
        emit(trace_document(term, found))
    elif found:
        for item in found:
            for line in _text(item):
                say(line)
        say(f"written: {output}" if output is not None else f"next: labeltool trace {term} -o recall.pdf")
    else:
        _nothing(term, setting)
    return 0 if found else 1


def _nothing(term: str, setting: Setting) -> None:
    named, near = nothing_touched(term, setting)
    lots = ", ".join(f"{item.lot} of {item.material}" for item in named)
    tell(f"lot {lots} is on record and in no batch" if lots else f"nothing on record is touched by {term}")
    said = f"did you mean {' or '.join(near)}?"
    tell(said if near and not lots else "next: labeltool batch list, labeltool lot list")


def _text(item: Trace) -> Iterator[str]:
    labels = sum(one.batch.labels for one in item.batches)
    batches = counted(len(item.batches), "batch", "batches")
    yield f"{item.term} as {item.kind}: {batches}, {counted(labels, 'label')} printed"
    for one in item.batches:
        batch = one.batch
        grams = f"{one.grams:.2f} g" if one.grams is not None else "amount not known"
        printed = f"{counted(batch.labels, 'label')}, {counted(batch.prints, 'print')}"
        yield f"  {batch.code:14} {batch.made} {batch.state:10} {batch.product}: {grams}, {printed}"
    if item.uses:
        yield "  went in:"
    for use in item.uses:
        grams = f"{use.grams} g" if use.grams is not None else "amount not known"
        yield f"    {use.material}: {grams}, {f'lot {use.lot}' if use.lot else 'no lot named'}"
