from __future__ import annotations

import random
import tomllib

import pytest
from formula_workshops import FORMULA, MATERIALS, WORKSHOP
from hypothesis import given
from hypothesis import strategies as st
from toml_writing import Writer, paths_of

from labeltool.formula.tomllines import MOST_DEPTH, MOST_PARTS, toml_lines


def written(seed: int) -> Writer:
    writer = Writer(random.Random(seed))
    writer.document()
    return writer


@given(st.integers(0, 2**32))
def test_lines_of_random_documents(seed: int) -> None:
    writer = written(seed)
    values = tomllib.loads(writer.text)
    found = toml_lines(writer.text)
    assert set(found.lines) == paths_of(values)
    assert found.lines == writer.lines
    assert not found.twice
    assert found.too_deep is None


@given(st.integers(0, 2**32))
def test_line_breaks_of_another_system_change_nothing(seed: int) -> None:
    text = written(seed).text
    assert toml_lines(text.replace("\n", "\r\n")) == toml_lines(text)


@given(st.integers(0, 2**32), st.integers(0, 400), st.text("[]{}=.,\"'#\\\n a1", max_size=3), st.integers(0, 3))
def test_what_tomllib_accepts_is_followed_whatever_was_changed(seed: int, at: int, put: str, cut: int) -> None:
    text = written(seed).text
    text = text[:at] + put + text[at + cut:]
    found = toml_lines(text)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(found.lines) == paths_of(values)
    assert not found.twice


@given(st.text())
def test_no_text_makes_the_scanner_fail(text: str) -> None:
    assert toml_lines(text).lines is not None


@pytest.mark.parametrize("text", [WORKSHOP, MATERIALS, FORMULA])
def test_paths_of_real_files(text: str) -> None:
    assert set(toml_lines(text).lines) == paths_of(tomllib.loads(text))


def test_a_key_without_a_line_of_its_own_has_the_line_around_it() -> None:
    found = toml_lines("\n[a]\nb = 1\n")
    assert found.line(("a", "b")) == 3
    assert found.line(("a", "missing")) == 2
    assert found.line(("other",)) is None


@pytest.mark.parametrize(("text", "path", "first", "second"), [
    ("a = 1\n\na = 2\n", ("a",), 1, 3),
    ("[t]\nx = 1\n[t]\n", ("t",), 1, 3),
    ("[[t]]\nx = 1\n[[t]]\ny = 1\ny = 2\n", ("t", 1, "y"), 4, 5),
    ("a = { b = 1, b = 2 }\n", ("a", "b"), 1, 1),
    ("a = 1\n'a' = 2\n", ("a",), 1, 2),
])
def test_doubled_keys_are_told_with_both_lines(
    text: str, path: tuple[str | int, ...], first: int, second: int,
) -> None:
    assert toml_lines(text).twice == ((path, first, second),)
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(text)


def test_nesting_beyond_use_is_told_and_not_followed() -> None:
    assert toml_lines("x = 1\na = " + "[" * 9_000_000).too_deep == 2
    assert toml_lines("a" + ".a" * 4_000_000 + " = 1").too_deep == 1
    assert toml_lines("a = " + "[" * MOST_DEPTH + "]" * MOST_DEPTH).too_deep is None
    assert toml_lines("a" + ".a" * (MOST_PARTS - 1) + " = 1").too_deep is None
