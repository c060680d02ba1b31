from __future__ import annotations

import pytest

from labeltool import tables
from labeltool.rules.words import first, hits, pattern, plain


@pytest.mark.parametrize(
    ("phrase", "text", "meets"),
    [
        ("cure", "cures eczema", False),
        ("cure*", "cures eczema", True),
        ("cure", "a manicure at home", False),
        ("cure", "secure lid", False),
        ("heal*", "healing balm", True),
        ("heal*", "wheal", False),
        ("soap-free", "soap free wash", True),
        ("body wash", "body-wash", True),
        ("body wash", "bodywash", False),
        ("spf*", "spf30", True),
        ("100 % natural", "100 % natural oils", True),
        ("athlete's foot", "for athlete\u2019s foot", True),
    ],
)
def test_phrases_meet_whole_words(phrase, text, meets):
    assert bool(pattern(phrase).search(plain(text))) is meets


def test_an_excluded_phrase_covers_its_hit_and_no_other():
    assert first(("soap",), "a soap-free wash", ("soap-free",)) is None
    found = first(("soap",), "soap-free, with olive soap", ("soap-free",))
    assert found is not None and found.start() == 22


def test_plain_puts_dashes_quotes_case_and_spaces_in_one_spelling():
    assert plain("  Soap\u2011Free\u00a0 \u2019A\u2019 ") == "soap-free 'a'"


def test_no_phrase_of_the_tables_is_ruled_out_where_it_stands():
    table = tables.toml("rules", "claims")
    phrases = {word for kind in ("disease", "verb", "phrase") for row in table[kind]
               for key in ("words", "soft", "unless") for word in row.get(key, ())}
    for phrase in phrases | set(table["cautions"]) | set(table["disclaimers"]):
        for said in (phrase.replace("*", ""), phrase.replace("*", "xyz"), phrase.upper().replace("*", "")):
            assert list(hits((phrase,), plain(f"so {said}, here"))), phrase
