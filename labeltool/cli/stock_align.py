"""labeltool stock align: a page of rulers and crosses, and a printer's correction from two readings of it."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import FILE, json_option, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.cli.stock_measure import MM
from labeltool.errors import input_error
from labeltool.workflow.aligning import Aligned, read_align_page, write_align_page
from labeltool.workflow.setting import real_setting

READ = "Where a cross really lies, mm from the paper's left and top edge; first cross 1, then cross 2."


@click.command("align")
@click.argument("name")
@click.option("-o", "output", type=FILE, metavar="FILE", help="The page (default: prints/align-NAME.pdf).")
@click.option("--printer", metavar="P", help="Your name for the printer that printed the page.")
@click.option("--read", "reads", type=(MM, MM), multiple=True, metavar="ACROSS DOWN", help=READ)
@workshop_option
@json_option
def align(
    name: str, output: Path | None, printer: str | None, reads: tuple[tuple[float, float], ...],
    workshop: Path | None, as_json: bool,
) -> None:
    """Measure what a printer moves, and keep the correction in printers.toml.

    Without --read, a page of rulers and two numbered crosses is written, each with the place it is meant to have. Print
    it at 100 % with scaling off, measure where both crosses really lie, and give the two readings. From then on `print`
    and `reprint` move the labels for that printer; no label is ever stretched.

    \b
    Example:
      labeltool stock align a4-3x8-63.5x33.9 -o align.pdf
      labeltool stock align a4-3x8-63.5x33.9 --printer office --read 20.5 19.6 --read 190.4 276.8
    """
    setting = real_setting(workshop)
    if not reads:
        _show(write_align_page(name, output, setting), printer, as_json)
        return
    if printer is None or len(reads) != 2 or output is not None:
        raise input_error("call.read", "two readings of one printer make a correction",
                          limit="--printer P --read ACROSS DOWN --read ACROSS DOWN",
                          do="leave -o out; first cross 1, then cross 2")
    _show(read_align_page(name, printer, (reads[0], reads[1]), setting), printer, as_json)


def _show(done: Aligned, printer: str | None, as_json: bool) -> None:
    if as_json:
        emit(done.document())
        return
    show(done.findings)
    if done.correction is None:
        _tell_page(done, printer)
        return
    right, down = done.correction.nudge_mm
    across, along = done.correction.scale
    say(f"printer {done.printer} on {done.stock.name}: {right:+.2f} mm right, {down:+.2f} mm down; "
        f"distances x {across:g} across, x {along:g} down: {done.file}")
    say(f"next: labeltool print FORMULA --stock {done.stock.name} --printer {done.printer}")


def _tell_page(done: Aligned, printer: str | None) -> None:
    say(f"alignment page of {done.stock.name}: {done.file}")
    for number, (x, y) in enumerate(done.marks, 1):
        say(f"  cross {number} is meant to lie {x:g} mm from the left and {y:g} mm from the top edge of the paper")
    say("  print it at 100 %, scaling off, and measure where both really lie")
    say(f"next: labeltool stock align {done.stock.name} --printer {printer or 'NAME'} --read ACROSS DOWN "
        "--read ACROSS DOWN")
