"""labeltool start: a new workshop folder that prints at once."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import FILE
from labeltool.cli.output import say
from labeltool.workflow.starting import start_workshop


@click.command()
@click.argument("folder", type=FILE, metavar="DIR")
def start(folder: Path) -> None:
    """Make a new workshop folder, commented, that prints at once.

    The folder must not exist yet, or be empty. Nothing in it is read from anywhere else: change the names and
    figures to your own, and print again.

    \b
    Example:
      labeltool start shop
      labeltool print shop/formulas/*.toml
    """
    made = start_workshop(folder)
    say(f"made {folder}")
    for name in made:
        say(f"  {name}")
    say(f"next: labeltool print {folder / 'formulas'}/*.toml")
