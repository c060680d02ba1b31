"""Values into HTML: escaped, without script, without a request to anywhere."""

from __future__ import annotations

import base64
import hashlib
import unicodedata
from collections.abc import Callable, Mapping
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined

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


def policy(style: str, *, forms: bool = False) -> str:
    """The Content-Security-Policy of a page with one style sheet: that sheet, nothing from anywhere, forms if asked."""
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    to = "'self'" if forms else "'none'"
    return f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action {to}"


class Templates:
    """The templates of the pages; `read` gives a file of theirs by name."""

    def __init__(self, read: Callable[[str], str]) -> None:
        narrow = read(f"{NARROW}.css").strip()
        self._styles = {NARROW: narrow, WIDE: f"{narrow}\n{read(f'{WIDE}.css').strip()}"}
        self._environment = Environment(
            loader=FunctionLoader(read), autoescape=True, undefined=StrictUndefined,
            trim_blocks=True, lstrip_blocks=True, finalize=_finalize, auto_reload=False,
        )

    def page(self, name: str, title: str, values: Mapping[str, Any], *, lang: str = "en", forms: bool = False,
             wide: bool = False) -> str:
        """One page of HTML; `forms` where it has one that leads back to its own host, `wide` where it has tables."""
        sheet = self._styles[WIDE if wide else NARROW]
        template = self._environment.get_template(name)
        return template.render(values, title=title, lang=lang, wide=wide, style=sheet,
                               policy=policy(sheet, forms=forms))


def _finalize(value: Any) -> Any:
    return clean(value) if isinstance(value, str) and not hasattr(value, "__html__") else value
