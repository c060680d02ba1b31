"""labeltool verify: every label of a PDF read back and compared with the record."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import FILE, json_option, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.workflow.grading import told
from labeltool.workflow.reading import Verified, verify_file
from labeltool.workflow.setting import real_setting


@click.command()
@click.argument("file", type=FILE, metavar="FILE")
@workshop_option
@json_option
def verify(file: Path, workshop: Path | None, as_json: bool) -> int:
    """Read every label of a PDF back: two decoders, the words, the places, against the record.

    A copy saved anew by another program passes; a missing, moved or altered label does not.

    \b
    Example:
      labeltool verify prints/260503A31-1.pdf
      labeltool verify prints/260503A31-1.pdf --json

    Exit code 1 where anything is wrong; 2 where the file cannot be read.
    """
    found = verify_file(file, real_setting(workshop))
    if as_json:
        emit(found.document())
    else:
        _tell(found)
    return 1 if found.wrong else 0


def _tell(found: Verified) -> None:
    show(found.findings)
    if found.batch is not None and found.row is not None:
        say(f"{found.file}: print {found.row.number} of batch {found.batch.code}, {found.batch.product}")
    good = sum(item.matches for item in found.labels)
    payloads = {item.decoded.zxing or item.decoded.zbar for item in found.labels} - {None}
    both = sum(item.decoded.zbar is not None and item.decoded.zbar == item.decoded.zxing for item in found.labels)
    say(f"  {good} of {len(found.labels)} label(s) as on record; QR read alike by both decoders on {both}")
    for payload in sorted(str(item) for item in payloads):
        say(f"  QR: {payload}")
    for grade, limits in sorted({(item.grade, item.limits) for item in found.labels if item.grade is not None}):
        count = sum((item.grade, item.limits) == (grade, limits) for item in found.labels)
        say(f"  {count} label(s): {told(grade, limits)}")
    for item in found.labels:
        if not item.matches:
            read_as = item.decoded.zxing or item.decoded.zbar or "not read"
            say(f"  WRONG: page {item.page}, label {item.label}: {read_as}")
    if found.wrong:
        say("next: print again, and do not use these labels")
    elif found.batch is not None:
        say(f'next: print at 100 %; later: labeltool reprint {found.batch.code} --why TEXT')
