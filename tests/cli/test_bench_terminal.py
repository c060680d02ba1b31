"""batch bench on a terminal: asked row by row, every answer kept at once."""

from __future__ import annotations

import io
import sys

import pytest
from bench_shop import small_shop

from labeltool.cli import bench


class Terminal(io.StringIO):
    """What somebody types."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def typed(monkeypatch):
    """Runs a command with lines typed on a terminal."""

    def run(shop, lines, *call):
        monkeypatch.setattr(sys, "stdin", Terminal("".join(f"{line}\n" for line in lines)))
        assert bench.terminal()
        return shop.run(*call)

    return run


@pytest.fixture
def shop(tmp_path):
    return small_shop(tmp_path)


@pytest.fixture
def code(shop):
    return shop.done("batch", "open", "plain-test-lotion", "--made", "2026-05-03").out.splitlines()[0]


def shown(shop, code):
    return shop.document("batch", "show", code)


def test_whole_batch_asked_through(shop, code, typed):
    lines = ["1000g", "901", "50.1", "G-1", "y", "49,2 g", "E-1", "y", "48.72-47.42", "H-1", "y", "6.01@22C", "980g",
             "19"]
    ran = typed(shop, lines, "batch", "bench", code)
    assert ran.code == 0, ran.err
    assert "line 2: glycerin, 50.00 g (49.00 to 51.00 g)" in ran.err and "pH (5.5 to 6.5)" in ran.err
    assert "8 new on record, 3 of 3 rows weighed" in ran.out
    found = shown(shop, code)
    assert [(row["material"], row["grams"], row["lot"]) for row in found["weighed"]] == [
        ("water", 901, None), ("glycerin", 50.1, "G-1"), ("coconut-ester", 49.2, "E-1"), ("half-citric", 1.3, "H-1")]
    assert found["size"] == 1000 and found["yield"] == 980 and found["filled"] == {"": 19}
    assert [item["lot"] for item in shop.document("lot", "list")["items"]] == ["G-1", "E-1", "H-1"]
    shop.done("batch", "release", code, "--by", "A. Bell")


def test_left_and_resumed(shop, code, typed):
    typed(shop, ["1000g", "901", "q"], "batch", "bench", code)
    assert len(shown(shop, code)["weighed"]) == 1
    ran = typed(shop, ["50", "G-1", "y", "q"], "batch", "bench", code)
    assert "line 1:" not in ran.err and "line 2: glycerin" in ran.err
    assert len(shown(shop, code)["weighed"]) == 2


def test_end_of_input_keeps_what_was_answered(shop, code, typed):
    ran = typed(shop, ["1000g", "901"], "batch", "bench", code)
    assert ran.code == 0 and len(shown(shop, code)["weighed"]) == 1


def test_lot_not_on_record_is_never_made_silently(shop, code, typed):
    typed(shop, ["1000g", "901", "50", "G-l", "n", "G-1", "y", "q"], "batch", "bench", code)
    assert shown(shop, code)["weighed"][1]["lot"] == "G-1"
    assert [item["lot"] for item in shop.document("lot", "list")["items"]] == ["G-1"]


def test_mass_far_off_is_asked_about_before_it_is_kept(shop, code, typed):
    ran = typed(shop, ["1000g", "901", "80", "", "n", "50.2", "", "q"], "batch", "bench", code)
    assert "80 g weighed, 50.00 g planned" in ran.err and "keep it?" in ran.err
    assert [row["grams"] for row in shown(shop, code)["weighed"]] == [901, 50.2]


def test_what_cannot_be_read_is_asked_again(shop, code, typed):
    ran = typed(shop, ["much", "1000g", "a lot", "901", "q"], "batch", "bench", code)
    assert "no mass" in ran.err and len(shown(shop, code)["weighed"]) == 1


@pytest.mark.parametrize(("answer", "kept"), [("y", 1), ("n", 0)])
def test_lot_of_an_option_is_asked_about_too(shop, code, typed, answer, kept):
    ran = typed(shop, [answer], "batch", "bench", code, "--add", "half-citric=1@H-1")
    assert "lot H-1 of half-citric is not on record" in ran.err
    assert ran.code == (0 if kept else 2)
    assert len(shown(shop, code)["weighed"]) == len(shop.document("lot", "list")["items"]) == kept
