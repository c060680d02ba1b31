"""labeltool records: the health of the record itself."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import FILE, workshop_option
from labeltool.cli.output import counted, progress, say, show
from labeltool.workflow.keeping import back_up, check_record, export_lines, export_record, restore_record
from labeltool.workflow.proving import Proved
from labeltool.workflow.setting import real_setting


@click.group()
def records() -> None:
    """The record itself: proved, copied, written out as text, brought back.

    \b
    Example:
      labeltool records check
      labeltool records backup backup-2026-05.sqlite
    """


@records.command("check")
@click.option("--head", metavar="HEAD", help="A head kept elsewhere: shows whether events were cut off.")
@click.option("--frames", "last", type=click.IntRange(0), metavar="N",
              help="Draw only the N latest prints anew, 0 for none (default: all).")
@workshop_option
def check(head: str | None, last: int | None, workshop: Path | None) -> int:
    """Prove every event of the record, and that every PDF on record is there unchanged.

    Every print is drawn anew from its frames, in memory, and held against the hash it was printed with; where a
    library has changed since, it is named. Ten thousand prints take a few minutes.

    \b
    Example:
      labeltool records check
      labeltool records check --frames 500
    """
    with progress() as step:
        found = check_record(real_setting(workshop), head, last, step)
    show(found.findings)
    say(f"head: {found.head}")
    if found.proved.files:
        say(f"drawn anew: {counted(found.proved.files, 'printed file')}, {_as_printed(found.proved)}")
    faults = [item for item in found.findings if item.level != "note"]
    say(counted(len(faults), "finding") if faults else "the record is sound")
    return 1 if faults else 0


def _as_printed(proved: Proved) -> str:
    if proved.same == proved.files:
        return "byte for byte as printed"
    return f"{proved.same:,} byte for byte as printed"


@records.command("backup")
@click.argument("target", type=FILE, metavar="FILE")
@workshop_option
def backup(target: Path, workshop: Path | None) -> None:
    """Copy the record into one file, and print its head.

    \b
    Example:
      labeltool records backup backup-2026-05.sqlite
    """
    with progress() as step:
        head = back_up(target, real_setting(workshop), step)
    say(f"head: {head}")
    say(f"written: {target}; keep the head somewhere else, and the file on another disk")


@records.command("export")
@click.option("-o", "target", type=FILE, metavar="FILE", help="The file (default: stdout).")
@workshop_option
def export(target: Path | None, workshop: Path | None) -> None:
    """Write the whole record as text, one JSON document a line.

    \b
    Example:
      labeltool records export -o record.jsonl
    """
    setting = real_setting(workshop)
    if target is None:
        for line in export_lines(setting):
            click.echo(line, nl=False)
        return
    with progress() as step:
        head = export_record(target, setting, step)
    say(f"head: {head}")
    say(f"written: {target}")


@records.command("restore")
@click.argument("source", type=FILE, metavar="FILE")
@workshop_option
def restore(source: Path, workshop: Path | None) -> None:
    """Bring a backup or an export back into an empty record, and prove it.

    \b
    Example:
      labeltool records restore backup-2026-05.sqlite
    """
    with progress() as step:
        head = restore_record(source, real_setting(workshop), step)
    say(f"head: {head}")
    say("next: labeltool records check")
