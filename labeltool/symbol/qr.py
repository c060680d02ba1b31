"""QR Code Model 2 (ISO/IEC 18004) from a payload: one segment, the smallest version, the best level and mask."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Literal

from qrcode import base, util
from qrcode.main import QRCode

from labeltool.errors import InputError, input_error
from labeltool.symbol.model import QrMatrix
from labeltool.symbol.penalty import score

Mode = Literal["alphanumeric", "byte"]
ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
LEVELS = "LMQH"
LEAST_LEVEL = "M"
QUIET_ZONE = 4  # modules on every side
_CODES = {"L": base.constants.ERROR_CORRECT_L, "M": base.constants.ERROR_CORRECT_M,
          "Q": base.constants.ERROR_CORRECT_Q, "H": base.constants.ERROR_CORRECT_H}


def mode_of(payload: str) -> Mode:
    """The one mode that holds the whole payload: alphanumeric where every character lies in its set of 45."""
    return "alphanumeric" if set(payload) <= ALPHANUMERIC else "byte"


@cache
def capacity(version: int, level: str, mode: Mode) -> int:
    """Characters that one segment of a mode holds in a version (1 to 40) at a level (L, M, Q, H)."""
    data_bits: int = 8 * sum(block.data_count for block in base.rs_blocks(version, _CODES[level]))
    if mode == "byte":
        return (data_bits - 4 - (8 if version < 10 else 16)) // 8
    pairs, rest = divmod(data_bits - 4 - (9 if version < 10 else 11 if version < 27 else 13), 11)
    return 2 * pairs + (rest >= 6)


@cache
def blocks(version: int, level: str) -> tuple[tuple[int, int], ...]:
    """The error correction blocks of a version and level: codewords, and data codewords, of each."""
    return tuple((block.total_count, block.data_count) for block in base.rs_blocks(version, _CODES[level]))


def symbol_for(payload: str) -> tuple[int, str]:
    """Version and level: the smallest version at level M, then the highest level that keeps it.

    Raises InputError for an empty payload, one outside ASCII, and one too long for any version.
    """
    _refuse(payload)
    mode, length = mode_of(payload), len(payload)
    for version in range(1, 41):
        if capacity(version, LEAST_LEVEL, mode) >= length:
            return version, max(
                (level for level in LEVELS if capacity(version, level, mode) >= length), key=LEVELS.index,
            )
    raise input_error(
        "symbol.qr-too-long", f"the QR content has {length} characters",
        limit=f"{capacity(40, LEAST_LEVEL, mode)} characters in {mode} mode at level {LEAST_LEVEL}",
        do="shorten the link in workshop.toml: a label wants 26 characters or fewer",
    )


@lru_cache(maxsize=256)
def matrix(payload: str) -> QrMatrix:
    """The symbol of a payload of printable ASCII. Raises InputError as `symbol_for` does.

    The mask is the one of lowest penalty (7.8.3.1), scored with format and version areas light; of equals the first.
    """
    version, level = symbol_for(payload)
    encoder = _encoder(payload, version, level)
    mask = min(range(8), key=lambda number: score(_rows(encoder, number, test=True)))
    return QrMatrix(payload, _rows(encoder, mask, test=False), version, level, mask)


def mask_scores(payload: str, version: int, level: str) -> tuple[int, ...]:
    """The penalties of masks 0 to 7 for a payload in a given version and level."""
    encoder = _encoder(payload, version, level)
    return tuple(score(_rows(encoder, number, test=True)) for number in range(8))


def _encoder(payload: str, version: int, level: str) -> QRCode:
    encoder = QRCode(version=version, error_correction=_CODES[level], border=0)
    mode = util.MODE_ALPHA_NUM if mode_of(payload) == "alphanumeric" else util.MODE_8BIT_BYTE
    encoder.add_data(util.QRData(payload.encode("ascii"), mode=mode, check_data=False), optimize=0)
    return encoder


def _rows(encoder: QRCode, mask: int, *, test: bool) -> tuple[str, ...]:
    encoder.makeImpl(test, mask)
    return tuple("".join("1" if cell else "0" for cell in row) for row in _cells(encoder))


def _cells(encoder: QRCode) -> Iterable[Iterable[bool]]:
    cells: Iterable[Iterable[bool]] = encoder.modules
    return cells


def _refuse(payload: str) -> None:
    if not payload:
        raise input_error("symbol.qr-empty", "the QR content is empty")
    strange = sorted({char for char in payload if not " " <= char <= "~"})
    if strange:
        raise _outside(strange)


def _outside(strange: list[str]) -> InputError:
    named = ", ".join(f"U+{ord(char):04X}" for char in strange[:5])
    return input_error("symbol.qr-ascii", f"the QR content holds {named}", limit="printable ASCII",
                       do="write the link percent-encoded")
