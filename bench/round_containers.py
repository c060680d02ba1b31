"""How wide a symbol may be round a cylinder: `python bench/round_containers.py`. Photos of versions 2 to 5.

Each cell is the share of photos that zxing / zbar read, in hands that hold the phone steadily (up to 8 degrees off)
and carelessly (20), with some noise, and low contrast in half of the photos.
"""

import random
from statistics import fmean

from grade_matrix import PAYLOADS, PIXELS
from seen import Camera, read, shot

from labeltool import tables
from labeltool.readback.quality.predict import dots_of, pictured
from labeltool.readback.quality.press import INCH_MM, Press
from labeltool.symbol.curve import widest_share
from labeltool.symbol.qr import matrix

SHARES = (0.15, 0.23, 0.31, 0.36, 0.42, 0.47, 0.55, 0.65)
HANDS = (("steady", 8), ("careless", 20))
PHOTOS = 8
DOTS, DPI = 9, 600


def reads(payload, share, degrees):
    """The share of photos that each decoder reads."""
    qr = matrix(payload)
    module_mm = DOTS * INCH_MM / DPI
    dots, seat = dots_of(qr.rows, DOTS, INCH_MM / DPI, 6)
    chance = random.Random(f"{payload} {share} {degrees}")
    found = []
    for number in range(PHOTOS):
        press = Press((0.012, 0.012), 0.02, 0.85 if number % 2 else 0.4, 0.05)
        picture = pictured(dots, seat, qr.size, press)[0]
        tilt, turn = (chance.uniform(-degrees, degrees) for _ in range(2))
        camera = Camera(tilt_deg=tilt, turn_deg=turn, roll_deg=chance.uniform(0, 360), noise=4.0, seed=number)
        diameter = qr.size * module_mm / share
        found.append([text == payload for text in read(shot(picture, module_mm / PIXELS, module_mm, diameter, camera))])
    return [fmean(column) for column in zip(*found, strict=True)]


def main():
    """Print a table for each hand."""
    table = tables.toml("symbol", "curved")
    for name, degrees in HANDS:
        print(f"a {name} hand, up to {degrees} degrees from square: share read by zxing / zbar")
        print("| version | warned from | " + " | ".join(map(str, SHARES)) + " |")
        print("| --- " * (len(SHARES) + 2) + "|")
        for payload in PAYLOADS:
            version = matrix(payload).version
            row = [reads(payload, share, degrees) for share in SHARES]
            shown = " | ".join(" / ".join(f"{part:.0%}" for part in pair) for pair in row)
            print(f"| {version} | {widest_share(version, table)} | {shown} |")


if __name__ == "__main__":
    main()
