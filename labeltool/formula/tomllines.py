"""On which line each key of a TOML text stands: the one thing that tomllib does not tell.

The scanner reads no values. It walks over them, so that brackets and hashes inside strings do not matter, and it
never raises on a text that is no TOML: it stops there, and tomllib says what is wrong.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from dataclasses import dataclass, field

KeyPath = tuple[str | int, ...]

MOST_PARTS = 20
MOST_DEPTH = 40

_BLANK = re.compile(r"(?:[ \t\n]++|#[^\n]*+)*+")
_SPACE = re.compile(r"[ \t]*+")
_STRING = re.compile(
    r'"""(?:[^"\\]++|\\[\s\S]|"(?!""))*+"{3,5}'
    r"|'''(?:[^']++|'(?!''))*+'{3,5}"
    r'|"(?:[^"\\\n]++|\\[^\n])*+"'
    r"|'[^'\n]*+'"
)
_KEY = re.compile(r'[A-Za-z0-9_-]++|"(?:[^"\\\n]++|\\[^\n])*+"' r"|'[^'\n]*+'")
_SCALAR = re.compile(r"[^,\[\]{}\n#=\"']++")


@dataclass(frozen=True, slots=True)
class TomlLines:
    """Lines from 1 by key path (table keys as str, places in arrays as int), and keys that stand twice.

    `twice` holds (path, first line, second line); `too_deep` the line of a key or value nested beyond all use.
    """

    lines: dict[KeyPath, int]
    twice: tuple[tuple[KeyPath, int, int], ...] = ()
    too_deep: int | None = None

    def line(self, path: KeyPath) -> int | None:
        """The line of a key, else of the nearest table or value around it; None where none is known."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.lines:
                return self.lines[path[:end]]
        return None


class _Stop(Exception):
    """The text is no TOML from here on."""


class _TooDeep(Exception):
    """The text is nested beyond all use."""


@dataclass(slots=True)
class _Scanner:
    text: str
    at: int = 0
    breaks: list[int] = field(default_factory=list)
    lines: dict[KeyPath, int] = field(default_factory=dict)
    given: set[KeyPath] = field(default_factory=set)
    rows: dict[KeyPath, int] = field(default_factory=dict)
    twice: list[tuple[KeyPath, int, int]] = field(default_factory=list)

    def run(self) -> None:
        base: KeyPath = ()
        while True:
            self.skip(_BLANK)
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "[":
                base = self.header()
            else:
                self.pair(base, 0)

    def skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.at)
        if found is None:
            raise _Stop
        self.at = found.end()
        return found.group()

    def take(self, mark: str) -> bool:
        if self.text.startswith(mark, self.at):
            self.at += len(mark)
            return True
        return False

    def must(self, mark: str) -> None:
        if not self.take(mark):
            raise _Stop

    def line(self) -> int:
        return bisect_left(self.breaks, self.at) + 1

    def key(self) -> tuple[str, ...]:
        parts: list[str] = []
        while True:
            self.skip(_SPACE)
            parts.append(_key_text(self.skip(_KEY)))
            self.skip(_SPACE)
            if not self.take("."):
                return tuple(parts)
            if len(parts) >= MOST_PARTS:
                raise _TooDeep

    def header(self) -> KeyPath:
        line = self.line()
        self.must("[")
        array = self.take("[")
        path: KeyPath = ()
        parts = self.key()
        for part in parts[:-1]:
            path = self.inside((*path, part))
            self.lines.setdefault(path, line)
        path = (*path, parts[-1])
        self.must("]]" if array else "]")
        return self.new_row(path, line) if array else self.new_table(path, line)

    def inside(self, path: KeyPath) -> KeyPath:
        """The path of the last table of an array of tables, or the path itself."""
        return (*path, self.rows[path]) if path in self.rows else path

    def new_row(self, path: KeyPath, line: int) -> KeyPath:
        self.rows[path] = self.rows.get(path, -1) + 1
        self.lines.setdefault(path, line)
        self.lines[(*path, self.rows[path])] = line
        return (*path, self.rows[path])

    def new_table(self, path: KeyPath, line: int) -> KeyPath:
        if path in self.given:
            self.twice.append((path, self.lines[path], line))
        self.given.add(path)
        self.lines[path] = line
        return path

    def pair(self, base: KeyPath, depth: int) -> None:
        line = self.line()
        path = base
        for part in self.key():
            path = (*path, part)
            self.lines.setdefault(path, line)
        if path in self.given:
            self.twice.append((path, self.lines[path], line))
        self.given.add(path)
        self.must("=")
        self.skip(_SPACE)
        self.value(path, depth)

    def value(self, path: KeyPath, depth: int) -> None:
        if depth > MOST_DEPTH:
            raise _TooDeep
        first = self.text[self.at : self.at + 1]
        if first == "[":
            self.array(path, depth)
        elif first == "{":
            self.inline(path, depth)
        else:
            self.skip(_STRING if first in ('"', "'") else _SCALAR)

    def array(self, path: KeyPath, depth: int) -> None:
        self.must("[")
        index = 0
        while True:
            self.skip(_BLANK)
            if self.take("]"):
                return
            item = (*path, index)
            self.lines[item] = self.line()
            self.value(item, depth + 1)
            self.skip(_BLANK)
            index += 1
            if not self.take(","):
                self.must("]")
                return

    def inline(self, path: KeyPath, depth: int) -> None:
        self.must("{")
        while True:
            self.skip(_BLANK)
            if self.take("}"):
                return
            self.pair(path, depth + 1)
            self.skip(_BLANK)
            if not self.take(","):
                self.must("}")
                return


def _key_text(token: str) -> str:
    if token[0] == "'":
        return token[1:-1]
    if token[0] != '"':
        return token
    if "\\" not in token:
        return token[1:-1]
    try:
        return str(tomllib.loads(f"k = {token}")["k"])
    except ValueError:
        raise _Stop from None


def toml_lines(text: str) -> TomlLines:
    """The lines of all keys, table headers and array items of a TOML text, as far as it is TOML."""
    text = text.replace("\r\n", "\n")
    scanner = _Scanner(text, breaks=[found.start() for found in re.finditer("\n", text)])
    too_deep = None
    try:
        scanner.run()
    except _Stop:
        pass
    except _TooDeep:
        too_deep = scanner.line()
    return TomlLines(scanner.lines, tuple(scanner.twice), too_deep)
