"""A maker's drawing: SVG of plain filled shapes as black contours. All else is refused, nothing is left out."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from xml.etree import ElementTree

from labeltool.symbol.pen import Path, Pen
from labeltool.symbol.svgpath import Contour, contours

Matrix = tuple[float, float, float, float, float, float]
SAME: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
DEEPEST, MOST_SEGMENTS = 40, 20_000
SILENT = {"title", "desc", "metadata"}
DARK = {"black", "#000", "#000000", "currentcolor", "rgb(0,0,0)"}
HARMLESS = re.compile(r"(id|class|version|viewBox|width|height|x|y|d|r|rx|ry|cx|cy|points|transform|fill|fill-rule|"
                      r"clip-rule|fill-opacity|opacity|stroke|stroke-[a-z]+|style|role|aria-[a-z]+|data-[\w-]+|"
                      r"preserveAspectRatio|enable-background|baseProfile|overflow|focusable|display|visibility|space)")
_CALL = re.compile(r"\s*,?\s*(matrix|translate|scale|rotate)\s*\(([^()]*)\)\s*")


class Refused(ValueError):
    """What the drawing holds that is no plain black shape; the text says what, `do` what would help."""

    def __init__(self, text: str, do: str) -> None:
        super().__init__(text)
        self.do = do


def svg_shapes(data: bytes) -> tuple[Path, ...]:
    """The black shapes of a drawing, each filled even-odd, in the drawing's own units. Raises Refused."""
    if b"<!DOCTYPE" in data or b"<!ENTITY" in data or b"\0" in data:
        raise Refused("a document type or entity", "delete the line that begins with <!DOCTYPE; save it as UTF-8")
    try:
        root = ElementTree.fromstring(data)
    except (ElementTree.ParseError, ValueError, LookupError) as error:
        raise Refused(f"no XML: {error}", "save it again as plain SVG") from error
    if _plain(root.tag) != "svg":
        raise Refused("no svg element at the top", "save it again as plain SVG")
    found = [shape for shape in _walk(root, SAME, {"fill": "black"}, 0) if shape]
    if not found:
        raise Refused("no filled shape", "fill the shapes with black")
    if sum(len(shape) for shape in found) > MOST_SEGMENTS:
        raise Refused(f"over {MOST_SEGMENTS:,} segments", "simplify its paths")
    return tuple(found)


def _plain(name: str) -> str:
    return name.rpartition("}")[2]


def _walk(element: ElementTree.Element, matrix: Matrix, style: Mapping[str, str], depth: int) -> Iterator[Path]:
    name = _plain(element.tag)
    if depth > DEEPEST:
        raise Refused("groups too deep inside each other", "ungroup the drawing")
    _refuse_attributes(name, element)
    style = {**style, **_style(element)}
    matrix = _times(matrix, _transform(element.get("transform", "")))
    if name == "g" or (name == "svg" and depth == 0):
        for child in element:
            if not isinstance(child.tag, str) or _plain(child.tag) in SILENT:
                continue
            yield from _walk(child, matrix, style, depth + 1)
        return
    shape = SHAPES.get(name)
    if shape is None:
        raise Refused(f"a {name} element", "turn text and effects into paths, and take out pictures, links and scripts")
    if _inked(style):
        try:
            drawn = [_moved(item, matrix) for item in shape(element)]
        except (ValueError, OverflowError) as error:
            raise Refused(f"a {name} that cannot be read: {error}", "save it again as plain SVG") from error
        yield from _filled(drawn, style.get("fill-rule", "nonzero") == "evenodd")


def _refuse_attributes(name: str, element: ElementTree.Element) -> None:
    for key in element.keys():  # noqa: SIM118  (an Element is no mapping)
        plain = _plain(key)
        foreign = key.startswith("{") and "XML/1998" not in key and "xlink" not in key
        if not foreign and not HARMLESS.fullmatch(plain):
            raise Refused(f"{plain} on a {name} element", "save it as plain SVG without scripts, links and effects")


def _style(element: ElementTree.Element) -> dict[str, str]:
    keys = ("fill", "fill-rule", "stroke", "fill-opacity", "opacity", "display", "visibility")
    found = {key: value.strip() for key in keys if (value := element.get(key)) is not None}
    for part in element.get("style", "").split(";"):
        key, colon, value = part.partition(":")
        if colon and key.strip() in keys:
            found[key.strip()] = value.strip()
    return found


def _inked(style: Mapping[str, str]) -> bool:
    """Whether a shape is black; Refused for one that is neither black nor nothing."""
    if style.get("stroke", "none").lower() not in ("none", ""):
        raise Refused("a stroke", "turn strokes into filled outlines")
    for key in ("opacity", "fill-opacity"):
        if style.get(key, "1") not in ("1", "1.0", "100%"):
            raise Refused("a shape that lets light through", "make it opaque")
    if style.get("display") == "none" or style.get("visibility") == "hidden" or style["fill"].lower() == "none":
        return False
    if style["fill"].lower().replace(" ", "") not in DARK:
        raise Refused(f"the colour {style['fill'][:30]}", "labels print in black: fill with black, cut white parts out")
    return True


