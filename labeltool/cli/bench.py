"""labeltool batch bench: masses, lots and readings of a batch, asked for on a terminal or given as options."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import click

from labeltool.batch.made import unweighed
from labeltool.batch.model import Fate
from labeltool.cli.options import FILE, MASS, record_options, workshop_option
from labeltool.cli.output import say, show
from labeltool.errors import input_error
from labeltool.finding import Finding
from labeltool.workflow.benching import BenchCall, Entered, enter
from labeltool.workflow.lapsing import TAKEN_BACK
from labeltool.workflow.setting import Setting, real_setting


@click.command("bench")
@click.argument("code", metavar="CODE")
@click.option("--size", type=MASS, metavar="MASS", help="The batch's size, once, where it was opened without.")
@click.option("--from", "sheet", type=FILE, metavar="FILE.csv", help="A filled weighing sheet (line, material, grams, "
              "lot, expires, note).")
@click.option("--add", multiple=True, metavar="MATERIAL=GRAMS@LOT", help="Beyond the plan, or to reach the pH; "
              "48.72-47.42 is the scale before and after.")
@click.option("--reading", "readings", multiple=True, metavar="NAME=VALUE", help="A reading: ph=5.32@21C.")
@click.option("--yield", "yielded", metavar="MASS", help="What came out: 488g.")
@click.option("--filled", multiple=True, metavar="N", help="How many were filled; PACK=N where packs have names.")
@click.option("--spoiled", multiple=True, metavar="PRINT=N", help="Labels of a print that were spoiled, all in all; "
              "PRINT/LABEL=N where it has several.")
@click.option("--left", multiple=True, metavar="PRINT=N", help="Labels of a print that are left, and good.")
@click.option("--destroyed", multiple=True, metavar="PRINT=N", help="Labels of a print that were destroyed.")
@click.option("--note", "notes", multiple=True, metavar="TEXT", help="Words for the record.")
@click.option("--correct", "corrections", multiple=True, metavar="LINE=GRAMS@LOT", help="In the place of what stands; "
              "a material's name where it has one line; yield=, filled=, spoiled=PRINT= and readings too.")
@click.option("--why", metavar="TEXT", help="The reason of a correction.")
@record_options
@workshop_option
def bench(
    code: str, size: Decimal | None, sheet: Path | None, add: tuple[str, ...], readings: tuple[str, ...],
    yielded: str | None, filled: tuple[str, ...], spoiled: tuple[str, ...], left: tuple[str, ...],
    destroyed: tuple[str, ...], notes: tuple[str, ...], corrections: tuple[str, ...], why: str | None,
    by: str | None, once: str | None, workshop: Path | None,
) -> None:
    """Put on record what was weighed, read, yielded and filled: all of a call, or none of it.

    Without options it asks, row by row, on a terminal; every answer is kept at once, and you may stop and go on
    later. Nothing is overwritten: a correction takes the place of what stood, with its reason. A lot that is not on
    record yet is asked about on a terminal, and elsewhere received now, with a note. What changes a released batch
    opens it again. A batch that was taken back takes notes, counts of its labels, and corrections.

    \b
    Example:
      labeltool batch bench 260503A31
      labeltool batch bench 260503A31 --from weighing.csv
      labeltool batch bench 260503A31 --add citric-solution=48.72-47.42@CS-1 --reading ph=5.32@21C
      labeltool batch bench 260503A31 --yield 488g --filled 9
      labeltool batch bench 260503A31 --spoiled 1=2 --left 1=3 --destroyed 1=4
      labeltool batch bench 260503A31 --correct glycerin=15.02@G-7 --why "misread the scale"
    """
    setting = real_setting(workshop, by, once)
    fates: tuple[tuple[Fate, tuple[str, ...]], ...] = (("spoiled", spoiled), ("left", left), ("destroyed", destroyed))
    counts = tuple((fate, one) for fate, typed in fates for one in typed)
    call = BenchCall(code, size, sheet, add, readings, yielded, filled, notes, corrections, why, counts)
    if call.empty and why is None:
        _ask(code, setting)
        return
    if terminal():
        from labeltool.cli.bench_terminal import ask_about_lots

        ask_about_lots(call, setting)
    show_entered(code, enter(call, setting))


def terminal() -> bool:
    """Whether somebody sits there to be asked."""
    return sys.stdin.isatty()


def _ask(code: str, setting: Setting) -> None:
    if not terminal():
        raise input_error(
            "bench.nothing", "nothing is given to enter, and there is no terminal to ask on",
            do="--from FILE.csv, --add MATERIAL=GRAMS@LOT, --reading ph=VALUE, --yield MASS, --filled N, --note TEXT",
        )
    if setting.once is not None:
        raise input_error("call.once", "--once goes with options, not with questions", do="leave it out")
    from labeltool.cli.bench_terminal import ask

    ask(code, setting)


def show_entered(code: str, done: Entered | dict[str, Any]) -> None:
    """What is on record now, and what comes next; a stored first answer (a dict) is told as such."""
    if isinstance(done, dict):
        say(f"already done: batch {code}")
        say(f"next: labeltool batch show {code}")
        return
    show(done.findings)
    for change in done.changes:
        say(f"corrected: {change}")
    planned = [row for row in done.bench.plan if row.planned]
    left = unweighed(done.bench)
    weighed = f"{len(planned) - len(left)} of {len(planned)} rows weighed"
    say(f"batch {done.at.batch.code}: {done.new} new on record, {weighed}")
    say(f"next: {next_step(done)}")


def against_release(code: str, against: Sequence[Finding]) -> str:
    """What to do where something refuses a release: the first reason, and how many there are."""
    first = against[0]
    more = f" ({len(against) - 1} more: labeltool batch release {code} tells them)" if len(against) > 1 else ""
    do = f"; {first.do}" if first.do else ""
    return f"labeltool batch bench {code}, as this is against a release: {first.text}{do}{more}"


def next_step(done: Entered) -> str:
    """The command that most likely comes next."""
    state, code = done.bench, done.at.batch.code
    if done.at.batch.state in TAKEN_BACK:
        return f"labeltool batch show {code}"
    if state.size_g is None:
        return f"labeltool batch bench {code} --size 500g"
    left = unweighed(state)
    if left:
        names = ", ".join(f"{row.line} {row.material}" for row in left[:4])
        more = f" and {len(left) - 4} more" if len(left) > 4 else ""
        return f"labeltool batch bench {code}, still to weigh: {names}{more}"
    if done.against:
        return against_release(code, done.against)
    if state.yield_g is None:
        return f"labeltool batch bench {code} --yield MASS --filled N"
    if done.at.batch.state == "open":
        return f"labeltool batch release {code} --by NAME"
    return f"labeltool print {code}"
