"""labeltool due: what comes near its date."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path
from typing import Any

import click

from labeltool.cli.options import json_option, workshop_option
from labeltool.cli.output import emit, say
from labeltool.coding.dates import add_months
from labeltool.workflow.setting import real_setting
from labeltool.workflow.tracing import due_document, due_within

_SPAN = re.compile(r"([0-9]{1,5}) ?(d|days?|w|weeks?|m|months?|y|years?)", re.IGNORECASE)


class Ahead(click.ParamType[Any]):
    """How far to look ahead: 60d, 8 weeks, 3 months, 2y."""

    name = "span"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[int, str]:
        """The count and its unit's first letter, or a usage error that says what a span looks like."""
        if isinstance(value, tuple):
            return value
        found = _SPAN.fullmatch(str(value).strip())
        if found is None:
            self.fail(f"{value!r} is no span of time: 60d, 8 weeks, 3 months, 2y", param, ctx)
        return int(found[1]), found[2][0].lower()


@click.command()
@click.option("--within", type=Ahead(), default=(60, "d"), metavar="SPAN",
              help="How far to look ahead: 60d, 8w, 3m (default: 60d).")
@workshop_option
@json_option
def due(within: tuple[int, str], workshop: Path | None, as_json: bool) -> None:
    """Batches and lots near their dates, retained samples that may go, and how long records must be kept.

    \b
    Example:
      labeltool due --within 90d
    """
    setting = real_setting(workshop)
    found = due_within(_span(within, setting.today), setting)
    if as_json:
        emit({"items": [due_document(item) for item in found]})
        return
    for item in found:
        say(f"{item.date}{' PAST' if item.overdue else ''}  {item.text} ({item.source})")
    if not found:
        say(f"nothing comes due within {within[0]}{within[1]}")
    say("next: labeltool batch show CODE, labeltool lot show LOT")


def _span(within: tuple[int, str], today: dt.date) -> dt.timedelta:
    count, unit = within
    if unit in "dw":
        return dt.timedelta(days=count * (7 if unit == "w" else 1))
    return add_months(today, count * (12 if unit == "y" else 1)) - today
