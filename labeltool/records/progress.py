"""How far a long walk over the record has come, told to whoever asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

T = TypeVar("T")
Step = Callable[[str, int, int], None]
"""Called with what is being done, how many are done, and how many there are."""
EVERY = 500


def silent(what: str, done: int, whole: int) -> None:
    """Tell nobody."""


def told(items: Iterable[T], what: str, whole: int, step: Step, every: int = EVERY) -> Iterator[T]:
    """The items, one by one; `step` hears of each `every`th, and of the end."""
    done = 0
    for done, item in enumerate(items, 1):
        yield item
        if done % every == 0:
            step(what, done, whole)
    step(what, done, whole)
