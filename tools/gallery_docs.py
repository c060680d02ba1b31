"""Write docs/gallery.md and its pictures: every artwork on every built-in stock it fits, with few and with many words.

Usage: python tools/gallery_docs.py [STOCK…]
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from PIL import Image

from labeltool.errors import InputError
from labeltool.output.pictures import label_page
from labeltool.output.png import rasterise_page
from labeltool.stock.model import Stock
from labeltool.typeset.frame import Frame
from labeltool.wording.model import Block, LabelText, QrContent
from labeltool.workflow import layouts
from labeltool.workflow.design import design, find_artworks
from labeltool.workflow.sample import sample_text

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "gallery.md"
PICTURES = ROOT / "docs" / "pictures"
DPI, LARGE_DPI, LARGE_MM2 = 170, 110, 6500
GREYS = 8
GAP, WIDEST = 12, 1560
HEAD = """# Gallery

Every artwork on every built-in stock that holds it, the label's edge drawn in: with few words, and with many (three
markets, a long list, warnings, two addresses and a link). A label that would need type below 0.9 mm is left out. The
words are invented. This page and its pictures are generated: `make docs` writes them again. Labels of real formulas, in
packs and a gift set, on their containers: [packs.md](packs.md).
"""
LIST = (
    "Aqua (Water), Glycerin, Helianthus Annuus Seed Oil, Cetearyl Alcohol, Butyrospermum Parkii Butter, Avena Sativa "
    "Kernel Extract, Glyceryl Stearate, Caprylic/Capric Triglyceride, Lactic Acid, Panthenol, Phenoxyethanol, Parfum "
    "(Fragrance), Sodium Hydroxide, Xanthan Gum, Tocopherol, Sodium Stearoyl Glutamate, Ethylhexylglycerin, "
    "1,2-Hexanediol, Citric Acid, Limonene, Linalool, Citral, Geraniol, Citronellol, CI 77491 (Iron Oxides), CI 77492 "
    "(Iron Oxides)"
)


def few() -> LabelText:
    """The sample words of `artwork show`."""
    return sample_text()


def many() -> LabelText:
    """About as many words as a label for three markets carries."""
    blocks = (
        Block("brand", "Ottersholt"), Block("name", "Lactic and Oat Overnight Repair Lotion"),
        Block("function", "Hand and body lotion"), Block("net", "100 ml (3.3 fl oz)"),
        Block("claims", "With oats from two fields\nWithout added colour"),
        Block("directions", "Smooth over clean, dry hands in the evening. Every second night for the first two weeks.",
              heading="Directions:"),
        Block("warnings", "For external use only. Avoid contact with the eyes. May make skin more sensitive to the "
              "sun: keep treated skin out of strong sun.", heading="Caution:"),
        Block("ingredients", LIST, heading="Ingredients:"), Block("code", "260503\u2009A\u200931", heading="Batch"),
        Block("date", "11/2027", heading="Best used before the end of"), Block("opening", "6M", symbol="open-jar"),
        Block("responsible", "Ottersholt Bodycare\n3 Example Yard\nOttersholt\nEX0 0EX"),
        Block("responsible", "EU: Example Responsible SARL\n12 rue de l'Exemple\n75000 Exempleville"),
        Block("origin", "Made in Great Britain"), Block("contact", "care@ottersholt.example"),
    )
    return LabelText("Lactic and Oat Overnight Repair Lotion", "260503A31", blocks,
                     QrContent("HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31"), ("UK", "EU", "US"))


def frame_of(text: LabelText, stock: Stock, artwork: str) -> Frame | None:
    """The label, or None where it does not fit."""
    try:
        return design(text, stock, find_artworks((artwork,), None), None).frames[0]
    except InputError:
        return None


def picture(frame: Frame) -> Image.Image:
    """One label with its edge, in few greys."""
    dpi = LARGE_DPI if frame.width_mm * frame.height_mm > LARGE_MM2 else DPI
    grey = rasterise_page(label_page(frame), 0, dpi)
    return Image.frombytes("L", (grey.width, grey.height), bytes(grey.pixels))


def flowed(cells: Sequence[Image.Image]) -> Image.Image:
    """Pictures side by side in rows that are not too wide."""
    places, left, top, tall = [], 0, 0, 0
    for cell in cells:
        if left and left + cell.width > WIDEST:
            left, top, tall = 0, top + tall + GAP, 0
        places.append((left, top))
        left, tall = left + cell.width + GAP, max(tall, cell.height)
    wide = max(x + cell.width for (x, _), cell in zip(places, cells, strict=True))
    whole = Image.new("L", (wide, top + tall), 255)
    for place, cell in zip(places, cells, strict=True):
        whole.paste(cell, place)
    return whole


def save(image: Image.Image, target: Path) -> None:
    """Write a small PNG: a few greys, one palette."""
    steps = [round(value * 255 / (GREYS - 1)) for value in range(GREYS)]
    small = image.point([round(value * (GREYS - 1) / 255) for value in range(256)], "L")
    indexed = Image.frombytes("P", small.size, small.tobytes())
    indexed.putpalette([step for step in steps for _ in range(3)])
    indexed.save(target, optimize=True, bits=4)


def section(stock: Stock, names: Sequence[str]) -> str:
    """The lines of one stock; its picture is written. What does not fit is left out."""
    texts = {"few words": few(), "many words": many()}
    frames = {(name, words): frame_of(text, stock, name) for name in names for words, text in texts.items()}
    shown = {key: frame for key, frame in frames.items() if frame}
    save(flowed([picture(frame) for frame in shown.values()]), PICTURES / f"{stock.name}.png")
    order = ", ".join(f"{name} ({words})" for name, words in shown)
    return f"## {stock.name}\n\n{stock.title}. In reading order: {order}.\n\n![{order}](pictures/{stock.name}.png)\n"


def main(only: Sequence[str]) -> int:
    """Write the pictures of the stocks named, or all of them and the page."""
    PICTURES.mkdir(exist_ok=True)
    stocks = layouts.stocks(None)
    names = layouts.artwork_names(None)
    parts = [section(stocks[name], names) for name in only or stocks]
    if not only:
        for path in PICTURES.glob("*.png"):
            if path.stem not in stocks:
                path.unlink()
        PAGE.write_text("\n".join([HEAD, *parts]), encoding="utf-8")
    print(f"wrote {len(parts)} pictures and {PAGE.relative_to(ROOT)}" if not only else f"wrote {len(parts)} pictures")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
