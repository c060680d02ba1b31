"""labeltool check: every element a label must carry, present or missing, with its source; limits; claims."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from labeltool.cli.declare_text import figure
from labeltool.cli.options import json_option, on_option, product_options, workshop_option
from labeltool.cli.output import emit, say, show
from labeltool.workflow.arguments import formula_path
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.checking import Checked, check_formula
from labeltool.workflow.setting import real_setting

STATES = {"present": "present", "missing": "MISSING", "not-needed": "not needed", "maker": "look"}


@click.command()
@click.argument("formula", metavar="FORMULA")
@click.option("--stock", metavar="NAME", help="The stock it would be printed on.")
@click.option("--artwork", "artworks", multiple=True, metavar="NAME", help="The artwork; may be given again for a set.")
@click.option("--pack", metavar="P", help="This pack of the formula alone (default: all).")
@click.option("--label", "labels", multiple=True, metavar="L", help="Set this label of the pack alone.")
@click.option("--leaflet", is_flag=True, help="With the list, and where need be the warnings, in a leaflet.")
@on_option
@product_options
@workshop_option
@json_option
def check(
    formula: str, stock: str | None, artworks: tuple[str, ...], pack: str | None, labels: tuple[str, ...],
    leaflet: bool, on: dt.date | None, workshop: Path | None, as_json: bool, facts: dict[str, str],
) -> int:
    """Every element a label must carry, market by market, present or missing, with its source; limits and claims.

    It says what was checked against which text, and what only a person can judge. It is no safety assessment.

    \b
    Example:
      labeltool check formulas/oat-milk-hand-lotion.toml
      labeltool check oat-milk-hand-lotion --pack 30ml
      labeltool check oat-milk-hand-lotion --stock a4-3x8-63.5x33.9 --artwork back --json

    Exit code 1 where an element is missing or an error stands among the findings.
    """
    setting = real_setting(workshop)
    call = PrintCall(stock=stock, artworks=artworks, on=on, facts=tuple(facts.items()), leaflet=leaflet,
                     pack=pack, labels=labels)
    found = check_formula(formula_path(formula, setting), call, setting)
    if as_json:
        emit(found.document())
    else:
        for line in _text(found):
            say(line)
        show(found.findings)
        say("checked against the texts named above, as of the day given; a safety assessment is a qualified person's")
        named = f" --pack {found.elements[0].pack}" if found.elements and found.elements[0].pack else ""
        right = "put the errors and MISSING rows right"
        say(f"next: {right if found.wrong else f'labeltool print {formula}{named}'}")
    return 1 if found.wrong else 0


def _text(found: Checked) -> Iterator[str]:
    yield f"{found.prepared.inputs.formula.product.name}, judged by the law of {found.prepared.on}"
    for pack, surface, market in dict.fromkeys((item.pack, item.on, item.market) for item in found.elements):
        yield ""
        parts = (pack and f"pack {pack}", surface and f"on the {surface}", market)
        yield ", ".join(part for part in parts if part) + ":"
        for item in found.elements:
            if (item.pack, item.on, item.market) == (pack, surface, market):
                stands = f" [{', '.join(item.labels)}]" if item.labels else ""
                yield f"  {STATES[item.state]:10} {item.element}{stands}: {item.text}"
                yield f"             {item.source}"
    yield from _limits(found)
    yield from _claims(found)
    yield from _heights(found)


def _limits(found: Checked) -> Iterator[str]:
    if found.prepared.advice.limits:
        yield ""
        yield "limits:"
    for item in found.prepared.advice.limits:
        value = f"{figure(item.value.low)} to {figure(item.value.high)} %"
        yield f"  {item.state:8} {item.inci}, {item.market}: {value}, at most {figure(item.limit)} %"
        yield f"           {item.source}{'' if item.confidence == 'law' else ' (not checked against the text)'}"


def _claims(found: Checked) -> Iterator[str]:
    if found.prepared.advice.claims:
        yield ""
        yield "words to look at again:"
    for item in found.prepared.advice.claims:
        yield f'  "{item.phrase}" in {item.where}: {item.reason}'
        yield f"           rather: {item.instead} ({item.source})"


def _heights(found: Checked) -> Iterator[str]:
    rows = _binding(found.document()["type"])
    if rows:
        yield ""
        yield "type, height in mm, and the largest that is asked for (--json has all):"
    for row in rows:
        height = "" if row["height-mm"] is None else f"{row['height-mm']:.2f}, "
        of = "".join(f"{row[key]} " for key in ("pack", "label") if key in row)
        yield f"  {of}{row['block']}: {height}at least {row['minimum-mm']:.2f} ({row['measure']}), {row['source']}"


def _binding(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Of each block and measure, the row with the largest minimum, in the order of the first."""
    largest: dict[tuple[object, ...], dict[str, Any]] = {}
    for row in rows:
        key = (row.get("pack"), row.get("label"), row["block"], row["measure"])
        if key not in largest or row["minimum-mm"] > largest[key]["minimum-mm"]:
            largest[key] = row
    return list(largest.values())
