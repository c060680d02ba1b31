"""Warnings: order, no doubles, letters of the law kept, good practice by product, languages."""

import datetime as dt
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool import tables
from labeltool.compose.model import MarketDeclaration
from labeltool.formula.model import Product, ProductText, Workshop
from labeltool.rules.model import WarningAdvice
from labeltool.wording.build import WordingRequest
from labeltool.wording.cautions import general, lacking, sentences, spoken, warning_findings
from labeltool.wording.minimums import US_WARNING
from labeltool.wording.model import Block, LabelText
from labeltool.wording.words import Words, words_of

Make = Callable[..., WordingRequest]
Label = Callable[..., LabelText]

EYES = WarningAdvice("Avoid contact with eyes", "EU", "Annex III/2a", "Thioglycolic Acid", "law")
AMMONIA = WarningAdvice("Contains ammonia", "EU", "Annex III/4", "Ammonia", "law")
SUN = WarningAdvice(
    "Sunburn Alert: This product contains an alpha hydroxy acid (AHA)", "US", "FDA guidance", "Lactic Acid", "law"
)
SPRAY = WarningAdvice("Warning—Avoid spraying in eyes.", "US", "21 CFR 740.11", "aerosol", "law")


def warnings(label: LabelText) -> list[Block]:
    return [block for block in label.blocks if block.name == "warnings"]


@pytest.mark.parametrize(("facts", "keys"), [
    ({"use": "leave-on", "body_area": ("hands",)}, ("external-use", "avoid-eyes", "irritation", "children")),
    ({}, ("external-use", "avoid-eyes", "irritation", "children")),
    ({"use": "leave-on", "body_area": ("eyes",)}, ("irritation", "children")),
    ({"use": "leave-on", "body_area": ("face", "eyes")}, ("irritation", "children")),
    ({"use": "leave-on", "body_area": ("lips",), "form": "balm"}, ("irritation",)),
    ({"use": "leave-on", "body_area": ("lips", "face"), "form": "balm"}, ("avoid-eyes", "irritation", "children")),
    ({"use": "rinse-off", "body_area": ("mouth",)}, ("irritation",)),
    ({"use": "leave-on", "body_area": ("nails",)}, ("external-use", "irritation", "children")),
    ({"use": "rinse-off", "body_area": ("hair",)}, ("rinse-eyes", "irritation", "children")),
    ({"use": "rinse-off", "body_area": ("hair",), "form": "bar"}, ("rinse-eyes", "irritation")),
    ({"use": "leave-on", "body_area": ("body",), "users": ("under-3",)}, ("external-use", "avoid-eyes", "irritation")),
    ({"use": "leave-on", "body_area": ("hands",), "professional": True},
     ("professional", "external-use", "avoid-eyes", "irritation", "children")),
])
def test_good_practice_by_product(facts: dict[str, object], keys: tuple[str, ...]) -> None:
    assert general(Product("x", **facts)) == keys  # type: ignore[arg-type]


def test_the_law_comes_first_then_the_maker_then_practice(label: Label) -> None:
    found = warnings(label(markets=("EU",), warnings=(AMMONIA,), product={"warnings": ("May stain cloth",)}))
    assert [block.text for block in found] == [
        "Contains ammonia. May stain cloth. For external use only. Avoid contact with eyes. "
        "Stop using if irritation occurs. Keep out of reach of children."
    ]
    assert found[0].heading == "Caution:"


@pytest.mark.parametrize(("own", "gone"), [
    ("Not for internal use: external use only.", "For external use only."),
    ("Keep away from your eyes.", "Avoid contact with eyes."),
    ("Discontinue if a rash appears.", "Stop using if irritation occurs."),
    ("KEEP OUT OF REACH OF CHILDREN", "Keep out of reach of children."),
])
def test_nothing_is_said_twice(own: str, gone: str, label: Label) -> None:
    text = warnings(label(product={"warnings": (own, own.upper(), f" {own}. ")}))[0].text
    assert gone not in text
    assert text.casefold().count(own.casefold().rstrip(".")) == 1


