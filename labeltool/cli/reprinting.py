"""labeltool reprint: the same labels again, from the record alone."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import FILE, json_option, record_options, workshop_option
from labeltool.cli.output import emit
from labeltool.cli.printed_text import show_printed
from labeltool.workflow.place import Wish
from labeltool.workflow.reprinting import ReprintCall, reprint_code
from labeltool.workflow.setting import real_setting


@click.command()
@click.argument("code", metavar="CODE")
@click.option("--artwork", metavar="NAME", help="Of several artworks printed for the batch, this one's latest print.")
@click.option("--pack", metavar="P", help="The latest print of this pack.")
@click.option("--label", metavar="L", help="The latest print of this label of the pack.")
@click.option("--print", "number", type=click.IntRange(1), metavar="N", help="Repeat print N (default: the latest).")
@click.option("--count", type=click.IntRange(1, 1_000_000), metavar="N", help="Labels of each (default: as before).")
@click.option("--skip", type=click.IntRange(0), default=0, metavar="N", help="Places left out on the first sheet.")
@click.option("--places", metavar="LIST", help="The places to print on, such as 5,9-12.")
@click.option("--stock", metavar="NAME", help="Another stock: the frozen words are set anew if it needs it.")
@click.option("--printer", metavar="P", help="Apply this printer's correction (default: [print], else as before).")
@click.option("--why", required=True, metavar="TEXT", help="Why; goes on record, never into the PDF.")
@click.option("-o", "output", type=FILE, metavar="FILE", help="The PDF (default: prints/CODE-N.pdf in the workshop).")
@click.option("--preview", type=FILE, metavar="FILE.png", help="A picture of the first page beside the PDF.")
@click.option("--no-verify", is_flag=True, help="Do not read the PDF back before it goes on record.")
@record_options
@workshop_option
@json_option
def reprint(
    code: str, artwork: str | None, pack: str | None, label: str | None, number: int | None, count: int | None,
    skip: int, places: str | None, stock: str | None, printer: str | None, why: str, output: Path | None,
    preview: Path | None, no_verify: bool, by: str | None, once: str | None, workshop: Path | None, as_json: bool,
) -> None:
    """The same labels again, from the record alone.

    CODE is typed in any spelling. Formula, materials, artwork and stock files may have changed or gone: the label is
    the one that was printed, place by place. A batch that was withdrawn, recalled or cancelled is refused.

    \b
    Example:
      labeltool reprint 260503A31 --why "label scuffed in transit"
      labeltool reprint 260503A31 --print 1 --count 2 --skip 12 --why "two jars relabelled"
    """
    setting = real_setting(workshop, by, once)
    wish = Wish(count, skip, places)
    call = ReprintCall(code, why, artwork, number, wish, stock, output, preview, not no_verify, printer, pack, label)
    result = reprint_code(call, setting)
    if as_json:
        emit(result if isinstance(result, dict) else result.document())
        return
    show_printed(result)
