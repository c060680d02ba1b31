"""Measures a Frame from the outside: where its ink lies, by the glyphs' own bounds, and what a good label keeps."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from itertools import pairwise

from PIL import Image, ImageChops
from typeset_preview import draw

from labeltool import tables
from labeltool.stock.model import Stock
from labeltool.symbol.dots import dot_mm
from labeltool.typeset.artmodel import Artwork
from labeltool.typeset.frame import Frame, Modules, Outline, Rule, TextRun
from labeltool.typeset.printed import capitals, printed_text
from labeltool.typeset.region import Rect, Region
from labeltool.typeset.sizes import THERMAL
from labeltool.wording.model import LabelText

MM_PER_PT = 25.4 / 72
FONTS = tables.fonts()
RUNNING = ("directions", "warnings", "ingredients", "responsible", "origin", "contact", "code", "date")


def ink_of(item) -> list[Rect]:
    """The ink rectangles of an item, mm: one a glyph for text."""
    if isinstance(item, TextRun):
        return glyph_rects(item)
    if isinstance(item, Outline):
        numbers = [value for command in item.path for value in command[1:]]
        return [Rect(min(numbers[0::2]), min(numbers[1::2]), max(numbers[0::2]), max(numbers[1::2]))]
    if isinstance(item, Rule):
        return [Rect(item.x_mm, item.y_mm, item.x_mm + item.width_mm, item.y_mm + item.height_mm)]
    side = item.module_mm * len(item.rows)
    return [Rect(item.x_mm, item.y_mm, item.x_mm + side, item.y_mm + side)]


def glyph_rects(run: TextRun) -> list[Rect]:
    font, size, x, found = FONTS.of(run.weight), run.size_pt * MM_PER_PT, 0.0, []
    sin, cos = math.sin(math.radians(run.angle_deg)), math.cos(math.radians(run.angle_deg))
    for char in run.text:
        left, bottom, right, top = (font.em(value) * size for value in font.bounds[char])
        if right > left:
            corners = [(run.x_mm + across * cos + up * sin, run.y_mm + across * sin - up * cos)
                       for across in (x + left, x + right) for up in (bottom, top)]
            xs, ys = [at for at, _ in corners], [at for _, at in corners]
            found.append(Rect(min(xs), min(ys), max(xs), max(ys)))
        x += font.advance(char) * size + run.spacing_pt * MM_PER_PT
    return found


def faults(frame: Frame, text: LabelText, artwork: Artwork, stock: Stock) -> list[str]:
    """Everything wrong with a frame, in words; empty for a good one."""
    return [
        *_ink_faults(frame, stock), *_box_faults(frame), *_word_faults(frame, text),
        *_symbol_faults(frame, artwork, stock), *_type_faults(frame, text), *_line_faults(frame), *grid_faults(frame),
        *last_line_faults(frame), *dot_faults(frame, stock),
    ]


def _ink_faults(frame: Frame, stock: Stock) -> list[str]:
    region = Region(stock.shape, *stock.label_mm, stock.corner_mm, stock.safe_mm - 0.01)
    return [f"ink of {item.block} at {rect} crosses the safe edge"
            for item in frame.items for rect in ink_of(item) if not region.holds(rect)]


def _box_faults(frame: Frame) -> list[str]:
    rects = [(box.block, Rect(box.x_mm, box.y_mm, box.x_mm + box.width_mm, box.y_mm + box.height_mm))
             for box in frame.boxes]
    found = [f"{one} and {two} overlap" for index, (one, a) in enumerate(rects) for two, b in rects[index + 1:]
             if a.meets(b, 0.01)]
    boxes = defaultdict(list)
    for block, rect in rects:
        boxes[block].append(rect)
    for item in frame.items:
        for ink in ink_of(item) if not isinstance(item, Rule) else ():
            grown = [rect.inset(-0.3) for rect in boxes[item.block]]
            parts = [ink]
            if isinstance(item, TextRun) and item.angle_deg:  # several boxes; the corners around the letter are empty
                inner = ink.inset(0.25 * min(ink.width, ink.height))
                parts = [Rect(x, y, x, y) for x in (inner.left, inner.right) for y in (inner.top, inner.bottom)]
            if not all(any(g.left <= part.left and part.right <= g.right and g.top <= part.top
                           and part.bottom <= g.bottom for g in grown) for part in parts):
                found.append(f"ink of {item.block} at {ink} is outside its boxes")
    return found


def _word_faults(frame: Frame, text: LabelText) -> list[str]:
    carried = {name for name, _ in frame.words}
    wanted = [(block.name, printed_text(block), printed_text(block, capitals(block.heading.strip())))
              for block in text.blocks if block.name in carried]
    same = len(wanted) == len(frame.words) and all(
        name == block and words in allowed
        for (name, words), (block, *allowed) in zip(frame.words, wanted, strict=True))
    found = [] if same else ["the words of the frame are not those of the text"]
    drawn, asked = defaultdict(str), defaultdict(str)
    for item in frame.items:
        if isinstance(item, TextRun):
            drawn[item.block] += item.text
    for name, words in frame.words:
        asked[name] += words
    for name, words in asked.items():
        if re.sub(r"\s", "", drawn[name]) != re.sub(r"\s", "", words):
            found.append(f"{name}: {drawn[name]!r} is set where {words!r} belongs")
    return found


def _symbol_faults(frame: Frame, artwork: Artwork, stock: Stock) -> list[str]:
    found = []
    for item in frame.symbols:
        dot = dot_mm(stock.dpi)
        dots = item.module_mm / dot
        if abs(dots - round(dots)) > 1e-6 or dots < 3 - 1e-6 or item.module_mm < artwork.module_mm[0] - 1e-9:
            found.append(f"module of {item.module_mm} mm")
        if any(abs(value / dot - round(value / dot)) > 1e-3 for value in (item.x_mm, item.y_mm)):
            found.append("the symbol stands between dots")
        quiet = ink_of(item)[0].inset(-4 * item.module_mm + 0.001)
        if quiet.left < 0 or quiet.top < 0 or quiet.right > frame.width_mm or quiet.bottom > frame.height_mm:
            found.append("the quiet zone leaves the label")
        found += [f"ink of {other.block} in the quiet zone" for other in frame.items if not isinstance(other, Modules)
                  for rect in ink_of(other) if rect.meets(quiet)]
    return found


def _type_faults(frame: Frame, text: LabelText) -> list[str]:
    runs = [item for item in frame.items if isinstance(item, TextRun)]
    sizes, weights = {run.size_pt for run in runs}, {run.weight for run in runs}
    found = [f"{len(sizes)} sizes"] if len(sizes) > 3 else []
    found += [f"{len(weights)} weights"] if len(weights) > 2 else []
    for block in text.blocks:
        for run in runs:
            if run.block != block.name or block.name == "e-mark":
                continue
            font, size = FONTS.of(run.weight), run.size_pt * MM_PER_PT
            heights = {"x": font.em(font.x_height) * size, "figure": font.em(font.figure_height) * size}
            found += [f"{block.name} is {heights[item.measure]:.3f} mm high, not {item.height_mm}"
                      for item in block.minimums if heights[item.measure] < item.height_mm - 0.002]
    marks = [ink_of(item)[0] for item in frame.items if isinstance(item, Outline)]
    if marks and max(rect.height for rect in marks) - min(rect.height for rect in marks) > 0.1:
        found.append("signs of different heights")
    return found


def lines_of(frame: Frame) -> list[tuple[float, list[TextRun]]]:
    """Runs that share a baseline and follow each other, as lines."""
    found: list[tuple[float, list[TextRun]]] = []
    for item in frame.items:
        if not isinstance(item, TextRun) or item.angle_deg:
            continue
        if found and abs(found[-1][0] - item.y_mm) < 1e-6 and item.x_mm > found[-1][1][-1].x_mm:
            found[-1][1].append(item)
        else:
            found.append((item.y_mm, [item]))
    return found


def _line_faults(frame: Frame) -> list[str]:
    found = []
    for _, runs in lines_of(frame):
        words = "".join(run.text for run in runs)
        if len({run.block for run in runs}) == 1 and len(words.rstrip()) > 75:
            found.append(f"{len(words)} characters in a line: {words}")
        if words[0] in ",/)]":
            found.append(f"a line begins with {words[0]}")
    return found


def grid_faults(frame: Frame) -> list[str]:
    """Lines of running text that begin at one left edge stand on one grid of half lines; its pitch is 1.15 to 1.25."""
    edges: dict[float, list[float]] = defaultdict(list)
    size = min((item.size_pt for item in frame.items if isinstance(item, TextRun)), default=0.0) * MM_PER_PT
    for y, runs in lines_of(frame):
        if runs[0].block in RUNNING and abs(runs[0].size_pt * MM_PER_PT - size) < 1e-6:
            edges[round(runs[0].x_mm, 2)].append(y)
    found = []
    for edge, heights in edges.items():
        steps = sorted(b - a for a, b in pairwise(sorted(heights)) if b - a > 0.6 * size)
        if not steps or steps[0] > 1.3 * size:
            continue
        if not 1.149 * size - 0.001 <= steps[0] <= 1.251 * size + 0.001:
            found.append(f"a pitch of {steps[0] / size:.3f} at x {edge}")
        off = [step / (steps[0] / 2) for step in steps]
        found += [f"a baseline off the grid at x {edge}" for by in off if abs(by - round(by)) * steps[0] / 2 > 0.05]
    return found


def last_line_faults(frame: Frame) -> list[str]:
    """The last line of a paragraph of running text fills an eighth of its longest line."""
    paragraphs: dict[str, list[float]] = defaultdict(list)
    for _, runs in lines_of(frame):
        if runs[0].block in ("directions", "warnings", "ingredients"):
            words = "".join(run.text for run in runs)
            paragraphs[runs[0].block].append(glyph_rects(runs[-1])[-1].right - runs[0].x_mm)
            if words.endswith("\n"):
                paragraphs[runs[0].block].clear()
    return [f"the last line of {block} is {widths[-1]:.1f} mm of {max(widths):.1f}"
            for block, widths in paragraphs.items() if widths[-1] < 0.12 * max(widths)]


def dot_faults(frame: Frame, stock: Stock) -> list[str]:
    """On thermal stock edges of rules and symbols lie on whole dots, stems are two dots at least."""
    if stock.medium not in THERMAL:
        return []
    dot, found = dot_mm(stock.dpi), []
    for item in frame.items:
        if isinstance(item, Rule | Modules | Outline):
            rect = ink_of(item)[0]
            if any(abs(side / dot - round(side / dot)) * dot > 0.003 for side in (rect.left, rect.bottom)):
                found.append(f"{item.block} stands between dots: {rect}")
    for run in frame.items:
        if isinstance(run, TextRun):
            font = FONTS.of(run.weight)
            stem = font.em(font.stem) * run.size_pt * MM_PER_PT / dot
            found += [f"stems of {stem:.2f} dots in {run.block}"] if stem < 2 - 0.005 else []
    return found


def ink_centre(frame: Frame) -> tuple[float, float]:
    """Where a picture of the frame balances, mm."""
    picture = ImageChops.invert(draw(frame, 100, edge=False))
    across = picture.resize((picture.width, 1), Image.Resampling.BOX)
    down = picture.resize((1, picture.height), Image.Resampling.BOX)
    return _balance(list(across.tobytes())) * 0.254, _balance(list(down.tobytes())) * 0.254


def _balance(values: list[int]) -> float:
    return sum((index + 0.5) * value for index, value in enumerate(values)) / sum(values)
