"""The table of words: every row sourced, and only settled words printed."""

import re

import pytest

from labeltool import tables
from labeltool.wording.request import EU_COUNTRIES
from labeltool.wording.words import Word, Words, words_of

TABLE = tables.toml("data", "words")


@pytest.mark.parametrize("row", TABLE["word"], ids=lambda row: f"{row['key']}-{row['lang']}")
def test_every_word_has_source_and_confidence(row: dict[str, str]) -> None:
    assert set(row) <= {"key", "lang", "text", "source", "confidence", "read_as"}
    assert row["source"]
    assert row["text"] == row["text"].strip() != ""
    assert re.fullmatch("[a-z]{2}", row["lang"])
    assert row["confidence"] in ("law", "practice", "memory")
    assert ("read_as" in row) == (row["confidence"] == "law")
    assert row.get("read_as", "quote") in ("regulation", "quote", "national")


def test_no_word_stands_twice_and_every_key_has_english() -> None:
    keys = [(row["key"], row["lang"]) for row in TABLE["word"]]
    assert len(set(keys)) == len(keys)
    assert all((key, "en") in keys for key, _ in keys)


def test_english_words_are_settled() -> None:
    words = words_of(TABLE)
    assert all(item.settled for (_, lang), item in words.rows.items() if lang == "en")


@pytest.mark.parametrize(("confidence", "read_as", "settled"), [
    ("law", "regulation", True), ("law", "quote", True), ("law", "national", False), ("law", None, False),
    ("practice", None, True), ("memory", None, False),
])
def test_what_may_be_printed(confidence: str, read_as: str | None, settled: bool) -> None:
    assert Word("k", "de", "t", "s", confidence, read_as).settled is settled


def test_countries_have_a_name_for_both_languages(words: Words) -> None:
    codes = [row["code"] for row in TABLE["country"]]
    assert len(set(codes)) == len(codes)
    assert set(codes) >= EU_COUNTRIES | {"GB", "US", "CA"}
    assert len(EU_COUNTRIES) == 27
    assert all(re.fullmatch("[A-Z]{2}", code) for code in codes)
    assert all(item.french and item.name and not item.name.startswith("the ") for item in words.countries.values())
    assert words.countries["NL"].after_in == "the Netherlands"


LABEL_LANGUAGES = ("de", "es", "it", "nl", "pl", "el")


@pytest.mark.parametrize("lang", LABEL_LANGUAGES)
def test_each_language_has_every_label_word_and_country(lang: str, words: Words) -> None:
    keys = {key for key, _ in words.rows} - {"ingredients", "net-weight", "made-in", "distributed-by", "made-for",
                                             "imported-by", "imported-for"}
    assert not [key for key in keys if words.word(key, lang) is None]
    assert not [item.code for item in words.countries.values() if lang not in dict(item.names)]


@pytest.mark.parametrize("weight", list(tables.FONT_FILES))
def test_the_face_has_every_letter_of_the_words(weight: str, words: Words) -> None:
    font = tables.fonts().of(weight)
    texts = [item.text for item in words.rows.values()]
    texts += [name for item in words.countries.values() for _, name in item.names]
    assert not {char for text in texts for char in text if not font.has(char)}


def test_countries_stand_in_other_languages(words: Words) -> None:
    """Unicode CLDR, territory names."""
    assert dict(words.countries["NO"].names)["de"] == "Norwegen"
    assert dict(words.countries["GB"].names)["el"] == "Ηνωμένο Βασίλειο"


def test_the_maker_s_words_come_first_and_are_settled(words: Words) -> None:
    own = words.with_own((("de", "batch", "Ch.-B."), ("ga", "batch", "Baisc")))
    found = own.word("batch", "de")
    assert found is not None and (found.text, found.settled, found.confidence) == ("Ch.-B.", True, "maker")
    assert own.text("batch", "ga") == "Baisc"
    assert own.text("directions", "de") == "Anwendung"


def test_a_word_that_a_language_lacks_is_english(words: Words) -> None:
    assert words.text("directions", "de") == "Anwendung"
    assert words.text("directions", "ga") == "Directions"
    assert words.word("directions", "ga") is None
    assert words.joined("batch", ("en", "sv", "fr"), "{}:") == "Batch: / Lot:"
