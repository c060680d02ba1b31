"""What an argument means: a file, a formula of that name, or a batch code; `*` expanded where the shell did not."""

from __future__ import annotations

import difflib
import glob
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.formula.load import find_workshop
from labeltool.workflow.setting import Setting

ENDINGS = (".toml", ".csv", ".xlsx")
OTHER_FILES = {
    "workshop.toml": "it says who makes the products and where they are sold",
    "printers.toml": "it holds what printers need corrected",
    **dict.fromkeys((f"materials{ending}" for ending in ENDINGS), "it holds the raw materials"),
}


@dataclass(frozen=True, slots=True)
class Named:
    """An argument understood: a formula file, or a batch code on record (`code` as the record spells it)."""

    text: str
    path: Path | None = None
    code: str | None = None


def looks_like_file(text: str) -> bool:
    """Whether an argument names a file by its ending or a path separator."""
    return text.lower().endswith(ENDINGS) or "/" in text or "\\" in text


def expand(arguments: Sequence[str], cwd: Path) -> tuple[str, ...]:
    """The arguments with `*`, `?` and `[…]` expanded to formula files. Raises InputError where nothing matches."""
    found: list[str] = []
    for text in arguments:
        if glob.has_magic(text) and not (cwd / text).exists():
            found += _matches(text, cwd)
        else:
            found.append(text)
    return tuple(found)


def _matches(pattern: str, cwd: Path) -> list[str]:
    names = sorted(str(Path(pattern).parent / Path(name).name) for name in glob.glob(str(cwd / pattern)))  # noqa: PTH207
    formulas = _without_doubles(names)
    if not formulas:
        raise input_error("call.pattern", f"no formula file matches {pattern}")
    return formulas


def _without_doubles(names: Sequence[str]) -> list[str]:
    """Formula files only; of NAME.toml and NAME.csv or NAME.xlsx beside it, the TOML file names the product."""
    stems = {name[: -len(".toml")] for name in names if name.lower().endswith(".toml")}
    kept = []
    for name in names:
        ending = Path(name).suffix.lower()
        if ending == ".toml" or (ending in ENDINGS and name[: -len(ending)] not in stems):
            kept.append(name)
    return kept


def formula_files(folder: Path) -> dict[str, Path]:
    """The formulas of a workshop, by name."""
    home = folder / "formulas"
    found = sorted(home.iterdir()) if home.is_dir() else []
    files = {path.stem: path for path in found if path.suffix.lower() in (".csv", ".xlsx")}
    return files | {path.stem: path for path in found if path.suffix.lower() == ".toml"}


def formula_path(text: str, setting: Setting) -> Path:
    """The file of a formula argument. Raises InputError with the nearest name."""
    named = understand(text, setting, lambda _: None, tuple)
    if named.path is None:
        raise input_error("call.formula", f"{text} is a batch code, and a formula is needed")
    return named.path


def understand(
    text: str, setting: Setting, find_code: Callable[[str], str | None], codes: Callable[[], Iterable[str]],
) -> Named:
    """A file, else a formula of that name, else a code that `find_code` knows; else the nearest of both are named."""
    if looks_like_file(text):
        path = setting.cwd / text
        _refuse_others(path, setting)
        _refuse_pack(text, path, find_code)
        return Named(text, path=path)
    files = _formulas_or_none(setting)
    if text in files:
        return Named(text, path=files[text])
    code = find_code(text)
    if code is not None:
        return Named(text, code=code)
    raise _unknown(text, files, codes(), setting)


def _refuse_pack(text: str, path: Path, find_code: Callable[[str], str | None]) -> None:
    """Raise InputError for CODE/PACK without a count, which reads like a path."""
    code, _, pack = text.partition("/")
    known = find_code(code) if not path.exists() and not text.lower().endswith(ENDINGS) else None
    if known:
        name = pack.partition(":")[0] or "PACK"
        raise input_error("call.shares", f"{text[:60]} names a batch, and no pack with a count",
                          limit="CODE:N or CODE/PACK:N", do=f"{known}/{name}:12, or {known} --pack {name}")


def _refuse_others(path: Path, setting: Setting) -> None:
    """Raise InputError for a file of the workshop that is no formula: its name or folder tells what it is."""
    what = "it describes a label stock" if path.parent.name == "stocks" else "it describes an artwork"
    layout = path.parent.parent.name == "layouts" and path.parent.name in ("stocks", "artwork")
    known = OTHER_FILES.get(path.name.lower()) if path.parent.name != "formulas" else None
    if known or layout:
        names = ", ".join(list(_formulas_or_none(setting))[:5])
        raise input_error("call.no-formula", f"{path.name} is no formula: {known or what}",
                          do=f"name a formula: {names}" if names else "name a file under formulas/")


def _formulas_or_none(setting: Setting) -> dict[str, Path]:
    try:
        folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    except InputError:
        return {}
    return formula_files(folder)


def _unknown(text: str, files: Iterable[str], codes: Iterable[str], setting: Setting) -> InputError:
    from labeltool.coding.reading import near_codes
    from labeltool.workflow.codes import code_trouble, home

    near = [*difflib.get_close_matches(text, list(files), 2, 0.5), *near_codes(text, codes, 2)]
    do = f"did you mean {' or '.join(near)}?" if near else "name a formula file, a formula's name, or a batch code"
    said = code_trouble(text, home(setting)) or "neither a formula nor a batch code"
    return InputError([Finding("call.unknown", "error", f"{text[:60]}: {said}", do=do)])
