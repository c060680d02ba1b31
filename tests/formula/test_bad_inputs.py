"""Broken inputs, one a row: what was written, which rules answer, and at which line or cell."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest
from formula_workshops import CITRIC, FORMULA, MATERIALS, WORKSHOP, line_of, read, rules, write


@dataclass(frozen=True)
class Bad:
    """`files` beside the valid ones; `rules` all errors in order; `line` or `cell` of the first one."""

    name: str
    files: dict[str, str | bytes | None]
    rules: list[str]
    line: int | None = None
    cell: str | None = None
    says: str = ""
    path: str = "formulas/lotion.toml"


def changed(text: str, old: str, new: str) -> tuple[str, int]:
    """The text with one part changed, and the line on which the change begins."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new), line_of(text, old)


def in_formula(name: str, old: str, new: str, *found: str, says: str = "", down: int = 0) -> Bad:
    text, line = changed(FORMULA, old, new)
    return Bad(name, {"formulas/lotion.toml": text}, list(found), line + down, says=says)


def in_materials(name: str, old: str, new: str, *found: str, says: str = "", down: int = 0) -> Bad:
    text, line = changed(MATERIALS, old, new)
    return Bad(name, {"materials.toml": text}, list(found), line + down, says=says)


def in_workshop(name: str, old: str, new: str, *found: str, says: str = "", down: int = 0) -> Bad:
    text, line = changed(WORKSHOP, old, new)
    return Bad(name, {"workshop.toml": text}, list(found), line + down, says=says)


def in_csv(name: str, text: str | bytes, *found: str, line: int | None = None, says: str = "") -> Bad:
    facts = '[product]\nname = "L"\n'
    return Bad(name, {"formulas/lotion.toml": facts, "formulas/lotion.csv": text}, list(found), line, says=says)


WORKSHOP_CASES = [
    in_workshop("newer format", "format = 1", "format = 2", "format.newer", says="newer"),
    in_workshop("format as text", "format = 1", 'format = "1"', "value.type"),
    in_workshop("format zero", "format = 1", "format = 0", "value.type"),
    in_workshop("unknown key", "e-mark = true", "e_mark = true", "key.unknown", says="did you mean e-mark?"),
    in_workshop("unknown table", "[print]", "[prints]", "key.unknown", says="did you mean print?"),
    in_workshop("key in the wrong table", "brand   =", "markets =", "key.misplaced", says="[sale]"),
    in_workshop("key of another file", "brand   =", "net =", "key.misplaced", says="[product] of a formula file"),
    in_workshop("country by another name", '"GB"', '"UK"', "value.country", says="did you mean GB?"),
    in_workshop("market by another name", '"UK", "EU"]', '"GB", "EU"]', "value.market", says="did you mean UK?"),
    in_workshop("no market in the list", '["UK", "EU"]', "[]", "value.empty-list"),
    in_workshop("unknown language", '["en", "fr"]', '["en", "xx"]', "value.language"),
    in_workshop("words in an unknown language", "[words.fr]", "[words.xx]", "value.language"),
    in_workshop("unknown label word", "external-use =", "externaluse =", "key.unknown",
                says="did you mean external-use?"),
    in_workshop("a word that the law fixes", "external-use =", "ingredients =", "key.unknown"),
    in_workshop("words without a language", "[words.fr]", "[words]", "value.language", "value.language", down=1),
    in_workshop("flag in quotes", "e-mark = true", 'e-mark = "true"', "value.type", says="without quotes"),
    in_workshop("address as one text", '["3 Example Yard", "Ottersholt", "EX0 0EX"]', '"3 Example Yard"', "value.type",
                says='["3 Example Yard"]'),
    in_workshop("a number in the address", '"EX0 0EX"]', "7]", "value.type"),
    in_workshop("unknown responsible market", "EU = { name", "XX = { name", "key.unknown"),
    in_workshop("responsible without a name", 'name = "Ottersholt Continental", ', "", "key.missing"),
    in_workshop("role in the EU", 'EU = { name', 'EU = { role = "made for", name', "workshop.role"),
    in_workshop("unknown role", '"distributed by"', '"sold by"', "value.word"),
    in_workshop("tolerance without unit", '"1,5 %"', '"1,5"', "value.tolerance"),
    in_workshop("balance of zero", '"0.1g"', '"0 g"', "value.mass"),
    in_workshop("balance as a number", '"0.1g"', "0.1", "value.type", says="write it in quotes"),
    in_workshop("unknown gtin date", '["15"]', '["12"]', "value.word"),
    in_workshop("maker is no table", '[maker]\nname    = "Ottersholt Bodycare"', 'maker = "Ottersholt"\n[sale2]',
                "key.unknown", "value.type", down=1),
    Bad("workshop in UTF-16", {"workshop.toml": b"\xff\xfea\x00"}, ["file.encoding"], says="UTF-16"),
]

