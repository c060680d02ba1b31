"""Write docs/rules.md from the rule tables: what each row bounds or asks for, since when, and where it was read.

Usage: python tools/rules_docs.py
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "rules.md"
ALLERGENS = ("entry", "printed name", "members", "old list", "confidence")
RELEASES = ("market", "text", "above, %", "dates", "source", "confidence")
Row = Mapping[str, Any]

HEAD = """# Rules and their sources

The rules are tables: `labeltool/rules/*.toml`. This page is generated from them (`make docs` writes it again).

What the tool says is not legal advice and not a safety assessment. What is not in a table, it does not know.

## How a row counts

- **confidence**: `law`: the text was read. `practice`: a guidance, a list or a custom that does not bind. `memory`:
  not read, or not wholly. Only a row of law refuses, and only where the limit is passed even by the lowest percent
  that the materials' ranges allow. Where only the highest percent passes, or the row is no law, or a fact of the
  product is missing, it warns, and says which.
- **dates**: a rule binds what is placed on the market from its first day. Stock placed before may be sold until the
  day named.
- **scope**: the law's words. Use, body area, form, users and the words of name and function decide whether a
  product is in it; where they leave it open, the finding asks for the fact.
- **as acid, as zinc, …**: counted by molar masses (`molar.toml`); a substance without one counts in full and then
  warns.
- **purpose**: where a substance has an entry as a preservative and another for other uses, its purpose decides;
  without one the stricter holds, as a warning that names the purpose which would change it.
- **British rows** are those of the assimilated Regulation; where Great Britain differs, or was not read, the row
  says so.
