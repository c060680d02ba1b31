import pytest

from labeltool.coding.scanned import codes_in, same_link


@pytest.mark.parametrize(("payload", "first"), [
    ("260503A31", "260503A31"),
    (" 260503a31 ", "260503a31"),
    ("HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31", "260503A31"),
    ("http://ottersholt.example/B/260503A31/", "260503A31"),
    ("https://ottersholt.example/B/260503A31?x=1#y", "260503A31"),
    ("https://id.ottersholt.example/01/09520123456788/10/260503A31?17=280101", "260503A31"),
    ("https://id.ottersholt.example/01/09520123456788/22/2A/10/26%2D05/21/7", "26-05"),
    ("(01)09520123456788(10)260503A31", "260503A31"),
])
def test_likeliest_code_comes_first(payload, first):
    assert codes_in(payload)[0] == first


def test_a_key_behind_the_code_leaves_the_code_to_be_tried():
    assert codes_in("https://ottersholt.example/B/260503A31/K7MW2XQR") == ("K7MW2XQR", "260503A31", "B")


@pytest.mark.parametrize("payload", ["", "://", "https://[", "https:///", "\x00", "/10/", "a" * 100_000])
def test_odd_payloads_are_taken_apart_without_fault(payload):
    assert all(codes_in(payload))


@pytest.mark.parametrize(("one", "other", "same"), [
    ("HTTPS://A.EXAMPLE/B/1", "https://a.example/B/1", True), ("http://a.example/B/1/", "https://A.example/B/1", True),
    ("https://a.example/b/1", "https://a.example/B/1", False),
    ("https://a.example/B/1", "https://c.example/B/1", False),
    ("260503A31", "260503A31", True), ("260503A31", "260503B28", False), ("ftp://a/1", "https://a/1", False),
])
def test_links_that_differ_only_in_spelling_are_the_same(one, other, same):
    assert same_link(one, other) is same
