from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from label_frames import label

from labeltool.output.spaces import spaced_runs
from labeltool.typeset.frame import TextRun

FRAME = label()


def drawn(words, *texts):
    runs = tuple(TextRun(0, 0, text, "regular", 5, "x") for text in texts)
    return [run.text for run in spaced_runs(replace(FRAME, items=runs, words=words))]


def test_space_of_the_words_follows_its_run():
    assert drawn((("x", "Ingredients: Aqua, Glycerin"),), "Ingredients:", "Aqua,", "Glycerin") == [
        "Ingredients: ", "Aqua, ", "Glycerin"]


def test_line_broken_without_a_space_gets_none():
    assert drawn((("x", "CI 77491/CI 77492"),), "CI 77491/", "CI 77492") == ["CI 77491/", "CI 77492"]


def test_digits_set_one_by_one_stay_together():
    assert drawn((("x", "2605 A 31"),), "2", "6", "0", "5", "A", "31") == ["2", "6", "0", "5 ", "A ", "31"]


def test_words_of_two_blocks_of_one_name_are_parted():
    assert drawn((("x", "Hand lotion"), ("x", "Lotion pour les mains")), "Hand lotion", "Lotion pour", "les mains") == [
        "Hand lotion ", "Lotion pour ", "les mains"]


def test_run_that_the_words_do_not_have_is_drawn_as_it_is():
    assert drawn((("x", "one"),), "two") == ["two"]
    assert drawn((), "two") == ["two"]


def test_other_items_are_left_out_and_the_rest_is_unchanged():
    runs = list(spaced_runs(FRAME))
    originals = [item for item in FRAME.items if isinstance(item, TextRun)]
    assert [run.text.rstrip() for run in runs] == [run.text for run in originals]
    assert [replace(run, text="") for run in runs] == [replace(run, text="") for run in originals]


@given(st.lists(st.text("ab-,", min_size=1, max_size=6), min_size=1, max_size=8))
def test_runs_of_whole_words_join_to_the_words(words):
    assert "".join(drawn((("x", " ".join(words)),), *words)) == " ".join(words)
