"""The smallest heights of a label's letters: what each market's law asks, and our own floor where it asks for none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from labeltool.finding import Finding
from labeltool.formula.model import Container, NetQuantity
from labeltool.wording.geometry import MM2_PER_SQ_IN, largest_face_mm2, package_mm2, panel_mm2
from labeltool.wording.model import Minimum
from labeltool.wording.net import base_amount

IN_MM = 25.4

# Directive 76/211/EEC, Annex I 3.1; SI 2006/659 (UK): up to and including g or ml, height of the figures in mm
EU_FIGURES = ((50, 2.0), (200, 3.0), (1000, 4.0), (None, 6.0))
# 21 CFR 701.13(i): up to and including square inches of the principal display panel, height in inches
US_FIGURES = ((5, 1 / 16), (25, 1 / 8), (100, 3 / 16), (400, 1 / 4), (None, 1 / 2))
# C.R.C., c. 417, s. 14(2): up to and including cm² of the principal display surface, height in mm
CA_FIGURES = ((32, 1.6), (258, 3.2), (645, 6.4), (2580, 9.5), (None, 12.7))

EU_SOURCE = "Directive 76/211/EEC, Annex I 3.1; SI 2006/659 in the UK"
US_NET_SOURCE = "21 CFR 701.13(h), (i)"
CA_NET_SOURCE = "C.R.C., c. 417, s. 14(2)"
E_MARK = Minimum(3.0, "figure", "Directive 76/211/EEC, Annex I 3.3: the e-mark is at least 3 mm high")
US_WARNING = Minimum(IN_MM / 16, "x", "21 CFR 740.2(a): 1/16 inch, on small packages too")
CA_OTHER = Minimum(1.6, "x", "C.R.C., c. 417, s. 15")
CA_NET_WORDS = Minimum(1.6, "x", "C.R.C., c. 417, s. 14(4)")

US_SMALL_SQ_IN = 12  # 21 CFR 701.3(p): less than
FLOOR_SMALL_MM2 = 8000  # Regulation (EU) No 1169/2011, Art. 13(3): less than 80 cm²
FLOOR_SOURCE = "no figure in cosmetics law; borrowed from Regulation (EU) No 1169/2011, Art. 13(2), (3)"
UNKNOWN_PANEL_SQ_IN = 25  # without a container's measures: containers of up to about half a litre


@dataclass(frozen=True, slots=True)
class Heights:
    """The minimums of every kind of block on a label for certain markets."""

    running: tuple[Minimum, ...]
    net: tuple[Minimum, ...]
    ingredients: tuple[Minimum, ...]
    identity: tuple[Minimum, ...]
    dealer: tuple[Minimum, ...]
    us_warning: tuple[Minimum, ...]


def heights(container: Container | None, net: NetQuantity | None, markets: Sequence[str]) -> Heights:
    """All minimums that apply; the strictest of each is what counts. Without measures the larger figure counts."""
    floor = (floor_minimum(container),)
    other = (*floor, CA_OTHER) if "CA" in markets else floor
    listed = (*floor, us_ingredients(container)) if "US" in markets else floor
    return Heights(floor, (*floor, *_net(container, net, markets)), listed, other, other, (*floor, US_WARNING))


def floor_minimum(container: Container | None) -> Minimum:
    """Our own floor of the x-height: 1.2 mm, and 0.9 mm where the largest face has less than 80 cm²."""
    face = largest_face_mm2(container)
    small = face is not None and face < FLOOR_SMALL_MM2
    return Minimum(0.9 if small else 1.2, "x", FLOOR_SOURCE, borrowed=True)


def us_ingredients(container: Container | None) -> Minimum:
    """1/16 inch, and 1/32 where the whole package has less than 12 square inches (21 CFR 701.3(b), (p))."""
    area = package_mm2(container)
    if area is not None and area < US_SMALL_SQ_IN * MM2_PER_SQ_IN:
        return Minimum(IN_MM / 32, "x", "21 CFR 701.3(p): 1/32 inch on less than 12 square inches")
    return Minimum(IN_MM / 16, "x", "21 CFR 701.3(b): 1/16 inch")


def _net(container: Container | None, net: NetQuantity | None, markets: Sequence[str]) -> list[Minimum]:
    panel = panel_mm2(container)
    sq_in = Fraction(UNKNOWN_PANEL_SQ_IN) if panel is None else panel / MM2_PER_SQ_IN
    found = []
    amount = base_amount(net) if net else None
    if amount is not None and {"UK", "EU"} & set(markets):
        found.append(Minimum(step(EU_FIGURES, amount), "figure", EU_SOURCE))
    if "US" in markets:
        found.append(Minimum(step(US_FIGURES, sq_in) * IN_MM, "x", US_NET_SOURCE))
    if "CA" in markets:
        surface = sq_in * MM2_PER_SQ_IN / 100
        found += [Minimum(step(CA_FIGURES, surface), "figure", CA_NET_SOURCE), CA_NET_WORDS]
    return found


def step(table: Sequence[tuple[int | None, float]], value: Fraction) -> float:
    """The height of the first row whose bound the value does not exceed; the last row has no bound."""
    return next(height for bound, height in table if bound is None or value <= bound)


def measure_findings(container: Container | None, markets: Sequence[str]) -> tuple[Finding, ...]:
    """A warning where the heights rest on measures that nobody gave."""
    if not {"US", "CA"} & set(markets) or panel_mm2(container) is not None:
        return ()
    text = "the height of the net figures follows from the container, whose measures are not given"
    limit = f"taken: a principal display panel of at most {UNKNOWN_PANEL_SQ_IN} square inches (161 cm²)"
    return (Finding("container.measures", "warning", text, limit=limit, source=f"{US_NET_SOURCE}; {CA_NET_SOURCE}",
                    do="write [container] with shape and measures into the formula"),)