TOML_CASES = [
    in_formula("syntax", "percent  = 6", "percent  6", "toml.syntax"),
    in_formula("decimal comma bare", "percent  = 6", "percent  = 5,32", "toml.syntax", says='"5,32"'),
    in_formula("curly quotes", 'net        = "50 ml"', "net        = “50 ml”", "toml.syntax", says="straight quotes"),
    in_formula("a key twice", "percent  = 6", "percent  = 6\npercent = 7", "toml.twice", down=1),
    in_formula("a table twice", "[container]", "[product]", "toml.twice"),
    in_formula("too deep", "percent  = 6", "percent  = " + "[" * 60 + "]" * 60, "toml.depth"),
    in_formula("long dotted key", "percent  = 6", "a" + ".a" * 50 + " = 6", "toml.depth"),
    in_formula("number of 5000 digits", "percent  = 6", "percent  = " + "9" * 5000, "toml.syntax"),
    in_formula("control character", "Apply to", "Apply\x01 to", "file.control"),
    in_formula("NUL", "Apply to", "Apply\0 to", "file.control"),
    in_formula("escaped NUL", "Apply to", "Apply\\u0000 to", "value.control"),
    in_formula("escaped surrogate", "Apply to", "Apply\\ud800 to", "toml.syntax"),
    Bad("not UTF-8", {"formulas/lotion.toml": FORMULA.encode().replace(b"cool", b"c\xe9ol")}, ["file.encoding"],
        line_of(FORMULA, "cool"), says="0xE9"),
    Bad("encoded surrogate", {"formulas/lotion.toml": FORMULA.encode().replace(b"cool", b"\xed\xa0\x80")},
        ["file.encoding"], line_of(FORMULA, "cool")),
    Bad("UTF-16", {"formulas/lotion.toml": FORMULA.encode("utf-16")}, ["file.encoding"], says="UTF-16"),
    Bad("empty", {"formulas/lotion.toml": ""}, ["file.empty", "key.missing"]),
    Bad("missing", {}, ["file.missing"], path="formulas/lotio.toml", says="did you mean lotion.toml?"),
    Bad("a folder", {"formulas/x.toml/y": ""}, ["file.folder"], path="formulas/x.toml"),
    Bad("another ending", {"formulas/lotion.ods": ""}, ["file.ending"], path="formulas/lotion.ods"),
    Bad("too large", {"formulas/lotion.toml": b"#" * 10_000_001}, ["file.size"]),
]

