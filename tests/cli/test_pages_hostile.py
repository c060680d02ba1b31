"""Hostile words in every field that a maker can fill: refused when they are read, or inert on every page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from cli_runs import Shop, new_shop
from page_samples import Read
from serve_runs import Server, serving

HOSTILE = [
    "<script>alert(1)</script>", "</title><script>x</script>", "</style><script>x</script>", "</main></body></html>",
    "<img src=x onerror=alert(1)>", "<svg/onload=alert(1)>", "\"><script>x</script>", "'><script>x</script>",
    "\" onmouseover=\"alert(1)", "' onfocus='alert(1)' autofocus='", "javascript:alert(1)",
    "<a href=javascript:x>y</a>",
    "<iframe src=//evil.example>", "<link rel=stylesheet href=//evil.example>", "<meta http-equiv=refresh content=0>",
    "<base href=//evil.example>", "<form action=//evil.example><input>", "<!--", "-->", "<![CDATA[", "]]>", "<?xml ?>",
    "&lt;script&gt;", "&#60;script&#62;", "&quot;&gt;", "&amp;amp;", "&nbsp;&zwj;", "&", "<", ">", "\"", "'", "`",
    "{{ 7*7 }}", "{% for x in y %}", "{# x #}", "{{ page.__class__ }}", "${7*7}", "#{7*7}", "%s%n%x", "%00",
    "%2e%2e%2f",
    "../../etc/passwd", "..\\..\\x", "/etc/passwd", "C:\\x", "file:///etc/passwd", "//evil.example/x",
    "\\\\host\\share",
    "con", "NUL", ".", "..", "-rf", "$(id)", "`id`", "; rm -rf x", "| cat", "' OR '1'='1", "\"; DROP TABLE event; --",
    "=1+1", "@SUM(1)", "+cmd", "\u202eevil\u202c", "\u2066x\u2069", "\u200fx\u200e", "\u061cx", "x\u200by", "\ufeffx",
    "x\u00ady",
    "e\u0301" * 40, "\u0301\u0302\u0303" * 30, "\U0001f9f4\U0001f9d1\u200d\U0001f52c", "A" * 300, "A " * 150,
    "word" * 70,
    "\u0410\u0411", "\u0391\u0392", "<\u0000script>", "x\u0000y", "x\u0001y", "x\u001b[31my", "x\u007fy", "x\u0085y",
    "x\u2028y",
    "x\u2029y", "x\ny", "x\r\nSet-Cookie: a=b", "x\ty", "\ue000", "\ufffd", "\ufdd0", "\uffff", "\U0010ffff",
    "<b>bold</b>",
    "<style>*{display:none}</style>", "expression(alert(1))", "url(//evil.example)", "@import '//evil.example'",
    "data:text/html,<script>x</script>", "vbscript:x", "<object data=x>", "<embed src=x>", "<math><mi//xlink:href=x>",
    "<noscript><p title=\"</noscript><script>x</script>\">", "<textarea>", "<plaintext>", "<xmp>", "<template><script>",
    "<details open ontoggle=x>", "<video src=x onerror=y>", "\u003cscript\u003e", "\uff1cscript\uff1e",
    "<scr\u0000ipt>",
]
FORBIDDEN = re.compile("[\0-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\ufdd0\uffff\ue000]")


def quoted(text: str) -> str:
    """A text as a TOML string."""
    signs = (sign if sign.isalnum() or sign in " .,-" else f"\\U{ord(sign):08X}" for sign in f"w{text}")
    return f'"{"".join(signs)}"'


def workshop(words: str) -> str:
    return f"""format = 1
[maker]
name = {words}
brand = {words}
address = [{words}, {words}]
country = "GB"
contact = {words}
[responsible-person]
EU = {{ name = {words}, address = [{words}] }}
US = {{ name = {words}, address = [{words}], role = "distributed by" }}
[sale]
markets = ["UK", "EU", "US"]
languages = ["en", "fr"]
"""


def formula(words: str) -> str:
    return f"""[product]
name = {words}
version = {words}
function = {words}
use = "leave-on"
form = "cream"
net = "50 ml"
directions = {words}
warnings = [{words}, {words}]
shelf-life = "40 months"
no-opening-period = {words}
claims = [{words}]
[product.text.fr]
name = {words}
function = {words}
directions = {words}
warnings = [{words}]
[[ingredient]]
inci = "Aqua"
percent = "qs"
[[ingredient]]
material = "odd"
percent = 5
"""


def materials(words: str) -> str:
    return f"""[odd]
