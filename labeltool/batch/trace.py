"""Tracing: which batches a lot, a material, an INCI name or a batch went into, and what went into a batch."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from labeltool.batch.lots import tidy_lot
from labeltool.coding.shape import code_key
from labeltool.compose.decimals import decimal
from labeltool.compose.names import key

Kind = Literal["code", "lot", "material", "inci"]


@dataclass(frozen=True, slots=True)
class Use:
    """A material in a batch: grams of one lot as weighed, or as planned with lot None; grams None without a size."""

    material: str
    lot: str | None
    grams: Decimal | None


@dataclass(frozen=True, slots=True)
class Traced:
    """A batch as far as tracing looks: what went in, its names and nominal percents, and its labels.

    `mass_g` is what all of it weighs, by which a batch used as a lot of another is shared out.
    """

    code: str
    product: str
    made: str
    state: str
    uses: tuple[Use, ...]
    names: tuple[tuple[str, Decimal], ...]
    mass_g: Decimal | None
    labels: int
    prints: int


@dataclass(frozen=True, slots=True)
class Touched:
    """A batch that the term touches, and how many grams of it went in (None: not known)."""

    batch: Traced
    grams: Decimal | None


@dataclass(frozen=True, slots=True)
class Trace:
    """An answer: batches touched in the order they were made; for a code, `uses` is what went into that batch."""

    term: str
    kind: Kind
    batches: tuple[Touched, ...]
    uses: tuple[Use, ...] = ()


def trace(term: str, batches: Sequence[Traced], known: Mapping[str, str]) -> tuple[Trace, ...]:
    """Every reading of the term that touches a batch: as code, as lot, as material, as INCI name, in that order.

    `known` leads material keys, former ones too, to today's. A batch that served as a lot of a material made here
    leads on to the batches it went into.
    """
    lot, material = tidy_lot(term), known.get(term, term)
    answers = (
        _code(term, batches),
        _forward(term, "lot", batches, lambda use: use.lot is not None and tidy_lot(use.lot) == lot),
        _forward(term, "material", batches, lambda use: known.get(use.material, use.material) == material),
        _named(term, batches),
    )
    return tuple(answer for answer in answers if answer.batches)


def _code(term: str, batches: Sequence[Traced]) -> Trace:
    own = [batch for batch in batches if code_key(batch.code) == code_key(term)]
    seeds = {batch.code: None if batch.mass_g is None else Fraction(batch.mass_g) for batch in own}
    return Trace(term, "code", _spread(seeds, batches), tuple(use for batch in own for use in batch.uses))


def _forward(term: str, kind: Kind, batches: Sequence[Traced], meant: Callable[[Use], bool]) -> Trace:
    seeds = {}
    for batch in batches:
        uses = [use for use in batch.uses if meant(use)]
        if uses:
            seeds[batch.code] = _sum(None if use.grams is None else Fraction(use.grams) for use in uses)
    return Trace(term, kind, _spread(seeds, batches, meant))


def _named(term: str, batches: Sequence[Traced]) -> Trace:
    """Batches whose composition holds the name: a composition reaches through materials made here already."""
    wanted, found = key(term), []
    for batch in batches:
        percents = [Fraction(percent) for name, percent in batch.names if key(name) == wanted]
        if percents:
            mass = None if batch.mass_g is None else sum(percents, Fraction(0)) / 100 * Fraction(batch.mass_g)
            found.append(Touched(batch, None if mass is None else decimal(mass)))
    return Trace(term, "inci", tuple(found))


def _sum(masses: Iterable[Fraction | None]) -> Fraction | None:
    found = list(masses)
    known = [grams for grams in found if grams is not None]
    return sum(known, Fraction(0)) if len(known) == len(found) else None


def _spread(
    seeds: Mapping[str, Fraction | None], batches: Sequence[Traced], meant: Callable[[Use], bool] = lambda use: False,
) -> tuple[Touched, ...]:
    """The batches that hold the seeds' grams, on through every batch that another one used as a lot.

    Uses that are `meant` are in the seeds already, whole, whatever is inside them.
    """
    held: dict[str, Fraction | None] = {}
    by_key = {code_key(batch.code): batch for batch in batches}
    for batch in _sources_first(batches, by_key):
        parts = [seeds[batch.code]] if batch.code in seeds else []
        for use in batch.uses:
            source = by_key.get(code_key(use.lot)) if use.lot and not meant(use) else None
            if source is not None and source.code in held:
                parts.append(_share(use, source, held[source.code]))
        if parts:
            held[batch.code] = _sum(parts)
    return tuple(Touched(batch, _decimal(held[batch.code])) for batch in batches if batch.code in held)


def _share(use: Use, source: Traced, inside: Fraction | None) -> Fraction | None:
    """How much of what is inside `source` went on with a use of it."""
    if use.grams is None or inside is None or not source.mass_g:
        return None
    return Fraction(use.grams) * inside / Fraction(source.mass_g)


def _sources_first(batches: Sequence[Traced], by_key: Mapping[str, Traced]) -> list[Traced]:
    """The batches ordered so that each follows those it used as lots; what would be a circle comes last."""
    waits: dict[str, int] = {}
    into: dict[str, list[Traced]] = {}
    for batch in batches:
        sources = {code_key(use.lot) for use in batch.uses if use.lot and code_key(use.lot) in by_key}
        waits[batch.code] = len(sources)
        for source in sources:
            into.setdefault(source, []).append(batch)
    ready = [batch for batch in batches if not waits[batch.code]]
    for batch in ready:
        for user in into.get(code_key(batch.code), []):
            waits[user.code] -= 1
            if not waits[user.code]:
                ready.append(user)
    return ready + [batch for batch in batches if waits[batch.code] > 0]


def _decimal(grams: Fraction | None) -> Decimal | None:
    return None if grams is None else decimal(grams)