PRODUCT_CASES = [
    in_formula("no name", 'name       = "Oat Milk Hand Lotion"', "", "key.missing", down=-1),
    in_formula("empty name", '"Oat Milk Hand Lotion"', '" "', "key.missing"),
    in_formula("name as a number", '"Oat Milk Hand Lotion"', "7", "value.type", says='name = "7"'),
    in_formula("version as a number", '"1"', "1", "value.type", says='version = "1"'),
    in_formula("unknown key", 'directions = "Apply to', 'direction = "Apply to', "key.unknown",
               says="did you mean directions?"),
    in_formula("key of the maker", "version    =", "brand =", "key.misplaced", says="[maker]"),
    in_formula("key of the container", "version    =", "diameter =", "key.misplaced", says="[container]"),
    in_formula("short code", '"OML"', '"oat milk"', "product.code"),
    in_formula("unknown use", '"leave-on"', '"leave on"', "value.word", says="did you mean leave-on?"),
    in_formula("unknown area", '["hands"]', '["hand"]', "value.word", says="did you mean hands?"),
    in_formula("unknown form", '"cream"', '"creme"', "value.word", says="did you mean cream?"),
    in_formula("unknown users", '["adults"]', '["everyone"]', "value.word"),
    in_formula("professional as a number", "professional = false", "professional = 0", "value.type"),
    in_formula("net without unit", '"50 ml"', '"50"', "value.net"),
    in_formula("net in ounces", '"50 ml"', '"2 oz"', "value.net", says="metric"),
    in_formula("net as a number", '"50 ml"', "50", "value.type"),
    in_formula("net of zero", '"50 ml"', '"0 ml"', "value.net"),
    in_formula("shelf life as a number", '"18 months"', "18", "value.type"),
    in_formula("shelf life in no unit", '"18 months"', '"18 moons"', "value.period"),
    in_formula("half a month", '"18 months"', '"1.5 months"', "value.period"),
    in_formula("open jar in days", '"6 months"', '"90 days"', "value.period", says="months or years"),
    in_formula("one pH", "[5.0, 5.6]", "5.0", "value.range"),
    in_formula("pH turned round", "[5.0, 5.6]", "[5.6, 5.0]", "value.range", says="above"),
    in_formula("pH of 15", "[5.0, 5.6]", "[5.0, 15]", "value.range"),
    in_formula("gtin check digit", '"9521234567899"', '"9521234567890"', "product.gtin", says="it should be 9"),
    in_formula("gtin of 11 digits", '"9521234567899"', '"95212345678"', "product.gtin"),
    in_formula("gtin as a number", '"9521234567899"', "9521234567899", "value.type"),
    in_formula("unknown market", 'markets    = ["UK"]', 'markets    = ["USA"]', "value.market",
               says="did you mean US?"),
    in_formula("unknown language", "[product.text.fr]", "[product.text.french]", "value.language"),
    in_formula("English apart", "[product.text.fr]", "[product.text.en]", "key.misplaced", says="[product]"),
    in_formula("product key below a language", "function = \"Lait", "net = \"Lait", "key.misplaced", says="[product]"),
    in_formula("warnings as one text", '["Keep it cool."]', '"Keep it cool."', "value.type"),
    in_formula("a date in another form", 'claims     = ["soft"]',
               'assessed = { by = "A. Sessor", date = "03/05/2026" }', "value.date", says="2026-05-03 or 2026-03-05"),
    in_formula("a date that is none", 'claims     = ["soft"]',
               'assessed = { by = "A. Sessor", date = "2026-02-30" }', "value.date", says="28 days"),
]

CONTAINER_CASES = [
    in_formula("unknown shape", '"cylinder"', '"jar"', "value.word"),
    in_formula("no shape", 'shape = "cylinder"\n', "", "key.missing", down=-1),
    in_formula("a straight wall above the height", "diameter = 40", "diameter = 40\nstraight = 96", "container.measure",
               down=1, says="at most 95 mm"),
    in_formula("a colour by name", "diameter = 40", 'diameter = 40\ncolour = "brown"', "value.colour", down=1),
    in_formula("measure of another shape", "diameter = 40", "diameter = 40\nwidth = 3", "container.measure", down=1),
    in_formula("measure missing", "height = 95\n", "", "key.missing", down=-3),
    in_formula("measure of zero", "diameter = 40", "diameter = 0", "value.number"),
    in_formula("measure not finite", "diameter = 40", "diameter = inf", "value.number"),
    in_formula("measure as true", "diameter = 40", "diameter = true", "value.number"),
    in_formula("colours to come", "[[may-contain]]", "[[may-hold]]", "key.unknown"),
    in_formula("colour twice", '[[may-contain]]\ninci = "CI 77492"',
               '[[may-contain]]\ninci = "CI 77492"\n[[may-contain]]\ninci = "ci 77492"', "formula.may-contain", down=3),
    in_formula("colour without inci", 'inci = "CI 77492"', "nano = true", "key.missing", down=-1),
]

