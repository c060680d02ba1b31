"""What the United States and Canada want on a cosmetic label."""

from __future__ import annotations

import re

from labeltool.rules.model import Element
from labeltool.wording.model import LabelText
from labeltool.wording.request import WordingRequest, party_of
from labeltool.wording.rows import Rows, shown

CPLA = "R.S.C. 1985, c. C-38"
LABELLING = "C.R.C., c. 417"
COSMETICS = "C.R.C., c. 869"
CONTACT_SOURCE = "21 U.S.C. 364e(a)"
_PHONE = re.compile(r"[+()\d][\d\s().-]{6,}")


def us_rows(request: WordingRequest, text: LabelText) -> list[Element]:
    """21 CFR 701 and 740, 21 U.S.C. 364e, 19 U.S.C. 1304, element by element."""
    rows = Rows("US", request, text)
    return [
        rows.row("statement of identity", "present", _identity(rows), "21 CFR 701.11", _identity_block(rows)),
        _us_place(rows),
        rows.carried("net quantity", "net", "21 CFR 701.13; 15 U.S.C. 1453(a)(2)", "the net quantity in both systems",
                     'write net = "…" under [product]'),
        rows.carried("ingredients", "ingredients", "21 CFR 701.3", "the list of ingredients",
                     "write [[ingredient]] rows into the formula"),
        *_us_warnings(rows), _us_contact(rows), _us_origin(rows), *_us_language(rows), *_professional(rows),
    ]


def _identity(rows: Rows) -> str:
    return shown(rows.blocks(_identity_block(rows)))


def _identity_block(rows: Rows) -> str:
    """The function says what it is; without one the name has to."""
    return "function" if rows.blocks("function") else "name"


def _place(rows: Rows, element: str, law: str) -> Element:
    """Name and place of business of who makes or sells it."""
    party, maker = party_of(rows.request, rows.market)
    table = "[maker]" if maker else f"[responsible-person] {rows.market}"
    if party is None or not party.address:
        lacks = "a name and an address" if party is None else f"the address of {party.name}"
        return rows.row(element, "missing", lacks, law, "responsible", f"write name and address under {table}")
    said = next((block for block in rows.blocks("responsible") if rows.market in block.required_by), None)
    return rows.row(element, "present", shown([said]) if said else party.name, law, "responsible")


def _us_place(rows: Rows) -> Element:
    return _place(rows, "name and place of business", "21 CFR 701.12")


def _us_warnings(rows: Rows) -> list[Element]:
    """Warnings of law, which 740.2 wants bold; one for the principal display panel is the maker's to place."""
    law = [item for item in rows.request.warnings if item.required and item.market == "US"]
    if not law:
        return [rows.row("warnings", "not-needed", "no warning of the tables applies", "21 CFR 740", "warnings")]
    return [_us_warning(rows, item.text, item.source, item.lang) for item in law if item.lang == "en"]


def _us_warning(rows: Rows, text: str, source: str, lang: str) -> Element:
    if "The safety of this product has not been determined" in text:
        said = f"does it stand on the principal display panel? {text}"
        return rows.row("warnings", "maker", said, source, "warnings")
    if lang in rows.request.spoken:
        return rows.row("warnings", "present", text, source, "warnings")
    return rows.row("warnings", "missing", text, source, "warnings", 'add "en" to languages under [sale]')


def _us_contact(rows: Rows) -> Element:
    """A domestic address, a domestic phone number, or electronic contact."""
    element, contact = "contact for reports", rows.request.workshop.maker.contact
    party, maker = party_of(rows.request, "US")
    domestic = party is not None and bool(party.address) and (not maker or rows.request.home == "US")
    if contact and not _PHONE.fullmatch(contact.strip()):
        return rows.row(element, "present", contact, CONTACT_SOURCE, "contact")
    if party is not None and domestic:
        return rows.row(element, "present", ", ".join(party.address), CONTACT_SOURCE, "responsible")
    if contact:
        return rows.row(element, "maker", f"is this a phone number in the US? {contact}", CONTACT_SOURCE, "contact",
                        "write an e-mail or web address as contact under [maker]")
    lacks = "an e-mail or web address, or an address or phone number in the US"
    return rows.row(element, "missing", lacks, CONTACT_SOURCE, "contact",
                    'write contact = "…" under [maker] of workshop.toml')


def _us_origin(rows: Rows) -> Element:
    element, law = "country of origin", "19 U.S.C. 1304"
    if rows.request.workshop.maker.country is None:
        return rows.row(element, "maker", "is it imported? then the label names the country in English", law, "origin",
                        "write country under [maker] of workshop.toml")
    if "US" not in rows.request.imported:
        return rows.row(element, "not-needed", "made in the USA", law, "origin")
    return rows.carried(element, "origin", law, "the English name of the country", "write country under [maker]")


