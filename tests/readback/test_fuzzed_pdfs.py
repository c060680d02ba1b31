import random

from label_frames import label, laid, written

from labeltool.errors import LabeltoolError
from labeltool.readback.model import expect
from labeltool.readback.read import read_back
from labeltool.readback.survey import survey

SHEETS = laid([label()] * 2, "roll-57x32-300dpi")
PDF = written(SHEETS)
EXPECTED = expect(SHEETS)


def damaged(chance: random.Random) -> bytes:
    """The PDF with a few bytes changed, a piece cut out, doubled, or with other numbers in it."""
    data = bytearray(PDF)
    kind = chance.randrange(4)
    start = chance.randrange(len(data))
    if kind == 0:
        for _ in range(chance.randint(1, 20)):
            data[chance.randrange(len(data))] = chance.randrange(256)
    elif kind == 1:
        del data[start:start + chance.randint(1, 3000)]
    elif kind == 2:
        piece = data[start:start + chance.randint(1, 500)]
        at = chance.randrange(len(data))
        data[at:at] = piece
    else:
        digits = [index for index, value in enumerate(data) if chr(value).isdigit()]
        for _ in range(chance.randint(1, 8)):
            data[chance.choice(digits)] = ord(chance.choice("0123456789-"))
    return bytes(data)


def test_damaged_file_is_read_or_refused_and_never_anything_else(samples):
    chance = random.Random(32000)
    refused = 0
    for _ in range(samples(150)):
        data = damaged(chance)
        try:
            survey(data)
            read_back(data, EXPECTED)
        except LabeltoolError as error:
            assert error.findings[0].rule.startswith("pdf.")
            refused += 1
    assert refused > 0
