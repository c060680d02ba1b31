"""Write docs/cli.md from the help of every command, and name the rules that docs/errors.md leaves out.

Usage: python tools/docs.py
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from rule_names import family, rule_names

if TYPE_CHECKING:
    import click

ROOT = Path(__file__).resolve().parent.parent
CLI = ROOT / "docs" / "cli.md"
ERRORS = ROOT / "docs" / "errors.md"
HEAD = """# Commands

Every command with its help, as `--help` prints it. This page is generated: `make docs` writes it again.
"""
WIDTH = 100


def walk(command: click.Command, context: click.Context) -> Iterator[tuple[click.Command, click.Context]]:
    """A command and all below it, each with its context."""
    import click

    yield command, context
    if isinstance(command, click.Group):
        for name in command.list_commands(context):
            inner = command.get_command(context, name)
            if inner is not None and not inner.hidden:
                yield from walk(inner, click.Context(inner, info_name=name, parent=context, terminal_width=WIDTH))


def commands() -> list[tuple[click.Command, click.Context]]:
    """All commands, the main one first."""
    import click

    from labeltool.cli.main import main

    settings = {**main.context_settings, "terminal_width": WIDTH}
    return list(walk(main, click.Context(main, info_name="labeltool", **settings)))


def cli_page() -> str:
    """The text of docs/cli.md."""
    parts = [HEAD]
    for command, context in commands():
        level = "#" * min(1 + len(context.command_path.split()), 3)
        parts.append(f"{level} {context.command_path}\n\n```text\n{command.get_help(context)}\n```\n")
    return "\n".join(parts)


def documented(page: str) -> dict[str, list[str]]:
    """The rule names that a page lists (`name` at the start of a list item or table row), by heading."""
    found: dict[str, list[str]] = {}
    heading = ""
    for line in page.splitlines():
        if line.startswith("## "):
            heading = line.removeprefix("## ").strip()
            found[heading] = []
        item = re.match(r"(?:- |\| )`([^`]+)`", line)
        if item:
            found.setdefault(heading, []).append(item.group(1))
    return found


def gaps(page: str, names: tuple[str, ...]) -> list[str]:
    """What is wrong with the page of errors: names left out, listed twice, unknown, or under a wrong heading."""
    listed = documented(page)
    flat = [name for items in listed.values() for name in items]
    problems = [f"{name} is left out" for name in names if name not in flat]
    problems += [f"{name} is no rule of the code" for name in flat if name not in names]
    problems += [f"{name} is listed twice" for name in sorted({name for name in flat if flat.count(name) > 1})]
    problems += [f"{name} stands under {heading}" for heading, items in listed.items() for name in items
                 if heading != family(name)]
    return problems


def main() -> int:
    """Write what is generated; the exit code is 1 where docs/errors.md has gaps."""
    CLI.write_text(cli_page(), encoding="utf-8")
    print(f"wrote {CLI.relative_to(ROOT)}")
    problems = gaps(ERRORS.read_text(encoding="utf-8"), rule_names(ROOT / "labeltool"))
    for problem in problems:
        print(f"{ERRORS.relative_to(ROOT)}: {problem}", file=sys.stderr)
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
