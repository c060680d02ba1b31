"""Where codewords, formats and versions lie: a symbol drawn by the qrcode library read back cell by cell, by hand.

Mask conditions, the format's BCH code (mask 101010000010010) and mode indicators are those of ISO/IEC 18004, as open
encoders have them.
"""

import random

import pytest

from labeltool.symbol.anatomy import (
    alignments,
    block_of,
    codewords,
    finders,
    fixed,
    formats,
    size_of,
    timings,
    versions,
)
from labeltool.symbol.qr import ALPHANUMERIC, blocks, capacity, matrix

MASKS = (
    lambda x, y: (x + y) % 2 == 0, lambda x, y: y % 2 == 0, lambda x, y: x % 3 == 0, lambda x, y: (x + y) % 3 == 0,
    lambda x, y: (y // 2 + x // 3) % 2 == 0, lambda x, y: x * y % 2 + x * y % 3 == 0,
    lambda x, y: (x * y % 2 + x * y % 3) % 2 == 0, lambda x, y: ((x + y) % 2 + x * y % 3) % 2 == 0,
)
SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
LEVEL_BITS = {"L": 0b01, "M": 0b00, "Q": 0b11, "H": 0b10}


def bits_of(qr):
    """The data bits of a symbol, de-interleaved; and every codeword."""
    mask = MASKS[qr.mask]
    words = [sum(((qr.rows[y][x] == "1") != mask(x, y)) << (7 - bit) for bit, (x, y) in enumerate(cells))
             for cells in codewords(qr.version)]
    found = blocks(qr.version, qr.level)
    data = [[] for _ in found]
    for block, word in zip(block_of(found), words, strict=True):
        if len(data[block]) < found[block][1]:
            data[block].append(word)
    return "".join(f"{word:08b}" for block in data for word in block)


def payload_of(qr):
    bits = bits_of(qr)
    mode, rest = bits[:4], bits[4:]
    wide = (8 if qr.version < 10 else 16) if mode == "0100" else 9 if qr.version < 10 else 11 if qr.version < 27 else 13
    length, rest = int(rest[:wide], 2), rest[wide:]
    if mode == "0100":
        return bytes(int(rest[at:at + 8], 2) for at in range(0, 8 * length, 8)).decode()
    assert mode == "0010"
    out = []
    for at in range(0, 11 * (length // 2), 11):
        out += [SIGNS[number] for number in divmod(int(rest[at:at + 11], 2), 45)]
    if length % 2:
        start = 11 * (length // 2)
        out.append(SIGNS[int(rest[start:start + 6], 2)])
    return "".join(out)


@pytest.mark.parametrize("version", range(1, 41))
def test_every_version_reads_back_from_its_cells(version):
    chance = random.Random(version)
    low = capacity(version - 1, "M", "byte") + 1 if version > 1 else 1
    length = chance.randint(low, capacity(version, "M", "byte"))
    text = "".join(chance.choices([chr(code) for code in range(33, 127)], k=length))
    qr = matrix("a" + text[1:])
    assert qr.version == version and payload_of(qr) == qr.payload


def test_random_payloads_read_back(samples):
    chance = random.Random(18004)
    for number in range(samples(150)):
        signs = sorted(ALPHANUMERIC) if number % 2 else [chr(code) for code in range(32, 127)]
        qr = matrix("".join(chance.choices(signs, k=chance.randint(1, 120))))
        assert payload_of(qr) == qr.payload


@pytest.mark.parametrize("payload", ["A1", "HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31", "x" * 40, "y" * 150, "z" * 300])
def test_both_copies_of_format_and_version_say_what_the_symbol_is(payload):
    qr = matrix(payload)
    for cells in formats(qr.version):
        read = sum((qr.rows[y][x] == "1") << bit for bit, (x, y) in enumerate(cells)) ^ 0b101010000010010
        assert read >> 10 == LEVEL_BITS[qr.level] << 3 | qr.mask
    assert len(versions(qr.version)) == (2 if qr.version >= 7 else 0)
    for cells in versions(qr.version):
        read = sum((qr.rows[y][x] == "1") << bit for bit, (x, y) in enumerate(cells))
        assert read >> 12 == qr.version


@pytest.mark.parametrize("version", range(1, 41))
def test_the_parts_make_up_the_symbol(version):
    size = size_of(version)
    inside = {(x, y) for x in range(size) for y in range(size)}
    every = (*finders(version), *timings(version), alignments(version), *formats(version), *versions(version))
    parts = [set(part) & inside for part in (*every, *codewords(version))]
    covered = set().union(*parts)
    left = (size - 8, 8)
    missing = inside - covered - {(8, size - 8)}
    assert left in covered and len(missing) in (0, 3, 4, 7)  # the remainder bits of ISO/IEC 18004, table 1
    assert [len(part) for part in finders(version)] == [168] * 3
    assert [len(part) for part in timings(version)] == [4 * version + 1] * 2


def test_fixed_patterns_are_drawn_as_they_should_be():
    for payload in ("A1", "b" * 60, "c" * 200):
        qr = matrix(payload)
        for (x, y), dark in fixed(qr.version).items():
            inside = 0 <= x < qr.size and 0 <= y < qr.size
            assert ((qr.rows[y][x] == "1") if inside else False) == dark
