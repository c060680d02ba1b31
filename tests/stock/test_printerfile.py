import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.stock.printerfile import HEAD, with_correction
from labeltool.stock.printers import Correction

A4, ROLL = "a4-3x8-63.5x33.9", "roll-57x32-203dpi"
NEW = Correction((0.4, -0.3), (1.0, 1.001))
WANTED = {"nudge": [0.4, -0.3], "scale": [1, 1.001]}
FILE = f"""# mine
[office]   # by the window
stock."{A4}" = {{ nudge = [0, 1], scale = [1, 1] }}  # in May
stock.{ROLL} = {{ nudge = [1, 1] }}

[studio]
# nothing measured yet
"""


def changed(text, printer, stock):
    new = with_correction(text, printer, stock, NEW)
    assert new is not None
    return new, tomllib.loads(new)


def test_a_new_file_begins_with_what_it_is():
    new, table = changed("", "office", A4)
    assert new == f'{HEAD}[office]\nstock."{A4}" = {{ nudge = [0.4, -0.3], scale = [1, 1.001] }}\n'
    assert table == {"office": {"stock": {A4: WANTED}}}


def test_a_line_is_replaced_and_its_comment_and_neighbours_stay():
    new, _ = changed(FILE, "office", A4)
    assert new == FILE.replace("nudge = [0, 1], scale = [1, 1]", "nudge = [0.4, -0.3], scale = [1, 1.001]")
    bare, _ = changed(FILE, "office", ROLL)
    assert f"stock.{ROLL} = {{ nudge = [0.4, -0.3], scale = [1, 1.001] }}\n" in bare


def test_a_line_is_added_under_its_printer():
    new, table = changed(FILE, "studio", A4)
    assert new.replace(f'stock."{A4}" = {{ nudge = [0.4, -0.3], scale = [1, 1.001] }}\n', "", 1) == FILE
    assert table["studio"] == {"stock": {A4: WANTED}} and table["office"] == tomllib.loads(FILE)["office"]


def test_a_printer_is_added_at_the_end():
    new, table = changed(FILE, 'the "big" one', A4)
    assert new.startswith(FILE.rstrip("\n")) and table['the "big" one'] == {"stock": {A4: WANTED}}


@pytest.mark.parametrize("text", [
    f'[office.stock]\n"{ROLL}" = {{ nudge = [1, 1] }}\n', f'[office.stock."{ROLL}"]\nnudge = [1, 1]\n',
    '["office"]\n', f"[office]\nstock.{ROLL}.nudge = [1, 1]\n", "[office]",
])
def test_other_forms_of_the_file_are_understood(text):
    _, table = changed(text, "office", A4)
    assert table["office"]["stock"][A4] == WANTED
    assert set(table["office"]["stock"]) <= {A4, ROLL}


@pytest.mark.parametrize("text", [
    f"[office]\nstock = {{ {ROLL} = {{ nudge = [1, 1] }} }}\n",
    f'[office.stock."{A4}"]\nnudge = [1, 1]\n',
])
def test_a_form_without_a_sure_place_is_left_alone(text):
    assert with_correction(text, "office", A4, NEW) is None


def test_line_ends_are_kept():
    new, _ = changed(FILE.replace("\n", "\r\n"), "studio", A4)
    assert "\n" not in new.replace("\r\n", "")


NAMES = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=12)


@given(st.lists(st.tuples(NAMES, NAMES), min_size=1, max_size=5),
       st.tuples(st.floats(-20, 20), st.floats(-20, 20)), st.tuples(st.floats(0.95, 1.05), st.floats(0.95, 1.05)))
def test_any_names_come_back_and_the_last_word_counts(pairs, nudge, scale):
    text, wanted = "", {}
    for number, (printer, stock) in enumerate(pairs):
        correction = Correction((round(nudge[0], 3), float(number)), (round(scale[0], 6), round(scale[1], 6)))
        text = with_correction(text, printer, stock, correction)
        wanted.setdefault(printer, {})[stock] = correction
    table = tomllib.loads(text)
    assert set(table) == set(wanted)
    for printer, stocks in wanted.items():
        for stock, correction in stocks.items():
            found = table[printer]["stock"][stock]
            assert (tuple(found["nudge"]), tuple(found["scale"])) == (correction.nudge_mm, correction.scale)
        assert set(table[printer]["stock"]) == set(stocks)
