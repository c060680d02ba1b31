"""What the QR of a batch holds: a link of the maker's, a GS1 Digital Link, or the batch code alone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from urllib.parse import quote

from labeltool.coding.checkdigits import DIGITS, LETTERS, gtin14, gtin_valid
from labeltool.coding.dates import gs1_date
from labeltool.coding.link import fill, in_capitals, new_key, page_path, stem_findings, template_findings
from labeltool.coding.shape import MAX_LENGTH
from labeltool.finding import Finding, Findings
from labeltool.formula.model import RecordLinks

__all__ = ["digital_link", "new_key", "page_path", "payload"]

CSET_82 = frozenset("!\"%&'()*+,-./:;<=>?_" + DIGITS + LETTERS + LETTERS.lower())
PATH_ORDER = ("01", "22", "10", "21")
DATE_ORDER = ("11", "15", "17")


def payload(
    links: RecordLinks, code: str, key: str, gtin: str | None, *, made: dt.date, best_before: dt.date | None,
) -> tuple[str, Findings]:
    """The exact payload of a batch's QR, and what stands against it.

    With a `gtin` and a gtin-link, the GS1 Digital Link; else the maker's link; else the code alone, which is also what
    comes back beside errors. `best_before` is the printed date's day. ASCII only.
    """
    if gtin and links.gtin_link:
        return _gs1(links, links.gtin_link, code, gtin, {"11": made, "15": best_before, "17": best_before})
    if links.link:
        return _own(links.link, code, key)
    return code, Findings()


def _own(link: str, code: str, key: str) -> tuple[str, Findings]:
    found = template_findings(link)
    if "{key}" in link and not key:
        found += [Finding("link.key", "error", "the link wants a {key}, and the batch has none")]
    return (code, found) if found.errors else (in_capitals(fill(link, code, key)), found)


def _gs1(
    links: RecordLinks, stem: str, code: str, gtin: str, days: Mapping[str, dt.date | None],
) -> tuple[str, Findings]:
    found = stem_findings(stem) + _gtin_faults(gtin) + _lot_faults(code) + _date_faults(links.gtin_dates, days)
    if found.errors:
        return code, found
    dates = [(ai, gs1_date(day)) for ai in DATE_ORDER if ai in links.gtin_dates and (day := days[ai])]
    return in_capitals(digital_link(stem, [("01", gtin14(gtin)), ("10", code), *dates])), found


def digital_link(stem: str, elements: Sequence[tuple[str, str]]) -> str:
    """The GS1 Digital Link of elements (AI, value): 01, 22, 10, 21 in the path in that order, the others in the query
    as they come. Every sign but unreserved ones is percent-encoded (GS1 Digital Link: URI syntax)."""
    held = dict(elements)
    path = "".join(f"/{ai}/{quote(held[ai], safe='')}" for ai in PATH_ORDER if ai in held)
    query = "&".join(f"{ai}={quote(value, safe='')}" for ai, value in elements if ai not in PATH_ORDER)
    return stem.rstrip("/") + path + (f"?{query}" if query else "")


def _gtin_faults(gtin: str) -> list[Finding]:
    if gtin_valid(gtin):
        return []
    return [Finding("gs1.gtin", "error", f"{gtin!a} is no GTIN, or its check digit does not fit",
                    limit="8, 12, 13 or 14 digits")]


def _lot_faults(code: str) -> list[Finding]:
    strange = sorted(set(code) - CSET_82)
    faults = []
    if strange:
        shown = " ".join(ascii(item)[1:-1] for item in strange)
        faults.append(Finding("gs1.lot", "error", f"the batch code has characters that GS1 AI 10 cannot hold: {shown}",
                              limit="the 82 characters of GS1 AI 10", source="GS1 General Specifications"))
    if not 1 <= len(code) <= MAX_LENGTH:
        faults.append(Finding("gs1.lot", "error", f"the batch code has {len(code)} characters",
                              limit=f"1 to {MAX_LENGTH} in GS1 AI 10"))
    return faults


def _date_faults(asked: Sequence[str], days: Mapping[str, dt.date | None]) -> list[Finding]:
    faults = [Finding("gs1.date", "error", f"{ai!a} is no date of a GS1 link", limit=", ".join(DATE_ORDER))
              for ai in asked if ai not in DATE_ORDER]
    lacking = [ai for ai in DATE_ORDER if ai in asked and days[ai] is None]
    if lacking:
        said = f"there is no best before for AI {' and '.join(lacking)}, so it is left out"
        faults.append(Finding("gs1.date", "warning", said, do="write shelf-life under [product]"))
    return faults
