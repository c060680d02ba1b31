"""--json: one document on stdout and nothing else, with exactly the keys that are documented."""

from __future__ import annotations

import datetime as dt
import hashlib
import json

import pytest
from cli_runs import BALM, CREAM, Shop, labeltool

FINDING = {"rule", "level", "market", "where", "text", "limit", "source", "confidence", "do"}
PLACE = {"file", "line", "row", "block"}
PERCENT = {"low", "nominal", "high"}
PRINTED = {"format", "code", "product", "made", "best-before", "labels", "sheets", "stock", "artwork", "file", "sha256",
           "qr", "type-height-mm", "next-skip", "preview", "leaflet", "printer", "problems"}
ROW = {"number", "pack", "artwork", "labels", "good", "spoiled", "skip", "stock", "printer", "file", "why", "at",
       "sha256", "superseded", "reset"}
BALM_LIST = ["Butyrospermum Parkii Butter", "Cocos Nucifera Oil", "Cera Alba", "Helianthus Annuus Seed Oil"]


def check_findings(found):
    for item in found:
        assert set(item) == FINDING and set(item["where"]) >= PLACE
        assert item["level"] in ("error", "warning", "note") and "." in item["rule"] and item["text"]


def test_declare_of_a_formula_that_is_known_by_heart(printed_shop):
    found = printed_shop.document("declare", BALM)
    line = ", ".join(BALM_LIST)
    percents = {"Butyrospermum Parkii Butter": 40, "Cocos Nucifera Oil": 30, "Cera Alba": 15,
                "Helianthus Annuus Seed Oil": 15}
    origin = ["shea-butter", "coconut-oil", "beeswax", "sunflower-oil"]
    assert found == {
        "format": 1, "product": "Plain Foot Balm", "markets": {"UK": {"declaration": line, "names": BALM_LIST}},
        "label": {"markets": ["UK"], "declaration": line, "names": BALM_LIST},
        "ingredients": [
            {"inci": name, "percent": dict.fromkeys(("low", "nominal", "high"), percents[name]), "group": "main",
             "from": [material]}
            for name, material in zip(BALM_LIST, origin, strict=True)
        ],
        "doubts": [], "allergens": [], "warnings": [], "problems": [],
    }


def test_declare_of_a_formula_with_ranges(printed_shop):
    found = printed_shop.document("declare", CREAM)
    assert list(found) == ["format", "product", "markets", "label", "ingredients", "doubts", "allergens", "warnings",
                           "problems"]
    for item in found["ingredients"]:
        assert set(item) == {"inci", "percent", "group", "from"} and set(item["percent"]) == PERCENT
        assert item["percent"]["low"] <= item["percent"]["nominal"] <= item["percent"]["high"]
        assert item["group"] in ("main", "minor", "colorant", "may-contain")
    for item in found["doubts"]:
        assert set(item) == {"before", "after", "by", "because"} and item["by"] > 0
    allergens = {item["inci"]: item for item in found["allergens"]}
    linalool = allergens["Linalool"]
    assert set(linalool) == {"inci", "percent", "threshold", "declared"} and set(linalool["declared"]) == {"UK"}
    assert linalool["percent"]["low"] == pytest.approx(0.05) and linalool["percent"]["high"] == pytest.approx(0.076)
    assert linalool["threshold"] == 0.001 and linalool["declared"]["UK"] == "certain"
    check_findings(found["problems"])
    assert found["label"]["declaration"] == ", ".join(found["label"]["names"])
    assert sum(item["percent"]["nominal"] for item in found["ingredients"]) == pytest.approx(100, abs=0.3)


def test_check_document(printed_shop):
    found = printed_shop.document("check", CREAM)
    assert {"format", "product", "elements", "limits", "claims", "problems"} <= set(found)
    for item in found["elements"]:
        assert {"element", "market", "state", "text", "source"} <= set(item)
        assert item["state"] in ("present", "not-needed", "maker")
    for item in found["limits"]:
        assert {"inci", "market", "value", "limit", "state", "level", "source", "confidence"} <= set(item)
        assert item["state"] in ("within", "possible") and set(item["value"]) == PERCENT
    check_findings(found["problems"])
    by_name = {item["element"]: item for item in found["elements"]}
    assert by_name["net content"]["text"] == "50 ml"


def test_check_shows_the_code_that_the_next_print_gets(used_shop):
    elements = used_shop.document("check", BALM)["elements"]
    told = next(item["text"] for item in elements if "batch" in item["element"])
    code = used_shop.document("print", BALM, "--count", "1")["code"]
    assert code in "".join(told.split())


def test_check_of_a_label_that_lacks_something_is_exit_1_with_a_missing_row(shop):
    shop.change(f"formulas/{BALM}.toml", 'net        = "40 g"\n', "")
    ran = shop.run("check", BALM, "--json")
    assert ran.code == 1
    assert "net content" in [item["element"] for item in ran.json["elements"] if item["state"] == "missing"]
    assert shop.run("check", BALM).code == 1


