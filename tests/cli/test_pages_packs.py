"""Pages of batches in several packs, and of gift sets."""

from __future__ import annotations

import pytest
from cli_runs import BALM, CREAM, Shop
from pack_shop import SET, pack_shop
from page_samples import Read
from serve_runs import serving

ONE, TWO, GIFT = "260503A31", "260503B28", "260503C25"
LABEL = ("--no-verify", "--count", "1")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A cream with two of its three packs printed, a balm, and a set of both."""
    made = pack_shop(tmp_path_factory.mktemp("packs"))
    made.write("formulas/winter-set.toml", SET)
    made.done("batch", "open", CREAM, "--size", "500g")
    made.done("batch", "open", BALM, "--size", "400g")
    made.done("print", ONE, "--pack", "30ml", *LABEL)
    made.done("print", ONE, "--pack", "sample", *LABEL)
    made.done("print", "winter-set", "--of", ONE, "--of", TWO, *LABEL, "--stock", "a4-2x2-99.1x139")
    made.run("pages", "build", "site")
    return made


def page(shop: Shop, code: str) -> Read:
    return Read((shop.folder / "site" / "B" / code / "index.html").read_text(encoding="utf-8"))


def test_one_page_names_the_packs(shop: Shop) -> None:
    text = page(shop, ONE).text
    assert "Contents sample: 4.9 ml / 30 ml" in text
    assert "Ingredients Aqua," in text and "Caution" in text and text.count("Aqua,") == 1


def test_a_sets_page_leads_to_each_product(shop: Shop) -> None:
    read = page(shop, GIFT)
    assert f"In this set 2 × Calendula Hand Cream , {ONE} Plain Foot Balm , {TWO}" in read.text
    assert [link for link in read.attributes("a", "href") if link.startswith("/B/")] == [f"/B/{ONE}", f"/B/{TWO}"]
    assert "Ingredients: Aqua," in read.text and "Best used before the end of 04/2027" in read.text
    assert "Batch code 260503 C 25" in read.text
    assert "Best before" not in read.text.split("In this set")[0]


def test_a_set_says_when_what_lies_in_it_was_taken_back(shop: Shop) -> None:
    with serving(shop.folder) as server:
        assert "Recalled" not in server.get(f"/B/{GIFT}").body
        shop.done("batch", "recall", TWO, "--why", "mould")
        text = Read(server.get(f"/B/{GIFT}").body).text
        assert f"{TWO} Recalled: do not use" in text
        assert text.index(f"Recalled: do not use Plain Foot Balm , {TWO}") < text.index("Gift set")
        bench = server.get(f"/-/bench/{GIFT}", server.cookie())
        assert bench.status == 200 and f"/-/bench/{ONE}" in bench.body


def test_a_batch_without_labels_names_the_contents_of_its_packs(tmp_path) -> None:
    shop = pack_shop(tmp_path)
    shop.done("batch", "open", CREAM, "--size", "500g")
    shop.done("pages", "build", "site")
    assert "Contents sample: 4.9 ml / 30 ml / 100 ml" in page(shop, ONE).text
