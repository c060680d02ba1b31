"""What a stock's numbers must agree on: labels apart, on the page, and with room inside the safe edge."""

from __future__ import annotations

from collections.abc import Iterator

from labeltool.stock.model import Stock

SLACK_MM = 0.005
LEAST_ROOM_MM = 3.0
Fault = tuple[str, str, str, str]  # key, rule, what was found, what is allowed


def faults(stock: Stock) -> Iterator[Fault]:
    """Every disagreement of a stock's measures, with the numbers."""
    yield from _shape(stock)
    yield from _room(stock)
    for axis, name, count in ((0, "across", stock.columns), (1, "down", stock.rows)):
        yield from _axis(stock, axis, name, count)


def _shape(stock: Stock) -> Iterator[Fault]:
    width, height = stock.label_mm
    if stock.shape == "round" and abs(width - height) > SLACK_MM:
        yield ("shape", "stock.shape", f"a round label of {width:g} x {height:g} mm",
               'width and height equal, or shape = "oval"')
    if stock.shape != "rectangle" and stock.corner_mm:
        yield "corner", "stock.shape", f"corner {stock.corner_mm:g} mm on a label that is {stock.shape}", "none"
    if stock.corner_mm > min(width, height) / 2 + SLACK_MM:
        yield ("corner", "stock.shape", f"corner radius {stock.corner_mm:g} mm on a label of {width:g} x {height:g} mm",
               f"up to {min(width, height) / 2:g} mm")


def _room(stock: Stock) -> Iterator[Fault]:
    width, height = (side - 2 * stock.safe_mm for side in stock.label_mm)
    if min(width, height) < LEAST_ROOM_MM:
        yield ("safe", "stock.safe",
               f"safe {stock.safe_mm:g} mm leaves {max(0, width):g} x {max(0, height):g} mm of the label to print on",
               f"at least {LEAST_ROOM_MM:g} mm each way")


def _axis(stock: Stock, axis: int, name: str, count: int) -> Iterator[Fault]:
    label, pitch = stock.label_mm[axis], stock.pitch_mm[axis]
    page, origin = stock.page_mm[axis], stock.origin_mm[axis]
    if count > 1 and pitch < label - SLACK_MM:
        yield ("pitch", "stock.overlap",
               f"labels overlap {name} by {label - pitch:.4g} mm: pitch {pitch:g} mm, label {label:g} mm",
               f"a pitch of {label:g} mm or more")
    end = origin + (count - 1) * pitch + label
    if end > page + SLACK_MM:
        yield ("grid", "stock.off-page",
               f"the labels end at {end:.6g} mm {name}, {end - page:.4g} mm past the page of {page:g} mm",
               f"origin + {count - 1} x pitch + label within {page:g} mm")
