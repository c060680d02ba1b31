"""The application: which request gets which answer, and that no request gets more than it should."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.errors import machine_error
from labeltool.pages.app import Pages
from labeltool.pages.doors import Doors

TOKEN = "t0ken"
COOKIE = f"labeltool-bench-8000={TOKEN}"
PRIVATE = ("LIST OF THE BENCH", "BENCH OF 260503A31")


class Desk:
    """A desk with one batch."""

    def public(self, path: str) -> tuple[str, str] | None:
        exact = {"/b/260503a31": "/B/260503A31", "/01/09520000025014/10/260503a31": "/01/09520000025014/10/260503A31"}
        found = exact.get(path.casefold())
        return (found, "PUBLIC") if found else None

    def look_up(self, typed: str, *, home: bool) -> tuple[str | None, str]:
        return ("/B/260503A31", "") if typed == "260503A31" else (None, f"FORM home={home}")

    def lost(self) -> str:
        return "LOST"

    def bench_list(self) -> str:
        return PRIVATE[0]

    def bench(self, code: str) -> str | None:
        return PRIVATE[1] if code == "260503A31" else None

    def plain(self, title: str, text: str) -> str:
        return f"{title}: {text}"


@dataclass
class Got:
    status: int
    headers: dict[str, str]
    body: str


REPORTS: list[str] = []


def get(path: str = "/", query: str = "", desk: Any = None, **more: str) -> Got:
    """One request from this machine, or as `more` says."""
    environ = {"REQUEST_METHOD": "GET", "PATH_INFO": path, "QUERY_STRING": query, "HTTP_HOST": "127.0.0.1:8000",
               "REMOTE_ADDR": "127.0.0.1"} | more
    seen: list[Any] = []
    REPORTS.clear()
    pages = Pages(desk or Desk(), Doors(8000, TOKEN, "192.0.2.7"), REPORTS.append)
    body = b"".join(pages(environ, lambda status, headers: seen.append((status, headers))))
    status, headers = seen[0]
    return Got(int(status[:3]), dict(headers), body.decode())


LAN = {"HTTP_HOST": "192.0.2.7:8000", "REMOTE_ADDR": "192.0.2.9"}


class TestPublic:
    @pytest.mark.parametrize("path", [
        "/B/260503A31", "/01/09520000025014/10/260503A31",
    ])
    def test_a_page_at_its_path(self, path: str) -> None:
        for more in ({}, LAN):
            got = get(path, **more)
            assert (got.status, got.body) == (200, "PUBLIC")

    @pytest.mark.parametrize("path", ["/B/260503A31/", "/B/260503A31/index.html"])
    def test_the_spellings_of_web_hosts(self, path: str) -> None:
        assert get(path).body == "PUBLIC"

    def test_another_case_is_led_to_the_page_with_its_dates(self) -> None:
        got = get("/b/260503a31", "15=271031")
        assert (got.status, got.headers["Location"]) == (303, "/B/260503A31?15=271031")
        assert get("/b/260503a31", "x=\r\nSet-Cookie: a").headers["Location"] == "/B/260503A31"

    def test_headers_let_nothing_in(self) -> None:
        headers = get("/B/260503A31").headers
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert headers["Cache-Control"] == "no-store"
        assert headers["X-Robots-Tag"] == "noindex, nofollow"

    def test_head_has_the_headers_alone(self) -> None:
        got = get("/B/260503A31", REQUEST_METHOD="HEAD")
        assert (got.status, got.body, got.headers["Content-Length"]) == (200, "", "6")

    @pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PATCH", "get", ""])
    def test_other_methods_are_refused(self, method: str) -> None:
        got = get("/B/260503A31", REQUEST_METHOD=method)
        assert (got.status, got.headers["Allow"]) == (405, "GET, HEAD")

    def test_robots_are_sent_away(self) -> None:
        assert get("/robots.txt").body == "User-agent: *\nDisallow: /\n"


HOSTILE_PATHS = [
    "", "//", "/B/260503A31//", "//evil.example/B", "/..", "/../records.sqlite", "/B/../records.sqlite", "/B/..%2f",
    "/B/260503A31/../../x", "/records.sqlite",
    "/workshop.toml", "/B/\0", "/B/260503A31\0.html", "/B/260503A31\n", "/B\\260503A31", "/\\..\\..\\x", "/B/%2e%2e/",
    "/B/260503A31;x", "/B/260503A31 ", "/B/ 260503A31", "/B/260503A31/x", "/B/260503A3", "/B/" + "A" * 100_000, "/\x7f",
    "/\xff\xfe", "/\xc0\xae\xc0\xae/", "/<script>alert(1)</script>", "/B/\u202e".encode().decode("latin-1"), "/-",
    "/-/",
    "/-/x", "/-/benchx", "/-/bench%2f", "/.git/config", "/favicon.ico", "/B/con", "/B/260503A31?x", "B/260503A31", "*",
    "http://evil.example/B/260503A31", "/B/260503A31#x", "/%00", "/~root", "/etc/passwd", "/B/{{7*7}}", "/B/$(id)",
    "/B/'OR'1'='1", "/B/%s%s%s%n", "/01/09520000025014/10/", "/01/09520000025014/10/260503A31/21/1", "/B/.",
    "/B/./260503A31",
]


@pytest.mark.parametrize("path", HOSTILE_PATHS)
def test_hostile_paths_are_not_found(path: str) -> None:
    for more in ({}, LAN, {"HTTP_COOKIE": COOKIE}):
        assert get(path, **more).status in (404,), path
        assert REPORTS == []


@given(st.text(max_size=60), st.text(max_size=60))
def test_no_request_brings_down_or_opens_anything(path: str, query: str) -> None:
    got = get("/" + path.encode("utf-8", "replace").decode("latin-1"), query)
    assert got.status in (200, 303, 403, 404)
    assert REPORTS == []
    assert not any(word in got.body for word in PRIVATE)


class TestForm:
    def test_a_known_code_leads_to_its_page(self) -> None:
        got = get("/", "code=260503A31")
        assert (got.status, got.headers["Location"]) == (303, "/B/260503A31")

    def test_the_desk_is_told_who_asks(self) -> None:
        assert get("/", "code=x").body == "FORM home=True"
        assert get("/", "code=x", **LAN).body == "FORM home=False"

    @pytest.mark.parametrize("query", [
        "code=", "code=%00", "code=%ff%fe", "code=" + "A" * 100_000, "code=%3Cscript%3E", "&" * 50, "a&" * 500,
        "code=1;code=2",
        "=", "%", "code=%E2%80%AE", "code=a&code=b", "cod\xe9=1",
    ])
    def test_hostile_queries_get_the_form(self, query: str) -> None:
        assert get("/", query).body == "FORM home=True"
        assert REPORTS == []


class TestBench:
    def test_the_token_becomes_a_cookie_and_leaves_the_address(self) -> None:
        got = get("/-/bench/", f"token={TOKEN}")
        assert (got.status, got.headers["Location"], got.body) == (303, "/-/bench/", "")
        assert got.headers["Set-Cookie"] == f"{COOKIE}; Path=/-/bench; HttpOnly; SameSite=Strict"

    def test_with_the_cookie_it_opens(self) -> None:
        assert get("/-/bench/", HTTP_COOKIE=COOKIE).body == PRIVATE[0]
        assert get("/-/bench/260503A31", HTTP_COOKIE=COOKIE).body == PRIVATE[1]
        assert get("/-/bench", HTTP_COOKIE=COOKIE).headers["Location"] == "/-/bench/"
        assert get("/-/bench/none", HTTP_COOKIE=COOKIE).status == 404

    @pytest.mark.parametrize(("path", "query", "more"), [
        ("/-/bench/", "", {}), ("/-/bench/260503A31", "", {}), ("/-/bench/", "token=wrong", {}),
        ("/-/bench/", "token=", {}), ("/-/bench/", "", {"HTTP_COOKIE": "labeltool-bench-8000=wrong"}),
        ("/-/bench/", "", {"HTTP_COOKIE": f"labeltool-bench-9000={TOKEN}"}),
        ("/-/bench/", f"token={TOKEN}x", {}),
    ])
    def test_without_it_it_stays_shut(self, path: str, query: str, more: dict[str, str]) -> None:
        got = get(path, query, **more)
        assert got.status == 403 and "Set-Cookie" not in got.headers
        assert not any(word in got.body for word in PRIVATE)

    @pytest.mark.parametrize("more", [
        LAN, {"REMOTE_ADDR": "192.0.2.9"}, {"HTTP_HOST": "192.0.2.7:8000"}, {"HTTP_X_FORWARDED_FOR": "192.0.2.9"},
    ])
    def test_on_the_network_there_is_no_bench_even_with_the_token(self, more: dict[str, str]) -> None:
        for query in ("", f"token={TOKEN}"):
            got = get("/-/bench/260503A31", query, HTTP_COOKIE=COOKIE, **more)
            assert (got.status, got.body) == (404, "LOST") and "Set-Cookie" not in got.headers


class TestMisdirected:
    @pytest.mark.parametrize("host", ["evil.example:8000", "evil.example", "", "127.0.0.1:9"])
    @pytest.mark.parametrize("path", ["/", "/B/260503A31", "/-/bench/", "/robots.txt"])
    def test_another_host_sees_nothing(self, host: str, path: str) -> None:
        got = get(path, f"token={TOKEN}", HTTP_HOST=host, HTTP_COOKIE=COOKIE)
        assert got.status == 421 and "PUBLIC" not in got.body and not any(word in got.body for word in PRIVATE)


class TestTrouble:
    def test_a_record_that_cannot_be_read_is_told_to_the_maker_and_not_to_the_reader(self) -> None:
        class Locked(Desk):
            def public(self, path: str) -> tuple[str, str] | None:
                raise machine_error("record.locked", "records.sqlite is locked")

        got = get("/B/260503A31", desk=Locked())
        assert got.status == 503 and "sqlite" not in got.body and REPORTS == ["records.sqlite is locked"]

    def test_so_is_a_fault_of_the_program(self) -> None:
        class Broken(Desk):
            def public(self, path: str) -> tuple[str, str] | None:
                raise RuntimeError("secret")

        got = get("/B/260503A31", desk=Broken())
        assert got.status == 500 and "secret" not in got.body and "secret" in REPORTS[0]
