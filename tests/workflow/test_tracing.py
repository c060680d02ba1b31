"""A trace looks only at batches that the record's words lead to: it must find what a look at all of them finds."""

from __future__ import annotations

import shutil

import pytest
from bench_shop import SMALL, opened, small_shop, small_weighed, weighed
from cli_runs import Shop

from labeltool.workflow import tracing


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """Batches made of a base of our own, of lots with another composition, of renamed and added materials."""
    shop = small_shop(tmp_path_factory.mktemp("traced"))
    path = shop.folder / "materials.toml"
    plain = path.read_text(encoding="utf-8")
    path.write_text(plain + '\n[own-base]\nname = "Base of our own"\nformula = "plain-test-lotion"\n', encoding="utf-8")
    mixed = SMALL.replace("Plain Test Lotion", "Mixed").replace('"coconut-ester"', '"own-base"')
    shop.write("formulas/mixed.toml", mixed)
    base = small_weighed(shop)
    code = opened(shop, "mixed", "1000g")
    weighed(shop, code, own_base={"lot": base}, glycerin={"lot": " l-2 "})
    shop.done("batch", "bench", code, "--add", "citric-solution=1@CS 1")
    text = path.read_text(encoding="utf-8").replace("[glycerin]", "[glycerol]\nwas = [\"glycerin\"]")
    path.write_text(text.replace('"Caprylic/Capric Triglyceride"', '"Gellan Gum"'), encoding="utf-8")
    shop.done("lot", "receive", "coconut-ester", "X-9")
    path.write_text(text, encoding="utf-8")
    shop.write("formulas/third.toml", SMALL.replace("Plain Test Lotion", "Third").replace("glycerin", "glycerol"))
    third = opened(shop, "third", "1000g")
    weighed(shop, third, coconut_ester={"lot": "x-9"})
    opened(shop, "third", "100g")
    return shop, (base, code, third)


NANO = "gellan gum (nano)"
TERMS = ["L-3", "L-2", "l-2", "X-9", "CS 1", "cs-1", "glycerin", "glycerol", "own-base", "coconut-ester",
         "Caprylic/Capric Triglyceride", "Gellan Gum", NANO, "Aqua", "Citric Acid", "Glycerin", "CI 77491", "Parfum",
         "nothing", "0"]


def everything(term, store, shelf):
    thawed = {}
    return tuple(tracing.on_bench(batch, store, tracing._inputs(batch, thawed)) for batch in store.batches())


@pytest.mark.parametrize("term", [*TERMS, 0, 1, 2])
def test_nothing_is_missed(home, tmp_path, monkeypatch, term):
    folder, codes = home
    shop = Shop(shutil.copytree(folder.folder, tmp_path / "shop"))
    term = codes[term].lower() if isinstance(term, int) else term
    quick = shop.run("trace", term, "--json")
    monkeypatch.setattr(tracing, "candidates", everything)
    assert quick.out == shop.run("trace", term, "--json").out
    assert quick.code == (1 if term in ("nothing", "0", "CI 77491", "Parfum", "cs-1", NANO) else 0), quick.out
