"""`pages build`, from workshops as makers have them."""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from bench_shop import LOTION, demo_shop, ready
from cli_runs import BALM, CREAM, Shop
from page_samples import Read

from labeltool import tables
from labeltool.records.store import open_store

LINK = '# link = "https://workshop.example/B/{code}"'


def linked(shop: Shop, link: str) -> None:
    shop.change("workshop.toml", LINK, f'link = "{link}"')


def site_files(shop: Shop, folder: str = "site") -> list[str]:
    root = shop.folder / folder
    return sorted(path.relative_to(root).as_posix() for path in root.rglob("*.html"))


def shown(shop: Shop, file: str, folder: str = "site") -> str:
    return Read((shop.folder / folder / file).read_text(encoding="utf-8")).text


def built(shop: Shop, *more: str) -> Any:
    return shop.run("pages", "build", "site", "--json", *more).json


def test_every_batch_has_its_page(used_shop: Shop) -> None:
    ran = used_shop.done("pages", "build", "site")
    codes = [item["code"] for item in used_shop.document("batch", "list")["items"]]
    assert site_files(used_shop) == sorted(f"B/{code}/index.html" for code in codes)
    assert "2 pages of 2 batches" in ran.out and "pages.plain" not in ran.out
    assert "holds the code alone" in ran.err
    for code in codes:
        assert code in shown(used_shop, f"B/{code}/index.html").replace(" ", "")
    assert "Calendula Hand Cream" in shown(used_shop, f"B/{codes[0]}/index.html")


def test_the_same_record_and_day_give_the_same_bytes(used_shop: Shop) -> None:
    used_shop.done("pages", "build", "site")
    document = built(used_shop)
    assert (document["written"], document["unchanged"], document["removed"]) == (0, 2, 0)
    used_shop.done("pages", "build", "twin")
    for file in site_files(used_shop):
        assert (used_shop.folder / "site" / file).read_bytes() == (used_shop.folder / "twin" / file).read_bytes()


def test_a_withdrawal_shows_at_the_next_build(used_shop: Shop) -> None:
    used_shop.done("pages", "build", "site")
    code = used_shop.document("batch", "list")["items"][0]["code"]
    used_shop.done("batch", "withdraw", code, "--why", "separated in the cold")
    document = built(used_shop)
    assert (document["written"], document["unchanged"]) == (1, 1)
    text = shown(used_shop, f"B/{code}/index.html")
    assert text.split(", ", 1)[1].removeprefix(code).strip().startswith("Withdrawn from sale")
    assert "separated" not in text
    used_shop.done("batch", "recall", code, "--why", "mould")
    assert built(used_shop)["written"] == 1
    assert "Recalled: do not use" in shown(used_shop, f"B/{code}/index.html")


def test_cancelled_batches_have_none_and_those_without_labels_have_one(shop: Shop) -> None:
    code = shop.done("batch", "open", CREAM, "--size", "500g").out.split()[0]
    document = shop.document("pages", "build", "site")
    assert (document["batches"], document["pages"]) == (1, 1)
    text = shown(shop, f"B/{code}/index.html")
    assert "Ingredients Aqua," in text and "Best before the end of" in text
    shop.done("batch", "cancel", code, "--why", "a slip")
    assert shop.document("pages", "build", "site")["removed"] == 1
    assert site_files(shop) == []


def test_every_path_ever_printed_leads_to_the_batch(shop: Shop) -> None:
    linked(shop, "https://workshop.example/B/{code}")
    code = shop.document("print", CREAM, "--count", "1")["code"]
    shop.change("workshop.toml", "https://workshop.example/B/{code}", "https://other.example/charge/{code}/{key}")
    shop.done("print", code, "--count", "1", "--revise", "--why", "moved to another host")
    new = shop.document("print", BALM, "--count", "1")
    document = shop.document("pages", "build", "site")
    assert (document["batches"], document["pages"]) == (2, 3)
    files = site_files(shop)
    assert f"B/{code}/index.html" in files
    assert [file for file in files if re.fullmatch(rf"charge/{code}/[2-9A-Z]{{8}}/index.html", file)]
    assert f"{urlsplit(new['qr']).path[1:]}/index.html" in files
    pages = {(shop.folder / "site" / file).read_bytes() for file in files if code in file}
    assert len(pages) == 1


def test_a_gs1_link_has_its_path(tmp_path: Path) -> None:
    shop = demo_shop(tmp_path)
    code = shop.document("print", LOTION, "--count", "1")["code"]
    shop.done("pages", "build", "site")
    assert site_files(shop) == [f"01/09520000025014/10/{code}/index.html"]


