"""The pages in a real browser: at the sizes people have, by keyboard, on paper, without a word to any other host."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from bench_shop import demo_shop, ready
from browsing import DESKTOP, PHONE, Watched, accessibility_faults, browser, html_faults, watched
from cli_runs import Shop
from playwright.sync_api import Browser
from pypdf import PdfReader
from serve_runs import Server, serving

BEARD, LIP = "cedar-beard-oil", "tinted-lip-balm"
NAMES = ["gs1", "recalled", "five-languages", "greek", "form", "slip", "lost", "bench-list", "bench", "shut", "index"]
ON_PAPER = ["gs1", "recalled", "five-languages", "greek", "form", "slip"]


@dataclass(frozen=True)
class Place:
    """A running server, a built site, and the address of every kind of page."""

    server: Server
    shop: Shop
    address: dict[str, str]
    token: str


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Place]:
    shop = demo_shop(tmp_path_factory.mktemp("seen"))
    lotion = ready(shop)
    shop.done("print", lotion, "--count", "1")
    oil = printed(shop, BEARD)
    shop.done("batch", "recall", oil, "--why", "mould")
    shop.change("workshop.toml", 'languages = ["en"]', 'languages = ["de", "fr", "it", "nl", "en"]')
    balm = shop.done("batch", "open", LIP, "--size", "500g").out.split()[0]
    shop.change("workshop.toml", 'languages = ["de", "fr", "it", "nl", "en"]', 'languages = ["el"]')
    greek = shop.done("batch", "open", LIP, "--size", "500g").out.split()[0]
    shop.done("pages", "build", "site", "--index")
    with serving(shop.folder) as server:
        here = f"http://127.0.0.1:{server.port}"
        yield Place(server, shop, {
            "gs1": f"{here}/01/09520000025014/10/{lotion}?15=271031", "recalled": f"{here}/B/{oil}",
            "five-languages": f"{here}/B/{balm}", "greek": f"{here}/B/{greek}", "form": f"{here}/",
            "slip": f"{here}/?code={oil[:-2]}{oil[-1]}{oil[-2]}", "lost": f"{here}/B/nothing",
            "bench-list": f"{here}/-/bench/", "bench": f"{here}/-/bench/{lotion}", "shut": f"{here}/-/bench/x",
            "index": (shop.folder / "site" / "index.html").as_uri(),
        }, server.told["bench"])


def printed(shop: Shop, formula: str) -> str:
    return str(shop.document("print", formula, "--count", "1")["code"])


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as running:
        yield running


@pytest.fixture(scope="module", params=[PHONE, DESKTOP], ids=["phone", "desktop"])
def seen(request: pytest.FixtureRequest, chromium: Browser, place: Place) -> Iterator[Watched]:
    """A page of the browser, of a size, that holds the bench's cookie."""
    width, height = request.param
    context = chromium.new_context(viewport={"width": width, "height": height})
    kept = watched(context)
    kept.page.goto(place.token)
    yield kept
    context.close()


def go(seen: Watched, place: Place, name: str) -> None:
    """Open a page, the bench's cookie in hand but for the page that says it is shut."""
    if name == "shut":
        seen.page.context.clear_cookies()
    elif not seen.page.context.cookies():
        seen.page.goto(place.token)
    seen.console.clear()
    seen.asked.clear()
    seen.page.goto(place.address[name])


@pytest.mark.parametrize("name", NAMES)
def test_every_page_is_quiet_fits_and_can_be_used_by_all(seen: Watched, place: Place, name: str) -> None:
    go(seen, place, name)
    assert accessibility_faults(seen.page, doubts=name != "bench") == []
    wide = seen.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide == 0
    assert [text for text in seen.console if "status of 404" not in text and "status of 403" not in text] == []
    assert seen.hosts() == ({""} if name == "index" else {f"127.0.0.1:{place.server.port}"})
    assert seen.page.evaluate("document.scripts.length") == 0


@pytest.mark.parametrize("name", NAMES)
def test_no_letter_is_small_and_every_target_large(seen: Watched, place: Place, name: str) -> None:
    go(seen, place, name)
    sizes = seen.page.evaluate("""[...document.querySelectorAll('main *')]
        .filter(e => e.textContent && !e.closest('svg'))
        .map(e => parseFloat(getComputedStyle(e).fontSize))""")
    assert min(sizes) >= 16
    targets = seen.page.evaluate("""[...document.querySelectorAll('button, input')]
        .map(e => e.getBoundingClientRect().height)""")
    assert all(height >= 44 for height in targets)


@pytest.mark.parametrize("name", ON_PAPER)
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_on_paper_it_is_one_page(seen: Watched, place: Place, name: str, paper: str) -> None:
    go(seen, place, name)
    reader = PdfReader(io.BytesIO(seen.page.pdf(format=paper, prefer_css_page_size=False)))
    assert len(reader.pages) == 1
    if name == "gs1":
        assert "Helianthus Annuus Seed Oil" in " ".join(reader.pages[0].extract_text().split())


