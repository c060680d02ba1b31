"""labeltool batch release, withdraw, recall, cancel: decisions on record."""

from __future__ import annotations

from pathlib import Path

import click

from labeltool.cli.options import record_options, workshop_option
from labeltool.cli.output import say, show
from labeltool.records.model import State
from labeltool.workflow.setting import real_setting
from labeltool.workflow.states import Decided, change_batches, release_batch


@click.command()
@click.argument("code", metavar="CODE")
@click.option("--why", metavar="TEXT", help="Words that go on record with the decision.")
@record_options
@workshop_option
def release(code: str, why: str | None, by: str | None, once: str | None, workshop: Path | None) -> int:
    """Release a batch, or say everything that speaks against it.

    Held against: every planned row weighed and within its tolerance, a lot that is on record, in date and not blocked
    for each material, the last reading within its range, and the limits of law for what was made. Whoever releases
    decides; this only keeps the books.

    \b
    Example:
      labeltool batch release 260503A31 --by "A. Bell"

    Exit code 1 where something speaks against it: then the batch stays as it is.
    """
    done = release_batch(code, why, real_setting(workshop, by, once))
    show(done.findings)
    if not done.done:
        say(f"batch {done.codes[0]} is not released")
        say(f"next: put it right at the bench: labeltool batch bench {done.codes[0]}")
        return 1
    say(f"{'already done: ' if done.already else ''}batch {done.codes[0]} is released")
    say(f"next: labeltool print {done.codes[0]}")
    return 0


@click.command()
@click.argument("codes", nargs=-1, required=True, metavar="CODE…")
@click.option("--why", required=True, metavar="TEXT", help="The reason; goes on record.")
@record_options
@workshop_option
def withdraw(codes: tuple[str, ...], why: str, by: str | None, once: str | None, workshop: Path | None) -> None:
    """Take batches back from shops: no labels are printed for them any more.

    \b
    Example:
      labeltool batch withdraw 260503A31 260504A12 --why "oat extract OX-17 taken back by its supplier"
    """
    _change(codes, "withdrawn", why, by, once, workshop, "batch withdraw")


@click.command()
@click.argument("codes", nargs=-1, required=True, metavar="CODE…")
@click.option("--why", required=True, metavar="TEXT", help="The reason; goes on record.")
@record_options
@workshop_option
def recall(codes: tuple[str, ...], why: str, by: str | None, once: str | None, workshop: Path | None) -> None:
    """Take batches back from those who use them: no labels are printed for them any more.

    \b
    Example:
      labeltool batch recall 260503A31 --why "glass found in a jar"
    """
    _change(codes, "recalled", why, by, once, workshop, "batch recall")


@click.command()
@click.argument("codes", nargs=-1, required=True, metavar="CODE…")
@click.option("--why", metavar="TEXT", help="The reason; goes on record.")
@record_options
@workshop_option
def cancel(codes: tuple[str, ...], why: str | None, by: str | None, once: str | None, workshop: Path | None) -> None:
    """Cancel batches opened by mistake, while nothing was printed. Their codes are never used again.

    \b
    Example:
      labeltool batch cancel 260503B28 --why "opened twice"
    """
    _change(codes, "cancelled", why, by, once, workshop, "batch cancel")


def _change(
    codes: tuple[str, ...], state: State, why: str | None, by: str | None, once: str | None, workshop: Path | None,
    command: str,
) -> None:
    done = change_batches(codes, state, why, real_setting(workshop, by, once), command)
    for line in _done(done, state):
        say(line)


def _done(done: Decided, state: State) -> list[str]:
    lines = [f"{'already done: ' if done.already else ''}batch {code} is {state}" for code in done.codes]
    if state == "cancelled":
        return [*lines, "next: labeltool batch list"]
    return [*lines, f"next: labeltool trace {done.codes[0]} -o recall.pdf, what it touches"]
