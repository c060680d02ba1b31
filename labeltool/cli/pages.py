"""labeltool pages: the batch record pages that the QR leads to."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import click

from labeltool.cli.options import FILE, json_option, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.workflow.page_building import build
from labeltool.workflow.setting import real_setting


@click.group()
def pages() -> None:
    """The batch record pages that the QR leads to: what anybody may know of a batch.

    \b
    Example:
      labeltool pages build site
      labeltool pages serve
    """


@pages.command("build")
@click.argument("target", type=FILE, metavar="DIR")
@click.option("--index", is_flag=True, help="An index.html of all pages too; whoever has its address finds them all.")
@workshop_option
@json_option
def build_pages(target: Path, index: bool, workshop: Path | None, as_json: bool) -> int:
    """Write every batch's page into DIR, for any web host: each lies at the path that its labels' QR leads to.

    Only what changed is written; pages that no longer belong go; what labeltool did not make stays.

    \b
    Example:
      labeltool pages build site
    """
    built = build(target, real_setting(workshop), index=index, watch=bar)
    if as_json:
        emit(built.document())
    else:
        show(built.findings)
        say(f"{built.folder}: {built.pages} page(s) of {built.batches} batch(es)")
        say(f"  written {built.written}, removed {built.removed}, unchanged {built.same}")
        say("next: put the folder on the web host of your link, as it is; labeltool pages serve shows it here")
    return 1 if any(item.level == "warning" for item in built.findings) else 0


def bar(items: Iterable[Any], length: int) -> Iterator[Any]:
    """The items, with a bar on stderr where that is a terminal."""
    if not sys.stderr.isatty():
        yield from items
        return
    with click.progressbar(items, length=length, file=sys.stderr) as shown:
        yield from shown
