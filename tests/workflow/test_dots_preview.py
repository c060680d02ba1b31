"""The preview of a thermal roll: one bit a printer dot, everything on whole dots, every stem two dots or more."""

from io import BytesIO

import pytest
from cli_runs import BALM, Shop, new_shop
from label_frames import written
from PIL import Image

from labeltool import tables
from labeltool.output.model import Placed, Sheet
from labeltool.output.png import dots_png_bytes, rasterise_page
from labeltool.raster import Pdf
from labeltool.typeset.frame import Frame, Modules, Rule
from labeltool.workflow import layouts
from labeltool.workflow.catalogue import find_artworks, fits
from labeltool.workflow.design import design
from labeltool.workflow.sample import sample_text

THERMAL = [item for item in layouts.stocks(None).values() if item.kind == "roll" and "thermal" in item.medium]
PAIRS = [(stock.name, art) for stock in THERMAL for art in fits(stock, None)]


class Dots:
    """A frame as a thermal printer burns it: `at(x, y)` is True where a dot is black."""

    def __init__(self, stock, frame: Frame) -> None:
        self.dpi, self.frame = stock.dpi, frame
        self.pdf = written([Sheet(*stock.page_mm, (Placed(frame, 0, 0),))])
        self.picture = Image.open(BytesIO(dots_png_bytes(rasterise_page(self.pdf, 0, stock.dpi))))
        assert self.picture.mode == "1"

    def dots(self, mm: float) -> float:
        return mm / 25.4 * self.dpi

    def whole(self, mm: float) -> int:
        """A length in dots, which must be whole."""
        dots = self.dots(mm)
        assert dots == pytest.approx(round(dots), abs=1e-3)
        return round(dots)

    def at(self, x: int, y: int) -> bool:
        return self.picture.getpixel((x, y)) == 0


def dots_of(name: str, art: str) -> Dots:
    stock = layouts.stock(name, None)
    return Dots(stock, design(sample_text(), stock, find_artworks([art], None), None).frames[0])


def test_there_is_something_to_look_at():
    found = [dots_of(*pair).frame.items for pair in PAIRS if pair[1] in ("back", "front-and-back")]
    assert sum(isinstance(item, Modules) for items in found for item in items) >= 6
    assert sum(isinstance(item, Rule) for items in found for item in items) >= 3


@pytest.mark.parametrize(("name", "art"), PAIRS)
def test_symbols_and_rules_lie_on_whole_dots(name, art):
    dots = dots_of(name, art)
    for item in dots.frame.items:
        if isinstance(item, Rule):
            left, top, width, height = map(dots.whole, (item.x_mm, item.y_mm, item.width_mm, item.height_mm))
            assert all(dots.at(x, y) for x in range(left, left + width) for y in range(top, top + height))
            assert not any(dots.at(x, y) for x in (left - 1, left + width) for y in range(top, top + height))
            assert not any(dots.at(x, y) for x in range(left, left + width) for y in (top - 1, top + height))
        if isinstance(item, Modules):
            left, top, step = map(dots.whole, (item.x_mm, item.y_mm, item.module_mm))
            for line, row in enumerate(item.rows):
                for column, cell in enumerate(row):
                    block = {dots.at(left + column * step + x, top + line * step + y)
                             for x in range(step) for y in range(step)}
                    assert block == {cell == "1"}


def stems(dots: Dots):
    """The width of every upright stem of the running text, in dots: the letter l at half the x-height."""
    up = dots.frame.x_height_mm / 2
    font = tables.fonts().regular
    advance = font.advances["l"] / font.x_height * dots.frame.x_height_mm
    turned = any(getattr(item, "angle_deg", 0) for item in dots.frame.items)
    for char in [] if turned else Pdf(dots.pdf).chars(0):
        if char.text == "l":
            y, left, right = (round(dots.dots(mm)) for mm in (char.y_mm - up, char.x_mm, char.x_mm + advance))
            row = "".join("x" if dots.at(x, y) else " " for x in range(left, right + 3))
            yield max(map(len, row.split()))


@pytest.mark.parametrize(("name", "art"), [pair for pair in PAIRS if pair[1] in ("back", "front", "front-and-back")])
def test_stems_are_two_dots_or_more(name, art):
    found = list(stems(dots_of(name, art)))
    assert found and min(found) >= 2


@pytest.fixture
def shop(tmp_path) -> Shop:
    return new_shop(tmp_path)


@pytest.mark.parametrize(("stock", "mode", "size"), [
    ("roll-76x51-203dpi", "1", (607, 408)), ("roll-102x76-300dpi", "1", (1205, 898)),
    ("a4-2x4-99.1x67.7", "L", (2480, 3508)),
])
def test_preview_of_a_thermal_roll_is_its_dots(shop, stock, mode, size):
    shop.done("print", BALM, "--stock", stock, "--preview", "look.png")
    with Image.open(shop.folder / "look.png") as picture:
        assert (picture.mode, picture.size) == (mode, size)


def test_a_corrected_roll_stays_on_whole_dots(shop):
    shop.write("printers.toml", '[bench]\nstock."roll-76x51-203dpi" = { nudge = [0.5, -0.2] }\n')
    for printer, name in ((None, "a.png"), ("bench", "b.png")):
        more = ("--printer", printer) if printer else ()
        shop.done("print", BALM, "--made", "2026-05-02", "--stock", "roll-76x51-203dpi", "--preview", name, "--draft",
                  *more)
    plain, moved = (Image.open(shop.folder / name) for name in ("a.png", "b.png"))
    across, down = round(0.5 / 25.4 * 203), round(-0.2 / 25.4 * 203)
    size = (plain.width - across, plain.height + down)
    before = plain.crop((0, -down, size[0], size[1] - down))
    after = moved.crop((across, 0, across + size[0], size[1]))
    assert before.tobytes() == after.tobytes()
