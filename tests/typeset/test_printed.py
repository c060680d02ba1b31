"""Words as printed: joined lines, headings, capitals."""

from __future__ import annotations

from test_fit import ARTWORKS, STOCKS
from typeset_samples import lotion, three_markets

from labeltool import tables
from labeltool.symbol.qr import matrix
from labeltool.typeset.fit import typeset
from labeltool.typeset.frame import TextRun
from labeltool.typeset.printed import capitals, lines_of, printed_heading, printed_text
from labeltool.wording.model import Block, LabelText, QrContent

FONTS = tables.fonts()


def test_claims_stand_one_a_line_and_addresses_in_one():
    claims = Block("claims", "With oats\nWithout colour")
    assert lines_of(claims, "") == ("With oats", "Without colour")
    assert printed_text(claims) == "With oats\nWithout colour"
    assert lines_of(Block("responsible", "A\nB"), "EU:") == ("EU: A, B",)


def test_headings_are_capitals_only_on_heavy_running_text():
    caution = Block("warnings", "Hot.", "Caution:")
    assert printed_heading(caution, "regular", FONTS) == "Caution:"
    assert printed_heading(caution, "medium", FONTS) == printed_heading(caution, "semibold", FONTS) == "CAUTION:"
    assert printed_heading(Block("date", "10/2027", "Best used before the end of"), "semibold", FONTS)[:4] == "Best"


def test_capitals_of_greek_bear_no_accent_and_others_keep_theirs():
    assert capitals("Προσοχή:") == "ΠΡΟΣΟΧΗ:"
    assert capitals("Précautions :") == "PRÉCAUTIONS :"
    assert capitals("Größe") == "GRÖSSE"


def test_a_heading_the_face_has_no_capitals_for_stays():
    assert printed_heading(Block("warnings", "x", "ꭰ:"), "semibold", FONTS) in ("ꭰ:", "Ꭰ:")
    assert printed_heading(Block("warnings", "x", "ΐ:"), "semibold", FONTS).startswith(("ΐ", "Ϊ"))


def test_the_set_label_says_its_headings_as_printed():
    roll = STOCKS["roll-57x32-203dpi"]
    text = LabelText("x", "A", (Block("name", "Balm"), Block("warnings", "Keep dry.", "Caution:"),
                                Block("ingredients", "Cera Alba, Mel", "Ingredients:")), QrContent("A"), ("UK",))
    short = tuple(item for item in lotion(8).blocks if item.name not in ("warnings", "responsible"))
    small = typeset(LabelText("x", "A", short, QrContent("A"), ("UK",)), ARTWORKS["back"], roll, matrix("A"), FONTS)
    assert dict(small.words)["ingredients"].startswith("INGREDIENTS: Aqua")
    spaced = [item for item in small.items if isinstance(item, TextRun) and item.text.startswith("INGREDIENTS")]
    assert spaced and all(0.03 < item.spacing_pt / item.size_pt < 0.06 for item in spaced)
    large = typeset(text, ARTWORKS["back"], STOCKS["roll-102x152-203dpi"], matrix("A"), FONTS)
    assert dict(large.words)["warnings"] == "Caution: Keep dry."


def test_what_follows_an_address_begins_a_line():
    found = typeset(three_markets(), ARTWORKS["back"], STOCKS["a4-2x2-99.1x139"], matrix("A"), FONTS)
    rows = {block: {item.y_mm for item in found.items if isinstance(item, TextRun) and item.block == block}
            for block in ("responsible", "origin")}
    assert not rows["responsible"] & rows["origin"]
