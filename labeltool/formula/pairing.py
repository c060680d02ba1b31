"""Which files a formula stands in: NAME.toml, and NAME.csv or NAME.xlsx beside it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from labeltool.finding import Where
from labeltool.formula.files import shown_path
from labeltool.formula.report import Report

SHEETS = (".csv", ".xlsx")
ENDINGS = (".toml", *SHEETS)


@dataclass(frozen=True, slots=True)
class Sources:
    """The files of one formula: facts (and perhaps rows) in `toml`, rows in `sheet`; one of them at least."""

    toml: Path | None
    sheet: Path | None

    @property
    def main(self) -> Path:
        """The file that names the formula."""
        path = self.toml or self.sheet
        assert path is not None
        return path


def sources_of(path: Path, cwd: Path | None, report: Report) -> Sources | None:
    """The files of the formula that `path` names, or None with the fault reported."""
    name = shown_path(path, cwd)
    if path.suffix.lower() not in ENDINGS:
        report.error("file.ending", f"{name} is no formula file", Where(name), limit=".toml, .csv, .xlsx",
                     do="save the spreadsheet as .xlsx or .csv" if path.suffix.lower() in (".xls", ".ods") else None)
        return None
    family = _family(path)
    toml = next((item for item in family if item.suffix.lower() == ".toml"), None)
    sheets = [item for item in family if item.suffix.lower() in SHEETS]
    if len(sheets) > 1:
        names = " and ".join(shown_path(item, cwd) for item in sheets)
        report.error("formula.both", f"the same formula stands in {names}", Where(shown_path(sheets[1], cwd)),
                     limit="one of them", do="move one of them to another folder")
    return Sources(toml, sheets[0] if sheets else None)


def formula_path(folder: Path, name: str) -> Path | None:
    """The file of a formula of a workshop by its name; NAME.toml before a spreadsheet. None where there is none."""
    family = _family(folder / "formulas" / f"{name}.toml", with_itself=False)
    return min(family, key=lambda item: ENDINGS.index(item.suffix.lower()), default=None)


def formula_names(folder: Path) -> list[str]:
    """The names of all formulas of a workshop."""
    return sorted({item.stem for item in _entries(folder / "formulas") if item.suffix.lower() in ENDINGS})


def _family(path: Path, *, with_itself: bool = True) -> list[Path]:
    """The formula files of one name in a folder, `path` first even where it is not there."""
    found = [
        item for item in _entries(path.parent)
        if item.stem == path.stem and item.suffix.lower() in ENDINGS and (item.name != path.name or not with_itself)
    ]
    return [path, *found] if with_itself else found


def _entries(folder: Path) -> list[Path]:
    try:
        return sorted(folder.iterdir())
    except (OSError, ValueError):
        return []
