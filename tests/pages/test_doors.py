"""Who is let in: by Host, by peer, by token."""

from __future__ import annotations

import pytest

from labeltool.pages.doors import Doors

DOORS = Doors(8000, "right-token", "192.0.2.7")


def request(host: str = "127.0.0.1:8000", peer: str = "127.0.0.1", **more: str) -> dict[str, str]:
    return {"HTTP_HOST": host, "REMOTE_ADDR": peer} | more


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost:8000", "LocalHost:8000", "[::1]:8000"])
def test_this_machines_own_names_are_home(host: str) -> None:
    assert DOORS.knows(request(host)) and DOORS.at_home(request(host))


@pytest.mark.parametrize("host", [
    "", "evil.example", "evil.example:8000", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:8001", "localhost",
    "localhost.:8000",
    "127.0.0.1.evil.example:8000", "127.0.0.1:8000.evil.example", "127.0.0.1:8000@evil.example", "0.0.0.0:8000",
    "127.1:8000", "2130706433:8000", "192.0.2.8:8000", "::1", "127.0.0.1:8000, evil.example", " 127.0.0.1:8000",
])
def test_another_name_is_turned_away(host: str) -> None:
    assert not DOORS.knows(request(host)) and not DOORS.at_home(request(host))


def test_without_a_host_nobody_is_let_in() -> None:
    assert not DOORS.knows({"REMOTE_ADDR": "127.0.0.1"})


def test_the_network_address_is_known_and_never_home() -> None:
    assert DOORS.knows(request("192.0.2.7:8000", "192.0.2.9"))
    for peer in ("192.0.2.9", "192.0.2.7", "127.0.0.1"):
        assert not DOORS.at_home(request("192.0.2.7:8000", peer))
    assert not Doors(8000, "t").knows(request("192.0.2.7:8000"))


@pytest.mark.parametrize("peer", [
    "192.0.2.9", "10.0.0.1", "", "localhost", "::ffff:192.0.2.9", "0.0.0.0",
    "169.254.1.1",
])
def test_another_machine_is_not_home_whatever_host_it_names(peer: str) -> None:
    assert DOORS.knows(request(peer=peer)) and not DOORS.at_home(request(peer=peer))


@pytest.mark.parametrize("header", ["FORWARDED", "X_FORWARDED_FOR", "X_FORWARDED_HOST", "X_REAL_IP", "VIA"])
def test_what_comes_through_a_proxy_is_not_home(header: str) -> None:
    assert not DOORS.at_home(request(**{f"HTTP_{header}": "192.0.2.9"}))


def test_on_port_80_the_name_goes_alone_too() -> None:
    assert Doors(80, "t").at_home(request("127.0.0.1")) and Doors(80, "t").at_home(request("127.0.0.1:80"))


class TestToken:
    def test_the_cookie_opens(self) -> None:
        assert DOORS.holds_token({"HTTP_COOKIE": "other=1; labeltool-bench-8000=right-token; more=2"})

    @pytest.mark.parametrize("cookie", [
        "", "labeltool-bench-8000=", "labeltool-bench-8000=wrong", "labeltool-bench-8001=right-token", "right-token",
        "labeltool-bench-8000=right-tokenx", "labeltool-bench-8000=\xff", "=;;=;", "labeltool-bench-8000", "\0",
    ])
    def test_another_does_not(self, cookie: str) -> None:
        assert not DOORS.holds_token({"HTTP_COOKIE": cookie})

    def test_the_cookie_is_kept_from_scripts_and_other_sites(self) -> None:
        assert DOORS.set_cookie("/-/bench") == (
            "labeltool-bench-8000=right-token; Path=/-/bench; HttpOnly; SameSite=Strict")

    @pytest.mark.parametrize("text", ["", "right", "right-token ", "\ud800", "é"])
    def test_only_the_token_is_the_token(self, text: str) -> None:
        assert not DOORS.is_token(text)
