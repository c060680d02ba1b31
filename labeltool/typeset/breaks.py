"""Where a line may end: after commas, spaces, slashes and hyphens, never inside a figure or before a bracket."""

from __future__ import annotations

import re
from dataclasses import dataclass

FREE, INSIDE_NAME, AFTER_SIGN = 0.0, 0.05, 0.25  # what a break costs; a wholly empty line would cost 1
IN_BRACKETS, INSIDE_PART, TORN = 0.2, 0.35, 1.5
TIED_WORDS = 3  # of a heading, that stay with the figure they lead to: "the end of 10/2027"
_METRIC = "ml l cl g kg mg µg m mm cm km min h °C °F % °"
_OTHER = "oz fl lb lbs pt qt gal in inch inches ft hours days weeks months years"
UNITS = frozenset(f"{_METRIC} {_OTHER}".split())
CLINGING = ",/;:.)]}!?%°"  # characters that never begin a line
OPENING = "([{"
_STATE, _NUMBER = re.compile(r"[A-Z]{1,3}"), re.compile(r"\d[\d.,]*")


@dataclass(frozen=True, slots=True)
class Break:
    """A place where a line may end: text[:end] is the line's last ink, text[start:] goes on; `cost` 0 is free."""

    end: int
    start: int
    cost: float


def breaks(text: str, names_from: int | None = None) -> tuple[Break, ...]:
    """All breaks of a one-paragraph text, in order, the end of the text last.

    From character `names_from` on the text is a list of names, where a space not after a comma costs INSIDE_NAME.
    """
    found = [_at_space(text, at, names_from) for at, char in enumerate(text) if char == " "]
    found += [_after_sign(text, at) for at, char in enumerate(text) if char in "/-,"]
    kept = sorted((item for item in found if item is not None), key=lambda item: item.end)
    return (*kept, Break(len(text), len(text), FREE))


def _at_space(text: str, at: int, names_from: int | None) -> Break | None:
    before, after = _word_before(text, at), _word_after(text, at + 1)
    if not before or not after or after[0] in CLINGING + OPENING or _one_figure(before, after):
        return None
    if before[0] in OPENING + "+" and not any(char.isalnum() for char in before):  # "[+/-"
        return None
    in_name = names_from is not None and at >= names_from and before[-1] not in ",;:./"
    if in_name and after[0].isdigit():  # "Blue 1", "CI 77491"
        return None
    bracketed = in_name and text.rfind("(", 0, at) > text.rfind(")", 0, at)
    return Break(at, at + 1, IN_BRACKETS if bracketed else INSIDE_NAME if in_name else FREE)


def address_breaks(text: str) -> tuple[Break, ...]:
    """The breaks of an address: free after its commas, dear inside a part, dearest beside a house number."""
    return tuple(
        Break(item.end, item.start, item.cost + _inside_part(text, item)) for item in breaks(text)
    )


def _inside_part(text: str, item: Break) -> float:
    if item.end == len(text) or text[item.end - 1] in ",:;":
        return FREE
    beside = _word_before(text, item.end) + _word_after(text, item.start)
    return TORN if any(char.isdigit() for char in beside) else INSIDE_PART


def led_breaks(text: str, figure_at: int) -> tuple[Break, ...]:
    """The breaks of words that lead to a figure at `figure_at`: the last of them stay with it where they can."""
    spaces = [at for at, char in enumerate(text[:figure_at]) if char == " "]
    tied, dear = spaces[-TIED_WORDS:], TORN if len(spaces) > 1 else INSIDE_PART
    return tuple(
        Break(item.end, item.start, item.cost + (dear if item.end in tied else FREE)) for item in breaks(text)
    )


def _one_figure(before: str, after: str) -> bool:
    """Whether two words make one figure: "50 ml", "CI 77491", "EX0 0EX", "12 345", "fl. oz."."""
    number, then = bool(_NUMBER.search(before)), after[0].isdigit()
    if before[-1] in ",;:":
        return False
    if then and (number or _STATE.fullmatch(before.strip("(,[")) is not None):
        return True
    bare = after.rstrip(".,;:)")
    if number and _NUMBER.fullmatch(before.strip("(+±")) and (bare in UNITS or bare.lower() in UNITS):
        return True
    return before in ("fl.", "Fl.", "FL.") and bare.lower() == "oz"


def _after_sign(text: str, at: int) -> Break | None:
    """A break after a slash, hyphen or comma that stands between two letters of one word."""
    start, end = at - len(_word_before(text, at)), at + len(_word_after(text, at))
    word = text[start:end]
    if "@" in word or "://" in word or word.lower().startswith("www.") or not 0 < at < len(text) - 1:
        return None
    before, after = text[max(start, at - 2):at], text[at + 1:min(end, at + 3)]
    if len(before) < 2 or len(after) < 2 or not (before[-1].isalpha() and after.isalpha()):
        return None
    return Break(at + 1, at + 1, AFTER_SIGN)


def _word_before(text: str, at: int) -> str:
    return text[text.rfind(" ", 0, at) + 1:at]


def _word_after(text: str, at: int) -> str:
    end = text.find(" ", at)
    return text[at:] if end < 0 else text[at:end]