name = {words}
made-of = [{{ inci = {words}, percent = 60 }}, {{ inci = "Glycerin", percent = 40 }}]
source = {words}
allergens = {{ {words} = 0.4 }}
"""


def opened(shop: Shop, text: str) -> bool:
    """Whether a batch could be opened of files that hold the text in every field; the reason is told where not."""
    words = quoted(text)
    shop.write("workshop.toml", workshop(words))
    shop.write("materials.toml", materials(words))
    shop.write("formulas/odd.toml", formula(words))
    ran = shop.run("batch", "open", "odd", "--size", "500g")
    assert ran.code in (0, 2), ran.err
    assert "Traceback" not in ran.err and "fault of labeltool" not in ran.err
    return ran.code == 0


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> tuple[Shop, int]:
    """A workshop with a batch of every hostile text that could be read, one of them plain; how many there are."""
    shop = new_shop(tmp_path_factory.mktemp("hostile"))
    for path in (shop.folder / "formulas").iterdir():
        path.unlink()
    assert opened(shop, "plain")
    count = 1 + sum(opened(shop, text) for text in HOSTILE)
    noted(shop)
    assert shop.run("pages", "build", "site", "--index").code in (0, 1)
    return shop, count


def noted(shop: Shop) -> None:
    """Hostile words in what the bench and a decision say, of the first batch."""
    code = shop.document("batch", "list")["items"][0]["code"]
    for text in (HOSTILE[0], "{{ 7*7 }}", *HOSTILE[1::6]):
        if text.strip() and not text.startswith("-"):
            assert shop.run("batch", "bench", code, "--note", text, "--by", text).code in (0, 2)
    shop.done("batch", "withdraw", code, "--why", HOSTILE[0], "--by", HOSTILE[1])


def test_most_are_read_and_none_breaks_a_command(hostile: tuple[Shop, int]) -> None:
    assert len(set(HOSTILE)) >= 110
    assert hostile[1] > 80


def test_on_a_built_page_they_are_words(hostile: tuple[Shop, int]) -> None:
    shop, count = hostile
    pages = sorted((shop.folder / "site" / "B").rglob("*.html"))
    assert len(pages) == count
    for path in pages:
        inert(path.read_text(encoding="utf-8"))
    inert((shop.folder / "site" / "index.html").read_text(encoding="utf-8"))


def inert(html: str) -> Read:
    """The page, proved to be made of the elements and attributes that the templates have."""
    read = Read(html)
    tags = {tag for tag, _ in read.elements}
    assert tags <= {"html", "head", "meta", "link", "title", "style", "body", "main", "header", "section", "div",
        "h1", "h2", "p",
                    "dl", "dt", "dd", "time", "span", "strong", "bdi", "i", "a", "address", "ul", "ol", "li", "form",
                    "label",
                    "input", "button", "table", "thead", "tbody", "tr", "th", "td"}, tags
    names = {name for _, found in read.elements for name in found}
    assert not [name for name in names if name.startswith("on")] and "style" not in names and "src" not in names
    links = read.attributes("a", "href")
    assert all(re.fullmatch(r"(/|B/|mailto:|tel:)[A-Za-z0-9/@.%?=_+-]*", link) for link in links), links
    assert not FORBIDDEN.search(html)
    return read


@pytest.fixture(scope="module")
def server(hostile: tuple[Shop, int]) -> Iterator[Server]:
    with serving(hostile[0].folder) as running:
        yield running


def test_on_a_served_page_and_at_the_bench_they_are_words(hostile: tuple[Shop, int], server: Server) -> None:
    items = hostile[0].document("batch", "list")["items"]
    cookie = server.cookie()
    for item in items[::12]:
        inert(server.get(f"/B/{item['code']}").body)
        inert(server.get(f"/-/bench/{item['code']}", cookie).body)
    text = inert(server.get(f"/-/bench/{items[0]['code']}", cookie).body).text
    assert "<script>alert(1)</script>" in text and "{{ 7*7 }}" in text
    inert(server.get("/-/bench/", cookie).body)


def test_as_a_typed_code_they_are_words(server: Server) -> None:
    for text in HOSTILE:
        raw = "".join(f"%{byte:02X}" for byte in text.encode("utf-8", "replace"))
        got = server.get(f"/?code={raw}")
        assert got.status in (200, 303) and "set-cookie" not in got.headers
        inert(got.body) if got.status == 200 else None


def test_as_a_path_they_are_not_found(server: Server) -> None:
    for text in HOSTILE:
        raw = "".join(f"%{byte:02X}" for byte in text.encode("utf-8", "replace"))
        for path in (f"/{raw}", f"/B/{raw}", f"/01/{raw}/10/{raw}"):
            got = server.get(path)
            assert got.status == 404 or (path == f"/{raw}" and text in (".", "..")), path
            inert(got.body)


def test_the_record_holds_them_as_they_were(hostile: tuple[Shop, int]) -> None:
    items = json.dumps(hostile[0].document("batch", "list"), ensure_ascii=False)
    assert "w<script>alert(1)</script>" in items


def test_a_file_name_is_never_made_of_them(hostile: tuple[Shop, int]) -> None:
    site: Path = hostile[0].folder / "site"
    names = {path.relative_to(site).as_posix() for path in site.rglob("*")}
    assert all(re.fullmatch(r"B|B/[A-Z0-9]+|B/[A-Z0-9]+/index\.html|index\.html|\.labeltool-pages",
        name) for name in names)
