"""workshop.toml: who makes it, where it is sold, how codes and links look."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Final, cast

from labeltool.finding import Findings, Where
from labeltool.formula import vocabulary
from labeltool.formula.document import TomlFile, read_toml
from labeltool.formula.model import (
    MARKETS,
    BatchRules,
    Maker,
    Market,
    Party,
    PrintDefaults,
    RecordLinks,
    Workshop,
)
from labeltool.formula.quantities import parse_mass, parse_tolerance, shown
from labeltool.formula.report import Report
from labeltool.formula.schema import PARTY, TOP, WORDS, check_keys, keys_of
from labeltool.formula.table import Table

FORMAT = 1
NAME: Final = "workshop.toml"


def read_workshop(folder: Path, *, cwd: Path | None = None) -> tuple[Workshop | None, Findings]:
    """The workshop of a folder, or None with errors; places are named relative to `cwd`."""
    report = Report()
    file = read_toml(folder / NAME, cwd, report)
    workshop = workshop_of(file, report) if file else None
    return (None if report.failed_since(0) else workshop), report.findings()


def workshop_of(file: TomlFile, report: Report) -> Workshop | None:
    """The workshop that a file describes; faults go to the report."""
    top = Table(file.values, file.document, report)
    if not _format_is_known(top):
        return None
    check_keys(top, NAME, TOP)
    maker = _maker(top)
    return Workshop(
        maker=maker,
        responsible=_responsible(top),
        markets=_markets(top, maker),
        languages=_languages(top),
        e_mark=_part(top, "sale").flag("e-mark", False),
        print=_print(_checked(top, "print")),
        batch=_batch(top),
        record=_record(top),
        words=_words(top),
        where=Where(file.data.name),
    )


def _part(top: Table, key: str) -> Table:
    """A table of the file, or an empty one; its faults are reported where it is first asked for."""
    value = top.values.get(key)
    return Table(value if isinstance(value, dict) else {}, top.document, top.report, (key,))


def _checked(top: Table, key: str) -> Table:
    found = top.table(key)
    if found is not None:
        check_keys(found, NAME, f"[{key}]")
    return _part(top, key)


def _format_is_known(top: Table) -> bool:
    value = top.values.get("format", FORMAT)
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        top.wrong("format", value, f"the number {FORMAT}")
        return True
    if value > FORMAT:
        top.report.error("format.newer", f"format {shown(value)} is of a newer labeltool than this one",
                         top.where("format"), limit=f"{FORMAT}", do="install the newer labeltool")
    return value <= FORMAT


def _maker(top: Table) -> Maker:
    table = _checked(top, "maker")
    return Maker(
        name=table.text("name"),
        brand=table.text("brand"),
        address=table.texts("address"),
        country=table.word("country", sorted(vocabulary.COUNTRIES), rule="value.country"),
        contact=table.text("contact"),
    )


def _responsible(top: Table) -> tuple[tuple[Market, Party], ...]:
    table = top.table("responsible-person")
    if table is None:
        return ()
    found: list[tuple[Market, Party]] = []
    for key in table.values:
        if key not in MARKETS:
            top.report.error("key.unknown", f"{shown(key)} is no market", table.where(key), limit=", ".join(MARKETS),
                             do=top.report.did_you_mean(key, MARKETS))
        elif (inner := table.table(key)) is not None:
            found.append((key, _party(inner, key)))
    return tuple(found)


def _party(table: Table, market: str) -> Party:
    check_keys(table, NAME, PARTY)
    role = table.word("role", vocabulary.ROLES)
    if role and market not in ("US", "CA"):
        table.report.error("workshop.role", f"role has no place in the {market}", table.where("role"),
                           limit="US and CA only", do="leave it out")
    return Party(table.need("name") or "", table.texts("address"), role)


def _markets(top: Table, maker: Maker) -> tuple[Market, ...]:
    sale = _checked(top, "sale")
    if sale.has("markets"):
        return cast(tuple[Market, ...], sale.words("markets", MARKETS, rule="value.market"))
    home = vocabulary.home_market(maker.country) if maker.country else None
    if home:
        return (home,)
    why = f"none follows from the country {maker.country}" if maker.country else "the maker's country is not given"
    top.report.note("sale.markets", f"no market is named, and {why}", Where(top.document.file, key="sale.markets"),
                    limit=", ".join(MARKETS), do='write markets = ["UK"] in [sale]')
    return ()


def _words(top: Table) -> tuple[tuple[str, str, str], ...]:
    """The maker's own label words, (language, key, text)."""
    table = top.table("words") or _part(Table({}, top.document, top.report), "words")
    found: list[tuple[str, str, str]] = []
    for lang in table.values:
        if lang not in vocabulary.LANGUAGES:
            top.report.error("value.language", f"{shown(lang)} is no language", table.where(lang),
                             limit="two letters of ISO 639-1, as de", do="[words.de]")
        elif (inner := table.table(lang)) is not None:
            check_keys(inner, NAME, WORDS)
            found += [(lang, key, text) for key in keys_of(NAME, WORDS) if (text := inner.text(key))]
    return tuple(found)


def _languages(top: Table) -> tuple[str, ...]:
    return _part(top, "sale").words("languages", vocabulary.LANGUAGES, rule="value.language") or ("en",)


def _print(table: Table) -> PrintDefaults:
    single = isinstance(table.values.get("artwork"), str)
    artwork = table.text("artwork") if single else None
    names = ((artwork,) if artwork else ()) if single else table.texts("artwork")
    return PrintDefaults(table.text("stock"), names, table.text("printer"))


def _batch(top: Table) -> BatchRules:
    table = _checked(top, "batch")
    usual = BatchRules()
    tolerance = table.text("tolerance") if table.parsed("tolerance", parse_tolerance, "value.tolerance") else None
    balance = table.parsed("balance", parse_mass, "value.mass")
    if balance == Decimal(0):
        table.report.error("value.mass", "balance is 0 g", table.where("balance"), limit="more than 0 g")
    return BatchRules(
        code=table.text("code") or usual.code,
        require_release=table.flag("require-release", usual.require_release),
        tolerance=tolerance or usual.tolerance,
        balance_g=balance or usual.balance_g,
    )


def _record(top: Table) -> RecordLinks:
    table = _checked(top, "record")
    return RecordLinks(
        link=table.text("link"),
        gtin_link=table.text("gtin-link"),
        gtin_dates=_dates(table),
        by=table.text("by"),
    )


def _dates(table: Table) -> tuple[str, ...]:
    if table.values.get("gtin-dates") == []:
        return ()
    return table.words("gtin-dates", vocabulary.GTIN_DATES)
