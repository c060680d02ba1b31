"""Values into HTML: escaped, without script, without a request to anywhere."""

from __future__ import annotations

import base64
import hashlib
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined

from labeltool.pages.model import Said
from labeltool.pages.words import PageWords

NARROW, WIDE = "page", "bench"


def clean(text: str) -> str:
    """The text without what no page may hold: control, direction, private and unassigned characters; tabs as spaces."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_kept(sign) for sign in text)


def _kept(sign: str) -> str:
    if sign in "\n\t":
        return sign if sign == "\n" else " "
    return "" if unicodedata.category(sign)[0] == "C" else sign


class Raw(str):
    """Text that is HTML already."""

    def __html__(self) -> str:
        """What is put into a page as it is."""
        return str(self)


def side_by_side(said: Sequence[Said]) -> Raw:
    """The same words in several languages, the page's own first."""
    first, *others = (escape(item.text) for item in said)
    tags = (f'<span class="alt" lang="{escape(item.lang)}">{text}</span>'
            for item, text in zip(said[1:], others, strict=True))
    return Raw(first + "".join(tags))


def policy(style: str, *, forms: bool = False) -> str:
    """The Content-Security-Policy of a page with one style sheet: that sheet, nothing from anywhere, forms if asked."""
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    to = "'self'" if forms else "'none'"
    return f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action {to}"


class Templates:
    """The templates of the pages; `read` gives a file of theirs by name."""

    def __init__(self, read: Callable[[str], str]) -> None:
        self._heads: dict[tuple[int, tuple[str, ...]], tuple[PageWords, dict[str, Raw]]] = {}
        narrow = read(f"{NARROW}.css").strip()
        self._styles = {NARROW: narrow, WIDE: f"{narrow}\n{read(f'{WIDE}.css').strip()}"}
        self._environment = Environment(
            loader=FunctionLoader(read), autoescape=True, undefined=StrictUndefined,
            trim_blocks=True, lstrip_blocks=True, finalize=_finalize, auto_reload=False,
        )

    def heads(self, words: PageWords) -> dict[str, Raw]:
        """The pages' own words by key, all languages side by side; made once for each set of languages."""
        kept = (id(words.table), words.languages)
        if kept not in self._heads:
            self._heads[kept] = words, {key: side_by_side(words.said(key)) for key in words.table}
        return self._heads[kept][1]

    def page(self, name: str, title: str, values: Mapping[str, Any], *, lang: str = "en", forms: bool = False,
             wide: bool = False) -> str:
        """One page of HTML; `forms` where it has one that leads back to its own host, `wide` where it has tables."""
        sheet = self._styles[WIDE if wide else NARROW]
        template = self._environment.get_template(name)
        return template.render(values, title=title, lang=lang, wide=wide, style=sheet,
                               policy=policy(sheet, forms=forms))


def _finalize(value: Any) -> Any:
    return clean(value) if isinstance(value, str) and not hasattr(value, "__html__") else value
