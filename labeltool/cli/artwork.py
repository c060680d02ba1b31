"""labeltool artwork: what stands where on one label."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import json_option, workshop_option
from labeltool.cli.output import emit, say
from labeltool.workflow.catalogue import artwork_document, artworks, picture_artwork, workshop_or_none
from labeltool.workflow.setting import real_setting


@click.group()
def artwork() -> None:
    """Artworks: which blocks of words and symbols stand where on a label.

    \b
    Example:
      labeltool artwork list
      labeltool artwork show back
    """


@artwork.command("list")
@workshop_option
@json_option
def list_artworks(workshop: Path | None, as_json: bool) -> None:
    """All artworks: the maker's own from layouts/artwork first, then the built-in ones.

    \b
    Example:
      labeltool artwork list
    """
    found = artworks(workshop_or_none(real_setting(workshop)))
    if as_json:
        emit({"items": [artwork_document(item) for item in found]})
        return
    for item in found:
        say(f"{item.name:16} {item.title}")
    say("next: labeltool artwork show NAME")


@artwork.command("show")
@click.argument("name")
@click.option("-o", "output", type=Path, metavar="FILE", help="Draw it with sample words to this PNG file.")
@click.option("--stock", "stock_name", metavar="NAME", default="a4-2x4-99.1x67.7", help="The stock to draw it on.")
@workshop_option
@json_option
def show_artwork(name: str, output: Path | None, stock_name: str, workshop: Path | None, as_json: bool) -> None:
    """One artwork: the blocks it carries, and its picture with sample words.

    \b
    Example:
      labeltool artwork show back -o back.png --stock a4-3x8-63.5x33.9
    """
    folder = workshop_or_none(real_setting(workshop))
    found = next(iter(artworks(folder, (name,))))
    document = artwork_document(found)
    if output is not None:
        picture_artwork(found, stock_name, folder, output)
    if as_json:
        emit(document)
        return
    say(f"{found.name}: {found.title}")
    say(f"  carries: {', '.join(document['carries'])}")
    say(f"next: labeltool print FORMULA --artwork {name}" if output is None else f"drawn: {output}")
