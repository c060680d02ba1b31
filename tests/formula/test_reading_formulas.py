from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from formula_workshops import CITRIC, FORMULA, MATERIALS, WORKSHOP, read, rules, write

from labeltool.codec import from_plain, to_plain
from labeltool.formula.load import Loaded, read_formula, read_materials, read_workshop
from labeltool.formula.model import NetQuantity, Period, ProductText, Span, Workshop


def loaded(
    folder: Path, files: dict[str, str | bytes | None], path: str = "formulas/lotion.toml", /, **facts: str,
) -> Loaded:
    found, findings = read(write(folder, files), path, **facts)
    assert found is not None, findings
    return found


def test_every_key_of_a_product_is_read(tmp_path: Path) -> None:
    product = loaded(tmp_path, {}).formula.product
    assert (product.name, product.version, product.code) == ("Oat Milk Hand Lotion", "1", "OML")
    assert (product.use, product.form) == ("leave-on", "cream")
    assert (product.body_area, product.users) == (("hands",), ("adults",))
    assert product.net == NetQuantity(Decimal(50), "ml")
    assert (product.shelf_life, product.period_after_opening) == (Period(18), Period(6))
    assert product.ph == Span(Decimal("5.0"), Decimal("5.6"))
    assert (product.gtin, product.markets, product.professional) == ("9521234567899", ("UK",), False)
    assert (product.claims, product.warnings) == (("soft",), ("Keep it cool.",))
    assert product.no_opening_period == "single use"
    french = ProductText("Lait d'avoine", "Lait pour les mains", "Appliquer sur des mains propres.",
                         ("Conserver au frais.",))
    assert product.texts == (("fr", french),)


def test_every_key_of_a_workshop_is_read(tmp_path: Path) -> None:
    shop = loaded(tmp_path, {}).workshop
    assert (shop.markets, shop.languages, shop.e_mark) == (("UK", "EU"), ("en", "fr"), True)
    assert shop.maker.address == ("3 Example Yard", "Ottersholt", "EX0 0EX")
    assert [(market, party.role) for market, party in shop.responsible] == [("EU", None), ("US", "distributed by")]
    assert (shop.print.stock, shop.print.printer) == ("a4-3x8-63.5x33.9", "office")
    assert shop.print.artwork == ("front", "back")
    assert (shop.batch.balance_g, shop.batch.tolerance, shop.batch.require_release) == (Decimal("0.1"), "1,5 %", True)
    assert (shop.record.gtin_dates, shop.record.by) == (("15",), "AB")
    assert shop.words == (("fr", "batch", "N° de lot"), ("fr", "external-use", "Usage externe."))


def test_an_empty_workshop_file_is_good(tmp_path: Path) -> None:
    shop = loaded(tmp_path, {"workshop.toml": "# nothing yet\n"}).workshop
    assert shop.languages == ("en",)
    assert shop.batch.code == "%y%m%d{seq}{check}"
    assert shop.markets == ()


def test_one_artwork_may_stand_without_brackets(tmp_path: Path) -> None:
    text = WORKSHOP.replace('["front", "back"]', '"back"')
    assert loaded(tmp_path, {"workshop.toml": text}).workshop.print.artwork == ("back",)


@pytest.mark.parametrize(("country", "markets"), [
    ("GB", ("UK",)), ("DE", ("EU",)), ("US", ("US",)), ("CA", ("CA",)), ("AU", ()), (None, ()),
])
def test_markets_follow_the_makers_country(tmp_path: Path, country: str | None, markets: tuple[str, ...]) -> None:
    write(tmp_path, {"workshop.toml": f'[maker]\ncountry = "{country}"\n' if country else ""})
    shop, findings = read_workshop(tmp_path)
    assert isinstance(shop, Workshop)
    assert shop.markets == markets
    assert rules(findings, "note") == ([] if markets else ["sale.markets"])


def test_a_formula_with_markets_does_not_miss_the_workshops(tmp_path: Path) -> None:
    found, findings = read(write(tmp_path, {"workshop.toml": ""}))
    assert found is not None
    assert rules(findings, "note") == []
    found, findings = read(write(tmp_path, {"formulas/lotion.toml": FORMULA.replace('markets    = ["UK"]', "")}))
    assert rules(findings, "note") == []


def test_rows_hold_todays_keys_and_sum_to_a_hundred(tmp_path: Path) -> None:
    rows = loaded(tmp_path, {}).formula.rows
    assert [row.material for row in rows] == ["water", "rosemary-extract", "inci:Glycerin", "citric-solution"]
    assert [row.kind for row in rows] == ["qs", "amount", "amount", "to-ph"]
    assert [str(row.percent) for row in rows] == ["88.5", "6", "5.5", "0"]
    assert rows[3].up_to == Decimal("0.3")
    assert rows[1].tolerance == "1 %"
    assert rows[1].where.line is not None