def test_print_document(shop):
    found = shop.document("print", BALM, "--made", "2026-05-01", "--stock", "a4-2x4-99.1x67.7", "--artwork", "back")
    assert set(found) == PRINTED
    data = (shop.folder / found["file"]).read_bytes()
    assert data.startswith(b"%PDF-")
    expected = {
        "format": 1, "code": "260501A49", "product": "Plain Foot Balm", "made": "2026-05-01",
        "best-before": "2027-11-01", "labels": 8, "sheets": 1, "stock": "a4-2x4-99.1x67.7", "artwork": ["back"],
        "file": "prints/260501A49-1.pdf", "sha256": hashlib.sha256(data).hexdigest(), "qr": "260501A49",
        "next-skip": 8, "preview": None,
    }
    assert {key: found[key] for key in expected} == expected
    assert 1.2 <= found["type-height-mm"] < 4
    check_findings(found["problems"])


def test_qr_is_the_exact_payload(shop):
    shop.change("workshop.toml", "# link =", "link =")
    found = shop.document("print", BALM, "--count", "1")
    assert found["qr"].lower() == f"https://workshop.example/b/{found['code']}".lower()
    assert found["qr"].endswith(f"/B/{found['code']}")


def test_several_prints_are_items(shop):
    found = shop.document("print", CREAM, BALM, "--count", "1")
    assert list(found) == ["format", "items"] and found["format"] == 1
    assert [set(item) for item in found["items"]] == [PRINTED - {"format"}] * 2
    shop.write("list.csv", f"formula,count\n{BALM},1\n")
    assert len(shop.document("print", "--from", "list.csv")["items"]) == 1


def test_batch_documents(printed_shop):
    listed = printed_shop.document("batch", "list")
    assert listed["format"] == 1 and [item["product"] for item in listed["items"]] == [
        "Calendula Hand Cream", "Plain Foot Balm"]
    shown = printed_shop.document("batch", "show", "260503A31")
    assert {"format", "code", "product", "version", "made", "state", "by", "size", "prints"} <= set(shown)
    assert (shown["code"], shown["version"], shown["made"], shown["state"]) == ("260503A31", "1", "2026-05-03", "open")
    (row,) = shown["prints"]
    assert set(row) >= ROW
    expected = {"number": 1, "pack": "", "artwork": ["back"], "labels": 2, "good": None, "spoiled": None, "skip": 0,
                "stock": "a4-2x4-99.1x67.7", "printer": None, "file": "prints/260503A31-1.pdf", "why": None,
                "superseded": False, "reset": False}
    assert {key: row[key] for key in expected} == expected
    assert dt.datetime.fromisoformat(row["at"]).tzinfo is not None


def test_file_in_json_opens_from_the_current_folder(used_shop):
    above = used_shop.folder.parent
    calls = [
        ("print", "used/formulas/plain-foot-balm.toml", "--count", "1"),
        ("print", "260503A31", "--count", "1", "--workshop", "used"),
        ("reprint", "260503A31", "--count", "1", "--why", "torn", "--workshop", "used"),
    ]
    for call in calls:
        found = labeltool(*call, "--json", cwd=above).json
        assert (above / found["file"]).is_file(), found["file"]
    shown = labeltool("batch", "show", "260503A31", "--workshop", "used", "--json", cwd=above).json
    assert [(above / row["file"]).is_file() for row in shown["prints"]] == [True] * 3


@pytest.mark.parametrize("call", [
    ("stock", "list"), ("stock", "show", "a4-3x8-63.5x33.9"), ("artwork", "list"), ("artwork", "show", "back"),
    ("batch", "list"), ("batch", "show", "260503A31"), ("declare", CREAM), ("check", BALM),
], ids=" ".join)
def test_stdout_holds_one_document_and_stderr_nothing_of_it(printed_shop, call):
    ran = printed_shop.done(*call, "--json")
    found = json.loads(ran.out)
    assert found["format"] == 1 and next(iter(found)) == "format"
    assert ran.err == ""


@pytest.mark.parametrize("call", [
    ("print", "nothing-here"), ("print",), ("declare",), ("check", "nothing-here"),
    ("reprint", "260503A32", "--why", "x"),
    ("print", BALM, "--count", "0"), ("stock", "show", "a4-3x8"), ("artwork", "show", "bakc"), ("batch", "show", "X"),
    ("print", BALM, "--stock", "a4"), ("nonsense",), ("batch", "nonsense"), ("reprint", "260503A31"),
], ids=" ".join)
def test_problems_of_a_wrong_call_are_a_document_too(printed_shop, call):
    ran = printed_shop.run(*call, "--json")
    assert ran.code == 2
    found = json.loads(ran.out)
    assert list(found) == ["format", "problems"] and found["problems"]
    check_findings(found["problems"])
    assert any(item["level"] == "error" for item in found["problems"])


def test_numbers_are_not_rounded(shop: Shop):
    shop.change(f"formulas/{BALM}.toml", '"beeswax"\npercent  = 15', '"beeswax"\npercent  = 14.9876543')
    shop.change(f"formulas/{BALM}.toml", "percent  = 40", "percent  = 40.0123457")
    found = {item["inci"]: item["percent"]["nominal"] for item in shop.document("declare", BALM)["ingredients"]}
    assert (found["Cera Alba"], found["Butyrospermum Parkii Butter"]) == (14.9876543, 40.0123457)
