"""labeltool batch: batches opened and shown."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path

import click

from labeltool.cli.options import DATE, MASS, json_option, product_options, record_options, workshop_option
from labeltool.cli.output import emit, say, show, tell
from labeltool.workflow.batches import batch_document, list_batches, open_formula, short_document, show_batch
from labeltool.workflow.setting import real_setting


@click.group()
def batch() -> None:
    """Batches on record: open one before printing, list them, show one.

    \b
    Example:
      labeltool batch open formulas/oat-milk-hand-lotion.toml --size 500g
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
    tell(f"next: labeltool print {code}")


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
        emit({"items": [short_document(item, prints) for item, prints in rows]})
        return
    for item, prints in rows:
        labels = sum(row.labels for row in prints)
        say(f"{item.code:14} {item.made} {item.state:10} {item.product}: {labels} label(s), {len(prints)} print(s)")
    say("next: labeltool batch show CODE")


@batch.command("show")
@click.argument("code", metavar="CODE")
@workshop_option
@json_option
def show_one(code: str, workshop: Path | None, as_json: bool) -> None:
    """One batch: what it is, in what state, and every print of it.

    \b
    Example:
      labeltool batch show 260503A31
    """
    item, prints = show_batch(code, real_setting(workshop))
    if as_json:
        emit(batch_document(item, prints))
        return
    version = f", version {item.version}" if item.version else ""
    say(f"{item.code}: {item.product}{version}, made {item.made}, {item.state}")
    say(f"  opened {item.at}{f' by {item.by}' if item.by else ''}{f', {item.size_g} g' if item.size_g else ''}")
    for row in prints:
        why = f", why: {row.why}" if row.why else ""
        old = ", superseded" if row.superseded else ""
        what = f"{row.labels} label(s), {' and '.join(row.artworks)}"
        say(f"  print {row.number}: {what}, {row.file}, {row.at}{why}{old}")
    say(f"next: labeltool print {item.code}" if not prints else f"next: labeltool reprint {item.code} --why TEXT")