ROW_CASES = [
    in_formula("unknown material", '"rosemary-oil"', '"rosmary-oil"', "material.unknown",
               says="did you mean rosemary-oil?", down=-1),
    in_formula("material and inci", 'inci = "Glycerin"', 'inci = "Glycerin"\nmaterial = "water"', "row.both"),
    in_formula("neither", 'inci = "Glycerin"', "", "row.nothing", down=-1),
    in_formula("key of an inline material", 'inci = "Glycerin"', 'material = "inci:Glycerin"', "row.nothing"),
    in_formula("no amount", 'percent = "5,5 %"', "", "row.amount", down=-2),
    in_formula("negative", "percent  = 6", "percent  = -6", "row.amount"),
    in_formula("zero", "percent  = 6", "percent  = 0", "row.amount"),
    in_formula("not a number", "percent  = 6", "percent  = nan", "row.amount", says="finite"),
    in_formula("infinite", "percent  = 6", "percent  = -inf", "row.amount"),
    in_formula("huge", "percent  = 6", "percent  = 1e999999999", "row.amount", says="too many digits"),
    in_formula("tiny", "percent  = 6", "percent  = 1e-999999999", "row.amount", says="too many digits"),
    in_formula("huge in hexadecimal", "percent  = 6", "percent  = 0x" + "f" * 5000, "row.amount", says="too large"),
    in_formula("true", "percent  = 6", "percent  = true", "row.amount", says="true or false"),
    in_formula("a list", "percent  = 6", "percent  = [6]", "row.amount"),
    in_formula("a word", "percent  = 6", 'percent  = "some"', "row.amount"),
    in_formula("two qs", "percent  = 6", 'percent  = "QS"', "formula.qs", down=-2),
    in_formula("percent and grams in a row", "percent  = 6", "percent  = 6\ngrams = 6", "formula.mixed", down=1),
    in_formula("grams among percents", "percent  = 6", "grams = 6", "formula.mixed", down=-2),
    in_formula("nothing left for qs", "percent  = 6", "percent  = 95", "formula.rest", down=-7),
    in_formula("sum off", 'percent  = "qs"', "percent = 70", "formula.sum", says="18.5", down=-2),
    in_formula("up-to without to pH", "percent  = 6", "percent  = 6\nup-to = 1", "row.up-to", down=1),
    in_formula("to pH without up-to", "up-to    = 0.3\n", "", "row.up-to", down=-3),
    in_formula("up-to of zero", "up-to    = 0.3", "up-to    = 0", "value.number"),
    in_formula("tolerance in no unit", 'tolerance = "1 %"', 'tolerance = "1"', "value.tolerance"),
    in_formula("unknown key of a row", "up-to    = 0.3", "up_to = 0.3", "key.unknown", "row.up-to",
               says="did you mean up-to?"),
    in_formula("ingredient in no list", "percent  = 6", 'percent  = 6\nmay-contain = "x"', "key.misplaced", down=1),
    Bad("no rows", {"formulas/lotion.toml": '[product]\nname = "L"\n'}, ["formula.rows"]),
    Bad("empty rows", {"formulas/lotion.toml": 'ingredient = []\n[product]\nname = "L"\n'}, ["formula.rows"], 1),
    Bad("a single row table", {"formulas/lotion.toml": '[product]\nname = "L"\n[ingredient]\ninci = "Aqua"\n'},
        ["value.type"], 3),
    Bad("only rows to pH",
        {"formulas/lotion.toml": '[product]\nname="L"\n[[ingredient]]\ninci="Aqua"\npercent="to pH"\nup-to=1\n'},
        ["formula.rows"], 3),
]

