from labeltool.symbol.penalty import score, terms


def test_checkerboard_of_even_size_costs_nothing():
    rows = ["0101010101", "1010101010"] * 5
    assert terms(rows) == (0, 0, 0, 0)


def test_all_dark_counts_runs_blocks_and_imbalance():
    rows = ["1" * 6] * 6
    assert terms(rows) == (12 * 4, 25 * 3, 0, 100)
    assert score(rows) == 48 + 75 + 100


def third(line):
    """The third term of a symbol whose first row is `line` and whose other rows are plain."""
    return terms([line, *["01" * (len(line) // 2)] * (len(line) - 1)])[2]


def test_finder_like_pattern_counts_with_four_light_modules_on_a_side():
    assert third("110000101110111010") == 40
    assert third("110101110100001011") == 40
    assert third("110001011101011011") == 0


def test_finder_like_pattern_at_the_edge_has_light_outside():
    assert third("101110110110110110") == 40
    assert third("000101110111011011") == 40


def test_patterns_that_share_modules_count_once():
    assert third("1100001011101110100001") == 40


def test_imbalance_steps_every_five_percent():
    rows = [["0"] * 10 for _ in range(10)]
    for index in range(45):
        rows[index // 10][index % 10] = "1"
    assert terms(["".join(row) for row in rows])[3] == 10
    rows[4][5] = "1"
    assert terms(["".join(row) for row in rows])[3] == 0
