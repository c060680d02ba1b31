"""What turns frames into a PDF's bytes, each with its version: kept with a print, so that a change can be named."""

from __future__ import annotations

import zlib
from collections.abc import Iterable

from labeltool.output.pdf import REPORTLAB, WRITER
from labeltool.readback.pictures import PILLOW
from labeltool.typeset.frame import Frame, Picture


def drawing(frames: Iterable[Frame]) -> dict[str, str]:
    """Each library that the bytes hang on and its version; pillow only where a picture is drawn.

    Fonts and pictures are no part of it: a frame names them by their hash, and the record keeps them.
    """
    found = {"labeltool's PDF writer": str(WRITER), "reportlab": REPORTLAB, "zlib": zlib.ZLIB_RUNTIME_VERSION}
    pictures = any(isinstance(item, Picture) for frame in frames for item in frame.items)
    return found | ({"pillow": PILLOW} if pictures else {})
