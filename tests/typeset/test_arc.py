"""Names on a circle: every glyph on its tangent, in order, inside the label, and read back from the PDF."""

from __future__ import annotations

import math
from io import BytesIO

import pytest
from test_fit import ARTWORKS, STOCKS
from typeset_checks import faults
from typeset_samples import balm, lotion

from labeltool import tables
from labeltool.output.pdf import Placed, Sheet, write_pdf
from labeltool.raster import Pdf
from labeltool.readback.model import expect
from labeltool.readback.read import read_back
from labeltool.symbol.qr import matrix
from labeltool.typeset.fit import typeset
from labeltool.typeset.frame import TextRun
from labeltool.wording.model import Block, LabelText, QrContent

LID = STOCKS["a4-3x4-round-60"]
MM_PER_PT = 25.4 / 72


def lid(text: LabelText, on=LID):
    return typeset(text, ARTWORKS["round-lid"], on, matrix(text.qr.payload), tables.fonts())


def named(name: str) -> LabelText:
    blocks = (Block("brand", "Ottersholt"), Block("name", name), Block("net", "50 ml"))
    return LabelText(name, "260503A31", blocks, QrContent("260503A31"), ("UK",))


def curved(frame) -> list[TextRun]:
    return [item for item in frame.items if isinstance(item, TextRun) and item.block == "name"]


def middles(frame) -> list[tuple[float, float]]:
    """The middle of each glyph's advance on the baseline, from the label's centre, mm."""
    found = []
    for run in curved(frame):
        half = tables.fonts().of(run.weight).advance(run.text) * run.size_pt * MM_PER_PT / 2
        turn = math.radians(run.angle_deg)
        found.append((run.x_mm + half * math.cos(turn) - LID.label_mm[0] / 2,
                      run.y_mm + half * math.sin(turn) - LID.label_mm[1] / 2))
    return found


def test_every_glyph_stands_on_one_circle_and_on_its_tangent():
    frame = lid(lotion())
    radii = [math.hypot(x, y) for x, y in middles(frame)]
    assert len(radii) == len("OatMilkHandLotion")
    assert max(radii) - min(radii) < 0.001
    for run, (x, y) in zip(curved(frame), middles(frame), strict=True):
        assert run.angle_deg == pytest.approx(math.degrees(math.atan2(x, -y)), abs=0.01)


def test_glyphs_follow_each_other_by_their_advances_and_the_middle_is_on_top():
    frame = lid(lotion())
    runs, font = curved(frame), tables.fonts().semibold
    radius, size = math.hypot(*middles(frame)[0]), runs[0].size_pt * MM_PER_PT
    angles = [run.angle_deg for run in runs]
    text, at, wanted = "Oat Milk Hand Lotion", 0.0, []
    for char in text:
        wanted += [at + font.advance(char) / 2] if char != " " else []
        at += font.advance(char)
    for angle, place in zip(angles, wanted, strict=True):
        assert math.radians(angle) * radius == pytest.approx((place - at / 2) * size, abs=0.002)


def test_a_name_too_long_for_the_circle_stands_straight():
    frame = lid(named("Lactic and Oat Overnight Repair Lotion for Very Dry Hands and Elbows"))
    assert all(run.angle_deg == 0 for run in curved(frame))


def test_nothing_but_the_name_is_turned_and_the_frame_is_sound():
    for text in (lotion(), balm()):
        for name in ("a4-3x4-round-60", "a4-4x6-round-40", "roll-round-40-300dpi"):
            frame = lid(text, STOCKS[name])
            turned = {item.block for item in frame.items if isinstance(item, TextRun) and item.angle_deg}
            assert turned <= {"name"}
            assert faults(frame, text, ARTWORKS["round-lid"], STOCKS[name]) == []


def test_a_curved_name_reads_back_in_order_and_in_place():
    frame = lid(lotion())
    sheets = (Sheet(70, 70, (Placed(frame, 4, 5),)),)
    target = BytesIO()
    fonts = {tables.font_sha256(weight): tables.font_bytes(weight) for weight in tables.FONT_FILES}
    write_pdf(sheets, target, fonts=fonts, title="x", author="")
    found = read_back(target.getvalue(), expect(sheets))
    assert [item.text for item in found.findings if item.level == "error"] == []
    chars = [char for char in Pdf(target.getvalue()).chars(0) if char.text.strip()]
    for run, char in zip(curved(frame), chars, strict=False):
        assert char.text == run.text
        assert math.hypot(char.x_mm - 4 - run.x_mm, char.y_mm - 5 - run.y_mm) < 0.01
