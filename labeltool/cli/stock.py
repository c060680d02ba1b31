"""labeltool stock: the label stocks, built in and the maker's own."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import json_option, workshop_option
from labeltool.cli.output import emit, say
from labeltool.cli.stock_align import align
from labeltool.cli.stock_measure import measure
from labeltool.stock.model import Stock
from labeltool.workflow import layouts
from labeltool.workflow.catalogue import fits, picture_stock, stock_document, workshop_or_none
from labeltool.workflow.setting import real_setting


@click.group()
def stock() -> None:
    """Label stocks: sheets and rolls, named by their measures.

    \b
    Example:
      labeltool stock list
      labeltool stock show a4-3x8-63.5x33.9
      labeltool stock align a4-3x8-63.5x33.9
    """


stock.add_command(measure)
stock.add_command(align)


@stock.command("list")
@workshop_option
@json_option
def list_stocks(workshop: Path | None, as_json: bool) -> None:
    """All stocks: the maker's own from layouts/stocks first, then the built-in ones.

    \b
    Example:
      labeltool stock list --json
    """
    found = layouts.stocks(workshop_or_none(real_setting(workshop)))
    if as_json:
        emit({"items": [stock_document(item) for item in found.values()]})
        return
    for item in found.values():
        say(f"{item.name:32} {item.title}")
    say("next: labeltool stock show NAME")


@stock.command("show")
@click.argument("name")
@click.option("-o", "output", type=Path, metavar="FILE", help="Draw the stock to this PNG file.")
@workshop_option
@json_option
def show_stock(name: str, output: Path | None, workshop: Path | None, as_json: bool) -> None:
    """One stock: its measures, and the artworks whose blocks it has room for.

    \b
    Example:
      labeltool stock show roll-57x32-203dpi
      labeltool stock show a4-3x8-63.5x33.9 -o stock.png
    """
    folder = workshop_or_none(real_setting(workshop))
    found = layouts.stock(name, folder)
    suited = fits(found, folder)
    if output is not None:
        picture_stock(found, output)
    if as_json:
        emit(stock_document(found) | {"artworks": list(suited)})
        return
    for line in _lines(found):
        say(line)
    say(f"artworks for a label of this size: {', '.join(suited) or 'none'}")
    say(f"next: labeltool print FORMULA --stock {name}" if output is None else f"drawn: {output}")


def _lines(item: Stock) -> list[str]:
    width, height = item.label_mm
    lines = [
        f"{item.name}: {item.title}",
        f"  label {width:g} x {height:g} mm, {item.shape}, corner {item.corner_mm:g} mm, safe edge {item.safe_mm:g} mm",
        f"  page {item.page_mm[0]:g} x {item.page_mm[1]:g} mm, {item.columns} across, {item.rows} down",
        f"  first label at {item.origin_mm[0]:g}, {item.origin_mm[1]:g} mm; "
        f"from label to label {item.pitch_mm[0]:g}, {item.pitch_mm[1]:g} mm",
        f"  {item.face}, {item.medium}, {item.dpi} dpi",
    ]
    if item.kind == "roll":
        lines[2] = f"  roll, {item.columns} across, gap {item.gap_mm:g} mm"
        del lines[3]
    return lines