def test_another_sentence_about_irritated_skin_is_not_the_same(label: Label) -> None:
    text = warnings(label(product={"warnings": ("Not for use on broken or irritated skin.",)}))[0].text
    assert "Stop using if irritation occurs." in text


def test_a_text_of_law_said_for_two_markets_stands_once(label: Label) -> None:
    twice = (EYES, WarningAdvice("Avoid contact with eyes.", "UK", "Annex III/2a", "Thioglycolic Acid", "law"))
    assert warnings(label(markets=("UK", "EU"), warnings=twice))[0].text.count("Avoid contact with eyes") == 1


def test_letters_of_the_law_are_kept_whole(label: Label) -> None:
    found = warnings(label(markets=("US",), workshop={}, warnings=(SUN, SPRAY)))
    said = [f"{block.heading} {block.text}".strip() for block in found]
    assert SUN.text in said
    assert SPRAY.text in said
    assert SPRAY.text in [block.heading for block in found], "21 CFR 740.2(a): bold type"
    assert [US_WARNING in block.minimums for block in found] == [True, True, False]


def test_us_texts_are_tall_and_others_need_not_be(label: Label) -> None:
    found = warnings(label(markets=("UK", "US"), warnings=(SUN,)))
    assert [US_WARNING in block.minimums for block in found] == [True, False]


def test_a_text_without_signal_word_makes_its_whole_block_tall(label: Label) -> None:
    plain = WarningAdvice("Contains an ingredient", "US", "21 CFR 740", "x", "law")
    assert US_WARNING in warnings(label(markets=("US",), warnings=(plain,)))[0].minimums


def test_a_market_that_is_not_served_brings_no_warning(label: Label) -> None:
    assert "ammonia" not in warnings(label(markets=("UK",), warnings=(AMMONIA,)))[0].text


def test_a_proposed_text_is_not_printed_but_said(make: Make, words: Words, label: Label) -> None:
    idea = WarningAdvice("Contains Retinol", "CA", "Hotlist", "Retinol", "memory", required=False)
    assert "Retinol" not in warnings(label(markets=("CA",), warnings=(idea,)))[0].text
    request = make(markets=("CA",), warnings=(idea,))
    found = [item for item in warning_findings(request, words) if item.rule == "warnings.proposed"]
    assert [(item.level, item.confidence) for item in found] == [("warning", "memory")]
    assert "not checked" in found[0].text
    adopted = make(markets=("CA",), warnings=(idea,), product={"warnings": ("Contains retinol.",)})
    assert not [item for item in warning_findings(adopted, words) if item.rule == "warnings.proposed"]


