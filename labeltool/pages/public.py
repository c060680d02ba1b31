"""The public page of a batch."""

from __future__ import annotations

import re
from collections.abc import Sequence
from urllib.parse import quote

from labeltool.pages.html import Templates, clean, side_by_side
from labeltool.pages.model import PublicPage, Said
from labeltool.pages.words import PageTable, page_words

_MAIL = re.compile(r"[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]{1,64}@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+")
_PHONE = re.compile(r"\+?[0-9][0-9 ().-]{4,28}[0-9]")
_SITE = re.compile(r"https://[A-Za-z0-9.-]+(:[0-9]{1,5})?(/[A-Za-z0-9._~%/?=&+#-]*)?")
_MOST_TITLE = 90


def public_html(page: PublicPage, templates: Templates, table: PageTable) -> str:
    """The page as HTML: the same page and words give the same text."""
    words = page_words(table, page.languages)
    names = page.names or (Said(page.product, words.first),)
    return templates.page("public.html", title_of(names[0].text, page.code), {
        "page": page, "words": words, "names": names, "contact_link": contact_link(page.contact, page.code),
        "head": templates.heads(words), "months": side_by_side(words.months(page.opening)) if page.opening else "",
    }, lang=words.first)


def title_of(product: str, code: str) -> str:
    """The title: product and code, the product cut where it is very long."""
    name = " ".join(clean(product).split())
    return f"{name if len(name) <= _MOST_TITLE else name[:_MOST_TITLE] + '…'}, {code}"


def contact_link(contact: str, code: str) -> str | None:
    """Where the contact leads: a mail, a call, a site; None where it is only words."""
    text = contact.strip()
    if _MAIL.fullmatch(text):
        return f"mailto:{quote(text, safe='@')}?subject={quote(code)}"
    if _SITE.fullmatch(text):
        return text
    if _PHONE.fullmatch(text):
        return f"tel:{re.sub(r'[^0-9+]', '', text)}"
    return None


def index_html(pages: Sequence[tuple[str, PublicPage]], templates: Templates, table: PageTable) -> str:
    """A list of all pages (file, page) for the maker, the latest batch first."""
    rows = sorted(((page.made, page.code, file, page) for file, page in pages), key=lambda row: row[:3], reverse=True)
    items = [{"page": page, "link": link_to(file), "name": (page.names or (Said(page.product),))[0]}
             for _, _, file, page in rows]
    return templates.page("index.html", "Batches", {"items": items, "words": page_words(table, ("en",))})


def link_to(file: str) -> str:
    """The relative link to a file of the site, percent-encoded; a folder's index goes without its name."""
    return quote(file.removesuffix("index.html"), safe="/-._~")
