"""A label's facts for tests, changed where a test needs it."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from labeltool import tables
from labeltool.compose.model import MarketDeclaration
from labeltool.formula.model import Container, Maker, NetQuantity, Period, Product, Workshop
from labeltool.wording.build import WordingRequest, label_text
from labeltool.wording.model import LabelText
from labeltool.wording.words import Words, words_of

MAKER = Maker(
    "Ottersholt Bodycare", "Ottersholt", ("3 Example Yard", "Ottersholt", "EX0 0EX"), "GB", "care@ottersholt.example"
)
PRODUCT = Product(
    "Oat Milk Hand Lotion", function="Hand lotion", use="leave-on", body_area=("hands",), form="cream",
    net=NetQuantity(Decimal(50), "ml"), directions="Apply to clean, dry hands.", shelf_life=Period(18),
)
JAR = Container("cylinder", diameter_mm=Decimal(30), height_mm=Decimal(60))


@pytest.fixture
def words() -> Words:
    """The shipped words."""
    return words_of(tables.toml("data", "words"))


@pytest.fixture
def make() -> Callable[..., WordingRequest]:
    """A request for the UK; `product`, `maker` and `workshop` change single fields, other names the request itself."""

    def build(
        *, product: dict[str, Any] | None = None, maker: dict[str, Any] | None = None,
        workshop: dict[str, Any] | None = None, **changes: Any,
    ) -> WordingRequest:
        markets = changes.pop("markets", ("UK",))
        shop = Workshop(maker=replace(MAKER, **(maker or {})), markets=markets, **(workshop or {}))
        request = WordingRequest(
            product=replace(PRODUCT, **(product or {})),
            container=JAR,
            workshop=shop,
            markets=markets,
            declaration=MarketDeclaration("UK", ("Aqua", "Glycerin"), "Aqua, Glycerin"),
            warnings=(),
            code="260503A31",
            groups=("260503", "A", "31"),
            made=dt.date(2026, 5, 3),
            best_before=dt.date(2027, 11, 3),
            payload="260503A31",
        )
        return replace(request, **changes)

    return build


@pytest.fixture
def label(make: Callable[..., WordingRequest]) -> Callable[..., LabelText]:
    """The words of a request made the same way."""
    return lambda **changes: label_text(make(**changes), tables.toml("data", "words"))[0]