def test_a_link_that_names_a_file_has_that_file(shop: Shop) -> None:
    linked(shop, "https://workshop.example/batches/{code}.html")
    code = shop.document("print", CREAM, "--count", "1")["code"]
    shop.done("pages", "build", "site")
    assert site_files(shop) == [f"batches/{code}.html"]


def test_an_index_only_where_it_is_asked_for(used_shop: Shop) -> None:
    used_shop.done("pages", "build", "site", "--index")
    assert "index.html" in site_files(used_shop)
    used_shop.done("pages", "build", "site")
    assert "index.html" not in site_files(used_shop)


class TestRefused:
    @pytest.mark.parametrize(("target", "rule"), [
        (".", "pages.folder"), ("..", "pages.folder"), ("no/such", "pages.folder"), ("workshop.toml", "pages.folder"),
        ("formulas/..", "pages.folder"),
    ])
    def test_a_folder_that_cannot_be(self, printed_shop: Shop, target: str, rule: str) -> None:
        ran = printed_shop.run("pages", "build", target, "--json")
        assert (ran.code, ran.rules) == (2, [rule])

    def test_a_foreign_file_in_the_way(self, used_shop: Shop) -> None:
        code = used_shop.document("batch", "list")["items"][1]["code"]
        used_shop.write(f"site/B/{code}/index.html", "mine")
        ran = used_shop.run("pages", "build", "site", "--json")
        assert (ran.code, ran.rules) == (2, ["pages.foreign"])
        assert site_files(used_shop) == [f"B/{code}/index.html"]

    def test_without_a_record(self, shop: Shop) -> None:
        assert shop.run("pages", "build", "site", "--json").rules == ["record.none"]


def test_no_market_leaves_a_page_without_a_list(shop: Shop) -> None:
    shop.change("workshop.toml", 'markets   = ["UK"]', "")
    shop.change("workshop.toml", 'country = "GB"', "")
    code = shop.done("batch", "open", CREAM, "--size", "500g").out.split()[0]
    ran = shop.run("pages", "build", "site", "--json")
    assert (ran.code, ran.rules[0]) == (1, "pages.bare")
    text = shown(shop, f"B/{code}/index.html")
    assert "Calendula Hand Cream" in text and "Ingredients" not in text


# ---- nothing private

NOT_FOR_ALL = {
    "lot": "LOTPRIVATE7", "supplier": "Example Botanicals Private", "supplier-lot": "SUPPLIERLOT9",
    "note": "stirredprivately", "by": "PRIVATENAME", "why": "PRIVATEREASON", "reading": "viscosityprivate",
}


@pytest.fixture(scope="module")
def rich(tmp_path_factory: pytest.TempPathFactory) -> tuple[Shop, str]:
    """A batch of which everything is on record that can be."""
    shop = demo_shop(tmp_path_factory.mktemp("rich"))
    hidden = NOT_FOR_ALL
    shop.done("lot", "receive", "oat-extract", hidden["lot"], "--supplier", hidden["supplier"], "--supplier-lot",
              hidden["supplier-lot"], "--grams", "5kg", "--expires", "2028-04-30", "--by", hidden["by"])
    code = ready(shop, oat_extract={"lot": hidden["lot"], "note": "100 " + hidden["note"]})
    shop.done("batch", "bench", code, "--note", hidden["note"], "--reading", f"{hidden['reading']}=1234.5",
              "--by", hidden["by"])
    shop.done("batch", "bench", code, "--correct", "glycerin=75.55@L-2", "--why", hidden["why"], "--by", hidden["by"])
    shop.done("batch", "release", code, "--by", hidden["by"], "--why", hidden["why"])
    shop.done("print", code, "--count", "2", "-o", "filenameprivate.pdf", "--by", hidden["by"])
    shop.done("reprint", code, "--count", "1", "--why", hidden["why"], "--by", hidden["by"])
    shop.done("batch", "withdraw", code, "--why", hidden["why"], "--by", hidden["by"])
    shop.done("pages", "build", "site", "--index")
    return shop, code


