import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.errors import InputError
from labeltool.symbol.qr import LEVELS, capacity, mask_scores, matrix, mode_of, symbol_for

LINK = "HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31"
ASCII = st.text(st.characters(min_codepoint=0x20, max_codepoint=0x7E), min_size=1, max_size=120)


def test_link_in_capitals_of_38_characters_keeps_version_2_at_m():
    symbol = matrix(LINK)
    assert (len(LINK), symbol.version, symbol.level, symbol.size) == (38, 2, "M", 25)


def test_same_link_as_bytes_needs_version_3():
    assert symbol_for(LINK.lower()) == (3, "M")


def test_higher_level_is_taken_where_the_version_stays():
    assert symbol_for("A" * 29) == (2, "Q")
    assert symbol_for("a" * 29) == (3, "Q")
    assert symbol_for("260503A31") == (1, "H")


def test_one_lower_case_letter_makes_the_whole_payload_bytes():
    assert mode_of("ABC/123") == "alphanumeric"
    assert mode_of("ABC/123a") == "byte"
    assert mode_of("ABC?X") == "byte"


def test_matrix_is_square_of_zeros_and_ones_with_three_finders():
    rows = matrix(LINK).rows
    assert all(len(row) == len(rows) and set(row) <= {"0", "1"} for row in rows)
    assert rows[0][:7] == rows[0][-7:] == rows[-1][:7] == "1111111"
    assert rows[-8][8] == "1"


def test_mask_is_the_lowest_score_and_the_first_of_equals():
    symbol = matrix(LINK)
    scores = mask_scores(LINK, symbol.version, symbol.level)
    assert symbol.mask == scores.index(min(scores))


@pytest.mark.parametrize("payload, rule", [
    ("", "symbol.qr-empty"),
    ("caf\u00e9", "symbol.qr-ascii"),
    ("A\nB", "symbol.qr-ascii"),
    ("A\x7f", "symbol.qr-ascii"),
    ("a" * 2332, "symbol.qr-too-long"),
    ("A" * 3392, "symbol.qr-too-long"),
])
def test_payload_that_no_symbol_holds_is_refused(payload, rule):
    with pytest.raises(InputError) as caught:
        matrix(payload)
    assert [item.rule for item in caught.value.findings] == [rule]


def test_longest_payloads_fit_version_40():
    assert symbol_for("a" * 2331) == (40, "M")
    assert symbol_for("A" * 3391) == (40, "M")


@given(ASCII)
def test_version_below_would_not_hold_it_at_m_and_level_above_not_in_the_version(payload):
    version, level = symbol_for(payload)
    mode = mode_of(payload)
    assert capacity(version, level, mode) >= len(payload)
    assert version == 1 or capacity(version - 1, "M", mode) < len(payload)
    better = LEVELS[LEVELS.index(level) + 1:]
    assert all(capacity(version, item, mode) < len(payload) for item in better)
