"""Listening: sockets on this machine and, where asked for, on the network; the server runs until it is stopped."""

from __future__ import annotations

import errno
import logging
import os
import signal
import socket
from collections.abc import Callable
from types import FrameType
from typing import Any, NoReturn

import waitress

from labeltool.errors import input_error

LOOPBACK = "127.0.0.1"
_ELSEWHERE = ("192.0.2.1", 9)  # TEST-NET-1 of RFC 5737: asking for the way there sends nothing
_REFUSED = {errno.EADDRINUSE: "is taken by another program", errno.EACCES: "is kept for the system's own programs"}
_MOST_BODY = 4096
_MOST_HEADER = 16384


def listen(host: str, port: int) -> socket.socket:
    """A socket bound to an address; port 0 takes any free one. Raises InputError where it is not to be had."""
    bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        bound.bind((host, port))
        bound.listen(1)
    except OSError as error:
        bound.close()
        why = _REFUSED.get(error.errno or 0)
        if why is None:
            raise
        near = port + 1 if 1023 < port < 65535 else 8000
        raise input_error("pages.port", f"port {port} {why}", do=f"--port {near}") from error
    return bound


def lan_address() -> str:
    """This machine's address on the network. Raises InputError where it has none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_ELSEWHERE)
            found = str(probe.getsockname()[0])
        except OSError:
            found = ""
    if not found or found.startswith(("127.", "0.")):
        raise input_error("pages.network", "this machine has no address on a network",
                          do="join the same wireless network as the phone, or leave --lan out")
    return found


def serve(application: Callable[..., Any], sockets: list[socket.socket]) -> None:
    """Answer until the process is interrupted or told to end."""
    logging.getLogger("waitress").setLevel(logging.CRITICAL)
    server = waitress.create_server(
        application, sockets=sockets, ident=None, threads=4, connection_limit=200, channel_timeout=30,
        max_request_body_size=_MOST_BODY, max_request_header_size=_MOST_HEADER, clear_untrusted_proxy_headers=False,
    )
    before = signal.signal(signal.SIGTERM, _leave)
    try:
        server.run()
    finally:
        signal.signal(signal.SIGTERM, before)
        server.close()


def _leave(number: int, frame: FrameType | None) -> NoReturn:
    raise SystemExit(0)
