"""What holds for every formula: sums, and that neither the order of rows nor splitting one changes anything."""

from dataclasses import replace
from decimal import Decimal

from composing import COLOURS, NAMES, contained, formula, material, of, row, to_ph
from hypothesis import given
from hypothesis import strategies as st

from labeltool.compose.compose import compose
from labeltool.compose.parts import parts_of

MATERIALS = {item.key: item for item in (
    material("water", of("Aqua")),
    material("blend", of("Squalane", 30, 60), of("Tocopherol", 20, 50), of("Aqua", 0, 30)),
    material("solution", of("Lactic Acid", 80), of("AQUA", 20)),
    material("scent", of("Linalool", 10, 40), of("Limonene", 60, 90), fragrance=True,
             allergens=(contained("Linalool", 10, 40),)),
    material("pearl", of("Mica", 50, 70), of("CI 77891", 30, 50)),
    material("soap", of("Olea Europaea Fruit Oil", 90), of("Sodium Hydroxide", 10),
             as_made=(of("Sodium Olivate", 85, 95), of("Glycerin", 5, 15))),
    material("citric", of("Citric Acid", 50), of("Aqua", 50)),
)}
MADE_HERE = {"made": formula(row("blend", 60), row("solution", 40), key="made")}
BOOK = MATERIALS | {"made": replace(material("made"), made_of=(), formula="made")}
KEYS = st.sampled_from(sorted(BOOK))


@st.composite
def formulas(draw):
    keys = draw(st.lists(KEYS, min_size=1, max_size=6))
    weights = draw(st.lists(st.integers(1, 40), min_size=len(keys), max_size=len(keys)))
    shares = [Decimal(weight) for weight in weights[:-1]]
    while sum(shares) >= 100:
        shares = [share / 4 for share in shares]
    rows = [row(key, share) for key, share in zip(keys, [*shares, 100 - sum(shares)], strict=True)]
    varying = draw(st.lists(st.tuples(KEYS, st.sampled_from(["0.3", "2", "9"])), max_size=2))
    return [*rows, *(to_ph(key, most) for key, most in varying)]


def made(rows):
    return compose(parts_of(formula(*rows), BOOK, MADE_HERE), (), NAMES, COLOURS)


@given(formulas())
def test_nominals_sum_to_100_and_lie_within_their_ends(rows):
    found = made(rows).lines
    assert abs(sum(item.percent.nominal for item in found) - 100) < Decimal("1e-8")
    for item in found:
        assert 0 <= item.percent.low <= item.percent.nominal <= item.percent.high


@given(formulas())
def test_lines_fall_and_colorants_stand_last(rows):
    found = made(rows).lines
    body = [item.percent.nominal for item in found if item.group != "colorant"]
    assert body == sorted(body, reverse=True)
    assert all(item.group == "colorant" for item in found[len(body):])
    assert len({(item.inci, item.nano) for item in found}) == len(found)


@given(formulas(), st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing(rows, rng):
    mixed = list(rows)
    rng.shuffle(mixed)
    assert made(mixed) == made(rows)


@given(formulas(), st.data())
def test_splitting_a_row_in_two_changes_nothing(rows, data):
    at = data.draw(st.integers(0, len(rows) - 1))
    part = Decimal(data.draw(st.integers(1, 9))) / 10
    whole = rows[at]
    halves = [
        replace(whole, percent=whole.percent * share, up_to=whole.up_to * share) for share in (part, 1 - part)
    ]
    assert made([*rows[:at], *halves, *rows[at + 1:]]) == made(rows)


@given(formulas())
def test_a_doubt_is_between_names_of_the_order_and_greater_than_nothing(rows):
    found = made(rows)
    places = {item.inci: index for index, item in enumerate(found.lines)}
    for item in found.doubts:
        assert places[item.before] < places[item.after] and item.by > 0 and item.because


@given(formulas())
def test_substances_weigh_what_the_lines_weigh_where_nothing_reacts(rows):
    found = made(rows)
    if any(item.material == "soap" for item in rows):
        return
    open_ones = sum(item.percent.nominal for item in found.substances if not item.contained)
    assert abs(open_ones - 100) < Decimal("1e-8")
