"""What messages say: which file is of another kind, what a mistyped code lacks, which product a note is about."""

from pathlib import Path

import pytest
from cli_runs import BALM, CREAM, Shop, new_shop

from labeltool.cli.output import counted, gathered
from labeltool.coding.checkdigits import mod97_check
from labeltool.finding import Finding


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return new_shop(tmp_path)


@pytest.mark.parametrize(("name", "said"), [
    ("workshop.toml", "it says who makes the products"), ("materials.toml", "it holds the raw materials"),
    ("printers.toml", "what printers need"), ("layouts/stocks/mine.toml", "a label stock"),
    ("layouts/artwork/mine.toml", "an artwork"),
])
@pytest.mark.parametrize("command", ["print", "declare", "check"])
def test_another_file_of_the_workshop_is_told_as_what_it_is(command: str, name: str, said: str, shop: Shop) -> None:
    ran = shop.run(command, name, "--json")
    assert ran.code == 2 and ran.rules == ["call.no-formula"]
    found = ran.json["problems"][0]
    assert said in found["text"] and BALM in found["do"]


def test_a_formula_may_be_called_materials(shop: Shop) -> None:
    text = (shop.folder / "formulas" / f"{BALM}.toml").read_text(encoding="utf-8")
    shop.write("formulas/materials.toml", text)
    assert shop.run("declare", "formulas/materials.toml").code == 0


@pytest.mark.parametrize(("typed", "said", "near"), [
    ("260503A32", "check digits do not fit", "260503A31"), ("260504A22", "no such batch is on record", None),
    ("lavender", "neither a formula nor a batch code", None),
])
def test_a_typed_code_is_told_what_is_wrong_with_it(typed: str, said: str, near: str | None, shop: Shop) -> None:
    assert shop.document("print", BALM)["code"] == "260503A31"
    found = shop.run("print", typed, "--json").json["problems"][0]
    assert found["rule"] == "call.unknown" and said in found["text"]
    assert near is None or near in found["do"]


def test_show_says_it_of_check_digits_too(shop: Shop) -> None:
    shop.done("print", BALM)
    assert "its check digits do not fit" in shop.run("batch", "show", "260503A32").err


def test_values_in_messages_are_written_as_in_the_file(shop: Shop) -> None:
    shop.change(f"formulas/{CREAM}.toml", "ph         = [4.8, 5.4]", 'ph         = [4.8, 0.8, "x", true]')
    ran = shop.run("declare", CREAM)
    assert "ph is [4.8, 0.8, 'x', true]" in ran.err


def test_the_notes_of_several_name_their_product(shop: Shop) -> None:
    ran = shop.done("print", CREAM, BALM)
    assert "note: Calendula Hand Cream: chosen:" in ran.err and "note: Plain Foot Balm: chosen:" in ran.err
    assert "note: chosen:" in shop.done("print", BALM, "--draft").err


@pytest.mark.parametrize(("skip", "told"), [(23, False), (24, True)])
def test_a_skip_of_the_whole_sheet_is_told(skip: int, told: bool, shop: Shop) -> None:
    found = shop.document("print", BALM, "--draft", "--stock", "a4-3x8-63.5x33.9", "--skip", skip)
    assert ("call.skip-all" in [item["rule"] for item in found["problems"]]) is told


def test_the_printed_date_is_told_beside_the_computed_day(shop: Shop) -> None:
    out = shop.done("print", BALM, "--made", "2026-05-01").out
    assert "best before: 2027-11-01; on the label 10/2027, which means the end of that month" in out
    again = shop.done("reprint", "260501A49", "--why", "torn").out
    assert "best before: 2027-11-01; on the label 10/2027" in again
    long = 'shelf-life = "36 months"\nperiod-after-opening = "12 months"'
    shop.change(f"formulas/{BALM}.toml", 'shelf-life = "18 months"', long)
    assert "the label has the open jar instead" in shop.done("print", BALM).out
    front = shop.done("print", BALM, "--artwork", "front", "--stock", "a4-2x7-99.1x38.1").out
    assert "best before: 2029-05-03\n" in front


def test_an_allergen_that_is_listed_as_an_ingredient_is_told_so(shop: Shop) -> None:
    text = (shop.folder / f"formulas/{BALM}.toml").read_text(encoding="utf-8")
    rose = '[[ingredient]]\ninci = "Rosa Damascena Flower Oil"\npercent = 0.5\n\n[[ingredient]]'
    lines = text.replace("[[ingredient]]", rose, 1)
    first = next(line for line in lines.splitlines() if line.startswith("percent") and "0.5" not in line)
    lines = lines.replace(first, 'percent  = "qs"', 1)
    shop.write(f"formulas/{BALM}.toml", lines)
    out = shop.run("declare", BALM).out
    assert "Rosa Damascena Flower Oil: 0.5 %, named above 0.001 %: UK not asked for, in the list by its own name" in out


def note(rule: str, text: str, market: str | None, source: str | None = None) -> Finding:
    return Finding(rule, "note", text, market=market, source=source, do="ask")


def test_what_differs_only_in_market_or_substance_is_said_once() -> None:
    found = gathered((
        note("print.chosen", "chosen", None),
        note("limit.condition", "Pine Oil: peroxide below 10", "UK", "A"),
        note("limit.condition", "Pine Oil: peroxide below 10", "EU", "B"),
        note("limit.condition", "Cedar Oil: peroxide below 10", "EU", "B"),
        note("allergen.possible", "Citral: may be", "UK"), note("allergen.possible", "Linalool: may be", "UK"),
        Finding("x.y", "warning", "beware"), Finding("x.z", "error", "stop"),
    ))
    assert [(item.level, item.text, item.market, item.source) for item in found] == [
        ("error", "stop", None, None), ("warning", "beware", None, None),
        ("note", "Pine Oil, Cedar Oil: peroxide below 10", "UK, EU", "A; B"),
        ("note", "Citral: may be", "UK", None), ("note", "Linalool: may be", "UK", None),
        ("note", "chosen", None, None),
    ]


@pytest.mark.parametrize(("number", "words"), [(1, "1 batch"), (0, "0 batches"), (2000, "2,000 batches")])
def test_numbers_have_their_plural(number: int, words: str) -> None:
    assert counted(number, "batch", "batches") == words


def test_check_says_in_which_languages_claims_were_looked_for(shop: Shop) -> None:
    assert "claim.language" not in shop.run("check", BALM, "--json").rules
    shop.change("workshop.toml", 'languages = ["en"]', 'languages = ["en", "de"]')
    text = (shop.folder / "formulas" / f"{BALM}.toml").read_text(encoding="utf-8")
    german = '[product.text.de]\nname = "Fußbalsam"\n\n[[ingredient]]'
    shop.write(f"formulas/{BALM}.toml", text.replace("[[ingredient]]", german, 1))
    assert shop.run("check", BALM, "--json").rules.count("claim.language") == 1
    assert "claim.language" not in shop.run("print", BALM, "--draft", "--json").rules


def test_show_does_not_doubt_the_digits_of_a_code_that_is_only_unknown(shop: Shop) -> None:
    shop.done("print", BALM)
    unknown = "260504A" + mod97_check("260504A")
    assert "check digits" not in shop.run("batch", "show", unknown).err
