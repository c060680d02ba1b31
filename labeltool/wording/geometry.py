"""Areas of a container, exact: square inches and square millimetres as fractions, so that a boundary is a boundary."""

from __future__ import annotations

from fractions import Fraction

from labeltool.formula.model import Container

PI = Fraction(314159265358979323846264338327950288, 10**35)
MM2_PER_SQ_IN = Fraction("645.16")
PANEL_SHARE = Fraction(2, 5)  # 21 CFR 701.10(b), (c); C.R.C., c. 417, s. 2


def _mm(value: object) -> Fraction | None:
    return None if value is None else Fraction(str(value))


def cylinder_panel(height: Fraction, circumference: Fraction) -> Fraction:
    """The principal display panel of a cylinder: 40 percent of height × circumference, in the square of their unit."""
    return PANEL_SHARE * height * circumference


def panel_mm2(container: Container | None) -> Fraction | None:
    """The principal display panel (21 CFR 701.10) or surface (C.R.C., c. 417, s. 2), mm²; None where measures lack.

    A box counts its widest side, a pouch one face, any other shape 40 percent of its surface.
    """
    if container is None:
        return None
    height, diameter = _mm(container.height_mm), _mm(container.diameter_mm)
    width, depth = _mm(container.width_mm), _mm(container.depth_mm)
    if container.shape == "cylinder" and height and diameter:
        return cylinder_panel(height, PI * diameter)
    if container.shape in ("box", "pouch") and height and width:
        return max(width, depth or width) * height
    area = _mm(container.area_mm2)
    return PANEL_SHARE * area if container.shape == "other" and area else None


def package_mm2(container: Container | None) -> Fraction | None:
    """The whole outside of the package, top and bottom too, mm² (21 CFR 701.3(p)); None where measures lack."""
    if container is None:
        return None
    height, diameter = _mm(container.height_mm), _mm(container.diameter_mm)
    width, depth = _mm(container.width_mm), _mm(container.depth_mm)
    if container.shape == "cylinder" and height and diameter:
        return PI * diameter * height + PI * diameter * diameter / 2
    if container.shape == "box" and height and width and depth:
        return 2 * (width * depth + width * height + depth * height)
    if container.shape == "pouch" and height and width:
        return 2 * width * height
    return _mm(container.area_mm2) if container.shape == "other" else None


def largest_face_mm2(container: Container | None) -> Fraction | None:
    """The largest single face, mm²: a box side, a cylinder's whole wall, a pouch's face; None where measures lack."""
    if container is None:
        return None
    height, diameter = _mm(container.height_mm), _mm(container.diameter_mm)
    width, depth = _mm(container.width_mm), _mm(container.depth_mm)
    if container.shape == "cylinder" and height and diameter:
        return max(PI * diameter * height, PI * diameter * diameter / 4)
    if container.shape == "box" and height and width and depth:
        return max(width * depth, width * height, depth * height)
    if container.shape == "pouch" and height and width:
        return width * height
    return _mm(container.area_mm2) if container.shape == "other" else None
