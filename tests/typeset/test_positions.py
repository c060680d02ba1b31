"""Where items stand, against what the artwork says, worked out here from its shares and gaps alone, to 0.01 mm."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from typeset_samples import lotion, roll, stock

from labeltool import tables
from labeltool.symbol.dots import dot_mm
from labeltool.symbol.qr import matrix
from labeltool.typeset.artwork import parse_artwork
from labeltool.typeset.fit import Misfit, typeset
from labeltool.typeset.frame import Rule, TextRun

NEAR_MM = 0.01
OVERHANG = 0.05  # ems: what the edge keeps at least
TEXT = lotion(8)
QR = matrix(TEXT.qr.payload)


def artwork(direction: str, first: float, second: float, gap: float, margin: float):
    table = {"variant": [{
        "margin": margin, "gap": gap, "rule": True, direction: [
            {"share": first, "align": "centre", "middle": ["name", "function"]},
            {"share": second, "flow": ["ingredients", "code"], "foot": ["responsible"]},
        ],
    }]}
    found, findings = parse_artwork("mine", table)
    assert not findings.items
    return found


def insets(frame, safe: float, margin: float, em: float):
    """The white on all sides for each share of the wished margin that may have been taken, mm."""
    return [safe + max(margin * share * frame.x_height_mm, OVERHANG * em) for share in (1.0, 0.5, 0.0)]


def parts(length: float, inset: float, first: float, second: float, gap_mm: float):
    """Begin and end of the two parts along one side of the label, mm."""
    rest = length - 2 * inset - gap_mm
    cut = inset + rest * first / (first + second)
    return (inset, cut), (cut + gap_mm, length - inset)


@settings(max_examples=120)
@given(st.sampled_from(["columns", "rows"]), st.floats(1, 3), st.floats(2, 4), st.floats(2, 8), st.floats(0, 3),
       st.floats(70, 180), st.floats(60, 140), st.booleans())
def test_items_stand_where_the_artwork_says(direction, first, second, gap, margin, width, height, thermal):
    on = roll(width, height) if thermal else stock(width, height)
    mine = artwork(direction, first, second, gap, margin)
    frame = typeset(TEXT, mine, on, QR, tables.fonts())
    if isinstance(frame, Misfit):
        return
    lines = lines_by_block(frame)
    em = next(runs[0].size_pt for block, _, runs in lines if block == "ingredients") * 25.4 / 72
    length = width if direction == "columns" else height
    assert any(
        stands(frame, lines, direction, inset, parts(length, inset, first, second, gap * frame.x_height_mm), on.dpi)
        for inset in insets(frame, on.safe_mm, margin, em)
    )


def lines_by_block(frame):
    """(block, left edge, runs) of every line."""
    found: dict[tuple[str, float], list[TextRun]] = {}
    for item in frame.items:
        if isinstance(item, TextRun):
            found.setdefault((item.block, item.y_mm), []).append(item)
    return [(block, runs[0].x_mm, runs) for (block, _), runs in found.items()]


def stands(frame, lines, direction, inset, cut, dpi) -> bool:
    """Whether flowing lines begin at their part's left edge, centred ones balance, the rule halves the gap."""
    (begin, end), (start, _) = cut
    across = direction == "columns"
    left, middle = (start, (begin + end) / 2) if across else (inset, frame.width_mm / 2)
    flowing = all(abs(x - left - lead_of(runs[0])) <= NEAR_MM
                  for block, x, runs in lines if block not in ("name", "function"))
    centred = all(abs(x + width_of(runs) / 2 - middle) <= NEAR_MM for block, x, runs in lines
                  if block in ("name", "function"))
    (rule,) = (item for item in frame.items if isinstance(item, Rule))
    at = rule.x_mm + rule.width_mm / 2 if across else rule.y_mm + rule.height_mm / 2
    return flowing and centred and abs(at - (end + start) / 2) <= dot_mm(dpi)


def lead_of(run) -> float:
    """How far a batch code's figure stands inside its equal step where it begins a line, mm."""
    if run.block != "code" or not run.text.isdigit():
        return 0.0
    font = tables.fonts().of(run.weight)
    left, _, right, _ = font.bounds[run.text]
    return ((font.figure_step - (right - left)) / 2 - left) / font.units_per_em * run.size_pt * 25.4 / 72


def width_of(runs) -> float:
    """The advances of a line of one run, mm, without the letter-space after the last letter."""
    (run,) = runs
    return (tables.fonts().of(run.weight).width(run.text) * run.size_pt
            + run.spacing_pt * (len(run.text) - 1)) * 25.4 / 72
