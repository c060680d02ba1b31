"""labeltool stock measure: a stock of the maker's own from ruler readings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from labeltool.cli.options import json_option, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.formula.quantities import parse_number
from labeltool.stock.measure import Readings
from labeltool.workflow.catalogue import stock_document
from labeltool.workflow.measuring import NewStock, measure_stock
from labeltool.workflow.setting import real_setting


class Millimetres(click.ParamType[Any]):
    """A length in mm: 63.5, 63,5 or 63.5mm."""

    name = "mm"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """The number, or a usage error."""
        if isinstance(value, float):
            return value
        number = parse_number(str(value).strip().removesuffix("mm").strip())
        if isinstance(number, str):
            self.fail(number, param, ctx)
        if abs(number) > 3000:
            self.fail(f"{value} mm is no measure of a label sheet", param, ctx)
        return float(number)


MM = Millimetres()
COUNT = click.IntRange(1, 200)


@click.command("measure")
@click.argument("name")
@click.option("--page", type=(MM, MM), required=True, metavar="W H", help="The paper: width, height.")
@click.option("--label", type=(MM, MM), required=True, metavar="W H", help="One label: width, height.")
@click.option("--grid", type=(COUNT, COUNT), required=True, metavar="C R", help="Labels across and down.")
@click.option("--first", type=(MM, MM), required=True, metavar="LEFT TOP", help="Edges of the first label.")
@click.option("--last", type=(MM, MM), required=True, metavar="RIGHT BOTTOM", help="Edges of the last label.")
@workshop_option
@json_option
def measure(
    name: str, page: tuple[float, float], label: tuple[float, float], grid: tuple[int, int],
    first: tuple[float, float], last: tuple[float, float], workshop: Path | None, as_json: bool,
) -> None:
    """Make a sheet stock from ruler readings, in mm from the paper's left and top edge.

    Only the outermost edges are measured, so that the ruler's error is shared by all labels instead of adding up.
    The file layouts/stocks/NAME.toml of the workshop is written, never over another one.

    \b
    Example:
      labeltool stock measure a4-3x8-63x34 --page 210 297 --label 63.5 33.9 --grid 3 8 --first 7 13 --last 203 284
    """
    made = measure_stock(name, Readings(page, label, grid, first, last), real_setting(workshop))
    if as_json:
        emit(stock_document(made.stock) | {"file": made.file, "off": list(made.off_mm),
                                           "problems": [item.as_json() for item in made.findings]})
        return
    _tell(made)


def _tell(made: NewStock) -> None:
    show(made.findings)
    item = made.stock
    say(f"{item.name}: {item.columns} x {item.rows} labels of {item.label_mm[0]:g} x {item.label_mm[1]:g} mm: "
        f"{made.file}")
    say(f"  first label at {item.origin_mm[0]:g}, {item.origin_mm[1]:g} mm; "
        f"from label to label {item.pitch_mm[0]:g}, {item.pitch_mm[1]:g} mm")
    say(f"  a label's place may be off by {made.off_mm[0]:.2g} mm across and {made.off_mm[1]:.2g} mm down, "
        "as a ruler is read to about 0.25 mm")
    say("  taken as given: rectangle, white, laser, 600 dpi, 1.5 mm kept clear at the edge; the file may say otherwise")
    say(f"next: labeltool stock align {item.name}")
