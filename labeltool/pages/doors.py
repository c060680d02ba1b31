"""Who may see what: the Host a request names, the peer it comes from, and the token of the bench pages."""

from __future__ import annotations

import hmac
import ipaddress
from collections.abc import Mapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from typing import Any

Environ = Mapping[str, Any]
_FORWARDED = ("HTTP_FORWARDED", "HTTP_X_FORWARDED_FOR", "HTTP_X_FORWARDED_HOST", "HTTP_X_REAL_IP", "HTTP_VIA")
_STANDARD_PORT = 80


@dataclass(frozen=True, slots=True)
class Doors:
    """The names this server answers to, at one port: those of this machine alone, and one on the network or None.

    A page of another site whose name was made to point here (DNS rebinding) comes with that name as its Host, and is
    turned away. The bench opens to requests from this machine, by its own names, with no proxy between, with the token.
    """

    port: int
    token: str
    lan: str | None = None

    @property
    def cookie(self) -> str:
        """The name of the bench's cookie; ports share cookies, so it carries the port."""
        return f"labeltool-bench-{self.port}"

    def knows(self, environ: Environ) -> bool:
        """Whether the request names a host that this server answers to."""
        return self._host(environ) in {*self._local(), *self._hosts(self.lan)}

    def at_home(self, environ: Environ) -> bool:
        """Whether the request comes from this very machine, by one of its own names, through no proxy."""
        return (
            self._host(environ) in self._local()
            and _loopback(str(environ.get("REMOTE_ADDR", "")))
            and not any(environ.get(name) for name in _FORWARDED)
        )

    def holds_token(self, environ: Environ) -> bool:
        """Whether the request's cookie is the token."""
        try:
            found = SimpleCookie(str(environ.get("HTTP_COOKIE", ""))).get(self.cookie)
        except CookieError:
            return False
        return found is not None and self.is_token(found.value)

    def is_token(self, text: str) -> bool:
        """Whether a text is the token; takes as long for every wrong one."""
        return hmac.compare_digest(text.encode("utf-8", "replace"), self.token.encode())

    def set_cookie(self, path: str) -> str:
        """The header's value that hands the token to the browser."""
        return f"{self.cookie}={self.token}; Path={path}; HttpOnly; SameSite=Strict"

    def _local(self) -> set[str]:
        return {name for host in ("127.0.0.1", "localhost", "[::1]") for name in self._hosts(host)}

    def _hosts(self, host: str | None) -> set[str]:
        if host is None:
            return set()
        return {f"{host}:{self.port}", *((host,) if self.port == _STANDARD_PORT else ())}

    @staticmethod
    def _host(environ: Environ) -> str:
        return str(environ.get("HTTP_HOST", "")).lower()


def _loopback(address: str) -> bool:
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False
