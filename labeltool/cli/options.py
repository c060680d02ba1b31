"""Options that several commands share, and the types of their values."""

from __future__ import annotations

import datetime as dt
import functools
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar, cast

import click

from labeltool.formula.product import OPTIONS
from labeltool.formula.quantities import parse_date, parse_size

Command = TypeVar("Command", bound=Callable[..., Any])


class IsoDate(click.ParamType[Any]):
    """A date in ISO form; another form is refused with the ISO form of what it could mean."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> dt.date:
        """The date, or a usage error that says the ISO form."""
        if isinstance(value, dt.date):
            return value
        result = parse_date(str(value))
        if isinstance(result, dt.date):
            return result
        return self.fail(result, param, ctx)


class FileName(click.ParamType[Any]):
    """A path as typed."""

    name = "file"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        """The path; a NUL character is refused."""
        text = str(value)
        if "\0" in text or not text:
            self.fail("a file name is needed", param, ctx)
        return Path(text)


class Mass(click.ParamType[Any]):
    """A mass with its unit, in grams: 500g, 0.5 kg, 0,5 kg."""

    name = "mass"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Decimal:
        """The grams, or a usage error that says what a mass looks like; zero is refused."""
        if isinstance(value, Decimal):
            return value
        grams = parse_size(str(value))
        if isinstance(grams, str):
            self.fail(grams, param, ctx)
        if grams <= 0:
            self.fail(f"{value} is no batch", param, ctx)
        return grams


DATE = IsoDate()
FILE = FileName()
MASS = Mass()


def workshop_option(command: Command) -> Command:
    """--workshop DIR, else the environment variable LABELTOOL_WORKSHOP."""
    text = "The workshop folder (default: $LABELTOOL_WORKSHOP, else the nearest one upward)."
    return click.option("--workshop", type=FILE, metavar="DIR", help=text)(command)


def product_options(command: Command) -> Command:
    """One option for each fact of [product]; the command gets those given as the dict `facts`."""

    @functools.wraps(command)
    def gathered(**values: Any) -> Any:
        facts = {key: values.pop(f"fact_{index}") for index, key in enumerate(OPTIONS)}
        return command(**values, facts={key: text for key, text in facts.items() if text is not None})

    wrapped: Callable[..., Any] = gathered
    for index, key in reversed(list(enumerate(OPTIONS))):
        text = f"Stands in for {key} of [product]."
        wrapped = click.option(f"--{key}", f"fact_{index}", metavar="TEXT", help=text)(wrapped)
    return cast(Command, wrapped)


def json_option(command: Command) -> Command:
    """--json: one JSON document on stdout and nothing else there."""
    return click.option("--json", "as_json", is_flag=True, help="One JSON document on stdout.")(command)


def record_options(command: Command) -> Command:
    """--by and --once, for every command that changes the record."""
    by = click.option("--by", metavar="NAME", help="Who does this; goes on record (default: [record] by).")
    text = "A key of your own: the same key again answers with the first result and does nothing twice."
    once = click.option("--once", metavar="KEY", help=text)
    return by(once(command))


def on_option(command: Command) -> Command:
    """--on DATE: the day whose law is applied."""
    text = "Judge by the law of this day (default: today; print: the later of today and the made date)."
    return click.option("--on", type=DATE, metavar="DATE", help=text)(command)
