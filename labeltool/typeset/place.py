"""From a set label to its Frame: text runs, outlines, rules, the symbol, and a box around every block."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from labeltool.stock.model import Stock
from labeltool.symbol.dots import dot_mm
from labeltool.symbol.logo import Logo
from labeltool.symbol.model import QrMatrix
from labeltool.typeset.arc import Arc, glyphs
from labeltool.typeset.arrange import Arrangement, Hairline
from labeltool.typeset.bed import Spot
from labeltool.typeset.boxes import boxes
from labeltool.typeset.frame import Frame, Item, Modules, Outline, Picture, Rule, TextRun, Weight
from labeltool.typeset.metrics import THIN_SPACES, FontSet
from labeltool.typeset.paras import Piece
from labeltool.typeset.setter import Line, Placed, Standing
from labeltool.typeset.sizes import THERMAL

MM_PER_PT = 25.4 / 72
HAIRLINE_MM, HAIRLINE_DOTS = 0.12, 2


def frame(
    found: Arrangement, artwork: str, stock: Stock, qr: QrMatrix | None, words: tuple[tuple[str, str], ...],
) -> Frame:
    """The Frame of an arrangement."""
    fonts = found.job.fonts
    placed = [item for panel in found.panels for item in panel.placed]
    spots = [panel.spot for panel in found.panels if panel.spot is not None]
    grid = dot_mm(stock.dpi) if stock.medium in THERMAL else 0.0
    items: list[Item] = [run for item in placed for run in _items(item, fonts, grid)]
    items += [_rule(line, stock.dpi) for line in found.rules]
    if qr is not None and found.job.symbol is not None:
        items += [_modules(spot, qr, found.job.symbol.module_mm) for spot in spots]
    return Frame(
        *stock.label_mm, stock.shape, stock.corner_mm, artwork, tuple(items), boxes(placed, spots, fonts),
        round(found.job.sizes.x_mm, 4), _fonts_used(items, fonts), words, stock.dpi,
    )


def _items(item: Placed, fonts: FontSet, grid: float) -> Iterable[Item]:
    if isinstance(item, Arc):
        return curved_runs(item)
    if isinstance(item, Standing) and item.sign.sign.logo is not None:
        return logo_items(item, item.sign.sign.logo, grid)
    return runs(item, fonts) if isinstance(item, Line) else (_outline(item, grid),)


def logo_items(standing: Standing, logo: Logo, grid: float) -> tuple[Item, ...]:
    """The maker's logo: its shapes, or its picture; on thermal stock (`grid`) on whole dots and without greys."""
    height, block = standing.sign.height_mm, standing.sign.sign.block
    left, top = _corner(standing, grid)
    if logo.shapes:
        return tuple(Outline(tuple((command[0], *_points(command[1:], height, left, top)) for command in shape), block)
                     for shape in logo.shapes)
    return (Picture(round(left, 4), round(top, 4), round(logo.width * height, 4), round(height, 4), logo.sha256,
                    not grid, block),)


def curved_runs(arc: Arc) -> tuple[TextRun, ...]:
    """The runs of an arc, one a glyph, each turned along the circle."""
    size = round(arc.size_mm / MM_PER_PT, 4)
    return tuple(
        TextRun(round(glyph.x_mm, 4), round(glyph.y_mm, 4), glyph.char, glyph.piece.weight, size, arc.para.block,
                angle_deg=round(glyph.angle_deg, 4))
        for glyph in glyphs(arc)
    )


def runs(line: Line, fonts: FontSet) -> tuple[TextRun, ...]:
    """The runs of a line: one a weight, and one a figure where figures stand on equal steps."""
    found = []
    at, shift = 0, line.para.body.edges[line.first]
    for piece in line.para.pieces:
        low, high = max(line.first, at), min(line.last, at + len(piece.text))
        for start, end in _stretches(piece, low - at, high - at):
            x = line.x_mm + (line.para.body.edges[at + start] - shift + _lead(piece, start, end, fonts)) * line.size_mm
            found.append(_run(line, piece, piece.text[start:end], x))
        at += len(piece.text)
    return tuple(found)


