"""Who answers for a product: names, addresses, roles, country of origin, contact."""

from __future__ import annotations

from dataclasses import dataclass

from labeltool.finding import Finding
from labeltool.formula.model import Party
from labeltool.wording.minimums import Heights
from labeltool.wording.model import Block
from labeltool.wording.request import WordingRequest, party_of
from labeltool.wording.words import Country, Words

ROLES = {
    "distributed by": "distributed-by", "imported by": "imported-by", "imported for": "imported-for",
    "made for": "made-for", "manufactured for": "made-for",
}


@dataclass(frozen=True, slots=True)
class Answering:
    """One name and address on a label, the markets it stands for, and its role in words."""

    party: Party
    markets: tuple[str, ...]
    maker: bool
    role: str = ""

    @property
    def lines(self) -> tuple[str, ...]:
        """Role and name, then the address, one line each."""
        return (f"{self.role} {self.party.name}".strip(), *self.party.address)


def answering(request: WordingRequest, words: Words) -> tuple[Answering, ...]:
    """Everybody a label names, each once, in the order of its markets."""
    found: dict[tuple[Party, bool], list[str]] = {}
    for market in request.markets:
        party, maker = party_of(request, market)
        if party is not None:
            found.setdefault((party, maker), []).append(market)
    return tuple(
        Answering(party, tuple(markets), maker, _role(party, maker, markets, request, words))
        for (party, maker), markets in found.items()
    )


def _role(party: Party, maker: bool, markets: list[str], request: WordingRequest, words: Words) -> str:
    """The words that say who another than the maker is; 21 CFR 701.12(c) and C.R.C., c. 417, s. 31(2) have them."""
    if maker or not {"US", "CA"} & set(markets):
        return ""
    said = (party.role or "distributed by").strip()
    key = ROLES.get(said.casefold())
    if key is None:
        return said
    languages = ("en", "fr") if "CA" in markets and "fr" in request.spoken else ("en",)
    return words.joined(key, languages, "{}")


def party_blocks(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    """One block for each name and address; with several, "UK:" or "EU:" tells which is whose."""
    people = answering(request, words)
    return tuple(
        Block(
            "responsible",
            "\n".join((*item.lines, *_country_line(item, request, words))),
            heading=f"{' / '.join(item.markets)}:" if len(people) > 1 and not item.role else "",
            minimums=high.dealer if "CA" in item.markets else high.running,
            lang=request.spoken[0],
            required_by=item.markets,
        )
        for item in people
    )


def _country_line(item: Answering, request: WordingRequest, words: Words) -> tuple[str, ...]:
    """The maker's country under the address, where the label goes abroad and the address does not say it."""
    country = _country(request, words)
    abroad = set(item.markets) - {request.home}
    if not item.maker or country is None or not abroad or not item.party.address:
        return ()
    said = " ".join(item.party.address).casefold()
    names = (country.name.casefold(), *(("u.k.", "great britain") if country.code == "GB" else ()))
    return () if any(name in said for name in names) else (country.name,)


def _country(request: WordingRequest, words: Words) -> Country | None:
    return words.countries.get(request.workshop.maker.country or "")


def origin_block(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    """Country of origin, where the product is an import in one of its markets: in the label's languages, and in English
    for the US (19 U.S.C. 1304) and where no other has words for it."""
    country = _country(request, words)
    if not request.imported or country is None:
        return ()
    languages = ("en", *request.spoken) if "US" in request.imported else request.spoken
    said = [text for lang in languages if (text := origin_text(country, words, lang))]
    text = " / ".join(dict.fromkeys(said or [origin_text(country, words, "en")]))
    return (Block("origin", text, minimums=high.running, lang=request.spoken[0], required_by=request.imported),)


def origin_text(country: Country, words: Words, lang: str) -> str:
    """ "Made in Norway", "Fabriqué en Norvège", "Ursprungsland: Norwegen"; "" where the tables have no words for it.

    Other languages than English and French would bend the name after "made in", so it stands alone in them.
    """
    if lang == "en":
        return f"{words.text('made-in', 'en')} {country.after_in}"
    if lang == "fr":
        return f"{words.text('made-in', 'fr')} {country.french}" if country.french else ""
    front, name = words.word("country-of-origin", lang), dict(country.names).get(lang)
    return f"{front.text}: {name}" if front and name else ""


def contact_block(request: WordingRequest, high: Heights) -> tuple[Block, ...]:
    """Where a user reports a reaction (21 U.S.C. 364e(a); C.R.C., c. 869, s. 20)."""
    contact = request.workshop.maker.contact
    if not contact:
        return ()
    asked = tuple(market for market in request.markets if market in ("US", "CA"))
    return (Block("contact", contact, minimums=high.running, required_by=asked),)


def party_findings(request: WordingRequest, words: Words) -> tuple[Finding, ...]:
    """Roles that nobody stated, and a country whose name the tables do not know."""
    found = [_no_role(market) for market in request.markets if market == "US" and _lacks_role(request, market)]
    code = request.workshop.maker.country
    if request.imported and code is not None and _country(request, words) is None:
        found.append(Finding("wording.country", "warning", f"no name is known for the country {code}",
                             do="write country under [maker] as an ISO 3166-1 code, as GB"))
    return tuple(found)


def _lacks_role(request: WordingRequest, market: str) -> bool:
    party, maker = party_of(request, market)
    return party is not None and not maker and not party.role


def _no_role(market: str) -> Finding:
    return Finding(
        "wording.role", "warning", "the responsible person has no role; \"Distributed by\" is printed", market=market,
        limit="distributed by, imported by, made for", source="21 CFR 701.12(c)",
        do=f'write role = "…" under [responsible-person] {market}',
    )
