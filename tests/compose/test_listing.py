from decimal import Decimal

import pytest

from labeltool.compose.listing import Entry, arranged, worded


def entry(name, nominal, last=False):
    return Entry(name, Decimal(str(nominal)), last)


def test_an_extra_name_of_one_percent_stands_by_weight_the_others_before_the_colorants():
    listed = [entry("Aqua", 90), entry("Parfum", 5), entry("Glycerin", "0.4"), entry("CI 77891", 4, True)]
    extras = [entry("Limonene", "1.2"), entry("Linalool", "0.9"), entry("Citral", "0.95")]
    assert arranged(listed, extras) == (
        "Aqua", "Parfum", "Limonene", "Glycerin", "Citral", "Linalool", "CI 77891",
    )


def test_exactly_one_percent_stands_by_weight():
    assert arranged([entry("Aqua", 99), entry("Glycerin", "0.5")], [entry("Limonene", 1)]) == (
        "Aqua", "Limonene", "Glycerin",
    )


def test_one_name_is_printed_once_with_its_sum():
    listed = [entry("Water", 40), entry("Silica", 35), entry("silica", 20), entry("Iron Oxides", 3, True),
              entry("Iron Oxides", 2, True)]
    assert arranged(listed, []) == ("Silica", "Water", "Iron Oxides")


@pytest.mark.parametrize(("markets", "text"), [
    # Art. 19(1)(g): "may contain" or "+/-"; 21 CFR 701.3(g): "may contain" only; C.R.C., c. 869, 21.2(2): "+/-", or
    # both languages
    (("EU",), "Aqua [+/- CI 77491, CI 77492]"),
    (("UK", "EU"), "Aqua [+/- CI 77491, CI 77492]"),
    (("CA",), "Aqua [+/- CI 77491, CI 77492]"),
    (("US",), "Aqua. May contain: CI 77491, CI 77492"),
    (("EU", "US"), "Aqua. May contain: CI 77491, CI 77492"),
    (("US", "CA"), "Aqua. May contain/Peut contenir: CI 77491, CI 77492"),
])
def test_may_contain_by_market(markets, text):
    assert worded(["Aqua"], ["CI 77491", "CI 77492"], markets) == text


def test_no_second_full_stop_and_no_empty_part():
    assert worded(["Aqua", "Alcohol Denat."], ["Mica"], ("US",)) == "Aqua, Alcohol Denat. May contain: Mica"
    assert worded([], ["Mica"], ("US",)) == "May contain: Mica"
    assert worded([], ["CI 77491"], ("EU",)) == "[+/- CI 77491]"
    assert worded(["1,2-Hexanediol", "Aqua"], [], ("EU",)) == "1,2-Hexanediol, Aqua"
