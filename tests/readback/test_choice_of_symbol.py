"""The symbol that is chosen has the best predicted grade: module, level and mask against all others."""

import pytest
from drawn_symbols import LINK, RULES

from labeltool import tables
from labeltool.readback.quality.codewords import Repair
from labeltool.readback.quality.model import Known
from labeltool.readback.quality.predict import dots_of, predicted
from labeltool.readback.quality.press import INCH_MM, Press, press_of
from labeltool.symbol.qr import LEVELS, blocks, capacity, mask_scores, matrix, mode_of
from labeltool.typeset.artmodel import Artwork
from labeltool.typeset.qrspot import dot_choices
from labeltool.workflow.layouts import artwork_names, stocks

TABLE = tables.toml("readback", "presses")
STOCKS = stocks(None)
KINDS = {(item.medium, item.face, item.dpi): item for item in STOCKS.values() if item.face == "white"}
PAYLOADS = (LINK, "https://ottersholt.example/b/260503A31/", "260503A31")


def of(qr, dots, dpi, press, rows=None):
    rows = rows or qr.rows
    made, seat = dots_of(rows, dots, INCH_MM / dpi, 4)
    known = Known(rows, qr.version, qr.level, blocks(qr.version, qr.level))
    return predicted(made, seat, known, press, RULES)


@pytest.mark.parametrize("kind", KINDS, ids=str)
def test_every_module_that_a_white_stock_is_tried_with_is_predicted_a(kind):
    item = KINDS[kind]
    press = press_of(TABLE, item.medium, item.face)
    dots = dot_choices(item, Artwork.__dataclass_fields__["module_mm"].default)
    grades = [of(matrix(LINK), count, item.dpi, press).value for count in dots]
    assert min(grades) >= 3.5
    assert grades == sorted(grades, reverse=True)  # the wished first: no smaller one is better
    assert of(matrix(LINK), dots[0] + 2, item.dpi, press).value <= grades[0]  # and no larger one


def test_artworks_and_stocks_are_those_that_ship():
    assert len(KINDS) >= 3 and len(artwork_names(None)) >= 5


@pytest.mark.parametrize("payload", PAYLOADS)
def test_the_level_is_the_highest_that_keeps_the_smallest_version(payload):
    qr = matrix(payload)
    higher = LEVELS[LEVELS.index(qr.level) + 1:]
    assert LEVELS.index(qr.level) >= LEVELS.index("M")
    assert not any(capacity(qr.version, level, mode_of(payload)) >= len(payload) for level in higher)
    assert qr.version == 1 or capacity(qr.version - 1, "M", mode_of(payload)) < len(payload)


def test_a_higher_level_bears_more_damage():
    spare = [sum(Repair.of(Known((), 3, level, blocks(3, level)), RULES).spare) for level in LEVELS]
    assert spare == sorted(spare)


@pytest.mark.parametrize("press", [Press((0.05, 0.05), 0.03, 0.85, 0.05), Press((0.055, 0.055), 0.05, 0.85, 0.05)])
def test_no_other_mask_has_a_better_predicted_grade(press):
    qr = matrix(LINK)
    grades = [of(qr, 4, 300, press, masked(qr, mask)).value for mask in range(8)]
    assert grades[qr.mask] == max(grades)
    scores = mask_scores(LINK, qr.version, qr.level)
    assert scores[qr.mask] == min(scores)


def masked(qr, mask):
    """The same payload with another mask, drawn by the library itself."""
    from qrcode import constants, util
    from qrcode.main import QRCode

    made = QRCode(version=qr.version, error_correction=constants.ERROR_CORRECT_M, border=0, mask_pattern=mask)
    assert qr.level == "M"
    made.add_data(util.QRData(qr.payload.encode(), mode=util.MODE_ALPHA_NUM), optimize=0)
    made.make(fit=False)
    return tuple("".join("1" if cell else "0" for cell in row) for row in made.modules)
