"""labeltool batch: batches opened and shown."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path

import click

from labeltool.cli.bench import bench
from labeltool.cli.decisions import cancel, recall, release, withdraw
from labeltool.cli.options import DATE, FILE, MASS, json_option, product_options, record_options, workshop_option
from labeltool.cli.output import counted, emit, say, show, tell
from labeltool.workflow.batches import list_batches, open_formula, short_document
from labeltool.workflow.setting import real_setting


@click.group()
def batch() -> None:
    """Batches on record: opened, weighed at the bench, released, taken back, listed and shown.

    \b
    Example:
      labeltool batch open formulas/oat-milk-hand-lotion.toml --size 500g
      labeltool batch bench 260503A31 --from weighing.csv
      labeltool batch release 260503A31 --by "A. Bell"
      labeltool batch show 260503A31
    """


@batch.command("open")
@click.argument("formula", metavar="FORMULA")
@click.option("--size", type=MASS, metavar="MASS", help="The batch's size, such as 500g.")
@click.option("--made", type=DATE, metavar="DATE", help="The day it is made (default: today).")
@product_options
@record_options
@workshop_option
def open_batch(
    formula: str, size: Decimal | None, made: dt.date | None, by: str | None, once: str | None, workshop: Path | None,
    facts: dict[str, str],
) -> None:
    """Open a batch: its code alone stands on the first line.

    \b
    Example:
      labeltool batch open oat-milk-hand-lotion --size 500g --made 2026-05-03
    """
    code, findings = open_formula(formula, size, made, real_setting(workshop, by, once), facts)
    say(code)
    show(findings)
    tell(f"next: labeltool weigh {code}, or labeltool print {code}")


@batch.command("list")
@workshop_option
@json_option
def list_all(workshop: Path | None, as_json: bool) -> None:
    """All batches on record, the latest last.

    \b
    Example:
      labeltool batch list --json
    """
    rows = list_batches(real_setting(workshop))
    if as_json:
        emit({"items": [short_document(item) for item in rows]})
        return
    for item in rows:
        counts = f"{counted(item.labels, 'label')}, {counted(item.prints, 'print')}"
        say(f"{item.code:14} {item.made} {item.state:10} {item.product}: {counts}")
    say("next: labeltool batch show CODE")


@batch.command("show")
@click.argument("code", metavar="CODE")
@click.option("-o", "output", type=FILE, metavar="FILE.pdf", help="Write the batch sheet: all of it on paper.")
@workshop_option
@json_option
def show_one(code: str, output: Path | None, workshop: Path | None, as_json: bool) -> None:
    """One batch: what was planned, weighed and read, what was made of it, and every print of it.

    \b
    Example:
      labeltool batch show 260503A31
      labeltool batch show 260503A31 -o batch-sheet.pdf
    """
    from labeltool.cli.batch_text import next_of, sheet
    from labeltool.workflow.showing import show_batch_whole

    setting = real_setting(workshop)
    item = show_batch_whole(code, setting)
    if output is not None:
        from labeltool.workflow.papers import batch_paper

        batch_paper(item, output, setting)
    if as_json:
        emit(item.document())
        return
    for line in sheet(item):
        say(line)
    show(item.findings)
    if output is not None:
        say(f"written: {output}")
    say(f"next: {next_of(item)}")


for command in (bench, release, withdraw, recall, cancel):
    batch.add_command(command)
