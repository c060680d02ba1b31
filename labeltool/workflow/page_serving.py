"""`pages serve`: the pages of a workshop, answered from its record."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from labeltool.pages.app import BENCH, Pages
from labeltool.pages.doors import Doors
from labeltool.pages.server import LOOPBACK, lan_address, listen, serve
from labeltool.symbol.terminal import terminal_symbol
from labeltool.workflow.codes import record_folder
from labeltool.workflow.page_desk import RecordDesk
from labeltool.workflow.setting import Setting

__all__ = ["Served", "open_pages", "terminal_symbol"]


@dataclass(frozen=True, slots=True)
class Served:
    """Pages ready to be answered: the addresses to tell, and the call that answers until it is stopped."""

    here: str
    bench: str
    lan: str | None
    run: Callable[[], None]


def open_pages(port: int, *, lan: bool, setting: Setting, report: Callable[[str], None]) -> Served:
    """Bind the sockets. Raises InputError where there is no record, no network, or the port is taken."""
    folder = record_folder(setting)
    address = lan_address() if lan else None
    sockets: list[Any] = [listen(LOOPBACK, port)]
    bound = int(sockets[0].getsockname()[1])
    if address is not None:
        sockets.append(listen(address, bound))
    doors = Doors(bound, secrets.token_urlsafe(24), address)
    here = f"http://{LOOPBACK}:{bound}"
    return Served(f"{here}/", f"{here}{BENCH}?token={doors.token}", f"http://{address}:{bound}/" if address else None,
                  lambda: serve(Pages(RecordDesk(folder, setting), doors, report), sockets))
