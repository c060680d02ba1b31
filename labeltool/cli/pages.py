"""labeltool pages: the batch record pages that the QR leads to."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from labeltool.cli.options import FILE, json_option, workshop_option
from labeltool.cli.output import counted, emit, progress, say, show, tell
from labeltool.workflow.page_building import build
from labeltool.workflow.page_serving import open_pages, terminal_symbol
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
    with progress() as step:
        built = build(target, real_setting(workshop), index=index, step=step)
    if as_json:
        emit(built.document())
    else:
        show(built.findings)
        say(f"{built.folder}: {counted(built.pages, 'page')} of {counted(built.batches, 'batch', 'batches')}")
        say(f"  written {built.written}, removed {built.removed}, unchanged {built.same}")
        say("next: put the folder on the web host of your link, as it is; labeltool pages serve shows it here")
    return 1 if any(item.level == "warning" for item in built.findings) else 0


@pages.command("serve")
@click.option("--port", type=click.IntRange(0, 65535), default=8000, metavar="N",
              help="The port (default: 8000; 0: any free one).")
@click.option("--lan", is_flag=True, help="Answer on the network too, and show the address as a QR code.")
@workshop_option
def serve_pages(port: int, lan: bool, workshop: Path | None) -> None:
    """Answer the batch record pages from the record as it stands, on this machine alone, until Ctrl-C.

    The address of the bench pages, with all that is on record, is for you alone: it stays on this machine,
    and its token is another one each time.

    \b
    Example:
      labeltool pages serve
      labeltool pages serve --lan
    """
    served = open_pages(port, lan=lan, setting=real_setting(workshop), report=lambda text: tell(f"error: {text}"))
    say(f"pages: {served.here}")
    say(f"bench: {served.bench}")
    if served.lan is not None:
        say(f"phone: {served.lan}")
        if sys.stdout.isatty():
            show_symbol(served.lan)
    say("stop with Ctrl-C")
    sys.stdout.flush()
    served.run()
    say("stopped")


def show_symbol(address: str) -> None:
    """The QR code of an address, two rows of modules in a line of text, black on white whatever the terminal has."""
    for line in terminal_symbol(address):
        click.secho(line, fg="black", bg="white")
