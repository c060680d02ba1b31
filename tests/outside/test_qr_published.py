"""The QR encoder against ISO/IEC 18004 figures as published, and against an encoder that nobody here wrote.

Capacities: ISO/IEC 18004:2015 table 7, versions 1 to 10. Mask scores: the errata note on ISO/IEC 18004:2024.
"""

import random

import pytest
import segno
from qrcode import util
from qrcode.main import QRCode
from segno import consts, encoder

from labeltool.symbol.penalty import score, terms
from labeltool.symbol.qr import ALPHANUMERIC, capacity, mask_scores, matrix, mode_of

CAPACITY = {  # alphanumeric/byte at L, M, Q, H
    1: "25/17 20/14 16/11 10/7", 2: "47/32 38/26 29/20 20/14", 3: "77/53 61/42 47/32 35/24",
    4: "114/78 90/62 67/46 50/34", 5: "154/106 122/84 87/60 64/44", 6: "195/134 154/106 108/74 84/58",
    7: "224/154 178/122 125/86 93/64", 8: "279/192 221/152 157/108 122/84",
    9: "335/230 262/180 189/130 143/98", 10: "395/271 311/213 221/151 174/119",
}
SCORES = {
    ("QR Code Symbol", 1): (1219, 1195, 1189, 1182, 1142, 1107, 1116, 1198),
    ("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", 4):
        (1672, 1684, 1568, 1402, 1416, 1690, 1598, 1624),
}
NUMERIC_SCORES = (1153, 1250, 1160, 1128, 1214, 1243, 1153, 1133)


@pytest.mark.parametrize("version", CAPACITY)
def test_capacities_are_those_of_table_7(version):
    for level, pair in zip("LMQH", CAPACITY[version].split(), strict=True):
        alphanumeric, byte = map(int, pair.split("/"))
        assert capacity(version, level, "alphanumeric") == alphanumeric
        assert capacity(version, level, "byte") == byte


def test_capacities_of_all_versions_are_those_of_another_encoder():
    levels = {letter: getattr(consts, f"ERROR_LEVEL_{letter}") for letter in "LMQH"}
    for version in range(1, 41):
        for level, code in levels.items():
            bits = consts.SYMBOL_CAPACITY[version][code]
            count = 8 if version < 10 else 16
            assert capacity(version, level, "byte") == (bits - 4 - count) // 8


@pytest.mark.parametrize("version", [9, 10, 26, 27, 40])
def test_alphanumeric_capacity_is_just_what_another_encoder_fits(version):
    for level in "LMQH":
        most = capacity(version, level, "alphanumeric")
        assert segno.make("A" * most, version=version, error=level, boost_error=False).version == version
        with pytest.raises(segno.DataOverflowError):
            segno.make("A" * (most + 1), version=version, error=level, boost_error=False)


@pytest.mark.parametrize("case", SCORES)
def test_mask_scores_are_the_published_ones(case):
    assert mask_scores(case[0], case[1], "M") == SCORES[case]


def test_mask_scores_and_terms_of_a_numeric_symbol_are_the_published_ones():
    code = QRCode(version=1, error_correction=0, border=0)
    code.add_data(util.QRData(b"01234567", mode=util.MODE_NUMBER))
    masks = []
    for mask in range(8):
        code.makeImpl(True, mask)
        masks.append(["".join("1" if cell else "0" for cell in row) for row in code.modules])
    assert tuple(score(rows) for rows in masks) == NUMERIC_SCORES
    assert terms(masks[3]) == (216, 192, 720, 0)
    assert terms(masks[0]) == (182, 171, 800, 0)
    assert terms(masks[5]) == (245, 228, 760, 10)


def payloads():
    """300 payloads, half of them in the alphanumeric set, 1 to 110 characters."""
    chance = random.Random(18004)
    capitals = sorted(ALPHANUMERIC)
    ascii_text = [chr(code) for code in range(0x20, 0x7F)]
    for number in range(300):
        yield "".join(chance.choices(capitals if number % 2 else ascii_text, k=chance.randint(1, 110)))


@pytest.fixture()
def padding_of_the_standard(monkeypatch):
    """segno 1.6 adds a zero codeword where the data already ends on a byte, against ISO/IEC 18004:2015, 7.4.10."""
    monkeypatch.setattr(encoder, "write_padding_bits", lambda buff, version, length: buff.extend([0] * (-length % 8)))


def test_matrix_is_the_one_another_encoder_draws(padding_of_the_standard):
    seen = set()
    for payload in payloads():
        ours = matrix(payload)
        other = segno.make(payload, version=ours.version, error=ours.level, mode=mode_of(payload),
                           boost_error=False, micro=False, encoding="iso-8859-1")
        assert tuple("".join(map(str, row)) for row in other.matrix) == ours.rows, payload
        assert (other.version, other.error, other.mask) == (ours.version, ours.level, ours.mask)
        seen.add((ours.level, mode_of(payload)))
    assert len(seen) == 6


def test_smallest_version_at_m_is_the_one_another_encoder_takes():
    for payload in payloads():
        other = segno.make(payload, error="M", mode=mode_of(payload), micro=False, encoding="iso-8859-1")
        assert (other.version, other.error) == (matrix(payload).version, matrix(payload).level)
