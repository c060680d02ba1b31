"""The pages as a WSGI application: public ones, the look-up form, and the bench behind its door."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, Protocol
from urllib.parse import parse_qs, quote

from labeltool.errors import LabeltoolError
from labeltool.pages.doors import Doors, Environ

BENCH = "/-/bench/"
_HTML = "text/html; charset=utf-8"
_MOST_TYPED = 64
_CONTROL = re.compile("[\0-\x1f\x7f]")
_POLICY = ("default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'self'; "
           "frame-ancestors 'none'")
_HEADERS = (
    ("Content-Security-Policy", _POLICY), ("X-Content-Type-Options", "nosniff"), ("Referrer-Policy", "no-referrer"),
    ("Cache-Control", "no-store"), ("X-Robots-Tag", "noindex, nofollow"),
    ("Cross-Origin-Resource-Policy", "same-origin"),
)

Start = Callable[[str, list[tuple[str, str]]], Any]


class Desk(Protocol):
    """Where the pages come from, as the record has them at this moment. `home`: asked from this very machine."""

    def public(self, path: str) -> tuple[str, str] | None:
        """(exact path, HTML) of the page at a path in any case, or None."""

    def look_up(self, typed: str, *, home: bool) -> tuple[str | None, str]:
        """The path that a typed code leads to, or None and the form with what it could have meant."""

    def lost(self) -> str:
        """The page of a path that has none."""

    def bench_list(self) -> str:
        """The list of batches at the bench."""

    def bench(self, code: str) -> str | None:
        """The bench page of a batch, or None."""

    def plain(self, title: str, text: str) -> str:
        """A page that says one thing."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What goes back: status, body, and headers beside the usual ones."""

    status: str
    body: str
    headers: tuple[tuple[str, str], ...] = field(default=())
    kind: str = _HTML


class Pages:
    """The application. `report` gets a line for every fault of the record or of the program."""

    def __init__(self, desk: Desk, doors: Doors, report: Callable[[str], None]) -> None:
        self.desk = desk
        self.doors = doors
        self.report = report

    def __call__(self, environ: Environ, start: Start) -> Iterable[bytes]:
        """One request answered (PEP 3333)."""
        answer = self._safely(environ)
        body = answer.body.encode("utf-8", "replace")
        fixed = (("Content-Type", answer.kind), ("Content-Length", str(len(body))))
        start(answer.status, [*fixed, *_HEADERS, *answer.headers])
        return [] if environ.get("REQUEST_METHOD") == "HEAD" else [body]

    def _safely(self, environ: Environ) -> Answer:
        try:
            return self._answer(environ)
        except LabeltoolError as error:
            self.report("; ".join(item.text for item in error.findings))
            text = "The record cannot be read at the moment. Please try again."
            return Answer("503 Service Unavailable", self.desk.plain("Not now", text))
        except Exception as error:
            self.report(f"a fault of labeltool itself: {type(error).__name__}: {error}")
            return Answer("500 Internal Server Error", self.desk.plain("A fault", "This page could not be made."))

    def _answer(self, environ: Environ) -> Answer:
        if not self.doors.knows(environ):
            text = "This server answers to the address that it was started with, and to no other name."
            return Answer("421 Misdirected Request", self.desk.plain("Not this address", text))
        if environ.get("REQUEST_METHOD") not in ("GET", "HEAD"):
            page = self.desk.plain("Only to be read", "These pages take no other request.")
            return Answer("405 Method Not Allowed", page, (("Allow", "GET, HEAD"),))
        path = _path(environ)
        if path is None:
            return self._lost()
        if path == "/":
            return self._form(environ)
        if path == "/robots.txt":
            return Answer("200 OK", "User-agent: *\nDisallow: /\n", kind="text/plain; charset=utf-8")
        if path.startswith("/-/"):
            return self._bench(path, environ) if self.doors.at_home(environ) else self._lost()
        return self._public(path, environ)

    def _public(self, path: str, environ: Environ) -> Answer:
        found = self.desk.public(path)
        if found is None:
            return self._lost()
        exact, html = found
        if exact != path:
            query = _printable(str(environ.get("QUERY_STRING", "")))
            return _to(quote(exact, safe="/-._~") + (f"?{query}" if query else ""))
        return Answer("200 OK", html)

    def _form(self, environ: Environ) -> Answer:
        typed = _field(environ, "code")[:_MOST_TYPED]
        path, html = self.desk.look_up(typed, home=self.doors.at_home(environ))
        return _to(quote(path, safe="/-._~")) if path is not None else Answer("200 OK", html)

    def _bench(self, path: str, environ: Environ) -> Answer:
        if path not in (BENCH, BENCH.rstrip("/")) and not path.startswith(BENCH):
            return self._lost()
        token = _field(environ, "token")
        if token and self.doors.is_token(token):
            return _to(quote(path, safe="/-"), (("Set-Cookie", self.doors.set_cookie(BENCH.rstrip("/"))),))
        if not self.doors.holds_token(environ):
            text = "The bench pages are for you alone: open the address that pages serve printed when it started."
            return Answer("403 Forbidden", self.desk.plain("For the bench alone", text))
        if path == BENCH.rstrip("/"):
            return _to(BENCH)
        html = self.desk.bench_list() if path == BENCH else self.desk.bench(path.removeprefix(BENCH))
        return Answer("200 OK", html) if html is not None else self._lost()

    def _lost(self) -> Answer:
        return Answer("404 Not Found", self.desk.lost())


def _to(place: str, headers: tuple[tuple[str, str], ...] = ()) -> Answer:
    return Answer("303 See Other", "", (("Location", place), *headers))


def _path(environ: Environ) -> str | None:
    """The path in its plain form, without a trailing slash or index.html; None where no page can have it."""
    try:
        path = str(environ.get("PATH_INFO", "")).encode("latin-1").decode("utf-8")
    except UnicodeError:
        return None
    if not path.startswith("/") or "//" in path or "\\" in path or _CONTROL.search(path):
        return None
    if path.startswith("/-/"):
        return path
    return path.removesuffix("/index.html").removesuffix("/") or "/"


def _field(environ: Environ, name: str) -> str:
    try:
        found = parse_qs(str(environ.get("QUERY_STRING", "")), max_num_fields=20)
    except ValueError:
        return ""
    return found.get(name, [""])[0]


def _printable(text: str) -> str:
    return text if text.isascii() and text.isprintable() and " " not in text else ""
