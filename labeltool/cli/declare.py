"""labeltool declare: the ingredient declaration of each market, and why it is in that order."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from labeltool.cli.options import json_option, on_option, product_options, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.workflow.arguments import formula_path
from labeltool.workflow.inputs import read_inputs, refuse_set
from labeltool.workflow.prepare import prepare
from labeltool.workflow.setting import real_setting


@click.command()
@click.argument("formula", metavar="FORMULA")
@on_option
@product_options
@workshop_option
@json_option
def declare(formula: str, on: dt.date | None, workshop: Path | None, as_json: bool, facts: dict[str, str]) -> int:
    """The ingredient declaration for each market, and why it is in that order.

    FORMULA is a file (.toml, .csv, .xlsx) or the name of one in the workshop's formulas folder. The sheet shows
    every ingredient's lowest, nominal and highest percent, whether the order is proved for every composition
    that the suppliers' ranges allow, and which supplier to ask where it is not.

    \b
    Example:
      labeltool declare formulas/oat-milk-hand-lotion.toml
      labeltool declare oat-milk-hand-lotion --json

    Exit code 1 where an error stands among the findings.
    """
    setting = real_setting(workshop)
    opened = read_inputs(formula_path(formula, setting), setting, facts)
    refuse_set(opened.inputs.formula, "declare")
    prepared = prepare(opened.inputs, on or setting.today)
    found = (*opened.findings, *prepared.findings)
    if as_json:
        from labeltool.workflow.declaring import declared

        emit(declared(prepared, tuple(opened.findings)))
    else:
        from labeltool.cli import declare_text

        for line in declare_text.sheet(prepared):
            say(line)
        show(found)
    return 1 if any(item.level == "error" for item in found) else 0
