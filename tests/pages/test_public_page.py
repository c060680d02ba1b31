"""The public page: what it says, in which languages, and that whatever it is given stays words."""

import base64
import hashlib
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from page_samples import TEMPLATES, WORDS, Read, html, page

from labeltool.pages.model import Listed, Said
from labeltool.pages.public import contact_link, index_html, link_to, title_of
from labeltool.pages.words import page_words

LANGUAGES = ("en", "fr", "de", "es", "it", "nl", "pl", "el")


def test_it_says_what_anybody_may_know() -> None:
    text = Read(html()).text
    for part in ("Oat Milk Hand Lotion", "Hand lotion", "260503 A 31", "Made on 2026-05-03",
                 "Best before the end of 10/2027", "After opening 6 months", "Caution Avoid contact with eyes.",
                 "Ingredients Aqua, Parfum, Linalool", "Fragrance allergens among them Linalool",
                 "If your skin reacts", "care@ottersholt.example", "Ottersholt Bodycare, 3 Example Yard"):
        assert part in text


def test_several_markets_have_their_lists_named() -> None:
    text = Read(html(lists=(Listed("Aqua", ("UK", "EU")), Listed("Water", ("US",))))).text
    assert "UK, EU: Aqua US: Water" in text


def test_a_day_is_no_month_end() -> None:
    assert "Best before 03/11/2026" in Read(html(best_before="03/11/2026", with_day=True)).text
    assert "Best before" not in Read(html(best_before="")).text


def test_what_is_not_there_leaves_no_heading() -> None:
    text = Read(html(lists=(), allergens=(), warnings=(), directions=(), responsible=(), opening=None, net=())).text
    for heading in ("Ingredients", "allergens", "Caution", "Directions", "Who answers", "After opening", "Contents"):
        assert heading not in text


@pytest.mark.parametrize(("state", "words"), [
    ("withdrawn", "Withdrawn from sale"), ("recalled", "Recalled: do not use"),
])
def test_a_batch_taken_back_says_so_before_all_else(state: str, words: str) -> None:
    text = Read(html(state=state, since="2026-06-01")).text
    places = [text.index(part) for part in (words, "care@ottersholt.example", "2026-06-01", "Ottersholt")]
    assert places == sorted(places)
    assert words not in Read(html()).text


class TestLanguages:
    @pytest.mark.parametrize("key", sorted(WORDS))
    def test_every_word_stands_in_every_language(self, key: str) -> None:
        assert set(WORDS[key]) == set(LANGUAGES)
        assert all(text.strip() == text and text for text in WORDS[key].values())
        assert all(("{}" in text) == (key == "months") for text in WORDS[key].values())

    @pytest.mark.parametrize("lang", LANGUAGES)
    def test_a_label_in_one_language_has_a_page_in_it(self, lang: str) -> None:
        read = Read(html(languages=(lang,), state="recalled", since="2026-06-01"))
        assert read.attributes("html", "lang") == [lang]
        for key in ("recalled", "recalled-text", "batch", "made", "report-text"):
            assert WORDS[key][lang] in read.text
        if lang != "en":
            assert WORDS["report-text"]["en"] not in read.text

    def test_two_languages_stand_side_by_side_each_marked(self) -> None:
        read = Read(html(languages=("en", "fr"), directions=(Said("Apply.", "en"), Said("Appliquer.", "fr"))))
        assert "Made on Fabriqué le 2026" in read.text
        assert "fr" in read.attributes("span", "lang") and read.attributes("p", "lang") == ["fr", "fr"]
        assert WORDS["report-text"]["en"] in read.text and WORDS["report-text"]["fr"] in read.text

    def test_a_language_without_words_of_the_page_gets_english_around_it(self) -> None:
        read = Read(html(languages=("sv",), names=(Said("Havrelotion", "sv"),)))
        assert read.attributes("html", "lang") == ["en"]
        assert read.attributes("h1", "lang") == ["sv"]
        assert "Batch code" in read.text

    def test_the_same_word_in_two_languages_stands_once(self) -> None:
        words = page_words({"batch": {"en": "Lot", "fr": "Lot"}}, ("en", "fr"))
        assert [item.text for item in words.said("batch")] == ["Lot"]

    def test_one_month_is_not_many(self) -> None:
        assert "After opening 1 month C" in Read(html(opening=1)).text


