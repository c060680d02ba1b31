"""Links that a QR may hold: what a maker's template must be, how it is filled, and its page's path."""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Iterator
from urllib.parse import SplitResult, quote, unquote, urlsplit

from labeltool.coding.checkdigits import DIGITS, LETTERS
from labeltool.finding import NOWHERE, Finding, Findings, Where

QR_ALPHANUMERIC = frozenset(DIGITS + LETTERS + " $%*+-./:")
KEY_ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
KEY_LENGTH = 8

_LEGAL = re.compile(r"(?:[A-Za-z0-9\-._~:/?#\[\]@!$&'()*+,;={}]|%[0-9A-Fa-f]{2})*")
_FIELD = re.compile(r"\{[^{}]*\}|[{}]")
_HOST = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?")


def template_findings(template: str, where: Where = NOWHERE) -> Findings:
    """Every reason why a `link` template cannot lead to a batch."""
    return Findings(tuple(_link_faults(template, where)))


def stem_findings(stem: str, where: Where = NOWHERE) -> Findings:
    """Every reason why a `gtin-link` cannot be the front of a GS1 Digital Link."""
    return Findings(tuple(_stem_faults(stem, where)))


def _link_faults(template: str, where: Where) -> Iterator[Finding]:
    parts = _parts(template)
    yield from _faults(template, parts, where)
    fields = _FIELD.findall(template)
    for field in sorted(set(fields) - {"{code}", "{key}"}):
        yield _fault("field", f"{field} is no field of a link", where, "{code} and {key}")
    path = parts.path if parts else ""
    if "{code}" not in path:
        yield _fault("code", "the link has no {code} in its path", where, do="end it in /B/{code}")
    if "{key}" in fields and "{key}" not in path:
        yield _fault("key", "{key} stands outside the path, where it keeps no page from being guessed", where,
                     do="write it into the path: /B/{code}/{key}")


def _stem_faults(stem: str, where: Where) -> Iterator[Finding]:
    parts = _parts(stem)
    yield from _faults(stem, parts, where)
    if _FIELD.search(stem):
        yield _fault("field", "a gtin-link takes no fields: GTIN and batch are added to it", where)
    if parts and (parts.query or parts.fragment or stem.endswith(("?", "#"))):
        yield _fault("query", "a gtin-link ends before ? and #", where, do="dates are asked for by gtin-dates")


def _faults(link: str, parts: SplitResult | None, where: Where) -> Iterator[Finding]:
    """What every link must be, filled or not."""
    if not _LEGAL.fullmatch(link):
        yield _fault("character", f"the link {link!a} has characters that no link can hold", where,
                     "ASCII letters, digits and signs of RFC 3986; others as %XX")
    if parts is None:
        yield _fault("form", f"{link!a} is no link", where, "https://HOST/PATH")
        return
    yield from _scheme_faults(parts, where)
    if "@" in parts.netloc:
        yield _fault("user", "the link has a user part before its host", where, do="leave out what stands before the @")
    elif not _good_host(parts):
        yield _fault("host", f"{parts.netloc!a} is no host", where, "https://HOST/PATH")
    if any(_bad_segment(item) for item in parts.path.rstrip("/").split("/")[1:]):
        yield _fault("path", "the link's path has an empty, dotted or hidden part", where,
                     do="write plain names between the slashes")


def _scheme_faults(parts: SplitResult, where: Where) -> Iterator[Finding]:
    if parts.scheme == "https" or (parts.scheme == "http" and _loopback(parts.hostname or "")):
        return
    shown = f"{parts.scheme}://" if parts.scheme else "no scheme"
    yield _fault("scheme", f"the link has {shown}", where, "https; http on this machine only (127.0.0.1, localhost)")


def _parts(link: str) -> SplitResult | None:
    try:
        parts = urlsplit(link)
        _ = parts.port, parts.hostname
    except ValueError:
        return None
    return parts


def _good_host(parts: SplitResult) -> bool:
    host = parts.hostname or ""
    if "[" in parts.netloc:
        return _address(host) is not None
    return _HOST.fullmatch(host) is not None and ".." not in host


def _address(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(host)
    except ValueError:
        return None


def _loopback(host: str) -> bool:
    address = _address(host)
    return host == "localhost" or (address is not None and address.is_loopback)


def _bad_segment(segment: str) -> bool:
    """Whether a part of a path is empty, leads upward, or hides a separator or a control character."""
    text = unquote(segment)
    return text in ("", ".", "..") or any(sign in "/\\" or ord(sign) < 32 or ord(sign) == 127 for sign in text)


def fill(template: str, code: str, key: str) -> str:
    """The template's link to one batch, the code percent-encoded where it must be."""
    return template.replace("{code}", quote(code, safe="")).replace("{key}", key)


def in_capitals(link: str) -> str:
    """The link with scheme and host in capitals, where all of it then lies in QR's alphanumeric set; else as it was."""
    front = re.match(r"[^:]+://[^/?#]*", link)
    if front is None:
        return link
    louder = front[0].upper() + link[front.end():]
    return louder if set(louder) <= QR_ALPHANUMERIC else link


def page_path(payload: str) -> str:
    """The path at which the page of a payload lies, as its link writes it; a bare code's is /B/CODE."""
    if "://" not in payload:
        return f"/B/{quote(payload, safe='')}"
    return urlsplit(payload).path.rstrip("/")


def shorter(payload: str, version: int) -> str:
    """What would make a symbol smaller, in words: another link than the GS1 one, or a shorter one; "" where little can.

    `version`: that of the symbol, whose smallest with a link in it is 2.
    """
    if version <= 2:
        return ""
    if "://" in payload and re.search(r"/01/[0-9]{14}(/|$)", urlsplit(payload).path):
        return (f"the GS1 link's {len(payload)} characters make version {version}: without gtin-link under [record], "
                "the shorter link there takes its place")
    return "a shorter link makes a smaller version"


def site_file(path: str) -> str:
    """The file of a site at which a web host finds a page's path: "/B/X" lies in B/X/index.html, "/X.html" in X.html.

    Raises ValueError for a path that is none of a page: outside the site, hidden separators, not UTF-8.
    """
    parts = path.split("/")[1:] if path.startswith("/") else [""]
    if any(_bad_segment(item) for item in parts):
        raise ValueError(f"{path!a} is no path of a page")
    plain = "/".join(unquote(item, errors="strict") for item in parts)
    return plain if plain.lower().endswith((".html", ".htm")) else f"{plain}/index.html"


def new_key(random_bytes: bytes) -> str:
    """Eight characters of the key alphabet from random bytes, every key equally likely.

    Bytes that would favour some characters are passed over: 64 bytes are ample. Raises ValueError where they run out.
    """
    fair = 256 - 256 % len(KEY_ALPHABET)
    drawn = [KEY_ALPHABET[byte % len(KEY_ALPHABET)] for byte in random_bytes if byte < fair][:KEY_LENGTH]
    if len(drawn) < KEY_LENGTH:
        raise ValueError("too few random bytes for a key")
    return "".join(drawn)


def _fault(rule: str, text: str, where: Where, limit: str | None = None, do: str | None = None) -> Finding:
    return Finding(f"link.{rule}", "error", text, where, limit=limit, do=do)
