"""Widths and places of words as poppler reads them back from the PDF, against the Frame's, to 0.01 pt.

pdftotext -bbox gives each word's box in points from the advances in the embedded font's own tables.
"""

from __future__ import annotations

import re
import subprocess
from html import unescape

import pytest
from demo_labels import longest

from labeltool import tables
from labeltool.output.model import Placed, Sheet
from labeltool.output.pdf import write_pdf
from labeltool.symbol.qr import matrix
from labeltool.typeset.fit import typeset
from labeltool.typeset.frame import Frame, TextRun
from labeltool.workflow import layouts
from labeltool.workflow.design import find_artworks

FONTS = {tables.font_sha256(weight): tables.font_bytes(weight) for weight in tables.FONT_FILES}
WORD = re.compile(r'<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">(.*?)</word>')
POINTS = 72 / 25.4
TIE_PT = 0.01


def words_by_poppler(frame: Frame, folder) -> list[tuple[str, float, float]]:
    """(word, left, right) of every word of a page with this one label, points."""
    target = folder / "label.pdf"
    with target.open("wb") as stream:
        write_pdf([Sheet(frame.width_mm, frame.height_mm, (Placed(frame, 0, 0),))], stream, fonts=FONTS,
                  title="x", author="")
    out = subprocess.run(["pdftotext", "-bbox", target, "-"], capture_output=True, check=True)
    found = WORD.findall(out.stdout.decode())
    return [(unescape(text), float(left), float(right)) for left, right, text in found]


def words_of(frame: Frame) -> list[tuple[str, float, float]]:
    """The same from the Frame and the font metrics: each run cut at its spaces."""
    found = []
    for run in frame.items:
        if isinstance(run, TextRun):
            font, at = tables.fonts().of(run.weight), 0
            for part in re.finditer(r"\S+", run.text):
                at = font.width(run.text[:part.start()]) * run.size_pt + run.spacing_pt * part.start()
                wide = font.width(part.group()) * run.size_pt + run.spacing_pt * len(part.group())
                left = run.x_mm * POINTS + at
                found.append((part.group(), left, left + wide))
    return found


@pytest.mark.parametrize(("stock", "artwork"), [
    ("a4-2x4-99.1x67.7", "back"), ("letter-2x3-101.6x84.6", "front-and-back"), ("roll-102x152-203dpi", "back"),
    ("a4-1x4-190x60", "wrap"),
])
def test_words_are_drawn_as_wide_and_where_the_frame_says(stock, artwork, tmp_path):
    text = longest()
    frame = typeset(text, find_artworks((artwork,), None)[0], layouts.stock(stock, None), matrix(text.qr.payload),
                    tables.fonts())
    drawn = words_by_poppler(frame, tmp_path)
    alike = 0
    for word, left, right in words_of(frame):
        near = [item for item in drawn if item[0] == word and abs(item[1] - left) < TIE_PT]
        if near:
            alike += any(abs(item[2] - right) < TIE_PT for item in near)
    assert len(drawn) > 100
    assert alike >= 0.9 * len(drawn)