class TestLanguages:
    german = WarningAdvice("Kontakt mit den Augen vermeiden", "EU", "Annex III/2a", "Thioglycolic Acid", "law", "de")

    def test_each_language_has_its_block(self, label: Label) -> None:
        found = warnings(label(markets=("EU",), workshop={"languages": ("en", "de")}, warnings=(EYES, self.german)))
        assert [(block.lang, block.heading) for block in found] == [("en", "Caution:"), ("de", "Vorsicht:")]
        assert found[1].text.startswith("Kontakt mit den Augen vermeiden.")

    def test_practice_speaks_in_every_language_that_has_checked_words(self, label: Label) -> None:
        found = warnings(label(markets=("EU",), workshop={"languages": ("en", "de")}))
        assert [block.text for block in found] == [
            "For external use only. Avoid contact with eyes. Stop using if irritation occurs. "
            "Keep out of reach of children.",
            "Kontakt mit den Augen vermeiden. Außer Reichweite von Kindern aufbewahren.",
        ]

    def test_english_keeps_its_cautions_where_the_other_language_has_none(self, label: Label) -> None:
        found = warnings(label(markets=("EU",), workshop={"languages": ("en", "fr")}))
        assert [block.lang for block in found] == ["en"]

    def test_what_is_left_out_is_proposed(self, make: Make, words: Words) -> None:
        found = warning_findings(make(markets=("EU",), workshop={"languages": ("en", "fr")}), words)
        left = [item for item in found if item.rule == "warnings.general"]
        assert [item.level for item in left] == ["note"]
        assert "Conserver hors de la portée des enfants." in left[0].text

    def test_a_national_or_remembered_text_is_never_printed(self, label: Label) -> None:
        for lang in ("fr", "it", "el"):
            assert not warnings(label(markets=("EU",), workshop={"languages": (lang,)}))

    def test_french_puts_a_space_before_its_colon(self, label: Label) -> None:
        texts = (("fr", ProductText(warnings=("Ne pas avaler.",))),)
        found = warnings(label(markets=("EU",), workshop={"languages": ("fr",)}, product={"texts": texts}))
        assert [(block.heading, block.text) for block in found] == [("Attention\u00a0:", "Ne pas avaler.")]

    def test_a_required_text_without_a_checked_translation_is_said(self, make: Make, words: Words) -> None:
        request = make(markets=("EU",), workshop={"languages": ("en", "de")}, warnings=(EYES, self.german, AMMONIA))
        assert lacking(request) == ((AMMONIA, "de"),)
        found = [item for item in warning_findings(request, words) if item.rule == "warnings.language"]
        assert [item.level for item in found] == ["warning"]
        assert "Contains ammonia" in found[0].text
        assert "[product.text.de]" in str(found[0].do)

    def test_a_proposed_translation_counts_once_the_maker_has_taken_it_over(self, make: Make, words: Words) -> None:
        french = WarningAdvice("Contient de l'ammoniaque", "EU", "Arrêté", "Ammonia", "law", "fr", required=False)
        facts = {"markets": ("EU",), "workshop": {"languages": ("en", "fr")}, "warnings": (AMMONIA, french)}
        assert lacking(make(**facts)) == ((AMMONIA, "fr"),)
        rules = [item.rule for item in warning_findings(make(**facts), words)]
        assert "warnings.proposed" in rules
        taken = make(**facts, product={"texts": (("fr", ProductText(warnings=("Contient de l'ammoniaque.",))),)})
        assert lacking(taken) == ()
        assert "warnings.proposed" not in [item.rule for item in warning_findings(taken, words)]

    def test_of_two_texts_of_one_cause_the_one_without_a_match_is_named(self, make: Make) -> None:
        both = (EYES, WarningAdvice("Wear gloves", "EU", "Annex III/2b", "Thioglycolic Acid", "law"))
        request = make(markets=("EU",), workshop={"languages": ("en", "de")}, warnings=(*both, self.german))
        assert lacking(request) == ((both[1], "de"),)
        reversed_ = make(markets=("EU",), workshop={"languages": ("de", "en")}, warnings=(*both[::-1], self.german))
        assert lacking(reversed_) == ((both[1], "de"),)

    def test_great_britain_and_the_us_want_english_only(self, make: Make) -> None:
        british = WarningAdvice("Contains ammonia", "UK", "Annex III/4", "Ammonia", "law")
        assert lacking(make(markets=("UK",), workshop={"languages": ("en", "fr")}, warnings=(british,))) == ()
        canadian = WarningAdvice("Contains ammonia", "CA", "x", "Ammonia", "law")
        assert lacking(make(markets=("CA",), warnings=(canadian,))) == ((canadian, "fr"),)


def test_sentences_get_the_stop_they_lack() -> None:
    assert sentences(["Contains ammonia", "Do not swallow!", "Rinse well."]) == (
        "Contains ammonia. Do not swallow! Rinse well."
    )


def plain(text: str) -> str:
    return " ".join(text.casefold().split()).rstrip(".!")


@given(st.lists(st.text(max_size=40), max_size=5))
def test_every_text_of_the_maker_is_on_the_label_once(texts: list[str]) -> None:
    request = WordingRequest(
        product=Product("x", warnings=tuple(texts)), container=None, workshop=Workshop(), markets=("UK",),
        declaration=MarketDeclaration("UK", (), ""), warnings=(), code="A", groups=("A",), made=dt.date(2026, 5, 3),
        best_before=None, payload="A",
    )
    keys = [plain(text) for text in spoken(request, words_of(tables.toml("data", "words")), "en").texts]
    assert len(set(keys)) == len(keys)
    assert {plain(text) for text in texts if text.strip()} <= set(keys)
