"""The audit over all labels of a pack, and what it means for a print of some of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from labeltool.coding.pattern import Pattern
from labeltool.finding import NOWHERE, Finding, Where
from labeltool.formula.model import Pack
from labeltool.rules.model import Element
from labeltool.wording.audit import Standing, Surface, left_to, over_set
from labeltool.workflow.design import carried, find_artworks
from labeltool.workflow.packs import Aim
from labeltool.workflow.prepare import Judge, Prepared
from labeltool.workflow.words import Mark, OfPack, Worded, word

Marker = Callable[[Prepared], Mark]


def worded_for(aim: Aim, judge: Judge, marker: Marker, pattern: Pattern) -> Worded:
    """The words of one label of a pack."""
    prepared = judge.of(aim.inputs)
    return word(prepared, marker(prepared), pattern, OfPack(aim.pack.name, aim.pack.mark, aim.elsewhere))


def surfaces_of(pack: Pack) -> tuple[Surface, ...]:
    """What a pack's labels can be on."""
    return ("container", "outer") if pack.outer is not None else ("container",)


def audit(aims: Sequence[Aim], judge: Judge, marker: Marker, pattern: Pattern, folder: Path | None,
          ) -> tuple[Element, ...]:
    """Every element over the whole set of one pack's labels, container and outer apart."""
    return over_set(standings(aims, judge, marker, pattern, folder), surfaces_of(aims[0].pack), aims[0].pack.name)


def standings(aims: Sequence[Aim], judge: Judge, marker: Marker, pattern: Pattern, folder: Path | None,
              ) -> tuple[Standing, ...]:
    """Each label of a pack with the blocks its artwork carries and its own rows."""
    return tuple(
        Standing(aim.name, aim.label.on, carried(find_artworks(aim.artworks, folder)),
                 worded_for(aim, judge, marker, pattern).elements)
        for aim in aims if aim.label is not None
    )


def set_faults(rows: Sequence[Element]) -> Iterator[Finding]:
    """An error for every element that no label of the set has where the law wants it."""
    for row in rows:
        if row.state == "missing":
            text = f"pack {row.pack}, {row.on}: {row.element} is missing: {row.text}"
            yield Finding("label.missing", "error", text, market=row.market, source=row.source, do=row.do)


def left_to_others(rows: Sequence[Element], pack: Pack, printed: Sequence[str]) -> Iterator[Finding]:
    """What labels printed without the rest of their set leave to it: a note; a warning where no label has it."""
    left = dict(left_to(rows, printed))
    nowhere = left.pop("", ())
    others = "; ".join(f"{name}: {', '.join(elements)}" for name, elements in left.items())
    if others:
        text = f"{', '.join(printed)} of the pack {pack.name}: the others must carry, {others}"
        yield Finding("label.elsewhere", "note", text, do="put them on the same pack")
    if nowhere:
        yield Finding("label.nowhere", "warning", f"no label of the pack {pack.name} carries: {', '.join(nowhere)}",
                      do="labeltool check FORMULA tells where each should stand")


def at_label(findings: Iterable[Finding], aim: Aim) -> Iterator[Finding]:
    """The findings of one label's setting, with pack and label for a place where they have none."""
    place = f"pack {aim.pack.name}, label {aim.label.name}" if aim.label else ""
    for item in findings:
        bare = place and item.where == NOWHERE
        yield replace(item, where=Where(block=place)) if bare else item


def markless(aims: Sequence[Aim], folder: Path | None) -> Iterator[Finding]:
    """A warning for labels whose artwork has no place for the pack's mark, which belongs on each."""
    for aim in aims:
        if aim.pack.mark and aim.artworks and "mark" not in carried(find_artworks(aim.artworks, folder)):
            text = f"the artwork {', '.join(aim.artworks)} has no place for the mark: {aim.pack.mark}"
            yield Finding("pack.mark", "warning", text, do="give it one (a block named mark), or take another artwork")
