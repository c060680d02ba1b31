"""The grade of a symbol in a picture whose place and modules are known (ISO/IEC 15415:2011, one picture)."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from labeltool.readback.quality import codewords, damage, uniformity
from labeltool.readback.quality.edges import edges, fitted
from labeltool.readback.quality.grid import Grid, Sampled, grid, sample
from labeltool.readback.quality.model import LOWEST, TOP, Grade, Known, Parameter, Picture, Point, Standard
from labeltool.readback.quality.scale import graded, letter

CONTRAST = "symbol-contrast"
TURNS, STILL = 4, 0.03  # of moving the grid to its edges, until no corner moves by more than this, modules


def grade(picture: Picture, corners: Sequence[Point], known: Known, rules: Standard,
          seen_as: Callable[[uniformity.Shape], uniformity.Shape] | None = None) -> Grade:
    """Grade a symbol.

    `corners`: pixels of the dark square's corners, from the first module's clockwise; its quiet zone should be in the
    picture too. The aperture is 80 % of the module. Print growth is told and not graded.
    `seen_as`: how the grid of a flat picture is seen on its container.
    """
    places = grid(known.size, corners)
    sampled = sample(picture, places, rules.aperture, rules.quiet)
    contrast = Parameter(CONTRAST, sampled.contrast, graded(sampled.contrast, rules.figures[CONTRAST]),
                         rules.confidence(CONTRAST))
    if sampled.contrast <= 0:
        return overall((contrast,), (0.0, 0.0), rules)
    sampled, shape = _followed(picture, places, sampled, known, rules)
    seen = seen_as(shape) if seen_as else shape
    return overall((
        contrast, codewords.modulation(known, sampled, rules), codewords.margin(known, sampled, rules),
        damage.fixed_patterns(known, sampled, rules), damage.information(known, sampled, rules),
        *uniformity.parameters(seen, rules, lambda name, value: graded(value, rules.figures[name])),
        codewords.correction(known, sampled, rules),
    ), shape.growth, rules)


def _followed(picture: Picture, places: Grid, sampled: Sampled, known: Known,
              rules: Standard) -> tuple[Sampled, uniformity.Shape]:
    """The grid as its edges lie, and the light at the modules there: as the reference decoder finds them."""
    for turn in range(TURNS):
        across, down = (edges(picture, places, known, sampled.threshold, down=way) for way in (False, True))
        better, moved = fitted(places, across, down)
        if moved < STILL or turn == TURNS - 1:
            break
        places = better
        sampled = sample(picture, places, rules.aperture, rules.quiet)
    shape = uniformity.measure(places, across, down)
    if uniformity.uneven(shape) >= STILL:
        sampled = sample(picture, places, rules.aperture, rules.quiet, shape.moved)
    return sampled, shape


def overall(parameters: tuple[Parameter, ...], growth: tuple[float, float], rules: Standard) -> Grade:
    """The lowest parameter decides; those that stand at it limit the grade, where it is not the best there is."""
    value = min((item.grade for item in parameters), default=LOWEST)
    limits = tuple(item.name for item in parameters if item.grade == value) if value < TOP else ()
    if "modulation" in limits:  # the margin is never better, and no trouble of its own where it is as good
        limits = tuple(name for name in limits if name != "reflectance-margin")
    advice = tuple(dict.fromkeys(rules.advice(name) for name in limits))
    return Grade(value, letter(value, rules.letters), parameters, limits, advice, growth)
