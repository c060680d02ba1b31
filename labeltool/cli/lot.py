"""labeltool lot: lots of raw materials."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path
from typing import Any

import click

from labeltool.cli.options import DATE, json_option, record_options, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.formula.quantities import parse_mass
from labeltool.workflow.lots import (
    LotCall,
    Shown,
    block_lot,
    correct_lot,
    list_lots,
    lot_document,
    lot_history,
    receive_lot,
    show_lot,
)
from labeltool.workflow.setting import real_setting


class Grams(click.ParamType[Any]):
    """A mass of a lot: a number alone is grams, 0 is a mass."""

    name = "grams"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Decimal:
        """The grams, or a usage error that says what a mass looks like."""
        grams = value if isinstance(value, Decimal) else parse_mass(str(value), bare=True)
        if isinstance(grams, str):
            self.fail(grams, param, ctx)
        return grams


def material_option(command: Any) -> Any:
    """--material: where several materials have a lot of that name."""
    text = "Of which material, where lots of several have that name."
    return click.option("--material", metavar="NAME", help=text)(command)


@click.group()
def lot() -> None:
    """Lots of raw materials: received, listed, shown with the batches they went into, blocked.

    A lot is known by its material and its name together, and keeps the composition that the material had in
    materials.toml on the day it was received: a batch declares what its lots were.

    \b
    Example:
      labeltool lot receive glycerin G-2041 --expires 2027-09-30 --grams 1000
      labeltool lot list
    """


@lot.command("receive")
@click.argument("material", metavar="MATERIAL")
@click.argument("name", metavar="LOT")
@click.option("--expires", type=DATE, metavar="DATE", help="The supplier's date; a batch keeps no longer.")
@click.option("--received", type=DATE, metavar="DATE", help="The day it came (default: today).")
@click.option("--grams", type=Grams(), metavar="N", help="How much came, in grams, or with its unit: 5kg.")
@click.option("--supplier", metavar="NAME", help="Who sent it.")
@click.option("--supplier-lot", metavar="TEXT", help="The supplier's own name for the lot, where yours is another.")
@record_options
@workshop_option
def receive(
    material: str, name: str, expires: dt.date | None, received: dt.date | None, grams: Decimal | None,
    supplier: str | None, supplier_lot: str | None, by: str | None, once: str | None, workshop: Path | None,
) -> None:
    """Put a lot of a material on record; more of one that is on record adds to it.

    \b
    Example:
      labeltool lot receive oat-extract OX-17 --expires 2027-04-30 --grams 5kg --supplier "Example Botanicals"
    """
    call = LotCall(material, name, expires, received, grams, supplier, supplier_lot)
    found, findings = receive_lot(call, real_setting(workshop, by, once))
    show(findings)
    say(f"lot {found.lot} of {found.material} is on record{f', good until {found.expires}' if found.expires else ''}")
    say(f"next: name it at the bench: labeltool batch bench CODE --add {found.material}=GRAMS@{found.lot}")


@lot.command("list")
@workshop_option
@json_option
def list_all(workshop: Path | None, as_json: bool) -> None:
    """All lots on record: what is left of each, where that is known, and which are blocked.

    \b
    Example:
      labeltool lot list
    """
    lots = list_lots(real_setting(workshop))
    if as_json:
        emit({"items": [lot_document(item) for item in lots]})
        return
    for item in lots:
        left = f"{item.left} g left" if item.left is not None else "amount not known"
        say(f"{item.lot.lot:16} {item.lot.material:24} {_until(item)}, {left}{_blocked(item)}")
    if not lots:
        say("no lot is on record yet")
    say("next: labeltool lot show LOT" if lots else "next: labeltool lot receive MATERIAL LOT --expires DATE --grams N")


@lot.command("show")
@click.argument("name", metavar="LOT")
@material_option
@workshop_option
@json_option
def show_one(name: str, material: str | None, workshop: Path | None, as_json: bool) -> None:
    """One lot: where it came from, what it is made of, and the batches it went into.

    \b
    Example:
      labeltool lot show OX-17
    """
    setting = real_setting(workshop)
    item = show_lot(name, material, setting)
    changes = lot_history(item.lot, setting)
    if as_json:
        emit(lot_document(item, changes))
        return
    one = item.lot
    say(f"lot {one.lot} of {one.material}: {_until(item)}{_blocked(item)}")
    came = f", {one.grams} g, {item.left} g left" if one.grams is not None else ""
    source = f" from {one.supplier}" if one.supplier else ""
    theirs = f", their lot {one.supplier_lot}" if one.supplier_lot else ""
    say(f"  received {one.received or 'never'}{source}{theirs}{came}")
    for part in one.composition.made_of if one.composition else ():
        low, high = part.percent.low, part.percent.high
        say(f"  {part.inci}: {low} %" if low == high else f"  {part.inci}: {low} to {high} %")
    for change in changes:
        say(f"  {change.what}, {change.at}{f' by {change.by}' if change.by else ''}, why: {change.why}")
    for code, grams in item.batches:
        say(f"  went into batch {code}: {grams} g")
    bench = f"labeltool batch bench CODE --add {one.material}=GRAMS@{one.lot}"
    say(f"next: {f'labeltool trace {one.lot}' if item.batches or one.blocked else bench}")


@lot.command("block")
@click.argument("name", metavar="LOT")
@click.option("--why", required=True, metavar="TEXT", help="The reason; goes on record.")
@material_option
@record_options
@workshop_option
def block(
    name: str, why: str, material: str | None, by: str | None, once: str | None, workshop: Path | None,
) -> None:
    """Block a lot: no batch that holds it can be released any more.

    A name that was typed wrongly at the bench is put right there (batch bench --correct) and blocked here: nothing goes
    off the record, and nobody takes it again.

    \b
    Example:
      labeltool lot block OX-17 --why "supplier's recall of 2026-05-20"
    """
    found, findings = block_lot(name, material, why, real_setting(workshop, by, once))
    show(findings)
    say(f"lot {found.lot} of {found.material} is blocked: {why}")
    say(f"next: labeltool trace {found.lot}, the batches it went into")


@lot.command("correct")
@click.argument("name", metavar="LOT")
@click.option("--why", required=True, metavar="TEXT", help="The reason; goes on record.")
@click.option("--expires", type=DATE, metavar="DATE", help="The date it should have had.")
@click.option("--no-date", is_flag=True, help="It has no date.")
@click.option("--received", type=DATE, metavar="DATE", help="The day it really came.")
@click.option("--grams", type=Grams(), metavar="N", help="How much came, all in all.")
@click.option("--supplier", metavar="NAME", help="Who sent it.")
@click.option("--supplier-lot", metavar="TEXT", help="The supplier's own name for the lot.")
@click.option("--unblock", is_flag=True, help="It was blocked by mistake, or may be used again.")
@material_option
@record_options
@workshop_option
def correct(
    name: str, why: str, expires: dt.date | None, no_date: bool, received: dt.date | None, grams: Decimal | None,
    supplier: str | None, supplier_lot: str | None, unblock: bool, material: str | None, by: str | None,
    once: str | None, workshop: Path | None,
) -> None:
    """Put right what was written down wrongly of a lot; what stood before stays on record.

    A corrected date counts for every batch that holds the lot, also where its weighing sheet said another. Labels
    that were printed with the old date are then told by batch show as outdated.

    \b
    Example:
      labeltool lot correct OX-17 --expires 2027-10-31 --why "read the month as the day"
    """
    call = LotCall(material or "", name, expires, received, grams, supplier, supplier_lot)
    found, findings = correct_lot(call, why, real_setting(workshop, by, once), no_date=no_date, unblock=unblock)
    show(findings)
    until = f"good until {found.expires}" if found.expires else "no date"
    say(f"lot {found.lot} of {found.material} is corrected: {until}")
    say(f"next: labeltool lot show {found.lot} --material {found.material}, what it went into")


def _until(item: Shown) -> str:
    return f"good until {item.lot.expires}" if item.lot.expires else "no date"


def _blocked(item: Shown) -> str:
    unused = ", only a name typed at the bench, in no batch" if item.unused else ""
    return unused + (f", BLOCKED: {item.lot.blocked}" if item.lot.blocked else "")
