"""batch show: what it was, what it is, why, by whom and when; and who released."""

from __future__ import annotations

from bench_shop import demo_shop, ready

from labeltool.raster import Pdf


def test_corrections_and_decisions_are_shown_whole(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    shop.done("batch", "bench", code, "--correct", "2=75.2@G-9", "--correct", "ph=5.3@20C", "--correct", "yield=2440g",
              "--correct", "filled=8", "--why", "read again", "--by", "CD")
    shop.done("batch", "release", code, "--by", "A. Bell")
    shop.done("batch", "bench", code, "--correct", "ph=5.4", "--why", "misread", "--by", "EF")
    shop.done("batch", "release", code, "--by", "B. Cole", "--why", "looked again")
    shown = shop.document("batch", "show", code)
    assert [(item["what"], item["line"], item["was"], item["now"], item["why"], item["by"])
            for item in shown["corrections"]] == [
        ("line 2 glycerin", 2, "75 g, lot L-2", "75.2 g, lot G-9", "read again", "CD"),
        ("ph", None, "5.32 at 21 °C", "5.3 at 20 °C", "read again", "CD"),
        ("yield", None, "2450 g", "2440 g", "read again", "CD"), ("filled", None, "9", "8", "read again", "CD"),
        ("ph", None, "5.3 at 20 °C", "5.4", "misread", "EF"),
    ]
    assert [(item["state"], item["by"]) for item in shown["decisions"]] == [
        ("released", "A. Bell"), ("open", "EF"), ("released", "B. Cole")]
    assert (shown["released"]["by"], shown["released"]["why"]) == ("B. Cole", "looked again")
    assert [(item["value"], item["celsius"]) for item in shown["readings"]] == [(5.4, None)]
    lines = shop.done("batch", "show", code, "-o", "sheet.pdf").out
    assert "by A. Bell" in lines and "open again" in lines and "by B. Cole, why: looked again" in lines
    assert "by CD: line 2 glycerin: 75.2 g, lot G-9 instead of 75 g, lot L-2, why: read again" in lines
    pdf = Pdf((shop.folder / "sheet.pdf").read_bytes())
    text = " ".join("".join(pdf.text(page) for page in range(pdf.page_count)).split())
    for words in ("Decisions", "B. Cole", "open again", "Corrections", "75 g, lot L-2", "75.2 g, lot G-9", "misread",
                  "2450 g", "2440 g"):
        assert words in text, words


def test_a_withdrawn_batch_has_no_release_that_stands(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    assert shop.document("batch", "show", code)["released"] is None
    shop.done("batch", "release", code, "--by", "A. Bell")
    shop.done("batch", "withdraw", code, "--why", "smells", "--by", "CD")
    shown = shop.document("batch", "show", code)
    assert shown["released"] is None and [item["by"] for item in shown["decisions"]] == ["A. Bell", "CD"]


def test_what_comes_next_is_a_release_only_where_it_can_be(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    assert f"next: labeltool batch release {code} --by NAME" in shop.done("batch", "show", code).out
    ran = shop.done("batch", "bench", code, "--reading", "ph=6.5@21C")
    assert "ph 6.5 lies outside the formula's range" in ran.err
    for out in (ran.out, shop.done("batch", "show", code).out):
        assert "next: labeltool batch bench" in out and "the last ph read is 6.5; adjust and read again" in out
