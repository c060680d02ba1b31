"""Our symbols as two decoders read them that nobody here wrote: zxing-cpp and zbar, over hundreds of payloads."""

import random
import string
from dataclasses import replace

from label_frames import label, written

from labeltool.output.pdf import Placed, Sheet
from labeltool.readback.model import expect
from labeltool.readback.read import read_back
from labeltool.symbol.qr import matrix


def payloads(count):
    chance = random.Random(15415)
    signs = string.ascii_letters + string.digits + "/:.-_%?=&#~+"
    for number in range(count):
        code = "".join(chance.choices(string.ascii_uppercase + string.digits, k=chance.randint(6, 20)))
        if number % 3 == 0:
            yield code
        elif number % 3 == 1:
            yield f"HTTPS://OTTERSHOLT.EXAMPLE/B/{code}"
        else:
            yield "https://id.ottersholt.example/01/09520123456788/10/" + "".join(chance.choices(signs, k=20))


def frame_of(payload, module_mm, dpi):
    qr = matrix(payload)
    sample = label(symbol=True, dpi=dpi)
    grid = 25.4 / dpi
    side = round(3.0 / grid) * grid
    symbol = replace(sample.symbols[0], rows=qr.rows, payload=payload, version=qr.version, level=qr.level, mask=qr.mask,
                     module_mm=module_mm, x_mm=side, y_mm=side)
    size = 6 + qr.size * module_mm
    return replace(sample, width_mm=size, height_mm=size, items=(symbol,), boxes=(), words=(), dpi=dpi)


def unread(sheets):
    reading = read_back(written(sheets), expect(sheets))
    return [item.text for item in reading.findings], len(reading.labels)


def test_every_payload_is_read_by_both_at_office_and_thermal_modules(samples):
    wanted = list(payloads(samples(150)))
    for module_mm, dpi in ((3 * 25.4 / 203, 203), (0.33, 600), (4 * 25.4 / 300, 300)):
        sheets = []
        for start in range(0, len(wanted), 30):
            frames = [frame_of(payload, module_mm, dpi) for payload in wanted[start:start + 30]]
            placed = tuple(Placed(frame, 5 + index % 6 * 33, 5 + index // 6 * 33) for index, frame in enumerate(frames))
            sheets.append(Sheet(210, 297, placed))
        assert unread(sheets) == ([], len(wanted))