"""


def page() -> str:
    """The text of docs/rules.md."""
    from labeltool import tables

    def rows(table: str, word: str) -> Sequence[Row]:
        found: Sequence[Row] = tables.toml("rules", table)[word]
        return found

    parts = [
        HEAD,
        _section("Fragrance allergens to be named", "allergens.toml", _regimes(rows("allergens", "regime"))),
        _table(ALLERGENS, map(_allergen, rows("allergens", "allergen"))),
        _section("Prohibited substances (Annex II)", "annex2.toml", "Those that a small bench could meet; not all."),
        _bans(rows("annex2", "entry")),
        _section("Restricted substances (Annex III)", "annex3.toml", ""), _entries(rows("annex3", "entry")),
        _section("Preservatives (Annex V)", "annex5.toml", ""), _entries(rows("annex5", "entry")),
        _section("Beyond these tables", "eu.toml", "Said where a product or a name shows that it matters."),
        _warnings(rows("eu", "warning")),
        _section("Formaldehyde releasers", "releasers.toml", "All releasers together, at the most each can release."),
        _table(RELEASES, map(_release, rows("releasers", "rule"))),
        _section("UV filters (Annex VI)", "annex6.toml", "A filter, or a word of sun protection, stops the label."),
        _entries(rows("annex6", "entry")),
        _section("United States", "us.toml", "Warnings, the alpha hydroxy acid alert, and prohibited substances."),
        _warnings(rows("us", "warning")), _bans(rows("us", "prohibited")),
        _section("Canada", "ca.toml", "The Hotlist is administrative and was not read as a whole: its rows warn."),
        _warnings(rows("ca", "warning")), _entries(rows("ca", "hotlist")), _bans(rows("ca", "prohibited")),
        _section("Texts on the label", "wordings.toml", "Only the act's own words, read or quoted, are printed."),
        _table(("text", "act", "languages printed", "languages proposed"), _texts(rows("wordings", "wording"))),
        _section("Words of claims", "claims.toml", "Every hit is a prompt to look again, never a verdict."),
        _table(("words", "kind", "markets", "level", "source"), _claims(rows)),
    ]
    return "\n".join(part for part in parts if part).rstrip() + "\n"


def _section(title: str, file: str, words: str) -> str:
    return f"\n## {title}\n\n`labeltool/rules/{file}`. {words}".rstrip() + "\n"


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(_line(line) for line in lines) + "\n"


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "/").replace("\n", " ") for cell in cells) + " |"


def _dates(row: Row) -> str:
    return ", ".join(f"{key.replace('-', ' ')} {row[key]}" for key in ("from", "until", "stock-until") if key in row)


def _regimes(rows: Iterable[Row]) -> str:
    told = [f"{row['market']}: {row['entries']} {_dates(row)}".strip() for row in rows]
    return f"Named above 0.001 % left on, 0.01 % rinsed off. Entries asked for: {'; '.join(told)}."


def _allergen(row: Row) -> tuple[str, ...]:
    return row["ref"], row["name"], ", ".join(row.get("members", ())), "yes" if row["legacy"] else "", row["confidence"]


def _entries(rows: Iterable[Row]) -> str:
    head = ("row", "substances", "limits, %", "texts", "markets and dates", "confidence")
    return _table(head, map(_entry, rows))


def _entry(row: Row) -> tuple[str, ...]:
    limits = "; ".join(_limit(item) for item in row.get("limits", ()))
    basis = f" (as {row['basis']})" if "basis" in row else ""
    more = [f"not: {item['text']}" for item in row.get("refusals", ())] + list(row.get("conditions", ()))
    texts = ", ".join(dict.fromkeys(item["key"] for item in row.get("texts", ())))
    told = "; ".join(part for part in (limits, *more) if part)
    return row["ref"], ", ".join(row["names"]) + basis, told, texts, _where(row), _sure(row)


def _limit(item: Row) -> str:
    ph = f", pH {item['ph'][0]} to {item['ph'][1]}" if "ph" in item else ""
    return f"{item['scope']}: {item.get('max', 'no limit')}{ph}"


def _where(row: Row) -> str:
    uk = row.get("uk")
    own = f" (UK: {_dates(uk) + ', ' if _dates(uk) else ''}{uk['source']})" if uk else ""
    return f"{', '.join(row['markets'])} {_dates(row)}".strip() + own


def _sure(row: Row) -> str:
    uk = row.get("uk")
    apart = f" (UK {uk['confidence']})" if uk and uk["confidence"] != row["confidence"] else ""
    return f"{row['confidence']}{apart}"


def _bans(rows: Iterable[Row]) -> str:
    return _table(("row", "names", "scope and condition", "markets and dates", "confidence"), map(_ban, rows))


def _ban(row: Row) -> tuple[str, ...]:
    hints = f" (and names with: {', '.join(row['words'])})" if "words" in row else ""
    scope = "; ".join(part for part in (row["scope"], row.get("conditional", ""), row.get("note", "")) if part)
    return row["ref"], ", ".join(row.get("names", ())) + hints, scope, _where(row), _sure(row)


def _release(row: Row) -> tuple[str, ...]:
    return row["market"], row["key"], row["above"], _dates(row), row["source"], row["confidence"]


def _warnings(rows: Iterable[Row]) -> str:
    return _table(("warning", "texts", "source", "confidence"), map(_warning, rows))


def _warning(row: Row) -> tuple[str, ...]:
    stayed = " (stayed: never printed)" if row.get("stayed") else ""
    return row["id"] + stayed, ", ".join(row.get("keys", ())) or row.get("tell", ""), row["source"], row["confidence"]


def _texts(rows: Iterable[Row]) -> Iterator[tuple[str, ...]]:
    by_key: dict[str, list[Row]] = {}
    for row in rows:
        by_key.setdefault(row["key"], []).append(row)
    for same in by_key.values():
        english = next(row for row in same if row["lang"] == "en")
        settled = [row["lang"] for row in same if row.get("read-as") in ("regulation", "quote")]
        other = [row["lang"] for row in same if row["lang"] not in settled]
        yield english["text"], english["act"], ", ".join(settled), ", ".join(other)


def _claims(rows: Any) -> Iterator[tuple[str, ...]]:
    for kind in ("disease", "verb", "phrase"):
        for row in rows("claims", kind):
            level = row.get("level", row.get("alone", "with a disease"))
            yield ", ".join(row["words"]), kind, ", ".join(row["markets"]), level, row["source"]


def main() -> int:
    """Write the page; 0."""
    PAGE.write_text(page(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
