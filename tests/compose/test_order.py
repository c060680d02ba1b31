from decimal import Decimal

from composing import composed, formula, material, of, row, to_ph

from labeltool.formula.model import Material


def doubts(rows, *materials, made_here=None):
    found = composed(rows, materials, made_here).doubts
    return [(item.before, item.after, item.by, item.because) for item in found]


def test_single_figures_leave_no_doubt_not_even_ties():
    assert doubts([("Aqua", 50), ("Glycerin", 25), ("Squalane", 25)]) == []


def test_ranges_that_overlap_are_a_doubt_by_how_much_and_because_of_which_material():
    extract = material("oat-extract", of("Glycerin", 40, 60), of("Aqua", 40, 60))
    # Glycerin 10 x 40..60 % = 4..6 %, against 4.5 % Cetearyl Alcohol
    assert doubts([("Aqua", "85.5"), ("oat-extract", 10), ("Cetearyl Alcohol", "4.5")], extract) == [
        ("Glycerin", "Cetearyl Alcohol", Decimal("0.5"), ("oat-extract",)),
    ]


def test_ranges_that_only_touch_are_proved():
    extract = material("extract", of("Glycerin", 45, 55), of("Aqua", 45, 55))
    assert doubts([("Aqua", "85.5"), ("extract", 10), ("Cetearyl Alcohol", "4.5")], extract) == []


def test_stated_ranges_that_the_sum_rules_out_do_not_count():
    # stated up to 90 %, but the oil is 70 % at least
    extract = material("extract", of("Squalane", 70, 90), of("Rosmarinus Officinalis Leaf Extract", 10, 90))
    assert doubts([("Aqua", 90), ("extract", 10)], extract) == []


def test_one_material_feeding_both_names_reaches_both_ends_at_once():
    blend = material("blend", of("Squalane", 40, 60), of("Tocopherol", 30, 50), of("Bisabolol", 0, 30))
    found = doubts([("Aqua", 80), ("blend", 20)], blend)
    assert ("Squalane", "Tocopherol", Decimal(2), ("blend",)) in found


def test_below_one_percent_there_is_no_order_to_doubt():
    blend = material("blend", of("Squalane", 40, 60), of("Tocopherol", 40, 60))
    assert doubts([("Aqua", "98.5"), ("blend", "1.5")], blend) == []


def test_a_pair_below_one_percent_counts_where_the_second_can_reach_it():
    blend = material("blend", of("Squalane", 40, 60), of("Tocopherol", 40, 60))
    assert doubts([("Aqua", "98.2"), ("blend", "1.8")], blend) == [
        ("Squalane", "Tocopherol", Decimal("0.36"), ("blend",)),
    ]


def test_exactly_one_percent_can_be_doubted():
    # Tocopherol reaches 2 x 50 % = 1.00 %, above the 0.9 % that Glycerin has; at 49 % it stays below 1 %
    rows = [("Aqua", "97.1"), ("Glycerin", "0.9"), ("blend", 2)]
    reaching = material("blend", of("Squalane", 50, 70), of("Tocopherol", 30, 50))
    assert doubts(rows, reaching) == [("Glycerin", "Tocopherol", Decimal("0.1"), ("blend",))]
    short = material("blend", of("Squalane", 51, 70), of("Tocopherol", 30, 49))
    assert doubts(rows, short) == []


def test_perfume_has_a_constant_weight_whatever_is_in_it():
    scent = material("scent", of("Limonene", 10, 90), of("Linalool", 10, 90), fragrance=True)
    assert doubts([("Aqua", 96), ("scent", 2), ("Glycerin", 2)], scent) == []


def test_colorants_and_may_contain_are_never_in_doubt():
    pigments = material("pigments", of("CI 77491", 40, 60), of("CI 77492", 40, 60))
    assert doubts([("Aqua", 90), ("pigments", 10)], pigments) == []


def test_a_to_ph_row_can_overtake():
    assert doubts([("Aqua", 97), ("Glycerin", 2), ("Citric Acid", 1), to_ph("Citric Acid", 2)]) == [
        ("Glycerin", "Citric Acid", Decimal(1), ("Citric Acid",)),
    ]


def test_a_to_ph_solution_that_feeds_both_names_moves_both():
    # 0 to 10 % of a solution of 40 % lactic acid in water: water 5 + 6 s, acid 4 + 4 s; the acid never gains
    acid = material("solution", of("Lactic Acid", 40), of("Aqua", 60))
    assert doubts([("Squalane", 91), ("Aqua", 5), ("Lactic Acid", 4), to_ph("solution", 10)], acid) == []
    # at 80 % acid it gains 6 s: 4 + 8 against 5 + 2
    strong = material("solution", of("Lactic Acid", 80), of("Aqua", 20))
    assert doubts([("Squalane", 91), ("Aqua", 5), ("Lactic Acid", 4), to_ph("solution", 10)], strong) == [
        ("Aqua", "Lactic Acid", Decimal(5), ("solution",)),
    ]


def test_the_amount_that_first_brings_the_second_name_to_one_percent_is_found():
    # The blend alone: Tocopherol 0.8 % at most, Bisabolol then 0.2 %. To reach 1 % takes 0.5 % of the solution, which
    # brings Tocopherol 0.2 % and Bisabolol 0.3 %: 1.0 against 0.5. More of the solution would only close the gap
    blend = material("blend", of("Bisabolol", 20, 80), of("Tocopherol", 20, 80))
    solution = material("solution", of("Tocopherol", 40), of("Bisabolol", 60))
    found = doubts([("Aqua", 99), ("blend", 1), to_ph("solution", 2)], blend, solution)
    assert found == [("Bisabolol", "Tocopherol", Decimal("0.5"), ("blend", "solution"))]


def test_a_solution_made_here_rises_as_one():
    made = {"solution": formula(row("Lactic Acid", 40), row("Aqua", 60), key="solution")}
    materials = [Material("solution", "", formula="solution"), material("Lactic Acid"), material("Aqua")]
    rows = [("Squalane", 91), ("Aqua", 5), ("Lactic Acid", 4), to_ph("solution", 10)]
    assert doubts(rows, *materials, made_here=made) == []


def test_pairs_come_by_the_place_of_the_first_then_of_the_second():
    blend = material("blend", of("Squalane", 30, 40), of("Tocopherol", 30, 40), of("Bisabolol", 30, 40))
    assert [item[:2] for item in doubts([("Aqua", 70), ("blend", 30)], blend)] == [
        ("Bisabolol", "Squalane"), ("Bisabolol", "Tocopherol"), ("Squalane", "Tocopherol"),
    ]


def test_because_names_the_material_that_moves_the_pair_most_first():
    small = material("small", of("Squalane", 40, 60), of("Aqua", 40, 60))
    large = material("large", of("Tocopherol", 20, 80), of("Aqua", 20, 80))
    found = doubts([("Aqua", 80), ("small", "10.5"), ("large", "9.5")], small, large)
    assert [item for item in found if item[0] == "Squalane"] == [
        ("Squalane", "Tocopherol", Decimal("3.4"), ("large", "small")),
    ]
