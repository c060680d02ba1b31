"""`pages serve` as a process: what it answers, to whom, and how it ends."""

from __future__ import annotations

import signal
import socket
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from cli_runs import CREAM, Shop, new_shop
from page_samples import Read
from serve_runs import Server, serving

from labeltool.coding.checkdigits import mod97_check


@pytest.fixture(scope="module")
def served_shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A workshop with a printed batch and one that is only open, the second behind a key."""
    shop = new_shop(tmp_path_factory.mktemp("served"))
    shop.done("print", CREAM, "--count", "1")
    shop.change("workshop.toml", '# link = "https://workshop.example/B/{code}"',
                'link = "https://workshop.example/B/{code}/{key}"')
    shop.done("batch", "open", CREAM, "--size", "500g")
    return shop


@pytest.fixture(scope="module")
def server(served_shop: Shop) -> Iterator[Server]:
    with serving(served_shop.folder) as running:
        yield running


@pytest.fixture(scope="module")
def codes(served_shop: Shop) -> list[str]:
    return [item["code"] for item in served_shop.document("batch", "list")["items"]]


def test_the_page_of_a_batch(server: Server, codes: list[str]) -> None:
    got = server.get(f"/B/{codes[0]}")
    assert got.status == 200 and got.headers["content-type"] == "text/html; charset=utf-8"
    assert "Calendula Hand Cream" in Read(got.body).text and "server" not in got.headers
    assert server.get(f"/b/{codes[0].lower()}").headers["location"] == f"/B/{codes[0]}"


@pytest.mark.parametrize("shape", ["{}", "lot {}", " {} ", "L-{}"])
def test_a_code_typed_in_any_way_leads_to_it(server: Server, codes: list[str], shape: str) -> None:
    got = server.get(f"/?code={quote(shape.format(codes[0].lower()))}")
    assert (got.status, got.headers["location"]) == (303, f"/B/{codes[0]}")


def test_a_slip_of_the_check_digits_is_said_with_what_could_be_meant(server: Server, codes: list[str]) -> None:
    typed = codes[0][:-2] + codes[0][-1] + codes[0][-2]
    text = Read(server.get(f"/?code={typed}").body)
    assert f"No batch has this code: {typed}" in text.text and "last two digits do not fit" in text.text
    assert text.attributes("a", "href") == [f"/B/{codes[0]}"]


def test_a_code_that_checks_and_is_not_there_is_no_slip(server: Server) -> None:
    typed = f"210101A{mod97_check('210101A')}"
    text = Read(server.get(f"/?code={typed}").body).text
    assert f"No batch has this code: {typed}" in text and "last two digits" not in text


class TestBench:
    def test_it_opens_with_the_address_told_and_says_everything(self, server: Server, codes: list[str]) -> None:
        cookie = server.cookie()
        listed = Read(server.get("/-/bench/", cookie).body)
        assert listed.attributes("a", "href") == [f"/-/bench/{code}" for code in reversed(codes)]
        text = Read(server.get(f"/-/bench/{codes[1]}", cookie).body).text
        for part in ("500 g", "Weighing Line Phase Material", "still to weigh", "Composition", "opened, 500 g"):
            assert part in text
        printed = Read(server.get(f"/-/bench/{codes[0]}", cookie).body).text
        assert f"prints/{codes[0]}-1.pdf" in printed and "printed 1 label," in printed

    def test_it_names_the_key_that_the_public_may_not_guess(self, server: Server, codes: list[str]) -> None:
        links = Read(server.get(f"/-/bench/{codes[1]}", server.cookie()).body).attributes("a", "href")
        (path,) = [link for link in links if link.startswith("/B/")]
        assert path.startswith(f"/B/{codes[1]}/") and len(path.rsplit("/", 1)[1]) == 8
        assert server.get(path).status == 200 and server.get(f"/B/{codes[1]}").status == 404

    def test_it_is_shut_without(self, server: Server, codes: list[str]) -> None:
        for path in ("/-/bench/", f"/-/bench/{codes[0]}"):
            got = server.get(path)
            assert got.status == 403 and codes[0] not in got.body

    def test_another_sites_name_that_points_here_gets_nothing(self, server: Server, codes: list[str]) -> None:
        for host in ("evil.example", f"evil.example:{server.port}"):
            got = server.get(f"/-/bench/{codes[0]}", server.cookie() | {"Host": host})
            assert got.status == 421 and codes[0] not in got.body

    def test_nor_does_a_proxy_that_looks_like_home(self, server: Server) -> None:
        assert server.get("/-/bench/", server.cookie() | {"X-Forwarded-For": "192.0.2.9"}).status == 404


HOSTILE = [
    "/../records.sqlite", "/..%2frecords.sqlite", "/%2e%2e/records.sqlite", "/B/%00", "/%00", "/B/%ff",
    "/records.sqlite",
    "//evil.example/", "/\\records.sqlite", "/%5crecords.sqlite", "/B/<script>", "/B/%3Cscript%3E", "/B/%E2%80%AE",
    "/B/%0d%0aX:1", "/" + "A" * 8000, "/B/%252e%252e", "/workshop.toml", "/prints/", "/-/", "/-/../workshop.toml",
    "/-/benchx", "/-/%2e%2e/",
    "/.labeltool-pages",
]


@pytest.mark.parametrize("path", HOSTILE)
def test_hostile_paths_over_the_wire(server: Server, path: str) -> None:
    got = server.get(path)
    assert got.status == 404 and "<script" not in got.body and "x" not in got.headers


def test_a_request_too_large_is_refused_and_the_server_goes_on(server: Server, codes: list[str]) -> None:
    assert server.get("/" + "A" * 40_000).status in (400, 414, 431)
    assert server.get(f"/B/{codes[0]}").status == 200


def test_withdrawal_shows_at_once(tmp_path: Path) -> None:
    shop = new_shop(tmp_path)
    code = shop.document("print", CREAM, "--count", "1")["code"]
    with serving(shop.folder) as server:
        assert "Withdrawn" not in server.get(f"/B/{code}").body
        shop.done("batch", "withdraw", code, "--why", "separated in the cold")
        body = server.get(f"/B/{code}").body
        assert "Withdrawn from sale" in body and "separated" not in body
        second = shop.document("print", CREAM, "--count", "1")["code"]
        assert server.get(f"/B/{second}").status == 200
        code_, out, err = server.stop()
        assert (code_, out, err) == (0, "stopped\n", "")


def test_it_ends_in_good_order_when_told_to(served_shop: Shop) -> None:
    with serving(served_shop.folder) as server:
        assert server.stop(signal.SIGTERM) == (0, "stopped\n", "")


def test_a_port_that_is_taken(served_shop: Shop) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        ran = served_shop.run("pages", "serve", "--port", port)
    assert ran.code == 2 and f"port {port} is taken by another program" in ran.err and "--port" in ran.err


def test_without_a_record_it_does_not_start(shop: Shop) -> None:
    ran = shop.run("pages", "serve")
    assert ran.code == 2 and "no batch is on record" in ran.err


class TestNetwork:
    def test_the_bench_stays_here_and_codes_behind_a_key_are_not_told(self, served_shop: Shop,
        codes: list[str]) -> None:
        """On a machine with a network of its own; on one without, that is what it says."""
        try:
            running = serving(served_shop.folder, "--lan")
            server = running.__enter__()
        except AssertionError as error:
            assert "no address on a network" in str(error)
            return
        try:
            lan = server.told["phone"].removeprefix("http://").split(":")[0]
            assert server.get(f"/B/{codes[0]}", host=lan).status == 200
            assert server.get(f"/?code={codes[0]}", host=lan).headers["location"] == f"/B/{codes[0]}"
            assert server.get("/-/bench/", server.cookie(), host=lan).status == 404
            assert codes[1] not in server.get(f"/?code={codes[1][:-1]}", host=lan).body
            assert server.get(f"/?code={codes[1]}", host=lan).status == 200
            assert server.get(f"/?code={codes[1]}").status == 303
        finally:
            running.__exit__(None, None, None)
