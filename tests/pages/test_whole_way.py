"""From the sheet of paper to the page: a symbol is read off the printed page and its address asked."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

import pypdfium2
import zxingcpp
from bench_shop import LOTION, demo_shop
from cli_runs import Shop
from page_samples import Read
from serve_runs import Server, serving

BEARD = "cedar-beard-oil"
STOCKS = {LOTION: "a4-1x6-140x40", BEARD: "a4-2x4-99.1x67.7"}


def read_off(pdf: Path) -> list[str]:
    """The text of every QR code on the first page, as a scanner at 300 dpi sees it."""
    with pypdfium2.PdfDocument(pdf) as document:
        picture = document[0].render(scale=300 / 72, grayscale=True).to_numpy()
        return [found.text for found in zxingcpp.read_barcodes(picture[:, :, 0] if picture.ndim == 3 else picture)]


def page_of(payload: str, server: Server) -> str:
    """What the server shows under the path and dates of a payload, whatever the host in it."""
    parts = urlsplit(payload)
    assert parts.scheme.lower() == "https" and parts.hostname and parts.hostname.endswith("ottersholt.example")
    got = server.get(parts.path + (f"?{parts.query}" if parts.query else ""))
    assert got.status == 200
    return Read(got.body).text


def printed(shop: Shop, formula: str) -> tuple[str, Path]:
    document = shop.document("print", formula, "--count", "2", "--no-verify", "--stock", STOCKS[formula])
    return document["code"], shop.folder / document["file"]


def test_a_symbol_on_the_sheet_shows_the_very_batch(tmp_path: Path) -> None:
    """Two batches of one product and one of another: GS1 links with dates, and the maker's own link."""
    shop = demo_shop(tmp_path)
    shop.change("workshop.toml", 'gtin-link = "https://id.ottersholt.example"',
                'gtin-link = "https://id.ottersholt.example"\ngtin-dates = ["11", "15"]')
    batches = [printed(shop, formula) for formula in (LOTION, LOTION, BEARD)]
    with serving(shop.folder) as server:
        for code, pdf in batches:
            payloads = read_off(pdf)
            assert len(payloads) == 2 and len(set(payloads)) == 1
            text = page_of(payloads[0], server)
            assert code in text.replace(" ", "")
            assert not [other for other, _ in batches if other != code and other in text.replace(" ", "")]
        assert "Oat Milk Hand Lotion" in page_of(read_off(batches[1][1])[0], server)
        assert "Cedar Beard Oil" in page_of(read_off(batches[2][1])[0], server)
        assert urlsplit(read_off(batches[0][1])[0]).query == "11=260503&15=271031"


def test_the_same_symbol_finds_the_built_page(tmp_path: Path) -> None:
    shop = demo_shop(tmp_path)
    code, pdf = printed(shop, LOTION)
    shop.done("pages", "build", "site")
    path = urlsplit(read_off(pdf)[0]).path
    file = shop.folder / "site" / path.lstrip("/") / "index.html"
    assert code in Read(file.read_text(encoding="utf-8")).text.replace(" ", "")