def _us_language(rows: Rows) -> list[Element]:
    """English; and what is said in another language wants all required words in that language too."""
    spoken, law = rows.request.spoken, "21 CFR 701.2(b)(1)"
    if "en" not in spoken:
        return [rows.row("language", "missing", "English", law, do='add "en" to languages under [sale]')]
    found = [rows.row("language", "present", "English", law)]
    others = ", ".join(lang for lang in spoken if lang != "en")
    if others:
        said = f"the label speaks {others} too: all that US law requires must then stand in {others} as well"
        found.append(rows.row("language", "maker", said, "21 CFR 701.2(b)(2)"))
    return found


def _professional(rows: Rows) -> list[Element]:
    if not rows.request.product.professional:
        return []
    said = "does it say, clearly and prominently, that only licensed professionals may use it?"
    return [rows.row("professional use", "maker", said, "21 U.S.C. 364e(c)", "warnings")]


def canada_rows(request: WordingRequest, text: LabelText) -> list[Element]:
    """C.R.C., c. 869, C.R.C., c. 417 and the Consumer Packaging and Labelling Act, element by element."""
    rows = Rows("CA", request, text)
    none = "the tables ask for none: is there an avoidable hazard that directions for safe use would meet?"
    net_law = f"{LABELLING}, ss. 12, 21 to 27; {CPLA}, s. 4"
    return [
        *_ca_identity(rows),
        rows.carried("net quantity", "net", net_law, "the net quantity in metric", 'write net = "…" under [product]'),
        _place(rows, "dealer name and place of business", f"{CPLA}, s. 10(b); {LABELLING}, s. 13"),
        _ca_import(rows),
        rows.carried("ingredients", "ingredients", f"{COSMETICS}, s. 21.2", "the list of ingredients",
                     "write [[ingredient]] rows into the formula"),
        *rows.precautions(f"{COSMETICS}, ss. 22 to 28.3, 24", none, makers=True),
        _ca_contact(rows), _ca_language(rows),
    ]


def _ca_identity(rows: Rows) -> list[Element]:
    """The common or generic name or the function, in English and French."""
    law = f"{COSMETICS}, ss. 18, 20(b); {CPLA}, s. 10(b)"
    found = [rows.row("identity", "present", _identity(rows), law, _identity_block(rows))]
    return found + [
        rows.row("identity", "missing", f"the function in {lang}", law, "function",
                 f"write function under [product.text.{lang}]")
        for lang in rows.absent("function")
    ]


def _ca_import(rows: Rows) -> Element:
    """An import that states no origin says by or for whom it is imported."""
    element, law = "imported by", f"{LABELLING}, s. 31(2)"
    if rows.request.workshop.maker.country is None:
        return rows.row(element, "maker", "is it imported? then the label names the origin, or by or for whom", law,
                        "origin", "write country under [maker] of workshop.toml")
    if "CA" not in rows.request.imported:
        return rows.row(element, "not-needed", "made in Canada", law)
    origin = shown(rows.blocks("origin"))
    if origin:
        return rows.row(element, "not-needed", f"the origin is stated: {origin}", law, "origin")
    party, maker = party_of(rows.request, "CA")
    role = "" if party is None or maker else (party.role or "")
    if role.startswith("imported"):
        return _place(rows, element, law)
    return rows.row(element, "missing", "the origin, or by or for whom it is imported", law, "origin",
                    'write role = "imported by" under [responsible-person] CA, or country under [maker]')


def _ca_contact(rows: Rows) -> Element:
    """Any means to reach a contact person: telephone, e-mail, website or postal address."""
    element, law = "contact", f"{COSMETICS}, s. 20(a)"
    contact = rows.request.workshop.maker.contact
    party, _ = party_of(rows.request, "CA")
    if contact:
        return rows.row(element, "present", contact, law, "contact")
    if party is not None and party.address:
        return rows.row(element, "present", ", ".join(party.address), law, "responsible")
    return rows.row(element, "missing", "a telephone number, e-mail, website or postal address", law, "contact",
                    'write contact = "…" under [maker] of workshop.toml')


def _ca_language(rows: Rows) -> Element:
    lacks = [lang for lang in ("en", "fr") if lang not in rows.request.spoken]
    law = f"{COSMETICS}, s. 18; {LABELLING}, s. 6(2)"
    if not lacks:
        return rows.row("language", "present", "English and French", law)
    said = " and ".join({"en": "English", "fr": "French"}[lang] for lang in lacks)
    return rows.row("language", "missing", said, law, do='write languages = ["en", "fr"] under [sale]')