def test_materials_are_those_that_are_needed(tmp_path: Path) -> None:
    found = loaded(tmp_path, {})
    assert [key for key, _ in found.materials] == [
        "citric-solution", "inci:Citric Acid", "inci:Glycerin", "rosemary-extract", "water",
    ]
    inline = dict(found.materials)["inci:Glycerin"]
    assert (inline.name, inline.lots) == ("Glycerin", False)
    assert [(part.inci, part.percent.low) for part in inline.made_of] == [("Glycerin", Decimal(100))]


def test_a_material_made_here_brings_its_formula(tmp_path: Path) -> None:
    ((key, formula),) = loaded(tmp_path, {}).made_here
    assert (key, formula.key, formula.total_grams) == ("citric-solution", "citric-solution", Decimal(3))
    assert sum(row.percent for row in formula.rows) == 100
    assert [row.grams for row in formula.rows] == [2, 1]


def test_made_here_may_stand_in_a_spreadsheet_and_go_deeper(tmp_path: Path) -> None:
    files: dict[str, str | bytes | None] = {
        "materials.toml": MATERIALS + '[dilute]\nformula = "dilute"\n',
        "formulas/citric-solution.toml": '[product]\nname = "Citric acid solution"\n',
        "formulas/citric-solution.csv": "material;percent\nwater;50\ndilute;50\n",
        "formulas/dilute.toml": CITRIC,
    }
    found = loaded(tmp_path, files)
    assert [key for key, _ in found.made_here] == ["citric-solution", "dilute"]
    assert [name for name, _ in found.files] == [
        "workshop.toml", "materials.toml", "formulas/lotion.toml", "formulas/citric-solution.toml",
        "formulas/citric-solution.csv", "formulas/dilute.toml",
    ]


def test_a_ring_over_several_formulas_is_told(tmp_path: Path) -> None:
    files: dict[str, str | bytes | None] = {
        "materials.toml": MATERIALS + '[dilute]\nformula = "dilute"\n',
        "formulas/citric-solution.toml": CITRIC.replace('"water"', '"dilute"'),
        "formulas/dilute.toml": CITRIC.replace('"water"', '"citric-solution"'),
    }
    found, findings = read(write(tmp_path, files))
    assert found is None
    assert [item.text for item in findings.errors] == [
        "citric-solution is made of itself: citric-solution → dilute → citric-solution",
    ]


def test_a_long_chain_of_formulas_ends(tmp_path: Path) -> None:
    materials = "".join(f'[m{at}]\nformula = "f{at}"\n' for at in range(2000))
    files: dict[str, str | bytes | None] = {
        f"formulas/f{at}.toml": f'[product]\nname="f"\n[[ingredient]]\nmaterial="m{at + 1}"\npercent=100\n'
        for at in range(60)
    }
    found, findings = read(write(tmp_path, {**files, "materials.toml": materials}), "formulas/f0.toml")
    assert found is None
    assert rules(findings) == ["material.deep"]


def test_every_component_key_is_read(tmp_path: Path) -> None:
    write(tmp_path, {})
    materials, findings = read_materials(tmp_path)
    assert not findings.errors
    assert materials["water"].made_of[0].names == (("US", "Water"),)
    assert materials["rosemary-extract"].was == ("rosemary-oil",)
    assert materials["rosemary-extract"].made_of[1].percent == Span(Decimal(10), Decimal(30))
    assert materials["rosemary-extract"].made_of[1].purpose == "antioxidant"
    (red,) = materials["red-iron-oxide"].made_of
    assert (red.colorant, red.nano) == (("US",), True)
    assert [(item.name, item.percent.high) for item in materials["cedar-oil"].allergens] == [
        ("Limonene", Decimal("0.4")), ("Linalool", Decimal("0.3")),
    ]
    assert [item.inci for item in materials["lye-soap"].as_made] == ["Sodium Olivate", "Aqua", "Glycerin"]


def test_a_material_without_a_name_is_called_by_its_key(tmp_path: Path) -> None:
    write(tmp_path, {"materials.toml": '[squalane]\ninci = "Squalane"\n'})
    assert read_materials(tmp_path)[0]["squalane"].name == "squalane"


def test_purposes_in_another_spelling_and_unknown_ones(tmp_path: Path) -> None:
    text = '[a]\ninci = "A"\npurpose = "{}"\n'
    for word, kept, level in (("pH adjuster", "ph-adjuster", []), ("preservativ", "preservativ", ["warning"]),
                              ("magic", "magic", ["note"])):
        write(tmp_path, {"materials.toml": text.format(word)})
        materials, findings = read_materials(tmp_path)
        assert materials["a"].made_of[0].purpose == kept
        assert [item.level for item in findings] == level


def test_a_list_of_materials_in_a_spreadsheet_is_not_passed_over_in_silence(tmp_path: Path) -> None:
    write(tmp_path, {"materials.csv": "x\n"})
    assert rules(read_materials(tmp_path)[1], "note") == ["materials.sheet"]


