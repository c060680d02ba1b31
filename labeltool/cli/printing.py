"""labeltool print: the main job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import click

from labeltool.cli.options import (
    DATE,
    FILE,
    MASS,
    json_option,
    on_option,
    product_options,
    record_options,
    workshop_option,
)
from labeltool.cli.output import emit
from labeltool.cli.printed_text import Told, show_printed
from labeltool.stock.surface import COLOUR
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.packs import languages_typed
from labeltool.workflow.place import Wish
from labeltool.workflow.runs import print_all
from labeltool.workflow.setting import real_setting


class Count(click.ParamType[Any]):
    """A number of labels, or "filled"."""

    name = "count"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int | str:
        """The number or the word, or a usage error that says both."""
        if value == "filled" or isinstance(value, int):
            return value  # type: ignore[no-any-return]
        return click.IntRange(1, 1_000_000).convert(value, param, ctx)


class Colour(click.ParamType[Any]):
    """A colour, #rrggbb."""

    name = "colour"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The colour in small letters, the # added where it was left out; or a usage error."""
        text = str(value).strip().lower()
        text = text if text.startswith("#") else f"#{text}"
        if not COLOUR.fullmatch(text):
            self.fail(f"{value!r} is no colour: six hex digits, such as \"#c8a165\"", param, ctx)
        return text


@click.command("print")
@click.argument("what", nargs=-1, metavar="FORMULA|CODE[/PACK:N]…")
@click.option("--made", type=DATE, metavar="DATE", help="The day the batch was made (default: today).")
@click.option("--size", type=MASS, metavar="MASS", help="What is made, such as 500g.")
@click.option("--stock", metavar="NAME", help="The label stock (default: [print], else the smallest that fits).")
@click.option("--artwork", "artworks", multiple=True, metavar="NAME", help="The artwork; may be given again for a set.")
@click.option("--pack", metavar="P", help="The pack of the formula: all its labels, one PDF a stock.")
@click.option("--label", "labels", multiple=True, metavar="L", help="This label of the pack alone; may be given again.")
@click.option("--languages", metavar="LIST", help="Languages of this print, such as de,fr (--markets goes with it).")
@click.option("--of", multiple=True, metavar="CODE", help="A batch that lies in the gift set FORMULA; given for each.")
@click.option("--count", type=Count(), metavar="N|filled", help="Labels (default: one sheet); filled: what the filled "
              "packs still need.")
@click.option("--skip", type=click.IntRange(0), default=0, metavar="N", help="Places left out on the first sheet.")
@click.option("--places", metavar="LIST", help="The places to print on, such as 5,9-12; counted from 1, row by row.")
@click.option("--printer", metavar="P", help="Apply this printer's correction of printers.toml (default: [print]).")
@click.option("--behind", type=Colour(), metavar="#rrggbb", help="What shows through clear stock: product or jar.")
@click.option("--leaflet", is_flag=True, help="The list, and where need be the warnings, in a leaflet (UK and EU).")
@click.option("--from", "from_list", type=FILE, metavar="LIST.csv", help="Many batches (formula, made, "
              "size, count; or code, pack, label, count).")
@click.option("-o", "output", type=FILE, metavar="FILE", help="The PDF (default: prints/CODE-N.pdf in the workshop).")
@click.option("--preview", type=FILE, metavar="FILE.png", help="A picture of the first page; of a thermal roll, "
              "one bit a printer dot.")
@click.option("--no-verify", is_flag=True, help="Do not read the PDF back before it goes on record.")
@click.option("--draft", is_flag=True, help='Print with "draft" across each label: nothing on record, no code used.')
@click.option("--revise", is_flag=True, help="Freeze today's words first (and composition, while nothing is weighed).")
@click.option("--why", metavar="TEXT", help="The reason of --revise; goes on record.")
@on_option
@product_options
@record_options
@workshop_option
@json_option
def print_labels(
    what: tuple[str, ...], made: dt.date | None, size: Decimal | None, stock: str | None, artworks: tuple[str, ...],
    pack: str | None, labels: tuple[str, ...], languages: str | None, of: tuple[str, ...],
    count: int | str | None, skip: int,
    places: str | None, printer: str | None, behind: str | None, leaflet: bool, from_list: Path | None,
    output: Path | None, preview: Path | None, no_verify: bool, draft: bool, revise: bool, why: str | None,
    on: dt.date | None, by: str | None, once: str | None, workshop: Path | None, as_json: bool, facts: dict[str, str],
) -> int:
    """Open a batch of FORMULA and print its labels, or print more labels of a batch that is open.

    FORMULA is a file (.toml, .csv, .xlsx) or a formula's name; CODE is a batch code, in any spelling. All checks
    come first: where a required element is missing or a limit of law is surely passed, nothing is written. A draft
    is written all the same, and then ends with exit code 1.

    \b
    Example:
      labeltool print formulas/oat-milk-hand-lotion.toml
      labeltool print oat-milk-hand-lotion --stock a4-3x8-63.5x33.9 --skip 5 --count 12
      labeltool print 260503A31 --count filled
      labeltool print 260503A31 --pack 30ml --label back --markets EU --languages de
      labeltool print winter-set --of 260503A31 --of 260503B28
      labeltool print 260503A31/30ml:12 260503A31/100ml:6 --stock a4-3x8-63.5x33.9
    """
    setting = real_setting(workshop, by, once)
    wish = Wish(count if isinstance(count, int) else None, skip, places, count == "filled")
    call = PrintCall(made, size, stock, artworks, wish, output, preview, not no_verify, on, draft,
                     tuple(facts.items()), revise, why, printer, behind, leaflet,
                     pack, labels, languages=languages_typed(languages), of=of)
    results = print_all(what, from_list, call, setting)
    single = len(results) == 1 and from_list is None and len(what) == 1
    _show(results, as_json, single)
    return 1 if any(getattr(item, "wrong", False) for item in results) else 0


def _show(results: Sequence[object], as_json: bool, single: bool) -> None:
    if as_json:
        documents = [item if isinstance(item, dict) else item.document() for item in results]  # type: ignore[attr-defined]
        emit(documents[0] if single else {"items": documents})
        return
    told: Told = set()
    several = len({getattr(item, "product", None) for item in results}) > 1
    for item in results:
        show_printed(item, told, several=several)
