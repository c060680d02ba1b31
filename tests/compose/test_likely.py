import itertools

import pytest
from composing import COLOURS, NAMES, formula, material, of, row, to_ph

from labeltool.compose.likely import most_likely, splitmix64, splitmix64_words
from labeltool.compose.parts import parts_of


def holds(rows, *materials, seed=1, samples=10_000):
    book = {item.key: item for item in materials}
    return most_likely(parts_of(formula(*rows), book, {}), NAMES, COLOURS, seed, samples)


AQUA = material("aqua", of("Aqua"))


def test_the_generator_gives_the_published_words():
    # reference output for the seed 1234567 of the public-domain SplitMix64 code, as test values of it are published
    assert list(itertools.islice(splitmix64_words(1234567), 5)) == [
        6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821,
    ]
    assert all(0 <= value < 1 for value in itertools.islice(splitmix64(3), 1000))


def test_a_proved_order_holds_in_every_composition():
    assert holds([row("aqua", 100)], AQUA) == 10_000


def test_the_same_seed_gives_the_same_answer_and_another_another():
    blend = material("blend", of("Squalane", 40, 60), of("Tocopherol", 40, 60))
    rows = [row("aqua", 80), row("blend", 20)]
    assert holds(rows, AQUA, blend, seed=5) == holds(rows, AQUA, blend, seed=5)
    assert holds(rows, AQUA, blend, seed=5) != holds(rows, AQUA, blend, seed=6)


@pytest.mark.parametrize(("low", "high", "share"), [(40, 60, 0.5), (45, 95, 0.9), (30, 55, 0.2)])
def test_two_components_hold_as_often_as_their_range_says(low, high, share):
    # Squalane stands first by name or nominal where its middle is half or more; the point is uniform on the segment
    blend = material("blend", of("Squalane", low, high), of("Tocopherol", 100 - high, 100 - low))
    right = share if low + high >= 100 else 1 - share
    assert holds([row("aqua", 80), row("blend", 20)], AQUA, blend) == pytest.approx(10_000 * right, abs=250)


def test_three_components_alike_hold_in_one_of_six_orders():
    blend = material("blend", of("Bisabolol", 20, 50), of("Squalane", 20, 50), of("Tocopherol", 20, 50))
    assert holds([row("aqua", 70), row("blend", 30)], AQUA, blend) == pytest.approx(10_000 / 6, abs=250)


def test_three_components_fill_their_triangle_evenly():
    # Of all points a + b + c = 100 a quarter has a > 50; the other two are colorants, which have no order
    tint = material("tint", of("Squalane", 0, 100), of("CI 77491", 0, 100), of("CI 77492", 0, 100))
    glycerin = material("glycerin", of("Glycerin"))
    held = holds([row("aqua", 55), row("tint", 30), row("glycerin", 15)], AQUA, tint, glycerin, samples=20_000)
    assert held == pytest.approx(15_000, abs=300)


def test_one_material_in_two_rows_is_one_point():
    blend = material("blend", of("Squalane", 40, 60), of("Tocopherol", 40, 60))
    one = holds([row("aqua", 80), row("blend", 20)], AQUA, blend)
    two = holds([row("aqua", 80), row("blend", 5), row("blend", 15)], AQUA, blend)
    assert one == two


def test_below_one_percent_no_order_is_broken():
    # Tocopherol is ahead of Squalane half the time, but reaches 1 % only in the upper half of that
    blend = material("blend", of("Squalane", 25, 75), of("Tocopherol", 25, 75))
    assert holds([row("aqua", "98.4"), row("blend", "1.6")], AQUA, blend) == pytest.approx(7_500, abs=200)


def test_a_varying_share_is_uniform_in_its_range():
    acid = material("acid", of("Citric Acid"))
    glycerin = material("glycerin", of("Glycerin"))
    rows = [row("aqua", 97), row("glycerin", 2), row("acid", 1), to_ph("acid", 4)]
    assert holds(rows, AQUA, acid, glycerin) == pytest.approx(2_500, abs=200)
