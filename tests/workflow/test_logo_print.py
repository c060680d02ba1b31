"""A maker's logo on labels: shapes and pictures, on sheets and thermal rolls, reprinted without its file."""

from __future__ import annotations

import shutil
import sqlite3

import pytest
from cli_runs import BALM, new_shop
from PIL import Image, ImageDraw

from labeltool import tables

OTTER = ('<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0H40V20H0Z M5 5V15H20V5Z"/>'
         '<circle cx="50" cy="10" r="10"/></svg>')


@pytest.fixture
def shop(tmp_path):
    shop = new_shop(tmp_path)
    front = (tables.layout_folder() / "artwork" / "front.toml").read_text(encoding="utf-8")
    for kind in ("svg", "png"):
        mine = front.replace("\n", f'\nlogo = "otter.{kind}"\nlogo-height = 6\n', 1)
        shop.write(f"layouts/artwork/front-{kind}.toml", mine.replace('"brand"', '"logo", "brand"'))
    shop.write("layouts/artwork/otter.svg", OTTER)
    picture = Image.new("RGBA", (120, 60))
    ImageDraw.Draw(picture).ellipse((5, 5, 50, 50), fill=(0, 0, 0, 255))
    picture.paste((130, 130, 130, 255), (60, 5, 115, 55))
    picture.save(shop.folder / "layouts" / "artwork" / "otter.png")
    return shop


@pytest.mark.parametrize("kind", ["svg", "png"])
@pytest.mark.parametrize("stock", ["a4-2x4-99.1x67.7", "roll-76x51-203dpi"])
def test_a_logo_is_printed_read_back_and_reprinted_without_its_file(shop, kind, stock):
    shop.done("print", BALM, "--made", "2026-05-03", "--stock", stock, "--artwork", f"front-{kind}", "--count", "2")
    (first,) = (shop.folder / "prints").glob("*.pdf")
    shutil.rmtree(shop.folder / "layouts")
    code = first.stem.partition("-")[0]
    shop.done("reprint", code, "--why", "scuffed")
    again = first.with_name(f"{code}-2.pdf")
    assert again.read_bytes() == first.read_bytes()
    shop.done("verify", str(again))


def test_a_picture_is_kept_once(shop):
    for day in ("2026-05-03", "2026-05-04"):
        shop.done("print", BALM, "--made", day, "--stock", "a4-2x4-99.1x67.7", "--artwork", "front-png", "--count", "1")
    store = sqlite3.connect(shop.folder / "records.sqlite")
    assert store.execute("SELECT count(*) FROM asset WHERE kind = 'logo'").fetchone() == (1,)
    store.close()


@pytest.mark.parametrize(("name", "data", "said"), [
    ("otter.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><text>x</text></svg>", "text"),
    ("otter.svg", None, "no file"), ("otter.png", b"\x89PNG\r\n\x1a\n" + b"\0" * 40, "logo"),
])
def test_a_bad_logo_stops_the_print_and_leaves_nothing(shop, name, data, said):
    path = shop.folder / "layouts" / "artwork" / name
    path.unlink()
    if data is not None:
        path.write_bytes(data)
    result = shop.run("print", BALM, "--stock", "a4-2x4-99.1x67.7", "--artwork", f"front-{path.suffix[1:]}")
    assert result.code == 2
    assert said in result.err and "Traceback" not in result.err
    assert not list(shop.folder.glob("prints/*.pdf"))
