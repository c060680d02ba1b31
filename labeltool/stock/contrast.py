"""How well black ink stands out from a colour: to the eye, and to a scanner's red light."""

from __future__ import annotations

SHARES = (0.2126, 0.7152, 0.0722)
FLARE = 0.05


def linear(value: int) -> float:
    """The light of one 8 bit channel, 0 to 1 (WCAG 2.2, relative luminance)."""
    share = value / 255
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def channels(colour: str) -> tuple[float, float, float]:
    """The light of red, green and blue of "#rrggbb", each 0 to 1."""
    red, green, blue = (linear(int(colour[at:at + 2], 16)) for at in (1, 3, 5))
    return red, green, blue


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1."""
    return sum(share * light for share, light in zip(SHARES, channels(colour), strict=True))


def contrast(one: str, other: str) -> float:
    """The contrast ratio of WCAG 2.2, from 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + FLARE) / (low + FLARE)


def red_contrast(one: str, other: str) -> float:
    """The same ratio in red light alone, which most scanners look with: a rough stand-in for a measured contrast."""
    low, high = sorted((channels(one)[0], channels(other)[0]))
    return (high + FLARE) / (low + FLARE)
