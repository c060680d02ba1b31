"""The largest type that fits one arrangement of an artwork."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from labeltool.stock.model import Stock
from labeltool.symbol.dots import dot_mm
from labeltool.symbol.model import QrMatrix
from labeltool.typeset.arc import Arc
from labeltool.typeset.arrange import Arrangement, arrange
from labeltool.typeset.artmodel import Artwork, Variant, blocks_of, panels
from labeltool.typeset.frame import Weight
from labeltool.typeset.halving import largest
from labeltool.typeset.job import Job
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.panel import split_cost
from labeltool.typeset.paras import LOGO, Item, Sign, compile_blocks
from labeltool.typeset.qrspot import Clear, Symbol, dot_choices
from labeltool.typeset.region import Rect, Region
from labeltool.typeset.setter import Line
from labeltool.typeset.signs import sign_height
from labeltool.typeset.sizes import (
    LARGEST_X_MM,
    STEP_MM,
    THERMAL,
    Sizes,
    body_weights,
    least_net_mm,
    least_x_mm,
    sizes_of,
)
from labeltool.wording.model import LabelText

OVERHANG = 0.05  # how far letters reach out of their advance widths, ems
MARGINS = (1.0, 0.5, 0.0)  # shares of the wished margin
AS_GOOD = 0.97  # a larger symbol or name is worth this much of the type
LEADING_STEPS, FEW_LEADINGS = 4, 3
COLUMNS_WORTH = 0.93  # how small type may become, by the largest, for columns that end well
WORSE_COLUMNS = 2.5  # what the end of a column must cost more to be worth less leading
BALANCE_WORTH, BALANCED_NAME = 0.75, 0.9  # how small type and name of a balanced front may be, by the largest


@dataclass(frozen=True, slots=True)
class Terms:
    """What is held fixed while a size is searched for."""

    ratio: float
    dots: int
    margin: float  # share of the wished margin
    tidy: bool
    balanced: bool = False  # round the middle of panels with a middle group


@dataclass(frozen=True, slots=True)
class Fit:
    """The largest size found: in steps of 0.01 mm of x-height, with its terms, weight and leading."""

    step: int
    terms: Terms
    body: Weight
    leading: float

    @property
    def x_mm(self) -> float:
        """The x-height, mm."""
        return self.step * STEP_MM


@dataclass(slots=True)
class Trial:
    """One variant of an artwork tried with one text on one stock. `stretch_mm`: added to the label's height.

    `ends`: what is kept clear at the left and right end of a wrap, mm. `widest_mm`: the symbol's, on its container.
    """

    text: LabelText
    artwork: Artwork
    variant: Variant
    stock: Stock
    qr: QrMatrix | None
    fonts: FontSet
    ends: tuple[float, float] = (0.0, 0.0)
    stretch_mm: float = 0.0
    widest_mm: float | None = None
    _items: dict[Weight, Mapping[str, tuple[Item, ...]]] = field(default_factory=dict)

    @property
    def names(self) -> frozenset[str]:
        """The blocks the variant prints."""
        return blocks_of(self.variant)

    def items(self, body: Weight) -> Mapping[str, tuple[Item, ...]]:
        """The compiled blocks, once a weight."""
        if body not in self._items:
            self._items[body] = compile_blocks(self.text, self.names, self.fonts, body, self.artwork.semibold,
                                              self.variant.big)
            if self.artwork.logo is not None and LOGO in self.names:
                self._items[body] = {**self._items[body], LOGO: (Sign(LOGO, LOGO, None, logo=self.artwork.logo),)}
        return self._items[body]

    def least_step(self, ratio: float) -> int:
        """The smallest size that all minimums allow."""
        carried = [block for block in self.text.blocks if block.name in self.names]
        return math.ceil(least_x_mm(carried, ratio, self.fonts, self.variant.big) / STEP_MM - 1e-9)

    def ranges(self, ratio: float) -> tuple[tuple[Weight, int, int], ...]:
        """(weight, least step, most step) of the running text, the largest sizes first."""
        least = self.least_step(ratio)
        most = min(round(LARGEST_X_MM / STEP_MM), max(least, round(self.variant.largest_mm / STEP_MM)))
        found = []
        for weight, low_mm in body_weights(self.stock, self.fonts):
            low = max(least, math.ceil(low_mm / STEP_MM - 1e-9))
            if low <= most:
                found.append((weight, low, most))
                most = low - 1
        return tuple(found)

    def sizes(self, step: int, terms: Terms, body: Weight, leading: float) -> Sizes:
        """All sizes for one step."""
        weight: Weight = "semibold" if "net" in self.artwork.semibold else body
        net = least_net_mm(self.text.blocks, self.fonts.of(weight))
        plain = sizes_of(step * STEP_MM, body, terms.ratio, leading, net, self.fonts)
        signs = [item for group in self.items(body).values() for item in group if isinstance(item, Sign)]
        height, dot = sign_height(signs, plain, self.fonts), 0.0
        if self.stock.medium in THERMAL:
            dot = dot_mm(self.stock.dpi)
            height = math.ceil(height / dot - 1e-9) * dot
        return replace(plain, sign_mm=height, dot_mm=dot)

    def set(
        self, step: int, terms: Terms, body: Weight, leading: float, earnest: bool = False, quick: bool = False,
    ) -> Arrangement | None:
        """The label set at one size; None where it does not fit. `quick`: its columns need not end well."""
        sizes = self.sizes(step, terms, body, leading)
        inset = self.stock.safe_mm + max(self.variant.margin * terms.margin * sizes.x_mm, OVERHANG * sizes.running_mm)
        width, height = self.stock.label_mm
        region = Region(self.stock.shape, width, height + self.stretch_mm, self.stock.corner_mm, inset)
        box = region.box
        rect = Rect(max(box.left, self.ends[0]), box.top, min(box.right, width - self.ends[1]), box.bottom)
        if rect.width <= 0 or rect.height <= 0:
            return None
        symbol = Symbol(self.qr.size, terms.dots, self.stock.dpi) if self.qr else None
        job = Job(self.items(body), sizes, self.fonts, region, symbol, terms.tidy, terms.margin == 0, quick,
                  terms.balanced)
        clear = Clear(inset, inset, inset, inset)
        return arrange(self.variant.area, rect, clear, job, earnest)

    def largest(self, terms: Terms, leading: float, least: float = 0) -> Fit | None:
        """The largest size that fits under these terms, and is at least so many steps."""
        for body, low, high in self.ranges(terms.ratio):
            step = largest(max(low, math.ceil(least)), high, self._fits(terms, body, leading))
            if step is not None:
                return Fit(step, terms, body, leading)
        return None

    def _fits(self, terms: Terms, body: Weight, leading: float) -> Callable[[int], bool]:
        return lambda step: self.set(step, terms, body, leading) is not None

    def best(self) -> Fit | None:
        """The best fit: wished margin before narrower, good measures before any, large before small type."""
        leading = self.artwork.leading[0]
        if not self.stands():
            return None
        for tidy in (True, False):
            for margin in MARGINS:
                found = self._of_terms(margin, tidy, leading)
                if found is not None:
                    return self._with_air(self._in_balance(found))
        return None

    def _in_balance(self, fit: Fit) -> Fit:
        """The largest size at which the ink balances round the middle of the front, where that is not much smaller."""
        if not any(panel.middle and panel.foot for panel in panels(self.variant.area)):
            return fit
        least, wished, _ = self.variant.ratio
        for ratio in dict.fromkeys((wished, round((wished + least) / 2, 2), least)):
            found = self.largest(replace(fit.terms, balanced=True, ratio=ratio), fit.leading, BALANCE_WORTH * fit.step)
            if found is not None and found.step >= BALANCE_WORTH * fit.step \
                    and found.step * ratio >= BALANCED_NAME * fit.step * fit.terms.ratio:
                return found
        return fit

    def dots(self) -> tuple[int, ...]:
        """Dots a module to try, the wished first; as many as the container bears."""
        if self.qr is None or "qr" not in self.names:
            return (1,)
        return dot_choices(self.stock, self.artwork.module_mm, self.qr.size, self.widest_mm)

    def stands(self) -> bool:
        """Whether the text fits at the smallest size under the loosest terms."""
        ratio = self.variant.ratio[0]
        terms = Terms(ratio, self.dots()[-1], MARGINS[-1], False)
        ranges = reversed(self.ranges(ratio))
        return any(self.set(low, terms, body, self.artwork.leading[0]) is not None for body, low, _ in ranges)

    def _of_terms(self, margin: float, tidy: bool, leading: float) -> Fit | None:
        """The wished ratio and module where they cost little, else the least ones."""
        dots = self.dots()
        loosest = Terms(self.variant.ratio[0], dots[-1], margin, tidy)
        last = self.largest(loosest, leading)
        if last is None:
            return None
        best: Fit | None = None
        for ratio in dict.fromkeys((self.variant.ratio[1], self.variant.ratio[0])):
            for count in dots:
                terms, least = Terms(ratio, count, margin, tidy), best.step / AS_GOOD if best else 0
                found = last if terms == loosest else self.largest(terms, leading, least)
                if found is not None and (best is None or best.x_mm < AS_GOOD * found.x_mm):
                    best = found
                if best is not None and best.x_mm >= self.variant.comfort_mm:
                    return best
        return best

    def _with_air(self, fit: Fit) -> Fit:
        """The same size with the most leading, and then the largest name, that it leaves room for.

        Where columns end badly at this size, a size little smaller at which they end well is better.
        """
        cost, found = self._aired(fit)
        low = next((low for body, low, _ in self.ranges(fit.terms.ratio) if body == fit.body), fit.step)
        for step in range(fit.step - 1, max(low, math.ceil(COLUMNS_WORTH * fit.step)) - 1, -1):
            if cost < WORSE_COLUMNS:
                break
            smaller = self._aired(replace(fit, step=step), FEW_LEADINGS)
            if smaller[0] < WORSE_COLUMNS:
                cost, found = smaller
        return self._with_name(found)

    def _aired(self, fit: Fit, most: int | None = None) -> tuple[float, Fit]:
        """The best leading at a size, of so many, and how badly the columns then end."""
        best = (math.inf, fit)
        for leading in self._leadings(fit)[:most]:
            cost = self._column_cost(replace(fit, leading=leading))
            if cost is not None and cost < best[0] - WORSE_COLUMNS * (best[0] < math.inf):
                best = (cost, replace(fit, leading=leading))
            if best[0] < WORSE_COLUMNS:
                break
        return best

    def _column_cost(self, fit: Fit) -> float | None:
        """How badly the columns end; None where the label does not fit."""
        several = "date" in self.names or any(panel.columns[1] > 1 for panel in panels(self.variant.area))
        found = self.set(fit.step, fit.terms, fit.body, fit.leading, earnest=several)
        return sum(split_cost(panel.placed, panel.bed) for panel in found.panels) if found else None

    def _with_name(self, fit: Fit) -> Fit:
        """The same with the largest name that takes no more lines than now, and two at most where that can be."""
        least, _, most = self.variant.ratio
        lines = wanted = self._name_lines(fit)
        if lines > 2:
            wanted = max(2, self._name_lines(replace(fit, terms=replace(fit.terms, ratio=least))) or lines)
        ratio = most
        while ratio > least - 1e-9:
            tried = replace(fit, terms=replace(fit.terms, ratio=round(ratio, 2)))
            if 0 < self._name_lines(tried) <= wanted:
                return tried
            ratio -= 0.1
        return fit

    def _name_lines(self, fit: Fit) -> int:
        """The lines of the name; 0 where the label does not fit or has none."""
        if fit.step < self.least_step(fit.terms.ratio):
            return 0
        found = self.set(fit.step, fit.terms, fit.body, fit.leading, earnest=True, quick=True)
        placed = [item for panel in found.panels for item in panel.placed] if found else []
        return sum(1 for item in placed if isinstance(item, Line | Arc) and item.para.role == "name")

    def _leadings(self, fit: Fit) -> list[float]:
        """Leadings to try, the widest first: those that bring the last baseline down to the very bottom, then any."""
        low, high = self.artwork.leading
        steps = [low + (high - low) * part / LEADING_STEPS for part in range(LEADING_STEPS, 0, -1)]
        now = self.set(fit.step, fit.terms, fit.body, fit.leading)
        if now is None:
            return steps
        main = max(now.panels, key=lambda panel: panel.bed.last)
        length = main.bottom_mm - main.bed.first_mm
        unit = main.bed.sizes.running_mm / 2
        exact = [length / (unit * lines) for lines in range(math.ceil(length / unit / high - 1e-9),
                                                            math.floor(length / unit / low + 1e-9) + 1) if lines > 0]
        return [item for item in exact if low - 1e-9 <= item <= high + 1e-9] + steps

