"""LabelText: blocks in reading order, headings, symbols, languages."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal

import pytest

from labeltool import tables
from labeltool.codec import from_plain, to_plain
from labeltool.finding import Finding
from labeltool.formula.model import NetQuantity, Period, ProductText
from labeltool.wording.build import WordingRequest, label_text, opening_months
from labeltool.wording.model import LabelText

Label = Callable[..., LabelText]
Make = Callable[..., WordingRequest]


def findings(request: WordingRequest) -> list[Finding]:
    return list(label_text(request, tables.toml("data", "words"))[1])


def rules(request: WordingRequest) -> list[str]:
    return [item.rule for item in findings(request)]


def test_blocks_stand_in_reading_order(label: Label) -> None:
    everything = label(
        markets=("UK", "EU"), workshop={"e_mark": True},
        product={"claims": ("Softens",), "period_after_opening": Period(6)},
    )
    assert [block.name for block in everything.blocks] == [
        "brand", "name", "function", "claims", "net", "directions", "warnings", "ingredients", "code", "date",
        "opening", "responsible", "origin", "contact", "e-mark",
    ]


def test_what_a_plain_label_says(label: Label) -> None:
    said = {block.name: (block.heading, block.text) for block in label().blocks}
    assert said["brand"] == ("", "Ottersholt")
    assert said["net"] == ("", "50 ml")
    assert said["directions"] == ("Directions:", "Apply to clean, dry hands.")
    assert said["ingredients"] == ("Ingredients:", "Aqua, Glycerin")
    assert said["code"] == ("Batch", "260503\u2009A\u200931")
    assert said["date"] == ("Best used before the end of", "10/2027")


def test_the_code_itself_has_no_thin_spaces(label: Label) -> None:
    assert label().code == label().qr.payload == "260503A31"


def test_a_brand_falls_back_to_the_makers_name(label: Label) -> None:
    assert label(maker={"brand": None}).blocks[0].text == "Ottersholt Bodycare"
    assert label(maker={"brand": None, "name": None}).block("brand") is None


@pytest.mark.parametrize(("languages", "heading", "symbol"), [
    (("en",), "Best used before the end of", None), (("de",), "", "hourglass"), (("en", "fr"), "", "hourglass"),
])
def test_the_hourglass_needs_no_words(
    languages: tuple[str, ...], heading: str, symbol: str | None, label: Label,
) -> None:
    """Regulation (EC) No 1223/2009, Art. 19(1)(c) and Annex VII point 3: the words, or the hourglass."""
    date = label(markets=("EU",), workshop={"languages": languages}).block("date")
    assert date is not None
    assert (date.heading, date.symbol, date.text) == (heading, symbol, "10/2027")


@pytest.mark.parametrize(("months", "opening", "blocks"), [
    (18, None, ["date"]), (18, 6, ["date", "opening"]), (30, 12, ["date", "opening"]), (31, 12, ["opening"]),
    (36, None, ["date"]),
])
def test_date_and_open_jar(months: int, opening: int | None, blocks: list[str], label: Label) -> None:
    end = dt.date(2026 + (4 + months) // 12, (4 + months) % 12 + 1, 3)
    product = {"shelf_life": Period(months), "period_after_opening": Period(opening) if opening else None}
    made = label(best_before=end, product=product)
    assert [block.name for block in made.blocks if block.name in ("date", "opening")] == blocks


def test_the_open_jar_holds_months(label: Label) -> None:
    opening = label(product={"period_after_opening": Period(24)}).block("opening")
    assert opening is not None
    assert (opening.symbol, opening.text, opening.required_by) == ("open-jar", "24M", ())
    assert [opening_months(item) for item in (Period(6), Period(0, 90), Period(1, 31), Period(0, 30))] == [6, 2, 2, 0]


def test_a_period_too_short_for_the_jar_is_said(make: Make, label: Label) -> None:
    short = {"period_after_opening": Period(0, 14)}
    assert label(product=short).block("opening") is None
    assert "wording.opening" in rules(make(product=short))


def test_what_keeps_shortly_is_dated_to_the_day(label: Label) -> None:
    date = label(best_before=dt.date(2026, 6, 20)).block("date")
    assert date is not None
    assert date.text == "20/06/2026"


def test_canada_reads_two_headings_and_a_word_of_both_languages(label: Label) -> None:
    made = label(markets=("CA",), workshop={"languages": ("en", "fr")})
    said = {block.name: block.heading for block in made.blocks}
    assert said["ingredients"] == "Ingredients / Ingrédients:"
    assert said["code"] == "Lot"


def test_required_words_know_who_requires_them(label: Label) -> None:
    said = {block.name: block.required_by for block in label(markets=("UK", "US", "CA")).blocks}
    assert said["net"] == said["ingredients"] == ("UK", "US", "CA")
    assert said["code"] == said["date"] == ("UK",)
    assert said["directions"] == said["brand"] == ()


@pytest.mark.parametrize(("net", "shown"), [
    (NetQuantity(Decimal("4.9"), "ml"), False),
    (NetQuantity(Decimal(5), "ml"), True),
    (NetQuantity(Decimal(10), "kg"), True),
    (NetQuantity(Decimal("10.001"), "kg"), False),
    (NetQuantity(Decimal(6), "pieces"), False),
    (None, False),
])
def test_the_e_mark_stands_from_5_g_to_10_kg(net: NetQuantity | None, shown: bool, label: Label) -> None:
    """Directive 76/211/EEC, Art. 1."""
    made = label(product={"net": net}, workshop={"e_mark": True})
    assert (made.block("e-mark") is not None) is shown
    assert label(product={"net": net}).block("e-mark") is None
    assert label(product={"net": net}, markets=("US",), workshop={"e_mark": True}).block("e-mark") is None


class TestLanguages:
    french = (("fr", ProductText("Lotion à l’avoine", "Lotion pour les mains", "Appliquer.", ("Ne pas avaler.",))),)

    def test_each_language_has_its_block_after_the_other(self, label: Label) -> None:
        made = label(markets=("CA",), workshop={"languages": ("en", "fr")}, product={"texts": self.french})
        said = [(block.name, block.lang, block.heading) for block in made.blocks
                if block.name in ("name", "function", "directions")]
        assert said == [
            ("name", "en", ""), ("name", "fr", ""), ("function", "en", ""), ("function", "fr", ""),
            ("directions", "en", "Directions:"), ("directions", "fr", "Mode d’emploi\u00a0:"),
        ]
        assert made.languages == ("en", "fr")

    def test_the_same_words_stand_once(self, label: Label) -> None:
        same = (("fr", ProductText(name="Oat Milk Hand Lotion")),)
        made = label(markets=("CA",), workshop={"languages": ("en", "fr")}, product={"texts": same})
        assert [block.lang for block in made.blocks if block.name == "name"] == ["en"]

    def test_missing_words_are_named_by_key_and_language(self, make: Make) -> None:
        request = make(markets=("EU",), workshop={"languages": ("en", "fr")})
        found = [item for item in findings(request) if item.rule == "wording.language"]
        assert [item.text for item in found] == ["there is no name, function, directions in fr"]
        assert found[0].do == "write name, function, directions under [product.text.fr]"

    def test_a_label_without_english_still_has_its_name(self, label: Label) -> None:
        made = label(markets=("EU",), workshop={"languages": ("de",)})
        assert [(block.name, block.text) for block in made.blocks[:2]] == [
            ("brand", "Ottersholt"), ("name", "Oat Milk Hand Lotion"),
        ]
        assert made.block("function") is None

    def test_unchecked_headings_are_named(self, make: Make) -> None:
        german = (("de", ProductText("Handlotion", "Handlotion", "Auftragen.", ("Nicht schlucken.",))),)
        request = make(markets=("EU",), workshop={"languages": ("de",)}, product={"texts": german})
        found = [item for item in findings(request) if item.rule == "wording.headings"]
        assert [item.text for item in found] == [
            "headings from memory, not checked: Charge (de), Anwendung (de), Vorsicht (de), Ursprungsland (de)",
        ]
        assert "wording.headings" not in rules(make())

    def test_the_maker_s_words_are_printed_and_no_longer_doubted(self, make: Make, label: Label) -> None:
        own = (("de", "batch", "Ch.-B."), ("de", "children", "Von Kindern fernhalten."),
               ("de", "best-before-end", "Mindestens haltbar bis Ende"))
        changes = {"markets": ("EU",), "workshop": {"languages": ("de",), "words": own}, "maker": {"country": "DE"}}
        made = label(**changes)
        code, date, warnings = (made.block(name) for name in ("code", "date", "warnings"))
        assert code is not None and code.heading == "Ch.-B."
        assert date is not None and (date.heading, date.symbol) == ("Mindestens haltbar bis Ende", None)
        assert warnings is not None and "Von Kindern fernhalten." in warnings.text
        heads = [item.text for item in findings(make(**changes)) if item.rule == "wording.headings"]
        assert heads == ["headings from memory, not checked: Vorsicht (de)"]

    @pytest.mark.parametrize("languages", [("de",), ("it",), ("en", "de")])
    def test_only_words_of_the_maker_s_stand_in_for_the_hourglass(
        self, languages: tuple[str, ...], label: Label,
    ) -> None:
        date = label(markets=("EU",), workshop={"languages": languages}).block("date")
        assert date is not None and (date.heading, date.symbol) == ("", "hourglass")

    @pytest.mark.parametrize(("languages", "heading"), [
        (("en",), "Batch"), (("en", "fr"), "Lot"), (("fr", "de", "it"), "Lot / Charge / Lotto"),
        (("en", "fr", "pl"), "Lot / Nr partii"), (("en", "sv"), "Batch"),
    ])
    def test_the_code_is_headed_in_each_language(
        self, languages: tuple[str, ...], heading: str, label: Label,
    ) -> None:
        code = label(markets=("EU",), workshop={"languages": languages}).block("code")
        assert code is not None and code.heading == heading

    def test_a_languages_option_stands_in_for_the_workshops(self, label: Label) -> None:
        assert label(markets=("EU",), languages=("de",)).languages == ("de",)
        assert label(workshop={"languages": ()}).languages == ("en",)


def test_a_plain_label_has_no_findings(make: Make) -> None:
    assert rules(make()) == []


def test_label_text_goes_into_the_record_and_comes_back(label: Label) -> None:
    made = label(markets=("UK", "EU", "US", "CA"), workshop={"languages": ("en", "fr"), "e_mark": True})
    assert from_plain(LabelText, to_plain(made)) == made
