"""What reaches the terminal: findings as text or JSON, foreign text made harmless, colour only on a terminal."""

from __future__ import annotations

import contextlib
import json
import sys
import time
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import click

from labeltool.finding import Finding

COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}
_SHORT_S = 0.5
BAR = 20
SHARED = ("limit.condition", "text.ask", "text.more")
_KEEP = {"\n", "\t"}


def prepare_streams() -> None:
    """Make both streams able to write every character, whatever the console's code page."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def plain(text: object) -> str:
    """Text from files, records or PDFs with control and direction characters shown as escapes."""
    return "".join(_shown(char) for char in str(text))


def _shown(char: str) -> str:
    if char in _KEEP or unicodedata.category(char) not in {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}:
        return char
    code = ord(char)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def counted(number: int, one: str, several: str = "") -> str:
    """ "1 label", "24 labels", "2 batches"."""
    return f"{number:,} {one if number == 1 else several or one + 's'}"


def say(text: str = "") -> None:
    """A line of the result on stdout."""
    click.echo(plain(text))


def tell(text: str) -> None:
    """A line of progress or advice on stderr."""
    click.echo(plain(text), err=True)


@contextlib.contextmanager
def progress() -> Iterator[Callable[[str, int, int], None]]:
    """How far a long job has come, as a bar on one line of stderr, on a terminal only; short jobs show nothing."""
    began, shown = time.monotonic(), [0]

    def step(what: str, done: int, whole: int) -> None:
        if not sys.stderr.isatty() or time.monotonic() - began < _SHORT_S:
            return
        text = plain(f"{what} {bar(done, whole)} {done:,} of {whole:,}")
        click.echo(f"\r{text.ljust(shown[0])}", nl=False, err=True)
        shown[0] = len(text)

    try:
        yield step
    finally:
        if shown[0]:
            click.echo("\r" + " " * shown[0] + "\r", nl=False, err=True)


def bar(done: int, whole: int) -> str:
    """A bar of twenty places, filled as far as the job has come; full where there is nothing to do."""
    full = BAR * min(done, whole) // whole if whole else BAR
    return f"[{'#' * full}{' ' * (BAR - full)}]"


def emit(document: Mapping[str, Any]) -> None:
    """One JSON document on stdout; `"format": 1` comes first."""
    click.echo(json.dumps({"format": 1} | dict(document), ensure_ascii=False, indent=2, default=_number))


def _number(value: object) -> Any:
    from datetime import date
    from decimal import Decimal

    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() and abs(value) < 10**15 else float(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return list(value)
    raise TypeError(f"{type(value).__name__} in a JSON document")


def finding_lines(item: Finding) -> list[str]:
    """A finding as lines of text: what, where, limit and source, what to do."""
    market = f" [{item.market}]" if item.market else ""
    place = f"{item.where}: " if str(item.where) else ""
    lines = [f"{item.level}: {place}{item.text}{market}"]
    law = "; ".join(part for part in (item.limit and f"allowed: {item.limit}", item.source) if part)
    if law:
        lines.append(f"  {law}{' (not checked against the text)' if item.confidence == 'memory' else ''}")
    if item.do:
        lines.append(f"  do: {item.do}")
    return lines


def gathered(findings: Iterable[Finding]) -> list[Finding]:
    """Findings as a person reads them: by weight, and those that differ only in market and source said once; what is to
    be known of several substances ("NAME: …") once for all of them."""
    order = {"error": 0, "warning": 1, "note": 2}
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for item in sorted(findings, key=lambda one: (order[one.level], one.market is None)):
        groups.setdefault((item.rule, item.level, item.where, item.limit, item.do, _rest(item)), []).append(item)
    return [_one(group) for group in groups.values()]


def _rest(item: Finding) -> str:
    """The text without the substance that it speaks of, where several may share it."""
    return item.text.partition(": ")[2] if item.rule in SHARED and ": " in item.text else item.text


def _one(group: Sequence[Finding]) -> Finding:
    first = group[0]
    markets = dict.fromkeys(item.market for item in group if item.market)
    sources = dict.fromkeys(item.source for item in group if item.source)
    heads = dict.fromkeys(item.text.removesuffix(_rest(item)) for item in group)
    names = ", ".join(head.removesuffix(": ") for head in heads)
    text = f"{names}: {_rest(first)}" if len(heads) > 1 else first.text
    return replace(first, text=text, market=", ".join(markets) or None, source="; ".join(sources) or None)


def show(findings: Iterable[Finding], about: str = "") -> None:
    """All findings on stderr, errors first, those of law before others; `about` names the product they speak of."""
    for item in gathered(findings):
        head, *rest = finding_lines(replace(item, text=f"{about}: {item.text}") if about else item)
        click.secho(plain(head), fg=COLOURS[item.level], err=True)
        for line in rest:
            click.echo(plain(line), err=True)


def fail(findings: Iterable[Finding], *, as_json: bool) -> None:
    """The findings that stopped a command: JSON on stdout where asked for, else text on stderr."""
    items = list(findings)
    if as_json:
        emit({"problems": [item.as_json() for item in items]})
    else:
        show(items)
