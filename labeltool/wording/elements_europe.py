"""What Article 19 of Regulation (EC) No 1223/2009 wants, in the EU and as assimilated law in Great Britain."""

from __future__ import annotations

import datetime as dt
import re

from labeltool.coding.dates import keeps_long
from labeltool.rules.model import Element
from labeltool.wording.minimums import EU_SOURCE
from labeltool.wording.model import LabelText
from labeltool.wording.net import base_amount
from labeltool.wording.request import WordingRequest, party_of
from labeltool.wording.rows import Rows, shown

ARTICLE = "Regulation (EC) No 1223/2009, Art. 19"
UK_ADDRESS_FROM = dt.date(2028, 1, 1)  # gov.uk statutory guidance, May 2023: an EU address serves up to the day before
GIVEN = re.compile(  # a sample or tester, in the languages that marks are written in
    r"sample|tester|not for (re)?sale|free gift|muster|probe\b|unverkäuflich|échantillon|testeur|ne peut être vendu"
    r"|gratuit|muestra|probador|campione|monster|amostra|próbka|varuprov", re.IGNORECASE)
PLACES = {"UK": "the United Kingdom", "EU": "the European Union"}


def source(market: str, point: str) -> str:
    """The article's point, with its standing in Great Britain."""
    return f"{ARTICLE}{point}" + (" (assimilated)" if market == "UK" else "")


def europe_rows(request: WordingRequest, text: LabelText, market: str) -> list[Element]:
    """Every element of Article 19(1)(a) to (g), 19(5) and Directive 76/211/EEC for the UK or the EU."""
    rows = Rows(market, request, text)
    none = "the tables ask for none: look into the safety assessment"
    return [
        _responsible(rows), _origin(rows), _net(rows), _net_height(rows), _e_mark(rows), _durability(rows),
        *rows.precautions(source(market, "(1)(d)"), none, makers=True),
        _code(rows), *_function(rows), _ingredients(rows), _language(rows),
    ]


def _responsible(rows: Rows) -> Element:
    """Name and address in the market itself; an EU one serves Great Britain until the end of 2027."""
    element, law, market = "responsible person", source(rows.market, "(1)(a)"), rows.market
    party, maker = party_of(rows.request, market)
    do = f"write [responsible-person] {market} = {{ name = \"…\", address = [\"…\"] }} into workshop.toml"
    if party is None or not party.address:
        what = "a name and an address" if party is None else f"the address of {party.name}"
        return rows.row(element, "missing", what, law, "responsible",
                        "write name and address under [maker] of workshop.toml" if maker else do)
    said = ", ".join((party.name, *party.address))
    if market == "UK" and "po box" in said.casefold().replace(".", ""):
        return rows.row(element, "missing", f"a place, not a PO box: {said}", law, "responsible", do)
    if maker and rows.request.workshop.maker.country is None:
        return rows.row(element, "maker", f"is this address in {PLACES[market]}? {said}", law, "responsible",
                        "write country under [maker] of workshop.toml")
    if not maker or rows.request.home == market:
        return rows.row(element, "present", said, law, "responsible")
    serves = _eu_address(rows.request) if market == "UK" and rows.request.made < UK_ADDRESS_FROM else None
    if serves:
        note = f"{serves} (an EU address serves until 31 December 2027)"
        return rows.row(element, "present", note, law, "responsible")
    return rows.row(element, "missing", f"a name and an address in {PLACES[market]}", law, "responsible", do)


def _eu_address(request: WordingRequest) -> str | None:
    """The EU name and address that the label bears, where it bears one."""
    party, maker = party_of(request, "EU")
    borne = request.home == "EU" if maker else "EU" in request.markets
    return ", ".join((party.name, *party.address)) if party is not None and borne and party.address else None


def _origin(rows: Rows) -> Element:
    element, law = "country of origin", source(rows.market, "(1)(a)")
    if rows.request.workshop.maker.country is None:
        said = "is it imported? then the label names the country it is made in"
        return rows.row(element, "maker", said, law, "origin", "write country under [maker] of workshop.toml")
    if rows.market not in rows.request.imported:
        return rows.row(element, "not-needed", f"made in {PLACES[rows.market]}", law, "origin")
    return rows.carried(element, "origin", law, "the name of the country", "write country under [maker]")


