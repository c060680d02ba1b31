"""labeltool weigh: what to weigh, on the terminal, as a sheet of paper or as CSV."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import click

from labeltool.batch.model import PlanRow
from labeltool.cli.options import FILE, MASS, product_options, workshop_option
from labeltool.cli.output import counted, say, show
from labeltool.errors import input_error
from labeltool.workflow.setting import real_setting
from labeltool.workflow.weighing import Weighing, weighing_of, write_csv


@click.command()
@click.argument("what", metavar="FORMULA|CODE")
@click.option("--size", type=MASS, metavar="MASS", help="The batch's size, such as 500g; an open batch has one.")
@click.option("-o", "output", type=FILE, metavar="FILE", help="Write it: .pdf is a page to fill in, .csv a sheet for "
              "batch bench --from.")
@product_options
@workshop_option
def weigh(
    what: str, size: Decimal | None, output: Path | None, workshop: Path | None, facts: dict[str, str],
) -> None:
    """The weighing sheet: grams by phase, how far off each may be, and room for lots and what was really weighed.

    The masses are whole steps of the balance and sum to the size. FORMULA is a file or a formula's name; CODE is a
    batch that is open.

    \b
    Example:
      labeltool weigh oat-milk-hand-lotion --size 500g
      labeltool weigh 260503A31 -o weighing.pdf
      labeltool weigh 260503A31 -o weighing.csv
    """
    setting = real_setting(workshop)
    found = weighing_of(what, size, setting, facts)
    if output is None:
        for line in _text(found):
            say(line)
        show(found.findings)
    elif output.suffix.lower() == ".csv":
        rows = write_csv(found, output, setting)
        show(found.findings)
        say(f"written: {output}, {counted(rows, 'row')} to weigh")
    elif output.suffix.lower() != ".pdf":
        raise input_error("weigh.output", f"{output.name} is neither .pdf nor .csv", limit="FILE.pdf, FILE.csv",
                          do="a spreadsheet opens the .csv; save it as CSV again for batch bench --from")
    else:
        from labeltool.workflow.papers import weighing_paper

        weighing_paper(found, output, setting)
        show(found.findings)
        say(f"written: {output}")
    say(_next(found, what, size, output))


def _next(found: Weighing, what: str, size: Decimal | None, output: Path | None) -> str:
    if found.code is None:
        return f"next: labeltool batch open {what} --size {found.bench.size_g}g"
    if output is not None and output.suffix.lower() == ".csv":
        return f"next: fill in grams and lot, then labeltool batch bench {found.code} --from {output}"
    return f"next: labeltool batch bench {found.code}"


def _text(found: Weighing) -> Iterator[str]:
    batch = f"batch {found.code}, made {found.made}: " if found.code else ""
    yield f"{found.title}: {batch}{found.bench.size_g} g, in steps of {found.inputs.workshop.batch.balance_g} g"
    width = max((len(row.material) for row in found.bench.plan), default=8)
    for phase, rows in found.phases():
        yield ""
        yield f"phase {phase}" if phase else "no phase"
        for row in rows:
            yield f"  {row.line:>3}  {row.material:{width}}  {_planned(found, row)}"


def _planned(found: Weighing, row: PlanRow) -> str:
    weighed = f"   weighed {found.bench.grams_on(row.line)} g" if found.bench.on_line(row.line) else ""
    if row.kind == "to-ph":
        most = f", at most {row.most_g} g" if row.most_g is not None else ""
        return f"{'to pH':>10}{most}{weighed}"
    allowed = found.allowed(row)
    spread = f"   {allowed[0]} to {allowed[1]} g" if allowed else ""
    return f"{row.grams:>10} g{spread}{weighed}"
