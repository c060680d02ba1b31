"""Random TOML texts, written in many styles, with the line of each key known."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import Any

KeyPath = tuple[str | int, ...]

BARE = ("a", "b", "made-of", "x_1", "42", "percent")
QUOTED = ('"a.b"', "'c # d'", '"e]f"', '"g\\"h"', '"\\u00e9"', "''", '"[k]"')
SCALARS = ("1", "-2.5", "true", "1979-05-27 07:32:00", "2026-05-03", "0x1F", "inf", '"text"', "'lit # eral'",
           '"a # b ] } ="', '"quote \\" in"', '"""one line"""', "'''x'''", '"""a "quoted" ""b"" end"""""')
LONG = ('"""\nfirst\n[not.a.table]\nkey = 1 # no\n"""', "'''\nx = [\n'''", '"""a\\\n   b"""', '"""\n"" \\""" \n"""')


@dataclass
class Writer:
    """Writes a document and notes the line of each key, header and array item."""

    rng: random.Random
    text: str = ""
    lines: dict[KeyPath, int] = field(default_factory=dict)
    budget: int = 40

    def document(self) -> None:
        taken: set[str] = set()
        self.body((), taken)
        for _ in range(self.rng.randrange(4)):
            self.section(taken)

    @property
    def line(self) -> int:
        return self.text.count("\n") + 1

    def put(self, *parts: str) -> None:
        self.text += self.rng.choice(parts)

    def key(self, taken: set[str]) -> tuple[str, str] | None:
        token = self.rng.choice(BARE + QUOTED)
        name = plain_key(token)
        if name in taken:
            return None
        taken.add(name)
        return token, name

    def section(self, taken: set[str]) -> None:
        chosen = self.key(taken)
        if chosen is None:
            return
        token, name = chosen
        rows = self.rng.randrange(3)
        for row in range(max(1, rows)):
            base: KeyPath = (name, row) if rows else (name,)
            self.lines.setdefault((name,), self.line)
            self.lines[base] = self.line
            self.put(f"[[{token}]]" if rows else f"[ {token} ]")
            self.put("\n", " # c\n", "\n\n")
            inner: set[str] = set()
            self.body(base, inner)
            self.below(base, token, bool(rows), inner)

    def below(self, base: KeyPath, token: str, many: bool, taken: set[str]) -> None:
        chosen = self.key(taken)
        if chosen is None or self.rng.random() < 0.5:
            return
        self.lines[(*base, chosen[1])] = self.line
        self.put(f"[{token}.{chosen[0]}]\n", f"[ {token} . {chosen[0]} ] # sub\n")
        self.body((*base, chosen[1]), set())

    def body(self, base: KeyPath, taken: set[str]) -> None:
        for _ in range(self.rng.randrange(4)):
            self.put("", "# note [x] = 1\n", "\n", "  ")
            self.pair(base, taken)
            self.put("\n", " # end\n", "\t\n")

    def pair(self, base: KeyPath, taken: set[str], *, short: bool = False) -> None:
        chosen = self.key(taken)
        if chosen is None:
            self.text += f"k{len(taken)}"
            name = f"k{len(taken)}"
            taken.add(name)
        else:
            self.text += chosen[0]
            name = chosen[1]
        path = (*base, name)
        self.lines[path] = self.line
        if self.rng.random() < 0.15:
            self.put(".sub", " . sub")
            path = (*path, "sub")
            self.lines[path] = self.line
        self.put(" = ", "=", "   =  ")
        self.value(path, short=short)

    def value(self, path: KeyPath, *, short: bool = False) -> None:
        self.budget -= 1
        choice = self.rng.random()
        if self.budget > 0 and choice < 0.2:
            self.array(path, short=short)
        elif self.budget > 0 and choice < 0.35:
            self.inline(path)
        else:
            self.put(*(SCALARS if short or choice < 0.8 else LONG))

    def array(self, path: KeyPath, *, short: bool) -> None:
        self.text += "["
        spaces = (" ",) if short else ("", " ", "\n  ", " # c, ]\n ")
        count = self.rng.randrange(4)
        for index in range(count):
            self.put(*spaces)
            self.lines[(*path, index)] = self.line
            self.value((*path, index), short=short)
            self.put(*spaces)
            self.text += "," if index < count - 1 or self.rng.random() < 0.3 else ""
        self.put(*spaces)
        self.text += "]"

    def inline(self, path: KeyPath) -> None:
        self.text += "{"
        taken: set[str] = set()
        for index in range(self.rng.randrange(3)):
            self.text += ", " if index else " "
            self.pair(path, taken, short=True)
        self.text += " }"


def plain_key(token: str) -> str:
    """The name that a key token stands for."""
    return {'"g\\"h"': 'g"h', '"\\u00e9"': "é"}.get(token, token.strip("\"'"))


def paths_of(values: Any, base: KeyPath = ()) -> set[KeyPath]:
    """Every key path of a parsed document, places in arrays included."""
    items = values.items() if isinstance(values, dict) else enumerate(values) if isinstance(values, list) else ()
    found: set[KeyPath] = set()
    for key, value in items:
        found |= {(*base, key)} | paths_of(value, (*base, key))
    return found
