"""Pictures, symbols, thresholds and grades as values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Point = tuple[float, float]
TOP, LOWEST = 4.0, 0.0


@dataclass(frozen=True, slots=True)
class Picture:
    """Grey pixels, one byte each, row by row: 0 is no light, 255 all light, straight in between (reflectance)."""

    pixels: bytes
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Known:
    """What the symbol should be: its modules ("1" dark), version, level, and its blocks (codewords, data codewords)."""

    rows: tuple[str, ...]
    version: int
    level: str
    blocks: tuple[tuple[int, int], ...]

    @property
    def size(self) -> int:
        """Modules a side, without the quiet zone."""
        return len(self.rows)

    def dark(self, x: int, y: int) -> bool:
        """Whether a module should be dark; light outside the symbol."""
        return 0 <= x < self.size and 0 <= y < self.size and self.rows[y][x] == "1"


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter: its name, its value as the standard measures it, its grade from 4.0 to 0.0."""

    name: str
    value: float
    grade: float
    confidence: str


@dataclass(frozen=True, slots=True)
class Grade:
    """A predicted grade: the lowest parameter's, its letter, what limits it, and what would help.

    `growth`: how much wider dark modules came out than they should, as a share of a module, across and down.
    """

    value: float
    letter: str
    parameters: tuple[Parameter, ...]
    limits: tuple[str, ...]
    advice: tuple[str, ...]
    growth: tuple[float, float] = (0.0, 0.0)

    def of(self, name: str) -> Parameter:
        """The parameter of a name. Raises KeyError where the symbol has none."""
        return {item.name: item for item in self.parameters}[name]


@dataclass(frozen=True, slots=True)
class Standard:
    """Thresholds and advice as the table gives them."""

    table: Mapping[str, Mapping[str, object]]
    figures: Mapping[str, tuple[float, ...]]
    letters: tuple[tuple[str, float], ...]
    aperture: float
    quiet: int
    misdecode: Mapping[str, int]
    window: tuple[int, int]
    wanted: float

    def confidence(self, name: str) -> str:
        """How well a parameter's figures are known."""
        return str(self.table[name]["confidence"])

    def advice(self, name: str) -> str:
        """What would help where a parameter limits the grade."""
        return str(self.table[name]["do"])
