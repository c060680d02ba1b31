"""A misspelt allergen is told: silently left out, it would be missing on the label."""

from __future__ import annotations

from cli_runs import Shop


def test_a_misspelt_allergen_is_named_with_the_nearest(shop: Shop) -> None:
    path = shop.folder / "materials.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("Linalool =", "Linaloool =", 1), encoding="utf-8")
    ran = shop.run("declare", "calendula-hand-cream", "--json")
    found = [item for item in ran.json["problems"] if item["rule"] == "allergen.name"]
    assert [item["level"] for item in found] == ["warning"]
    assert "Linaloool" in found[0]["text"] and "Linalool" in found[0]["do"]


def test_well_spelt_allergens_pass(shop: Shop) -> None:
    assert "allergen.name" not in shop.run("declare", "calendula-hand-cream", "--json").rules


def test_a_lid_without_a_symbol_is_matched_by_its_words(shop: Shop) -> None:
    lid = ("--stock", "a4-3x4-round-60", "--artwork", "round-lid")
    printed = shop.run("print", "calendula-hand-cream", *lid, "--json")
    ran = shop.run("verify", printed.json["file"], "--json")
    assert ran.code == 0 and len(ran.json["labels"]) == 12