class TestKeyboard:
    def test_a_code_is_looked_up_and_the_contact_reached(self, seen: Watched, place: Place) -> None:
        go(seen, place, "form")
        seen.page.keyboard.press("Tab")
        seen.page.keyboard.type(place.address["recalled"].rsplit("/", 1)[1].lower())
        seen.page.keyboard.press("Enter")
        seen.page.wait_for_url(place.address["recalled"])
        seen.page.keyboard.press("Tab")
        assert focused(seen) == ("A",
            "mailto:care@ottersholt.example?subject=" + place.address["recalled"].rsplit("/", 1)[1])
        assert outlined(seen)

    def test_what_was_meant_is_reached(self, seen: Watched, place: Place) -> None:
        go(seen, place, "slip")
        seen.page.keyboard.press("Tab")
        assert outlined(seen)
        seen.page.keyboard.press("Enter")
        seen.page.wait_for_url(place.address["recalled"])

    def test_every_stop_of_the_bench_can_be_seen(self, seen: Watched, place: Place) -> None:
        go(seen, place, "bench")
        stops = seen.page.evaluate("document.querySelectorAll('a, [tabindex]').length")
        assert stops > 5
        for _ in range(stops):
            seen.page.keyboard.press("Tab")
            assert outlined(seen), focused(seen)


def focused(seen: Watched) -> tuple[str, str | None]:
    tag, link = seen.page.evaluate("[document.activeElement.tagName, document.activeElement.getAttribute('href')]")
    return tag, link


def outlined(seen: Watched) -> bool:
    """Whether the focused element is not the body and has an outline of 2 pixels or more."""
    return bool(seen.page.evaluate("""document.activeElement !== document.body
        && getComputedStyle(document.activeElement).outlineStyle === 'solid'
        && parseFloat(getComputedStyle(document.activeElement).outlineWidth) >= 2"""))


def test_the_token_is_in_no_address_and_no_script_can_read_it(seen: Watched, place: Place) -> None:
    seen.page.goto(place.token)
    assert seen.page.url == place.address["bench-list"]
    assert seen.page.evaluate("document.cookie") == ""
    assert "token" not in seen.page.content()
    (cookie,) = seen.page.context.cookies()
    assert cookie["httpOnly"] and cookie["sameSite"] == "Strict"


def test_another_sites_page_cannot_show_the_bench(seen: Watched, place: Place) -> None:
    """A page of another origin frames and fetches the bench: the one is refused, the other unreadable."""
    seen.page.goto("data:text/html,<title>other</title>")
    asks = "address => fetch(address, {credentials: 'include'}).then(r => r.text(), () => 'refused')"
    read = seen.page.evaluate(asks, place.address["bench"])
    assert read == "refused"
    seen.page.set_content(f"<iframe src='{place.address['bench']}'></iframe>")
    seen.page.wait_for_timeout(300)
    assert "Weighing" not in "".join(frame.content() for frame in seen.page.frames)


def test_the_language_of_every_word_is_marked(seen: Watched, place: Place) -> None:
    go(seen, place, "five-languages")
    marks = seen.page.evaluate("[...document.querySelectorAll('[lang]')].map(element => element.lang)")
    assert marks[0] == "de" and {"de", "fr", "it", "nl", "en"} <= set(marks)
    go(seen, place, "greek")
    assert seen.page.evaluate("document.documentElement.lang") == "el"
    assert "Αριθμός παρτίδας" in seen.page.inner_text("main")


BAD = "<!DOCTYPE html><title>x</title><p><div style='color:#999'>pale</div><img src='data:,'></p>"


def test_the_html_is_valid(place: Place, tmp_path: Path) -> None:
    """All pages, and a bad one, in which the checker must find faults."""
    cookie = place.server.cookie()
    files = sorted((place.shop.folder / "site").rglob("*.html"))
    for name, address in place.address.items():
        if address.startswith("http"):
            path = address.removeprefix(f"http://127.0.0.1:{place.server.port}")
            file = tmp_path / f"{name}.html"
            file.write_text(place.server.get(path, cookie).body, encoding="utf-8")
            files.append(file)
    assert len(files) >= 14
    bad = tmp_path / "bad-one.html"
    bad.write_text(BAD, encoding="utf-8")
    faults = html_faults([*files, bad])
    assert [item for item in faults if not item.startswith("bad-one.html")] == []
    assert len(faults) >= 2


def test_the_checker_of_accessibility_finds_faults(chromium: Browser) -> None:
    page = chromium.new_page()
    page.set_content(BAD)
    assert {"color-contrast", "image-alt", "html-has-lang"} <= {rule for rule, _ in accessibility_faults(page)}
    page.close()
