"""labeltool verify: every label of a PDF or picture read back and compared with the record."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import FILE, json_option, workshop_option
from labeltool.cli.output import emit
from labeltool.cli.verify_text import tell_verified
from labeltool.workflow.reading import verify_file
from labeltool.workflow.setting import real_setting


@click.command()
@click.argument("file", type=FILE, metavar="FILE")
@workshop_option
@json_option
def verify(file: Path, workshop: Path | None, as_json: bool) -> int:
    """Read every label of a PDF back: two decoders, the words, the places, against the record.

    A copy saved anew by another program passes; a missing, moved or altered label does not. Of a scan, photo or
    screenshot (PNG, JPEG) all codes are read, their batches found, and size and contrast measured as far as the picture
    allows; words are not read from pictures.

    \b
    Example:
      labeltool verify prints/260503A31-1.pdf
      labeltool verify prints/260503A31-1.pdf --json
      labeltool verify photo.jpg

    Exit code 1 where anything is wrong; 2 where the file cannot be read.
    """
    found = verify_file(file, real_setting(workshop))
    if as_json:
        emit(found.document())
    else:
        tell_verified(found)
    return 1 if found.wrong else 0
