"""Whether a label's height and width go onto a container."""

from __future__ import annotations

from collections.abc import Iterator

from labeltool.finding import Finding
from labeltool.formula.model import Container
from labeltool.stock.model import Stock

SHOULDER = 0.85  # of a cylinder's height: most have a straight wall up to there; common practice, no source
ELSEWHERE = ("round-lid", "bottom-dot")  # artworks that go on lid or bottom


def suits(stock: Stock, container: Container | None) -> bool:
    """Whether the label is no higher than the wall it goes on, and no wider than a pouch."""
    return not any(_too_large(stock, container))


def onto(stock: Stock, container: Container | None, artworks: tuple[str, ...]) -> tuple[Finding, ...]:
    """A warning where the label is higher or wider than the wall, a note where shoulders may be in its way.

    Round labels may go on a lid, so their size is held against nothing.
    """
    if set(artworks) <= set(ELSEWHERE):
        return ()
    return (*_too_large(stock, container), *_shoulders(stock, container))


def _too_large(stock: Stock, container: Container | None) -> Iterator[Finding]:
    if container is None or stock.shape == "round":
        return
    width, height = stock.label_mm
    wall, name = container.straight_mm or container.height_mm, "height"
    if container.straight_mm is not None:
        name = "straight wall"
    if wall is not None and height > float(wall):
        yield Finding("container.height", "warning",
                      f"the label is {height:g} mm high, the container's {name} {wall} mm", limit=f"{wall} mm",
                      do="choose a lower label, or measure the container again")
    if container.shape == "pouch" and container.width_mm is not None and width > float(container.width_mm):
        yield Finding("container.width", "warning",
                      f"the label is {width:g} mm wide, the pouch {container.width_mm} mm",
                      limit=f"{container.width_mm} mm", do="choose a narrower label, or measure the pouch again")


def _shoulders(stock: Stock, container: Container | None) -> Iterator[Finding]:
    if container is None or container.shape != "cylinder" or stock.shape == "round":
        return
    high, wall = stock.label_mm[1], container.height_mm
    if container.straight_mm is None and wall is not None and float(wall) * SHOULDER < high <= float(wall):
        yield Finding("container.shoulders", "note",
                      f"the label takes {high:g} of the container's {wall} mm: is its wall straight all that way?",
                      confidence="practice",
                      do="measure the straight wall between shoulder and base: straight = … under [container]")
