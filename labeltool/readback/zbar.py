"""QR symbols read by zbar, the second opinion. The only pyzbar import."""

from __future__ import annotations

import ctypes
import platform
from functools import cache
from typing import Any

from labeltool.errors import machine_error
from labeltool.raster import Area, Grey

LEAST_PIXELS = 20
CURES = {
    "Linux": "install it: apt install libzbar0 (Debian, Ubuntu), dnf install zbar (Fedora), apk add zbar (Alpine)",
    "Darwin": "install it: brew install zbar",
    "Windows": "install the Visual C++ 2013 runtime, and pyzbar anew",
}


def read(grey: Grey, area: Area) -> str | None:
    """What zbar reads in a part of a raster; None where it reads nothing. Raises MachineError without the library."""
    left, top, right, bottom = area
    if right - left < LEAST_PIXELS or bottom - top < LEAST_PIXELS:
        return None
    library = _library()
    found = library.decode((grey.part(area), right - left, bottom - top), symbols=[library.ZBarSymbol.QRCODE])
    return found[0].data.decode("utf-8", "replace") if found else None


def version() -> str:
    """The version of the system's zbar library."""
    parts = [ctypes.c_uint() for _ in range(3)]
    from pyzbar import wrapper
    wrapper.zbar_version(*map(ctypes.byref, parts))
    return ".".join(str(part.value) for part in parts)


@cache
def _library() -> Any:
    try:
        from pyzbar import pyzbar
    except (ImportError, OSError) as error:
        raise machine_error(
            "readback.zbar", f"labels cannot be read back: the zbar library is missing ({error})",
            do=CURES.get(platform.system(), CURES["Linux"]) + "; or print with --no-verify",
        ) from error
    return pyzbar
