"""What comes to the bench after a decision: a release lapses, and a batch taken back takes corrections alone."""

from __future__ import annotations

import pytest
from bench_shop import demo_shop, ready

STOCK = ("--stock", "a4-2x4-99.1x67.7")


@pytest.fixture
def shop(tmp_path):
    return demo_shop(tmp_path)


@pytest.fixture
def code(shop):
    """A lotion released."""
    found = ready(shop)
    shop.done("batch", "release", found, "--by", "A. Bell")
    return found


def state(shop, code):
    return shop.document("batch", "show", code)["state"]


@pytest.mark.parametrize(("call", "words"), [
    (("--correct", "2=75.2@L-2", "--why", "the slip"), "line 2 glycerin: 75.2 g, lot L-2 instead of 75 g, lot L-2"),
    (("--correct", "glycerin=75@G-9", "--why", "other jar"), "lot G-9 instead of 75 g, lot L-2"),
    (("--add", "citric-solution=0.2@CS-1"), "citric-solution: 0.2 g, lot CS-1"),
    (("--reading", "ph=5.4@20C"), "ph 5.4 at 20 °C read"),
    (("--correct", "ph=5.30", "--why", "misread"), "ph: 5.30 instead of 5.32 at 21 °C"),
])
def test_what_changes_a_released_batch_opens_it_again(shop, code, call, words):
    ran = shop.done("batch", "bench", code, *call, "--by", "CD")
    assert "was released by A. Bell on" in ran.err and "is open again" in ran.err and words in ran.err
    shown = shop.document("batch", "show", code)
    assert shown["state"] == "open" and words in shown["why"]
    assert f"next: labeltool batch release {code} --by NAME" in ran.out
    shop.done("batch", "release", code, "--by", "A. Bell")
    assert state(shop, code) == "released"


@pytest.mark.parametrize("call", [
    ("--note", "a calm day"), ("--reading", "viscosity=12000 mPas@25C"),
    ("--correct", "yield=2440g", "--why", "tare"), ("--correct", "filled=8", "--why", "recount"),
])
def test_what_no_release_was_held_against_leaves_it(shop, code, call):
    assert "open again" not in shop.done("batch", "bench", code, *call).err
    assert state(shop, code) == "released"


def test_a_change_that_no_release_would_pass_says_so_with_the_labels_printed_before(shop, code):
    shop.change("workshop.toml", "[batch]\n", "[batch]\nrequire-release = true\n")
    shop.done("print", code, "--count", "9", *STOCK)
    shop.done("print", code, "--count", "3", *STOCK)
    ran = shop.done("batch", "bench", code, "--correct", "2=80@L-2", "--correct", "ph=6.5", "--why", "second look")
    assert "12 labels were printed before" in ran.err
    assert "80 g weighed, 75.00 g planned" in ran.err and "the last ph read is 6.5" in ran.err
    assert "this is against a release" in ran.out and "batch release" not in ran.out.partition("(")[0]
    for call in (("print", code, *STOCK), ("reprint", code, "--why", "more")):
        refused = shop.run(*call)
        assert refused.code == 2 and "is not released" in refused.err
    assert shop.run("batch", "release", code, "--by", "A. Bell").code == 1
    shop.done("records", "check")


def test_nothing_of_a_refused_call_opens_the_batch(shop, code):
    assert shop.run("batch", "bench", code, "--reading", "ph=5.4", "--correct", "99=5@X", "--why", "x").code == 2
    assert state(shop, code) == "released"


@pytest.mark.parametrize("word", ["withdraw", "recall"])
def test_a_batch_taken_back_takes_notes_and_corrections(shop, code, word):
    shop.done("batch", word, code, "--why", "smells")
    refused = shop.run("batch", "bench", code, "--reading", "ph=5.4")
    assert refused.code == 2 and "nothing new is entered for it" in refused.err and "--note TEXT" in refused.err
    assert "--why" in shop.run("batch", "bench", code, "--correct", "2=75.2@L-2").err
    told = shop.done("batch", "bench", code, "--correct", "2=75.2@L-2", "--why", "the slip", "--note", "found late")
    assert "the correction goes on record, and it stays" in told.err
    shown = shop.document("batch", "show", code)
    assert shown["state"] in ("withdrawn", "recalled") and shown["weighed"][1]["grams"] == 75.2
