"""Whatever the facts: words and audit agree, and neither breaks."""

import datetime as dt
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from labeltool import tables
from labeltool.codec import from_plain, to_plain
from labeltool.compose.model import MarketDeclaration
from labeltool.formula.model import Container, Maker, NetQuantity, Party, Period, Product, ProductText, Workshop
from labeltool.rules.model import WarningAdvice
from labeltool.wording.build import WordingRequest, label_text
from labeltool.wording.elements import elements
from labeltool.wording.model import LabelText

MARKETS = ("UK", "EU", "US", "CA")
WORD = st.one_of(st.none(), st.text("abc é—\n", max_size=8))
TEXT = st.builds(ProductText, WORD, WORD, WORD, st.lists(st.text("ab. ", max_size=5), max_size=2).map(tuple))
PERIOD = st.one_of(st.none(), st.builds(Period, st.integers(0, 60), st.integers(0, 40)))
SIZE = st.one_of(st.none(), st.decimals(1, 400, places=1))
PARTY = st.builds(Party, st.just("Example GmbH"), st.sampled_from([(), ("Musterweg 1", "10115 Berlin")]),
                  st.sampled_from([None, "imported by", "distributed by", "packed by"]))
PRODUCTS = st.builds(
    Product,
    name=st.just("Lotion"), function=WORD, directions=WORD, shelf_life=PERIOD, period_after_opening=PERIOD,
    no_opening_period=st.sampled_from([None, "single use"]), professional=st.booleans(),
    use=st.sampled_from([None, "leave-on", "rinse-off"]), form=st.sampled_from([None, "cream", "bar", "aerosol"]),
    body_area=st.sets(st.sampled_from(["eyes", "lips", "hands"])).map(tuple),
    net=st.one_of(st.none(), st.builds(NetQuantity, st.decimals("0.01", 20_000, places=2),
                                       st.sampled_from(["ml", "l", "g", "kg", "pieces"]), st.integers(1, 12))),
    texts=st.dictionaries(st.sampled_from(["fr", "de", "en"]), TEXT).map(lambda found: tuple(found.items())),
)
WARNINGS = st.lists(st.builds(
    WarningAdvice, st.sampled_from(["Contains ammonia", "Warning—Keep away.", "Sunburn Alert: stay in."]),
    st.sampled_from(MARKETS), st.sampled_from(["III/4", "III/5"]), st.just("Ammonia"), st.just("law"),
    st.sampled_from(["en", "de", "fr"]), st.booleans(),
), max_size=4).map(tuple)


@st.composite
def requests(draw: st.DrawFn) -> WordingRequest:
    markets = tuple(draw(st.lists(st.sampled_from(MARKETS), min_size=1, unique=True)))
    named = draw(st.dictionaries(st.sampled_from(MARKETS), PARTY))
    maker = Maker(
        draw(st.sampled_from([None, "Ottersholt"])), None, draw(st.sampled_from([(), ("3 Example Yard",)])),
        draw(st.sampled_from([None, "GB", "DE", "US", "CA", "XX"])),
        draw(st.sampled_from([None, "a@b.example", "+1 555 0100"])),
    )
    languages = tuple(draw(st.lists(st.sampled_from(["en", "fr", "de", "xx"]), max_size=3)))
    box = Container(draw(st.sampled_from(["cylinder", "box", "pouch", "other"])), *(draw(SIZE) for _ in range(5)))
    made = draw(st.dates(dt.date(1990, 1, 1), dt.date(2040, 1, 1)))
    return WordingRequest(
        product=draw(PRODUCTS), container=draw(st.sampled_from([None, box])),
        workshop=Workshop(maker, tuple(named.items()), languages=languages, e_mark=draw(st.booleans())),
        markets=markets, declaration=MarketDeclaration("joint", (), draw(st.sampled_from(["", "Aqua"]))),
        warnings=draw(WARNINGS), code="260503A31", groups=("260503", "A", "31"), made=made,
        best_before=draw(st.one_of(st.none(), st.integers(0, 2000).map(lambda days: made + dt.timedelta(days=days)))),
        payload="260503A31",
    )


@given(requests())
def test_words_and_audit_agree(request: WordingRequest) -> None:
    text, findings = label_text(request, tables.toml("data", "words"))
    rows = elements(request, text)
    carried = {block.name for block in text.blocks}
    assert {row.market for row in rows} == set(request.markets)
    for row in rows:
        assert row.source and row.element
        assert row.state != "missing" or row.do
        assert row.state != "present" or row.block is None or row.block in carried, row
    net = request.product.net
    bar_by_volume = request.product.form == "bar" and net is not None and net.unit in ("ml", "l")
    assert [item.rule for item in findings.errors] == ["net.bar"] * bar_by_volume
    assert from_plain(LabelText, to_plain(text)) == text


@given(requests())
def test_every_block_says_something_and_keeps_a_height(request: WordingRequest) -> None:
    text, _ = label_text(request, tables.toml("data", "words"))
    for block in text.blocks:
        assert block.text.strip() or block.heading or block.symbol
        assert block.minimums
        assert set(block.required_by) <= set(request.markets)


@given(requests())
def test_every_required_text_in_a_language_of_the_label_is_printed_to_the_letter(request: WordingRequest) -> None:
    text, _ = label_text(request, tables.toml("data", "words"))
    printed = [f"{block.heading} {block.text}".strip() for block in text.blocks if block.name == "warnings"]
    for item in request.warnings:
        if item.required and item.market in request.markets and item.lang in request.spoken:
            assert any(item.text in said for said in printed)


def test_a_decimal_amount_has_no_exponent() -> None:
    """A net quantity read as 1E+3 is printed in digits."""
    net = NetQuantity(Decimal("1E+3"), "g")
    request = WordingRequest(
        product=Product("x", net=net), container=None, workshop=Workshop(), markets=("UK",),
        declaration=MarketDeclaration("UK", (), ""), warnings=(), code="A", groups=("A",), made=dt.date(2026, 1, 1),
        best_before=None, payload="A",
    )
    block = label_text(request, tables.toml("data", "words"))[0].block("net")
    assert block is not None
    assert block.text == "1000 g"