def test_a_formula_of_inci_names_needs_no_materials(tmp_path: Path) -> None:
    text = '[product]\nname = "Oil"\n[[ingredient]]\ninci = "Squalane"\npercent = 100\n'
    found = loaded(tmp_path, {"materials.toml": None, "formulas/oil.toml": text}, "formulas/oil.toml")
    assert [key for key, _ in found.materials] == ["inci:Squalane"]


def test_unreadable_materials_are_one_fault_not_many(tmp_path: Path) -> None:
    found, findings = read(write(tmp_path, {"materials.toml": "[x"}))
    assert found is None
    assert rules(findings) == ["toml.syntax"]


def test_a_faulty_material_is_still_a_known_one(tmp_path: Path) -> None:
    found, findings = read(write(tmp_path, {"materials.toml": MATERIALS.replace("[70, 90]", "[1, 2]")}))
    assert found is None
    assert rules(findings) == ["material.sum"]


def test_options_stand_in_for_facts(tmp_path: Path) -> None:
    product = loaded(tmp_path, {"formulas/bare.csv": "inci\tpercent\nAqua\t100\n"}, "formulas/bare.csv", name="Toner",
                     net="50ml", body_area="face, body", ph="5,0 to 5,6", professional="yes", claims="mild\nsoft",
                     shelf_life="1 year").formula.product
    assert (product.name, product.body_area, product.claims) == ("Toner", ("face", "body"), ("mild", "soft"))
    assert product.ph == Span(Decimal(5), Decimal("5.6"))
    assert (product.professional, product.shelf_life) == (True, Period(12))


def test_options_overrule_the_file_with_a_note(tmp_path: Path) -> None:
    found, findings = read(write(tmp_path, {}), name="Other", form="cream")
    assert found is not None
    assert found.formula.product.name == "Other"
    assert rules(findings, "note") == ["product.option"]


def test_faulty_options_are_named(tmp_path: Path) -> None:
    found, findings = read(write(tmp_path, {}), shelf_life="5 moons", colour="red")
    assert found is None
    assert [(item.rule, item.where.key) for item in findings.errors] == [
        ("key.unknown", "--colour"), ("value.period", "--shelf-life"),
    ]


def test_what_was_assessed_is_kept_and_said_not_to_be_compared(tmp_path: Path) -> None:
    text = FORMULA.replace('claims ', 'assessed = { by = "A. Sessor", date = 2026-03-01 }\nclaims ')
    found, findings = read(write(tmp_path, {"formulas/lotion.toml": text}))
    assert found is not None
    assert found.formula.product.assessed is not None
    assert rules(findings, "note") == ["product.assessed"]


@pytest.mark.parametrize(("container", "area"), [
    ('shape = "box"\nwidth = 40\ndepth = 40\nheight = 100', None),
    ('shape = "pouch"\nwidth = "40 mm"\nheight = 9', None),
    ('shape = "other"\narea = 2500.5', Decimal("2500.5")),
])
def test_containers(tmp_path: Path, container: str, area: Decimal | None) -> None:
    text = FORMULA.replace('shape = "cylinder"\ndiameter = 40\nheight = 95', container)
    found = loaded(tmp_path, {"formulas/lotion.toml": text}).formula.container
    assert found is not None
    assert (found.area_mm2, found.straight_mm, found.colour) == (area, None, None)


def test_the_wall_and_the_colour_of_a_container(tmp_path: Path) -> None:
    text = FORMULA.replace("diameter = 40", 'diameter = 40\nstraight = "80 mm"\ncolour = "#5A3A1E"')
    found = loaded(tmp_path, {"formulas/lotion.toml": text}).formula.container
    assert found is not None
    assert (found.straight_mm, found.colour) == (Decimal(80), "#5a3a1e")


def test_windows_line_ends_and_byte_order_marks_change_nothing(tmp_path: Path) -> None:
    plain = loaded(tmp_path / "a", {})
    texts = {"workshop.toml": WORKSHOP, "materials.toml": MATERIALS, "formulas/lotion.toml": FORMULA}
    marked = {name: b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode() for name, text in texts.items()}
    other = loaded(tmp_path / "b", {**marked})
    assert (other.formula, other.materials, other.workshop) == (plain.formula, plain.materials, plain.workshop)


def test_everything_read_survives_the_record(tmp_path: Path) -> None:
    found = loaded(tmp_path, {})
    assert from_plain(type(found.formula), to_plain(found.formula)) == found.formula
    assert from_plain(Workshop, to_plain(found.workshop)) == found.workshop
    for _, material in found.materials:
        assert from_plain(type(material), to_plain(material)) == material


def test_a_formula_can_be_read_alone(tmp_path: Path) -> None:
    write(tmp_path, {})
    formula, findings = read_formula(tmp_path / "formulas/lotion.toml", cwd=tmp_path)
    assert formula is not None
    assert formula.rows[1].material == "rosemary-oil"
    assert len(findings) == 0