def _net(rows: Rows) -> Element:
    """Free below 5 g or 5 ml; 5 itself must be marked."""
    element, law, net = "net content", source(rows.market, "(1)(b)"), rows.request.product.net
    amount = base_amount(net) if net else None
    if amount is not None and amount < 5:
        said = f"less than 5 g or 5 ml; printed: {shown(rows.blocks('net'))}"
        return rows.row(element, "not-needed", said, law, "net")
    if net is None and (why := _free_of_content(rows.request)):
        return rows.row(element, "not-needed", why, law, "net")
    return rows.carried(element, "net", law, "the content by weight or volume, or the number of items",
                        'write net = "…" under [product]')


def _free_of_content(request: WordingRequest) -> str | None:
    """Why a pack without a stated content needs none: a free sample, by its mark, or a single application."""
    if request.mark and GIVEN.search(request.mark):
        return f"a free sample, as its mark says: {request.mark}"
    if request.pack and (request.product.no_opening_period or "").casefold().startswith("single"):
        return f"a single-application pack: {request.product.no_opening_period}"
    return None


def _net_height(rows: Rows) -> Element:
    high = [item.height_mm for block in rows.blocks("net") for item in block.minimums if item.source == EU_SOURCE]
    if not high:
        return rows.row("height of the net figures", "not-needed", "no weight or volume is stated", EU_SOURCE, "net")
    return rows.row("height of the net figures", "present", f"{max(high):g} mm or more", EU_SOURCE, "net")


def _e_mark(rows: Rows) -> Element:
    law = "Directive 76/211/EEC, Annex I 3.3"
    if rows.blocks("e-mark"):
        return rows.row("e-mark", "present", "℮, in the same field of vision as the net content", law, "e-mark")
    return rows.row("e-mark", "not-needed", "voluntary: it says that the average-quantity rules are met", law, "e-mark")


def _durability(rows: Rows) -> Element:
    """A date up to 30 months; above that the open jar, unless a reason is given; never neither without one."""
    element, law, request = "durability", source(rows.market, "(1)(c)"), rows.request
    date, opening = shown(rows.blocks("date")), shown(rows.blocks("opening"))
    if request.shown == "neither":
        reason = request.product.no_opening_period
        return rows.row(element, "not-needed", f"keeps for more than 30 months; no opening period: {reason}", law)
    if request.best_before is None and opening:
        return rows.row(element, "maker", f"{opening} alone serves only what keeps for more than 30 months", law,
                        "opening", 'write shelf-life = "…" under [product]')
    if request.best_before is None:
        lacks = "best before; or the period after opening, of what keeps for more than 30 months"
        return rows.row(element, "missing", lacks, law, "date", 'write shelf-life = "…" under [product]')
    if keeps_long(request.made, request.best_before) and not opening:
        lacks = "the period after opening, since it keeps for more than 30 months"
        return rows.row(element, "missing", lacks, law, "opening",
                        'write period-after-opening = "…", or no-opening-period = "the reason", under [product]')
    said = ", ".join(item for item in (date, f"open jar {opening}" if opening else "") if item)
    return rows.row(element, "present", said, law, "date" if date else "opening")


def _code(rows: Rows) -> Element:
    return rows.row("batch code", "present", rows.text.code, source(rows.market, "(1)(e)"), "code")


def _function(rows: Rows) -> list[Element]:
    """The function, unless it is clear from the presentation, in every language that is wanted."""
    element, law = "function", source(rows.market, "(1)(f)")
    said, lacks = shown(rows.blocks("function")), rows.absent("function")
    if not said and not lacks:
        return [rows.row(element, "maker", "none is stated: are use and way of use clear from name and look?", law,
                         "function", 'else write function = "…" under [product]')]
    present = [rows.row(element, "present", said, law, "function")] if said else []
    return present + [
        rows.row(element, "missing", f"the function in {lang}", law, "function",
                 f"write function under [product.text.{lang}]")
        for lang in lacks
    ]


def _ingredients(rows: Rows) -> Element:
    return rows.carried("ingredients", "ingredients", source(rows.market, "(1)(g)"), "the list of ingredients",
                        "write [[ingredient]] rows into the formula")


def _language(rows: Rows) -> Element:
    """English in Great Britain; in the EU what the member states ask."""
    element, law, spoken = "language", source(rows.market, "(5)"), ", ".join(rows.request.spoken)
    if rows.market == "EU":
        said = f"the label speaks {spoken}: do the member states of sale ask for that?"
        return rows.row(element, "maker", said, law, do="write languages under [sale]")
    if "en" in rows.request.spoken:
        return rows.row(element, "present", spoken, law)
    return rows.row(element, "missing", "English", law, do='add "en" to languages under [sale]')