MATERIAL_CASES = [
    in_materials("unknown key", "fragrance = true", "fragrence = true", "key.unknown", says="did you mean fragrance?"),
    in_materials("nothing said of its make", 'formula = "citric-solution"', "", "material.empty", down=-2),
    in_materials("inci and formula", 'formula = "citric-solution"', 'formula = "citric-solution"\ninci = "Aqua"',
                 "material.both"),
    in_materials("inci twice", 'inci = "Rosmarinus Officinalis Leaf Extract"', 'inci = "Helianthus annuus Seed Oil"',
                 "material.twice"),
    in_materials("highs too low", "percent = [70, 90]", "percent = [5, 9]", "material.sum", says="highs to 39",
                 down=-1),
    in_materials("lows too high", "percent = [70, 90]", "percent = [91, 92]", "material.sum",
                 says="lows sum to 101", down=-1),
    in_materials("figures off", "percent = 77", "percent = 76.99", "material.sum", says="99.99", down=-1),
    in_materials("range turned round", "percent = [70, 90]", "percent = [90, 70]", "value.range"),
    in_materials("range of three", "percent = [70, 90]", "percent = [70, 80, 90]", "value.range"),
    in_materials("over 100", "percent = [70, 90]", "percent = [70, 190]", "value.range"),
    in_materials("no percent", ", percent = 77", "", "material.percent"),
    in_materials("zero percent", "percent = 77 }", 'percent = 77 }, { inci = "Squalane", percent = 0 }', "value.range"),
    in_materials("component without inci", 'inci = "Sodium Olivate", ', "", "key.missing"),
    in_materials("component is a text", '{ inci = "Sodium Olivate", percent = 77 }', '"Sodium Olivate"', "value.type"),
    in_materials("unknown key of a component", "percent = 77", "percentage = 77", "key.unknown", "material.percent",
                 says="did you mean percent?"),
    in_materials("component's key on a material", 'was = ["rosemary-oil"]', 'was = ["rosemary-oil"]\nnano = true',
                 "key.misplaced", down=1),
    in_materials("made here with allergens", 'formula = "citric-solution"',
                 'formula = "citric-solution"\nallergens = { Limonene = 1 }', "key.misplaced", down=1),
    in_materials("unknown formula", 'formula = "citric-solution"', 'formula = "citric"', "material.formula", down=-2,
                 says="did you mean citric-solution?"),
    in_materials("a path for a formula", 'formula = "citric-solution"', 'formula = "../x"', "material.formula"),
    in_materials("allergen as a text", "Limonene = 0.4", 'Limonene = "some"', "value.range"),
    in_materials("allergen twice", "Limonene = 0.4", "Limonene = 0.4, LIMONENE = 0.5", "material.allergen"),
    in_materials("former key in use", '"rosemary-oil"', '"rosemary-oil", "water"', "material.was"),
    in_materials("market of a name", '{ US = "Water" }', '{ USA = "Water" }', "key.unknown", says="did you mean US?"),
    in_materials("colorant as a text", 'colorant = ["US"]', 'colorant = "US"', "value.type"),
    in_materials("nano as a text", "nano = true", 'nano = "yes"', "value.type"),
    in_materials("lots as a text", "lots = false", 'lots = "no"', "value.type"),
    in_materials("no table", "[water]\n", "lots2 = false\n[water]\n", "value.type"),
    in_materials("a key of the workshop", "[water]\n", "format = 1\n[water]\n", "key.misplaced"),
    in_materials("reserved key", "[red-iron-oxide]", '["inci:red"]', "material.key"),
    Bad("syntax of the materials", {"materials.toml": "[water\n"}, ["toml.syntax"], 1),
    Bad("no materials", {"materials.toml": None}, ["material.unknown"] * 3, line_of(FORMULA, "[[ingredient]]")),
    Bad("made of itself", {"formulas/citric-solution.toml": CITRIC.replace('"water"', '"citric-solution"')},
        ["material.circular"], line_of(MATERIALS, "[citric-solution]"), says="citric-solution → citric-solution"),
    Bad("fault in what is made here", {"formulas/citric-solution.toml": CITRIC.replace("grams = 2", "grams = 0")},
        ["row.amount"], line_of(CITRIC, "grams = 2")),
]

HEAD = "phase,material,inci,percent\n"