class TestNothingFromOutside:
    def test_no_script_and_no_address_of_another_host(self) -> None:
        text = html(state="recalled", since="2026-06-01")
        assert set(re.findall(r"(?:src|href)=\"([^\"]*)\"", text)) == {
            "data:,", "mailto:care@ottersholt.example?subject=260503A31"}
        assert "<script" not in text and "url(" not in text and "@import" not in text and "http" not in (
            text.replace("http-equiv", ""))

    def test_the_policy_allows_the_pages_own_style_and_nothing_else(self) -> None:
        text = html()
        (policy,) = Read(text).attributes("meta", "content")[:1]
        style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)
        assert style
        digest = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
        assert policy == (f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; "
                          "form-action 'none'")

    def test_search_engines_are_asked_to_stay_away(self) -> None:
        assert "noindex, nofollow" in Read(html()).attributes("meta", "content")

    def test_it_is_small(self) -> None:
        assert len(html().encode()) < 8_000


class TestContact:
    @pytest.mark.parametrize(("contact", "link"), [
        ("care@ottersholt.example", "mailto:care@ottersholt.example?subject=C1"),
        ("a+b@x.example", "mailto:a%2Bb@x.example?subject=C1"),
        ("a?cc=z@x.example", "mailto:a%3Fcc%3Dz@x.example?subject=C1"),
        ("https://ottersholt.example/report?x=1", "https://ottersholt.example/report?x=1"),
        ("+44 1632 960 001", "tel:+441632960001"),
        ("(01632) 960001", None),
    ])
    def test_it_leads_where_it_says(self, contact: str, link: str | None) -> None:
        assert contact_link(contact, "C1") == link

    @pytest.mark.parametrize("contact", [
        "javascript:alert(1)", "http://x.example", "//x.example", "https://a.example@evil.example/", "Ring the bell",
        "data:text/html,x", "a@b", "a@b.example\nbcc:x@y.example", "https://x.example/\"onclick=", "", "vbscript:x",
        "HTTPS://x.example/<script>", "1",
    ])
    def test_other_words_stay_words(self, contact: str) -> None:
        assert contact_link(contact, "C1") is None
        Read(html(contact=contact))


def test_a_long_name_is_cut_in_the_title_alone() -> None:
    assert title_of("x" * 5000, "C1") == f"{'x' * 90}…, C1"
    assert "x" * 5000 in Read(html(names=(Said("x" * 5000),))).text


NASTY = st.text(max_size=80) | st.sampled_from([
    "<script>alert(1)</script>", "\" onload=\"x", "' onload='x", "</title><script>", "</style><b>", "&lt;b&gt;&#60;",
    "{{ 7*7 }}", "{% raw %}", "<!--", "]]>", "\u202etxt", "a\0b", "\ud800", "\ufffe", "\x1b[31m",
    "<img src=x onerror=y>",
])
FORBIDDEN = re.compile("[\0-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")


def filled_with(one: str, other: str) -> str:
    said = (Said(one, "en", other),)
    return html(product=one, names=said, functions=said, brand=other, net=(one,), best_before=other,
                lists=(Listed(one, ("UK",)),), allergens=(Listed(other, ("UK",)),), warnings=said, directions=said,
                contact=f"!{one}", responsible=said, origin=said)


@given(NASTY, NASTY)
def test_whatever_is_given_stays_words(one: str, other: str) -> None:
    """The elements and attributes are the same as with plain words, and no sign is left that HTML forbids."""
    text = filled_with(f"w{one}", f"w{other}")
    assert Read(text).elements == Read(filled_with("w", "w")).elements
    assert not FORBIDDEN.search(text)
    text.encode()


class TestIndex:
    def test_it_lists_the_latest_first_with_links_that_open_from_it(self) -> None:
        old = page(code="260401A01", made=page().made.replace(month=4), state="withdrawn", since="2026-06-01")
        read = Read(index_html([("B/260401A01/index.html", old), ("B/x é/index.html", page())], TEMPLATES, WORDS))
        assert read.attributes("a", "href") == ["B/x%20%C3%A9/", "B/260401A01/"]
        assert "Withdrawn from sale" in read.text

    def test_a_file_with_a_name_keeps_it(self) -> None:
        assert link_to("B/X.html") == "B/X.html"