def _run(line: Line, piece: Piece, text: str, x: float) -> TextRun:
    size = line.size_mm / MM_PER_PT
    return TextRun(round(x, 4), round(line.y_mm, 4), text, piece.weight, round(size, 4), line.para.block,
                   round((line.para.spacing + piece.spacing) * size, 4))


def _stretches(piece: Piece, low: int, high: int) -> Iterable[tuple[int, int]]:
    """Parts of a piece that one run can draw: no thin space in it, tabular figures alone."""
    start = low
    for index in range(low, high):
        char = piece.text[index]
        alone = piece.tabular and "0" <= char <= "9"
        if char in THIN_SPACES or alone:
            if start < index:
                yield start, index
            if alone:
                yield index, index + 1
            start = index + 1
    if start < high:
        yield start, high


def _lead(piece: Piece, start: int, end: int, fonts: FontSet) -> float:
    """How far a tabular figure stands inside its step so that its ink is in the middle, ems; 0 for other text."""
    char = piece.text[start]
    if not piece.tabular or end - start != 1 or not "0" <= char <= "9":
        return 0.0
    font = fonts.of(piece.weight)
    left, _, right, _ = font.bounds[char]
    return font.em((font.figure_step - (right - left)) / 2 - left)


def _outline(standing: Standing, grid: float) -> Outline:
    """The sign's contours; on thermal stock its box stands on whole dots (`grid`, mm; 0 elsewhere)."""
    shape, height = standing.sign.outline, standing.sign.height_mm
    left, top = _corner(standing, grid)
    path = tuple((command[0], *_points(command[1:], height, left, top)) for command in shape.path)
    return Outline(path, standing.sign.sign.block)


def _corner(standing: Standing, grid: float) -> tuple[float, float]:
    """The left and top edge of a sign; on whole dots to the right and up, where a dot's room is kept."""
    left, top = standing.x_mm, standing.y_mm - standing.sign.height_mm
    return (_snap(left + 0.499 * grid, grid), _snap(top - 0.499 * grid, grid)) if grid else (left, top)


def _points(values: Sequence[str | float], scale: float, x: float, y: float) -> tuple[float, ...]:
    return tuple(round(float(value) * scale + (y if index % 2 else x), 4) for index, value in enumerate(values))


def _rule(line: Hairline, dpi: int) -> Rule:
    """A hairline of whole dots, on whole dots."""
    dot = dot_mm(dpi)
    thick = max(HAIRLINE_DOTS, round(HAIRLINE_MM / dot)) * dot
    upright = line.x1 == line.x2
    thick, across, along = _snap(thick, dot), thick / 2 if upright else 0.0, 0.0 if upright else thick / 2
    inwards = dot / 2  # rounding never carries an end over the edge
    x = _snap(line.x1 - across + (0.0 if upright else inwards), dot)
    y = _snap(line.y1 - along + (inwards if upright else 0.0), dot)
    length = _snap((line.y2 - line.y1) if upright else (line.x2 - line.x1), dot) - dot
    return Rule(x, y, thick if upright else length, length if upright else thick, "rule")


def _snap(value: float, dot: float) -> float:
    return round(round(value / dot) * dot, 6)


def _modules(spot: Spot, qr: QrMatrix, module_mm: float) -> Modules:
    return Modules(round(spot.dark.left, 6), round(spot.dark.top, 6), module_mm, qr.rows, qr.payload, qr.version,
                   qr.level, qr.mask)


def _fonts_used(items: Iterable[Item], fonts: FontSet) -> tuple[tuple[str, str], ...]:
    order: tuple[Weight, ...] = ("regular", "medium", "semibold")
    used = {item.weight for item in items if isinstance(item, TextRun)}
    return tuple((weight, fonts.of(weight).sha256) for weight in order if weight in used)
