"""Tools that alter a printed PDF as a person or a program might: lines of a label, places, things painted over it."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO

import pikepdf

Mutation = Callable[[pikepdf.Pdf], None]
POINTS_PER_MM = 72 / 25.4
_LINE = re.compile(rb"BT [^\n]*? ET")
_PLACED = re.compile(rb"q 1 0 0 1 ([\d.]+) ([\d.]+) cm /(L\d) Do Q")
_SYMBOL = re.compile(rb"q ([\d.]+) 0 0 -([\d.]+) ([\d.]+) ([\d.]+) cm (.*?) f Q", re.DOTALL)


def mutated(data: bytes, mutation: Mutation) -> bytes:
    """The file with one mutation made."""
    target = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        mutation(pdf)
        pdf.save(target)
    assert target.getvalue() != data
    return target.getvalue()


def form(pdf: pikepdf.Pdf, name: str = "/L0") -> pikepdf.Stream:
    """A label's drawing."""
    return pdf.pages[0].Resources.XObject[name]


def put(stream: pikepdf.Stream, data: bytes) -> None:
    """New operators for a stream that stood otherwise before."""
    assert data != stream.read_bytes(), "nothing was changed"
    stream.write(data)


def lines(pdf: pikepdf.Pdf) -> list[bytes]:
    """The text lines of the first label, each from BT to ET, of ten characters or more."""
    return [item for item in _LINE.findall(form(pdf).read_bytes()) if len(words_of(item)) >= 10]


def words_of(line: bytes) -> bytes:
    """What a line says."""
    return line[line.index(b"(") + 1:line.rindex(b")")]


def change_line(pdf: pikepdf.Pdf, change: Callable[[bytes], bytes], number: int = 5) -> None:
    """One line of the label drawn otherwise."""
    line = lines(pdf)[number]
    put(form(pdf), form(pdf).read_bytes().replace(line, change(line), 1))


def change_digit(pdf: pikepdf.Pdf, digit: bytes, to: bytes) -> None:
    """The last lone digit of that kind, as codes and dates are set, made another."""
    data = form(pdf).read_bytes()
    at = data.rindex(b"(" + digit + b")")
    put(form(pdf), data[:at] + b"(" + to + data[at + 1 + len(digit):])


def around_line(pdf: pikepdf.Pdf, before: bytes, after: bytes = b"Q", number: int = 5) -> None:
    """Operators before and after a line; it starts with a saved state."""
    change_line(pdf, lambda line: b"q " + before + b" " + line + b" " + after, number)


def change_symbol(pdf: pikepdf.Pdf, change: Callable[[re.Match[bytes]], bytes], name: str = "/L0") -> None:
    """The QR symbol of a label drawn otherwise: groups side, side, x, y, bars."""
    put(form(pdf, name), _SYMBOL.sub(change, form(pdf, name).read_bytes(), count=1))


def symbol_of(pdf: pikepdf.Pdf, name: str = "/L0") -> re.Match[bytes]:
    """The QR symbol of a label."""
    found = _SYMBOL.search(form(pdf, name).read_bytes())
    assert found is not None
    return found


def symbol_box(pdf: pikepdf.Pdf) -> tuple[float, float, float]:
    """Left, bottom and side of the first label's symbol on the page, points."""
    side, _, x, top = (float(item) for item in symbol_of(pdf).groups()[:4])
    left, low = places(pdf)[0][:2]
    modules = 21 if b" 20 " in symbol_of(pdf)[5] and b" 24 " not in symbol_of(pdf)[5] else 25
    return left + x, low + top - modules * side, modules * side


def places(pdf: pikepdf.Pdf) -> list[tuple[float, float, str]]:
    """Left, bottom and drawing of each label of the first page, points."""
    return [(float(x), float(y), name.decode()) for x, y, name in _PLACED.findall(pdf.pages[0].Contents.read_bytes())]


def label_size(pdf: pikepdf.Pdf) -> tuple[float, float]:
    """Width and height of a label, points."""
    box = form(pdf).BBox
    return float(box[2]), float(box[3])


def change_place(pdf: pikepdf.Pdf, number: int, change: Callable[[bytes], bytes]) -> None:
    """The placing of one label, from 0, written otherwise."""
    stream = pdf.pages[0].Contents
    placed = [item[0] for item in _PLACED.finditer(stream.read_bytes())][number]
    put(stream, stream.read_bytes().replace(placed, change(placed), 1))


def paint(pdf: pikepdf.Pdf, operators: str, *, first: bool = False) -> None:
    """Operators behind the content of the first page, or before it."""
    pdf.pages[0].contents_add(pikepdf.Stream(pdf, f"q {operators} Q\n".encode()), prepend=first)


def box(x: float, y: float, width: float, height: float) -> str:
    """A rectangle's path."""
    return f"{x:.3f} {y:.3f} {width:.3f} {height:.3f} re"


def resource(pdf: pikepdf.Pdf, kind: str, name: str, value: pikepdf.Object) -> None:
    """One more resource of the first page."""
    found = pdf.pages[0].Resources
    if kind not in found:
        found[kind] = pikepdf.Dictionary()
    found[kind][name] = pdf.make_indirect(value)


def picture(pdf: pikepdf.Pdf, pixels: bytes, width: int, height: int) -> pikepdf.Stream:
    """A grey picture as an object."""
    return pikepdf.Stream(pdf, pixels, Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Image, Width=width,
                          Height=height, ColorSpace=pikepdf.Name.DeviceGray, BitsPerComponent=8)


def annotate(pdf: pikepdf.Pdf, subtype: str, operators: str, rect: tuple[float, float, float, float],
             **more: object) -> None:
    """An annotation with a look of its own."""
    left, low, right, top = rect
    look = pikepdf.Stream(pdf, operators.encode(), Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Form,
                          BBox=[0, 0, right - left, top - low])
    note = pikepdf.Dictionary(Type=pikepdf.Name.Annot, Subtype=pikepdf.Name(subtype), Rect=list(rect), F=4,
                              AP=pikepdf.Dictionary(N=pdf.make_indirect(look)), **more)
    page = pdf.pages[0]
    page.Annots = pikepdf.Array([pdf.make_indirect(note)])


def layer(pdf: pikepdf.Pdf, operators: str, *, viewed: bool, printed: bool) -> None:
    """Operators on a layer that may show on screen and print, or not."""
    state = {True: pikepdf.Name.ON, False: pikepdf.Name.OFF}
    usage = pikepdf.Dictionary(View=pikepdf.Dictionary(ViewState=state[viewed]),
                               Print=pikepdf.Dictionary(PrintState=state[printed]))
    group = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.OCG, Name="more", Usage=usage))
    events = [pikepdf.Dictionary(Event=pikepdf.Name(f"/{event}"), OCGs=[group],
                                 Category=[pikepdf.Name(f"/{event}")]) for event in ("View", "Print")]
    off = {} if viewed else {"OFF": [group]}
    setting = pikepdf.Dictionary(Order=[group], AS=events, **off)
    pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=[group], D=setting)
    resource(pdf, "/Properties", "/MC0", group)
    paint(pdf, f"/OC /MC0 BDC {operators} EMC")