CSV_CASES = [
    in_csv("empty", " \n", "file.empty"),
    in_csv("only a header", HEAD, "formula.rows"),
    in_csv("no known column", "a,b\n1,2\n", "sheet.header", line=1),
    in_csv("no amounts", "material,phase\nwater,A\n", "sheet.header", line=1),
    in_csv("no names", "phase,percent\nA,100\n", "sheet.header", line=1),
    in_csv("both amounts", "material,percent,grams\nwater,100,5\n", "formula.mixed", line=1),
    in_csv("a column twice", "material,percent,Percent\nwater,100,5\n", "sheet.twice", line=1),
    in_csv("decimal comma parts the cells", HEAD + "A,water,,71,5\n", "sheet.cells", line=2, says="quotes"),
    in_csv("blank amount", HEAD + "A,water,,\n", "row.amount", line=2),
    in_csv("a word for an amount", HEAD + "A,water,,much\n", "row.amount", line=2),
    in_csv("negative", HEAD + "A,water,,-5\n", "row.amount", line=2),
    in_csv("material and inci", HEAD + "A,water,Aqua,100\n", "row.both", line=2),
    in_csv("the sum as a row", HEAD + "A,water,,100\n,,,100\n", "row.nothing", line=3, says="if it is the sum"),
    in_csv("to pH without up to", HEAD + "A,water,,100\nA,,Citric Acid,to pH\n", "row.amount", line=3),
    in_csv("sum off", HEAD + "A,water,,99\n", "formula.sum"),
    in_csv("unknown material", HEAD + "A,watr,,100\n", "material.unknown", line=2, says="did you mean water?"),
    in_csv("open quote", HEAD + 'A,"water,,100\n', "sheet.syntax", line=2),
    in_csv("text after a quote", HEAD + 'A,"wa"ter,,100\n', "sheet.syntax", line=2),
    in_csv("huge cell", HEAD + "A," + "w" * 200_000 + ",,100\n", "sheet.syntax", line=2),
    in_csv("not UTF-8", HEAD.encode() + b"A,caf\xe9,,100\n", "file.encoding", line=2),
    in_csv("NUL", HEAD + "A,wa\0ter,,100\n", "file.control", line=2),
    Bad("csv without a name", {"formulas/alone.csv": HEAD + "A,water,,100\n"}, ["key.missing"],
        path="formulas/alone.csv", says="--name"),
    Bad("rows in both", {"formulas/lotion.csv": HEAD + "A,water,,100\n"}, ["formula.both"],
        line_of(FORMULA, "[[ingredient]]"), says="lotion.csv"),
    Bad("rows in csv and xlsx",
        {"formulas/x.toml": '[product]\nname="X"\n', "formulas/x.csv": HEAD + "A,water,,100\n", "formulas/x.xlsx": b""},
        ["formula.both"], path="formulas/x.toml"),
    Bad("xlsx of nothing", {"formulas/x.toml": '[product]\nname="X"\n', "formulas/x.xlsx": b""}, ["file.empty"],
        path="formulas/x.toml"),
    Bad("xlsx that is none", {"formulas/x.toml": '[product]\nname="X"\n', "formulas/x.xlsx": b"not a zip"},
        ["sheet.unreadable"], path="formulas/x.xlsx"),
]

ALL = [
    ("workshop", WORKSHOP_CASES), ("toml", TOML_CASES), ("product", PRODUCT_CASES), ("container", CONTAINER_CASES),
    ("row", ROW_CASES), ("material", MATERIAL_CASES), ("csv", CSV_CASES),
]
CASES = [pytest.param(case, id=f"{kind}: {case.name}") for kind, cases in ALL for case in cases]


def test_the_table_is_large_enough() -> None:
    assert len(CASES) >= 80
    assert len({case.id for case in CASES}) == len(CASES)


@pytest.mark.parametrize("bad", CASES)
def test_every_fault_is_a_finding_at_its_place(bad: Bad, tmp_path: Path) -> None:
    loaded, findings = read(write(tmp_path, bad.files), bad.path)
    assert loaded is None
    assert rules(findings) == bad.rules
    first = findings.errors[0]
    assert first.where.line == bad.line
    assert first.where.cell == bad.cell
    assert bad.says in f"{first.text} {first.limit} {first.do}"
    assert str(tmp_path) not in repr(findings)


def test_faults_of_all_files_come_at_once(tmp_path: Path) -> None:
    files = {
        "workshop.toml": WORKSHOP.replace("e-mark = true", "e-mark = 1").replace('"GB"', '"XX"'),
        "materials.toml": MATERIALS.replace("[70, 90]", "[7, 9]").replace("fragrance = true", "fragrance = 1"),
        "formulas/lotion.toml": FORMULA.replace('"50 ml"', '"50"').replace('"cream"', '"goo"')
        .replace('"rosemary-oil"', '"nothing"'),
        "formulas/citric-solution.toml": CITRIC.replace("grams = 1", "grams = true"),
    }
    loaded, findings = read(write(tmp_path, files))
    assert loaded is None
    assert sorted(rules(findings)) == sorted([
        "value.country", "value.type", "material.sum", "value.type", "value.word", "value.net", "material.unknown",
        "row.amount",
    ])
    assert {item.where.file for item in findings} == {
        "workshop.toml", "materials.toml", "formulas/lotion.toml", "formulas/citric-solution.toml",
    }