def _number(element: ElementTree.Element, key: str, default: float = 0.0) -> float:
    value = element.get(key)
    if value is None:
        return default
    found = float(value.strip().removesuffix("px"))
    if not math.isfinite(found):
        raise ValueError(f"{key} is no number")
    return found


def _rect(element: ElementTree.Element) -> list[Contour]:
    x, y, width, height = (_number(element, key) for key in ("x", "y", "width", "height"))
    if width <= 0 or height <= 0:
        return []
    rx = _number(element, "rx", _number(element, "ry"))
    rx, ry = min(rx, width / 2), min(_number(element, "ry", rx), height / 2)
    if rx <= 0 or ry <= 0:
        return [list(Pen().polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)]).path()[:-1])]
    pen = Pen()
    for cx, cy, start in ((x + width - rx, y + ry, 270), (x + width - rx, y + height - ry, 0),
                          (x + rx, y + height - ry, 90), (x + rx, y + ry, 180)):
        pen.arc((cx, cy), (rx, ry), start, start + 90)
    return [list(pen.path())]


def _ellipse(element: ElementTree.Element) -> list[Contour]:
    rx, ry = _number(element, "rx", _number(element, "r")), _number(element, "ry", _number(element, "r"))
    if rx <= 0 or ry <= 0:
        return []
    return [list(Pen().arc((_number(element, "cx"), _number(element, "cy")), (rx, ry), 0, 360).path())]


def _polygon(element: ElementTree.Element) -> list[Contour]:
    return contours(f"M{element.get('points', '')}Z") if element.get("points", "").strip() else []


def _path(element: ElementTree.Element) -> list[Contour]:
    return contours(element.get("d", ""))


SHAPES: dict[str, Callable[[ElementTree.Element], list[Contour]]] = {
    "path": _path, "rect": _rect, "circle": _ellipse, "ellipse": _ellipse, "polygon": _polygon, "polyline": _polygon,
}


def _transform(text: str) -> Matrix:
    matrix, at = SAME, 0
    while at < len(text.rstrip()):
        call = _CALL.match(text, at)
        if call is None:
            raise Refused(f"the transform {text[:40]!r}", "flatten transforms")
        try:
            values = [float(item) for item in re.split(r"[\s,]+", call[2].strip())]
            matrix = _times(matrix, _one(call[1], values))
        except (ValueError, IndexError) as error:
            raise Refused(f"the transform {text[:40]!r}", "flatten transforms") from error
        at = call.end()
    return matrix


def _one(name: str, values: list[float]) -> Matrix:
    if name == "matrix":
        a, b, c, d, e, f = values
        return a, b, c, d, e, f
    if name == "translate":
        return 1.0, 0.0, 0.0, 1.0, values[0], values[1] if len(values) > 1 else 0.0
    if name == "scale":
        return values[0], 0.0, 0.0, values[1] if len(values) > 1 else values[0], 0.0, 0.0
    turn = math.radians(values[0])
    cos, sin = math.cos(turn), math.sin(turn)
    x, y = (values[1], values[2]) if len(values) > 1 else (0.0, 0.0)
    return cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y


def _times(one: Matrix, two: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = two
    return (a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f)


def _moved(contour: Contour, matrix: Matrix) -> Contour:
    a, b, c, d, e, f = matrix
    found: Contour = []
    for name, *values in contour:
        numbers = [float(value) for value in values]
        pairs = zip(numbers[0::2], numbers[1::2], strict=True)
        found.append((name, *(at for x, y in pairs for at in (a * x + c * y + e, b * x + d * y + f))))
    return found


def _filled(found: list[Contour], even_odd: bool) -> Iterator[Path]:
    """The contours as shapes that even-odd filling draws alike: of those turning one way each is filled for itself."""
    if even_odd or len(found) < 2:
        yield tuple(command for item in found for command in (*item, ("Z",)))
        return
    largest = max(found, key=lambda item: abs(turning(item)))
    solid = [item for item in found if turning(item) * turning(largest) >= 0]
    groups: list[list[Contour]] = [[item] for item in solid]
    for hole in (item for item in found if turning(item) * turning(largest) < 0):
        around = [group for group in groups if _inside(hole, group[0])]
        if around:
            min(around, key=lambda group: abs(turning(group[0]))).append(hole)
        else:
            groups.append([hole])
    for group in groups:
        yield tuple(command for item in group for command in (*item, ("Z",)))


def turning(contour: Contour) -> float:
    """Twice the area inside a contour's points and controls, its sign by the way it turns."""
    points = [(float(values[index]), float(values[index + 1]))
              for _, *values in contour for index in range(0, len(values), 2)]
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(points, points[1:] + points[:1], strict=True))


def _inside(inner: Contour, outer: Contour) -> bool:
    left, top, right, bottom = box_of(inner)
    return (box_of(outer)[0] <= left and box_of(outer)[1] <= top
            and right <= box_of(outer)[2] and bottom <= box_of(outer)[3])


def box_of(contour: Contour | Path) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a contour's points and controls."""
    xs = [float(value) for _, *values in contour for value in values[0::2]]
    ys = [float(value) for _, *values in contour for value in values[1::2]]
    return min(xs), min(ys), max(xs), max(ys)