def leaves(value: Any) -> Iterator[str]:
    """Every string and number of a stored value, as text, and every key."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield str(key)
            yield from leaves(item)
    elif isinstance(value, list):
        for item in value:
            yield from leaves(item)
    elif value is not None and not isinstance(value, bool):
        yield str(value)


def stored_strings(shop: Shop) -> set[str]:
    """All that the record holds: every event's body, every asset that is text."""
    db = sqlite3.connect(shop.folder / "records.sqlite")
    texts = [row[0] for row in db.execute("SELECT body FROM event")]
    texts += [row[0] for row in db.execute("SELECT data FROM asset WHERE coding = 'text'")]
    names = {str(row[0]) for row in db.execute("SELECT hash FROM event UNION SELECT sha256 FROM asset")}
    db.close()
    return names | {leaf for text in texts for leaf in leaves(json.loads(text))}


def allowed_words(shop: Shop, code: str) -> str:
    """What the page may say: the label's words, each market's list, the page's own words, the made and state's days."""
    with open_store(shop.folder / "records.sqlite") as store:
        row = store.prints(code)[-1]
        batch = store.batch(code)
    assert batch is not None
    label = " ".join(f"{block['heading']} {block['text'].removesuffix('M')}" for block in row.text["blocks"])
    lists = " ".join(leaves(row.extra["public"]))
    own = " ".join(text for word in tables.toml("data", "page_words").values() for text in word.values())
    words = " ".join((label, lists, own, batch.made.isoformat(), batch.since[:10], code))
    return words.replace("\n", ", ").replace("\u2009", " ")


def test_nothing_of_the_record_leaks_but_what_is_allowed(rich: tuple[Shop, str]) -> None:
    shop, code = rich
    html = (shop.folder / "site" / site_files(shop)[0]).read_text(encoding="utf-8")
    body = re.sub(r"<style>.*?</style>", "", html, flags=re.DOTALL)
    text, allowed = Read(body).text, allowed_words(shop, code)
    stored = stored_strings(shop)
    assert len(stored) > 500
    assert set(NOT_FOR_ALL.values()) <= {part for leaf in stored for part in (leaf, *leaf.split())}
    leaked = [leaf for leaf in stored if stands(leaf, text) and not stands(leaf, allowed)]
    assert leaked == []
    assert [word for word in NOT_FOR_ALL.values() if word.casefold() in html.casefold()] == []
    assert "filenameprivate" not in html and "%" not in body.replace("%20", "")


def stands(leaf: str, text: str) -> bool:
    """Whether a stored string stands in a text: a long one anywhere, a short one as a word or words of its own."""
    words = " ".join(leaf.split())
    if len(words) > 5:
        return words in text
    return bool(words) and re.search(rf"(?<![\w.]){re.escape(words)}(?![\w])", text) is not None


def test_the_search_for_leaks_finds_them() -> None:
    assert stands("0.3", "Parfum 0.3 %") and stands("L-2", "lot L-2.") and not stands("0.3", "10.35")


def test_the_index_says_no_more_than_codes_names_and_days(rich: tuple[Shop, str]) -> None:
    shop, code = rich
    text = shown(shop, "index.html")
    assert text == f"Batches Batches {code} Oat Milk Hand Lotion , 2026-05-03 Withdrawn from sale"


def test_an_older_print_without_its_lists_still_has_a_page(used_shop: Shop) -> None:
    """Records of before the lists were kept: the list is the label's, for all its markets."""
    with open_store(used_shop.folder / "records.sqlite") as store:
        rows = {key: tuple(rows) for key, rows in store.outlines().items()}
    assert all((row.extra or {}).get("public") for group in rows.values() for row in group)
    before = used_shop.folder / "before"
    shutil.copytree(used_shop.folder, before, ignore=shutil.ignore_patterns("before"))
    _forget_lists(before / "records.sqlite")
    old = Shop(before)
    used_shop.done("pages", "build", "site")
    old.done("pages", "build", "site")
    assert site_files(old) == site_files(used_shop)
    for file in site_files(old):
        assert shown(old, file) == shown(used_shop, file)


def _forget_lists(path: Path) -> None:
    """The record as an older version wrote it: exported, the lists taken out of the prints, chained anew."""
    from labeltool.records.chain import link

    db = sqlite3.connect(path)
    names = [row[0] for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")]
    for name in names:
        db.execute(f'DROP TRIGGER "{name}"')
    previous = None
    for number, body, before in db.execute("SELECT number, body, previous FROM event ORDER BY number").fetchall():
        document = json.loads(body)
        if document["kind"] == "print":
            del document["data"]["extra"]["public"]
        text = json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        previous = before if previous is None else previous
        db.execute("UPDATE event SET body = ?, previous = ?, hash = ? WHERE number = ?",
                   (text, previous, link(previous, text), number))
        previous = link(previous, text)
    db.commit()
    db.close()
