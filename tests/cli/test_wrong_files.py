"""Broken workshops: each print is refused with file and line where there is one, and nothing is written or lost."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from io import BytesIO

import openpyxl
import pytest
from cli_runs import BALM, CREAM, Shop, tree

FILE = f"formulas/{BALM}.toml"
Break = Callable[[Shop], object]


def text_of(shop: Shop) -> str:
    return (shop.folder / FILE).read_text(encoding="utf-8")


def swap(name: str, old: str, new: str) -> Break:
    return lambda shop: shop.change(name, old, new)


def whole(name: str, content: str | bytes) -> Break:
    return lambda shop: shop.write(name, content)


def gone(name: str) -> Break:
    return lambda shop: (shop.folder / name).unlink()


def folder_instead(name: str) -> Break:
    def act(shop: Shop) -> None:
        (shop.folder / name).unlink()
        (shop.folder / name).mkdir()

    return act


def row(percent: str) -> Break:
    return swap(FILE, "percent  = 40", f"percent  = {percent}")


def with_print(text: str) -> Break:
    return swap("workshop.toml", "[batch]\n", f"[print]\n{text}\n[batch]\n")


def own_stock(text: str) -> Break:
    def act(shop: Shop) -> None:
        shop.write("layouts/stocks/mine.toml", text)
        with_print('stock = "mine"')(shop)

    return act


def own_artwork(text: str) -> Break:
    def act(shop: Shop) -> None:
        shop.write("layouts/artwork/mine.toml", text)
        with_print('artwork = "mine"')(shop)

    return act


def rows_in(name: str, content: str | bytes) -> Break:
    def act(shop: Shop) -> None:
        shop.write(FILE, text_of(shop).split("[[ingredient]]")[0])
        shop.write(f"formulas/{BALM}{name}", content)

    return act


def workbook(*rows: tuple[object, ...]) -> bytes:
    book, target = openpyxl.Workbook(), BytesIO()
    for cells in rows:
        book.active.append(cells)
    book.save(target)
    return target.getvalue()


LINK = '# link = "https://workshop.example/B/{code}"'
TOO_LARGE = b"# " + b"x" * 11_000_000
STOCK = 'kind = "sheet"\npage = [210, 297]\nlabel = [99, 67]\ngrid = [2, 4]\norigin = [5, 5]\npitch = [100, 68]\n'
BREAKS: dict[str, Break] = {
    "formula: broken TOML": swap(FILE, "[product]", "[product"),
    "formula: UTF-16": lambda shop: shop.write(FILE, text_of(shop).encode("utf-16")),
    "formula: Latin-1": lambda shop: shop.write(FILE, text_of(shop).replace("Foot", "Fo\xf6t").encode("latin-1")),
    "formula: empty": whole(FILE, ""),
    "formula: only remarks": whole(FILE, "# nothing\n"),
    "formula: NUL": swap(FILE, "balm of four", "balm\0of four"),
    "formula: 11 MB": whole(FILE, TOO_LARGE),
    "formula: binary": whole(FILE, bytes(range(256)) * 40),
    "formula: a folder": folder_instead(FILE),
    "formula: gone": gone(FILE),
    "formula: NaN": row("nan"),
    "formula: infinite": row("inf"),
    "formula: negative": row("-40"),
    "formula: text for a number": row('"forty"'),
    "formula: huge number": row("1e999"),
    "formula: long number": row("4" * 5000),
    "formula: sum 101": row("41"),
    "formula: sum 99.98": row("39.98"),
    "formula: unknown key": swap(FILE, "function   =", "funktion   ="),
    "formula: key in the wrong table": swap(FILE, "net        =", "country    ="),
    "formula: key twice": swap(FILE, "[product]", '[product]\nname = "Twice"'),
    "formula: unknown material": swap(FILE, '"beeswax"', '"bees-wax"'),
    "formula: no rows": lambda shop: shop.write(FILE, text_of(shop).split("[[ingredient]]")[0]),
    "formula: percent and grams": row("40\ngrams = 4"),
    "formula: net in stones": swap(FILE, '"40 g"', '"4 stone"'),
    "formula: net of nothing": swap(FILE, '"40 g"', '"0 g"'),
    "formula: no net": swap(FILE, 'net        = "40 g"\n', ""),
    "formula: no shelf life": swap(FILE, 'shelf-life = "18 months"\n', ""),
    "formula: endless shelf life": swap(FILE, '"18 months"', '"999999999 months"'),
    "formula: shelf life in moons": swap(FILE, '"18 months"', '"18 moons"'),
    "formula: unknown use": swap(FILE, '"leave-on"', '"eat"'),
    "formula: no name": swap(FILE, 'name       = "Plain Foot Balm"\n', ""),
    "formula: a name nobody can set": swap(FILE, '"Plain Foot Balm"', '"\u8db3\u306e\u30d0\u30fc\u30e0"'),
    "formula: an emoji": swap(FILE, "Rub into", "\U0001f9b6 Rub into"),
    "formula: right to left": swap(FILE, '"Plain Foot Balm"', '"\u0628\u0644\u0633\u0645"'),
    "formula: wrong gtin": swap(FILE, "shelf-life", 'gtin = "4012345678902"\nshelf-life'),
    "formula: no container like that": swap(FILE, 'shelf-life = "18 months"', '[container]\nshape = "cone"'),
    "formula: over a limit": lambda shop: (
        swap("materials.toml", "[beeswax]", '[phenoxy]\nname = "P"\ninci = "Phenoxyethanol"\n[beeswax]')(shop),
        swap(FILE, '"beeswax"', '"phenoxy"')(shop)),
    "csv: no header": rows_in(".csv", "shea-butter,40\n"),
    "csv: empty": rows_in(".csv", ""),
    "csv: wrong sum": rows_in(".csv", "material,percent\nshea-butter,40\n"),
    "csv: both": lambda shop: shop.write(f"formulas/{BALM}.csv", "material,percent\nshea-butter,100\n"),
    "csv: unclosed quote": rows_in(".csv", 'material,percent\n"shea-butter,100\n'),
    "csv: UTF-16": rows_in(".csv", "material,percent\nshea-butter,100\n".encode("utf-16")),
    "xlsx: no zip": rows_in(".xlsx", b"not a zip"),
    "xlsx: cut": rows_in(".xlsx", workbook(("material", "percent"), ("shea-butter", 100))[:-300]),
    "xlsx: text for numbers": rows_in(".xlsx", workbook(("material", "percent"), ("shea-butter", "much"))),
    "xlsx: error cell": rows_in(".xlsx", workbook(("material", "percent"), ("shea-butter", "#DIV/0!"))),
    "materials: gone": gone("materials.toml"),
    "materials: broken TOML": swap("materials.toml", "[beeswax]", "[beeswax"),
    "materials: empty": whole("materials.toml", ""),
    "materials: a folder": folder_instead("materials.toml"),
    "materials: 11 MB": whole("materials.toml", TOO_LARGE),
    "materials: composition cannot be 100": swap("materials.toml", "percent = [55, 65]", "percent = [75, 85]"),
    "materials: range turned round": swap("materials.toml", "percent = [55, 65]", "percent = [65, 55]"),
    "materials: no inci": swap("materials.toml", 'inci = "Cera Alba"', 'source = "x"'),
    "materials: inci empty": swap("materials.toml", '"Cera Alba"', '""'),
    "materials: unknown key": swap("materials.toml", 'inci = "Cera Alba"', 'inci = "Cera Alba"\nincy = "x"'),
    "materials: allergen over 100": swap("materials.toml", "Linalool = [25, 38]", "Linalool = 250"),
    "workshop: newer format": swap("workshop.toml", "format = 1", "format = 2"),
    "workshop: broken TOML": swap("workshop.toml", "[maker]", "[maker"),
    "workshop: unknown key": swap("workshop.toml", "e-mark", "emark"),
    "workshop: no address": swap("workshop.toml", 'address = ["1 Example Street", "Example Town", "EX1 1EX"]\n', ""),
    "workshop: no such market": swap("workshop.toml", '["UK"]', '["MARS"]'),
    "workshop: no market": lambda shop: (swap("workshop.toml", '["UK"]', "[]")(shop)),
    "workshop: no such language": swap("workshop.toml", '["en"]', '["xx"]'),
    "workshop: code without seq": swap("workshop.toml", "%y%m%d{seq}{check}", "%y%m%d"),
    "workshop: code with month names": swap("workshop.toml", "%y%m%d{seq}{check}", "%b%d{seq}{check}"),
    "workshop: code too long": swap("workshop.toml", "%y%m%d{seq}{check}", "%Y%m%d-%Y%m%d-{seq}-{check}"),
    "workshop: code with product, none named": swap("workshop.toml", "%y%m%d{seq}", "{product}-%y%m%d-{seq}"),
    "workshop: link over http": swap("workshop.toml", "# link = \"https", "link = \"http"),
    "workshop: link without code": swap("workshop.toml", LINK, LINK[2:].replace("{code}", "")),
    "workshop: link too long": swap("workshop.toml", LINK, LINK[2:].replace("/B/", "/long" * 600 + "/")),
    "workshop: unknown stock": with_print('stock = "no-such"'),
    "workshop: unknown artwork": with_print('artwork = "no-such"'),
    "stock: broken TOML": own_stock("kind = "),
    "stock: empty": own_stock(""),
    "stock: labels off the page": own_stock(STOCK.replace("grid = [2, 4]", "grid = [3, 4]")),
    "stock: labels overlap": own_stock(STOCK.replace("pitch = [100, 68]", "pitch = [50, 68]")),
    "stock: nothing left inside safe": own_stock(STOCK + "safe = 60\n"),
    "stock: unknown key": own_stock(STOCK + "colour = 3\n"),
    "stock: not a number": own_stock(STOCK.replace("[99, 67]", "[nan, 67]")),
    "stock: endless": own_stock(STOCK.replace("[210, 297]", "[inf, 297]")),
    "stock: a million labels": own_stock(STOCK.replace("grid = [2, 4]", "grid = [1000000, 1000000]")),
    "stock: zero labels": own_stock(STOCK.replace("grid = [2, 4]", "grid = [0, 4]")),
    "stock: too small": own_stock(STOCK.replace("[99, 67]", "[20, 10]")),
    "artwork: broken TOML": own_artwork("title = "),
    "artwork: empty": own_artwork(""),
    "artwork: unknown key": own_artwork('title = "x"\nfoo = 1\n'),
    "artwork: wrong types": own_artwork("title = 1\nmodule = \"x\"\n"),
}


@pytest.mark.parametrize("act", BREAKS.values(), ids=BREAKS.keys())
def test_broken_workshop_is_refused_and_nothing_is_written(shop, act):
    act(shop)
    before = tree(shop.folder)
    ran = shop.run("print", FILE, "--count", "1")
    assert ran.code == 2, (ran.code, ran.err)
    assert ran.err.startswith("error: ") and ran.out == "", ran.err
    assert "Traceback" not in ran.err and "fault of labeltool" not in ran.err
    assert len(ran.err) < 6000
    assert tree(shop.folder) == before
    again = shop.run("print", FILE, "--count", "1", "--json")
    assert again.code == 2 and again.err == ""
    assert [item for item in json.loads(again.out)["problems"] if item["level"] == "error"]
    assert tree(shop.folder) == before
    for command in ("declare", "check"):
        other = shop.run(command, FILE)
        assert other.code in (0, 1, 2) and "fault of labeltool" not in other.err, other.err
    assert tree(shop.folder) == before


def test_all_faults_of_all_files_are_told_at_once(shop):
    for act in (row("-40"), swap("materials.toml", '"Cera Alba"', '""'), swap("workshop.toml", '["UK"]', '["MARS"]')):
        act(shop)
    ran = shop.run("print", FILE, "--json")
    assert {item["where"]["file"] for item in ran.json["problems"]} == {FILE, "materials.toml", "workshop.toml"}
    assert all(item["where"]["line"] for item in ran.json["problems"])


def cut(path):
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def scribbled(path):
    data = bytearray(path.read_bytes())
    data[len(data) // 3: len(data) // 3 + 4000] = b"\xa5" * 4000
    path.write_bytes(bytes(data))


def other_database(path):
    path.unlink()
    with sqlite3.connect(path) as db:
        db.execute("create table mine (x)")
    db.close()


def as_folder(path):
    path.unlink()
    path.mkdir()


DAMAGE = {"no database": lambda path: path.write_bytes(b"mine" * 500),
          "cut in half": cut, "of another program": other_database, "a folder": as_folder}


@pytest.mark.parametrize("act", DAMAGE.values(), ids=DAMAGE.keys())
def test_damaged_record_is_told_and_left_as_it_is(used_shop, act):
    for name in ("records.sqlite-wal", "records.sqlite-shm"):
        (used_shop.folder / name).unlink(missing_ok=True)
    act(used_shop.folder / "records.sqlite")
    before = tree(used_shop.folder)
    calls = [("print", BALM, "--count", "1"), ("print", "260503A31"), ("reprint", "260503A31", "--why", "torn"),
             ("batch", "list"), ("batch", "show", "260503A31"), ("batch", "open", BALM), ("records", "check"),
             ("records", "backup", "copy.sqlite")]
    for call in calls:
        ran = used_shop.run(*call)
        assert ran.code in (1, 2, 3) and "fault of labeltool" not in ran.err, (call, ran)
        assert "error: " in ran.err, (call, ran)
        left = {name: value for name, value in tree(used_shop.folder).items() if not name.endswith(("-wal", "-shm"))}
        assert left == before, call


def test_scribbled_record_is_found_by_its_check(used_shop):
    scribbled(used_shop.folder / "records.sqlite")
    ran = used_shop.run("records", "check")
    assert ran.code in (1, 3) and "error: " in ran.err


def test_emptied_record_gives_out_no_code_that_lies_in_prints(used_shop):
    (used_shop.folder / "records.sqlite").write_bytes(b"")
    before = tree(used_shop.folder / "prints")
    ran = used_shop.run("print", BALM, "--count", "1")
    assert ran.code == 3 and "records restore" in ran.err
    assert used_shop.run("print", "260503A31").code == used_shop.run("reprint", "260503A31", "--why", "x").code == 3
    assert tree(used_shop.folder / "prints") == before


def test_check_and_draft_work_beside_a_damaged_record_or_say_so(used_shop):
    (used_shop.folder / "records.sqlite").write_bytes(b"mine" * 500)
    for call in (("declare", BALM), ("check", BALM), ("print", BALM, "--draft", "--count", "1")):
        ran = used_shop.run(*call)
        assert ran.code in (0, 3) and "fault of labeltool" not in ran.err, ran.err


def test_locked_record_is_told(used_shop, monkeypatch):
    monkeypatch.setattr("labeltool.records.store.WAIT_S", 0.2)
    monkeypatch.setattr("labeltool.records.store.open_store.__kwdefaults__", {"create": True, "wait_s": 0.2})
    db = sqlite3.connect(used_shop.folder / "records.sqlite", isolation_level=None)
    db.execute("begin exclusive")
    before = tree(used_shop.folder / "prints")
    ran = used_shop.run("print", "260503A31", "--count", "1")
    db.execute("rollback")
    db.close()
    assert ran.code == 3 and ran.err.startswith("error: "), ran
    assert tree(used_shop.folder / "prints") == before
    assert used_shop.run("print", "260503A31", "--count", "1").code == 0


def test_disk_that_fails_while_the_pdf_is_written(used_shop, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    before = tree(used_shop.folder / "prints")
    with monkeypatch.context() as patch:
        patch.setattr("labeltool.workflow.publish.os.fsync", full)
        ran = used_shop.run("print", "260503A31", "--count", "1")
    assert ran.code == 3 and "No space left" in ran.err
    assert tree(used_shop.folder / "prints") == before
    assert len(used_shop.document("batch", "show", "260503A31")["prints"]) == 1
    assert used_shop.run("print", "260503A31", "--count", "1").code == 0


def test_no_workshop_anywhere(tmp_path):
    lost = Shop(tmp_path)
    for call in (("print", CREAM), ("declare", "x.toml"), ("batch", "list"), ("batch", "open", CREAM),
                 ("reprint", "260503A31", "--why", "x"), ("records", "check"), ("verify", "x.pdf")):
        ran = lost.run(*call)
        assert ran.code == 2 and ran.err.startswith("error: "), (call, ran)
    assert tree(tmp_path) == {}
    assert lost.run("stock", "list").code == lost.run("artwork", "list").code == 0
