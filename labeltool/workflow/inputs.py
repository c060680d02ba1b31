"""What a batch freezes: the workshop, formula and materials as values, from files or from the record."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from labeltool.codec import from_plain, to_plain
from labeltool.errors import InputError, input_error
from labeltool.finding import Findings
from labeltool.formula.load import Loaded, load
from labeltool.formula.model import LEFT_OUT, Formula, Material, Workshop
from labeltool.workflow.setting import Setting


@dataclass(frozen=True, slots=True)
class Held:
    """A batch that lies in a gift set: its code (the lot that went in), formula and pack, and how many of it."""

    lot: str
    formula: str
    pack: str = ""
    count: int = 1


@dataclass(frozen=True, slots=True)
class Inputs:
    """Everything the maker wrote that a label depends on; `files` are (relative name, SHA-256) pairs."""

    workshop: Workshop
    formula: Formula
    materials: tuple[tuple[str, Material], ...]
    made_here: tuple[tuple[str, Formula], ...] = ()
    files: tuple[tuple[str, str], ...] = ()
    held: tuple[Held, ...] = field(default=(), metadata=LEFT_OUT)

    @property
    def by_key(self) -> dict[str, Material]:
        """The materials by key."""
        return dict(self.materials)


@dataclass(frozen=True, slots=True)
class Opened:
    """Inputs read from files, with their folder and the notes of reading."""

    folder: Path
    inputs: Inputs
    findings: Findings


def read_inputs(path: Path, setting: Setting, facts: dict[str, str] | None = None) -> Opened:
    """The inputs of one formula file. Raises InputError with every fault of all files."""
    loaded, findings = load(path, workshop=setting.workshop, env=setting.env, cwd=setting.cwd, product_options=facts)
    if loaded is None or findings.errors:
        raise InputError(findings.items)
    return Opened(loaded.folder, _inputs(loaded), findings)


def _inputs(loaded: Loaded) -> Inputs:
    return Inputs(
        loaded.workshop,
        loaded.formula,
        tuple(sorted(dict(loaded.materials).items())),
        tuple(loaded.made_here),
        tuple(loaded.files),
    )


def refuse_set(formula: Formula, what: str) -> None:
    """Raise InputError where a formula is a gift set, which has nothing to `what`."""
    if formula.contains:
        names = ", ".join(item.formula for item in formula.contains)
        raise input_error("set.nothing", f"{formula.product.name} is a set: there is nothing to {what}",
                          limit=names, do=f"{what} its products; labeltool print {formula.key} --of CODE prints it")


def frozen(inputs: Inputs) -> dict[str, Any]:
    """The inputs as plain JSON, for the record."""
    plain: dict[str, Any] = to_plain(inputs)
    return plain


def thawed(plain: Any) -> Inputs:
    """The inputs that the record holds. Raises ValueError where it holds something else."""
    return from_plain(Inputs, plain)
