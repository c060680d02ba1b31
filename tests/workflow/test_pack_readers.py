"""Labels of a pack for other readers, and lists that stand on the box alone."""

from __future__ import annotations

import pytest
from cli_runs import CREAM, Shop
from pack_shop import LARGE, pack_shop

from labeltool.records.store import open_store

GERMAN = """
[product.text.de]
name = "Ringelblumen-Handcreme"
function = "Handcreme"
directions = "Auf die Hände auftragen."
"""
ABROAD = f"""
[[pack]]
name = "30ml"
net = "30 ml"
labels = [
  {{ name = "front", stock = "{LARGE}" }},
  {{ name = "back", stock = "{LARGE}", markets = ["UK"] }},
  {{ name = "back-de", artwork = "back", stock = "{LARGE}", markets = ["EU"], languages = ["de"] }},
]
"""
BOXED = f"""
[[pack]]
name = "30ml"
net = "30 ml"
outer = {{ shape = "box", width = 50, depth = 50, height = 100 }}
labels = [
  {{ name = "front", stock = "{LARGE}" }},
  {{ name = "mini", stock = "{LARGE}" }},
  {{ name = "box", on = "outer", stock = "{LARGE}" }},
]
"""
MINI = """\
[[variant]]
top = ["name", {{ row = ["function", "net"] }}]
flow = [{warnings}]
foot = [{{ run = ["responsible", "origin", "contact"] }}, {{ stack = ["code", "date", "opening", "leaflet"] }}]
qr = "bottom-right"
"""


@pytest.fixture
def abroad(tmp_path) -> Shop:
    shop = pack_shop(tmp_path, ABROAD)
    shop.change("workshop.toml", 'markets   = ["UK"]', 'markets   = ["UK", "EU"]')
    path = shop.folder / "workshop.toml"
    path.write_text(path.read_text(encoding="utf-8") + '\n[responsible-person]\nEU = { name = "A", address = '
                    '["1 Example Quay"] }\n', encoding="utf-8")
    shop.change(f"formulas/{CREAM}.toml", "\n[container]", GERMAN + "\n[container]")
    return shop


def test_each_label_speaks_to_its_own_readers(abroad):
    abroad.document("print", CREAM, "--pack", "30ml", "--count", "1", "--no-verify")
    with open_store(abroad.folder / "records.sqlite") as store:
        rows = {row.label: row for row in store.prints("260503A31")}
    assert {name: (row.markets, row.languages) for name, row in rows.items()} == {
        "front": (("UK", "EU"), ("en",)), "back": (("UK",), ("en",)), "back-de": (("EU",), ("de",))}
    said = {name: {block["name"]: block["text"] for block in row.text["blocks"]} for name, row in rows.items()}
    assert said["back-de"]["directions"] == "Auf die Hände auftragen."
    assert said["back"]["directions"] == "Massage a little into clean, dry hands."
    assert not any(row.superseded for row in rows.values())


def test_readers_choose_the_labels_that_serve_them(abroad):
    call = ("print", CREAM, "--pack", "30ml", "--count", "1", "--no-verify")
    assert abroad.document(*call, "--markets", "EU", "--languages", "de")["label"] == ["front", "back-de"]
    assert abroad.document(*call, "--markets", "UK")["label"] == ["front", "back"]


def test_each_market_is_looked_at_with_its_own_labels(abroad):
    rows = abroad.run("check", CREAM, "--json").json["elements"]
    lists = {row["market"]: row["labels"] for row in rows if row["element"] == "ingredients"}
    assert lists == {"UK": ["back"], "EU": ["back-de"]}


@pytest.mark.parametrize(("warnings", "state"), [('"warnings"', "present"), ("", "maker")])
def test_the_hand_on_a_book_leads_to_what_stands_on_the_box(tmp_path, warnings, state):
    """Art. 19(1): the list may stand on the packaging alone; Art. 19(2): precautions where there is no room."""
    shop = pack_shop(tmp_path, BOXED)
    shop.write("layouts/artwork/mini.toml", MINI.format(warnings=warnings))
    shop.done("print", CREAM, "--pack", "30ml", "--count", "1", "--no-verify")
    with open_store(shop.folder / "records.sqlite") as store:
        rows = {row.label: row for row in store.prints("260503A31")}
    signs = {name: [block["symbol"] for block in row.text["blocks"] if block["name"] == "leaflet"]
             for name, row in rows.items()}
    assert signs == {"front": ["hand-on-book"], "mini": ["hand-on-book"], "box": []}
    drawn = {name: {item["block"] for item in row.frames[0]["items"]} for name, row in rows.items()}
    assert "leaflet" in drawn["mini"] and "leaflet" not in drawn["front"] | drawn["box"]
    found = {(row["on"], row["element"]): row for row in shop.document("check", CREAM)["elements"]}
    assert found["container", "ingredients"]["state"] == "not-needed"
    assert "box" in found["container", "ingredients"]["text"]
    assert found["container", "precautions"]["state"] == state
    assert found["outer", "precautions"]["state"] == found["outer", "ingredients"]["state"] == "present"
