"""Blocks that share lines: rows on one baseline, and runs where one begins where another ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from labeltool.typeset.linebreak import LONGEST
from labeltool.typeset.paras import Item, Para, Sign
from labeltool.typeset.signs import SetSign, set_sign
from labeltool.typeset.sizes import ASCENT

if TYPE_CHECKING:
    from labeltool.typeset.setter import Ready, Setter
    from labeltool.typeset.slots import Cursor

ROW_GAP = 1.0  # between the members of a row, ems of the running size
RUN_GAP = 0.8  # between paragraphs that share a line
CLUSTER_GAP = 0.5  # between the net quantity and its e-mark

Cluster = list["Ready"]


def set_row(setter: Setter, items: list[Item], at: Cursor, opening: bool, spread: bool) -> Cursor | None:
    """Sets items side by side on one baseline, on more of them where one is too short; the cursor after them."""
    clusters, step = _clusters(setter, items), at
    while clusters:
        after = _one_row(setter, clusters, step, opening and step == at, spread)
        if after is None:
            return None
        step, clusters = after
    return step


def _clusters(setter: Setter, items: list[Item]) -> list[Cluster]:
    """The members of a row, an e-mark together with what stands before it."""
    found: list[Cluster] = []
    for item in items:
        ready = set_sign(item, setter.bed.sizes, setter.fonts) if isinstance(item, Sign) else item
        if found and isinstance(item, Sign) and item.words is None and item.logo is None:
            found[-1].append(ready)
        else:
            found.append([ready])
    return found


def _one_row(
    setter: Setter, clusters: list[Cluster], at: Cursor, opening: bool, spread: bool,
) -> tuple[Cursor, list[Cluster]] | None:
    """Sets as many clusters as one line holds; the cursor after it and the clusters left over."""
    counts = range(len(clusters), 0, -1)
    for count in (len(clusters), 1) if spread and _is_title(clusters[0]) else counts:  # a title, then all the rest
        after = _line_of(setter, clusters[:count], at, opening, spread and count == len(clusters))
        if after is not None:
            return after, clusters[count:]
    first, *rest = clusters
    if len(first) > 1:
        return _one_row(setter, [[item] for item in first] + rest, at, opening, spread)
    if isinstance(first[0], SetSign):
        return None
    below = setter.para(first[0], at, opening)
    return None if below is None else (below, rest)


def _is_title(cluster: Cluster) -> bool:
    return isinstance(cluster[0], Para) and cluster[0].role == "name"


def _line_of(setter: Setter, clusters: list[Cluster], at: Cursor, opening: bool, spread: bool) -> Cursor | None:
    """Sets clusters on one line; None where they are too wide for it or it would not stand."""
    sizes, flat = setter.bed.sizes, [item for cluster in clusters for item in cluster]
    up = max(_rise_of(setter, item) for item in flat)
    below = max(0 if isinstance(item, SetSign) else setter.below(item) for item in flat)
    over = up - ASCENT * sizes.running_mm
    rise = 0 if opening else sizes.units(over)
    slot = setter.within((at[0], at[1] + rise), 0, sizes.units(over, 0.0))
    if slot is None or slot[1] + below + 2 > setter.ends[slot[0]]:
        return None
    if sum(len(item.text) for item in flat if isinstance(item, Para)) > LONGEST:
        return None
    reaches = [setter.reach_of(item) for item in flat]
    room = setter.bed.room(*slot, max(up for up, _ in reaches), max(down for _, down in reaches))
    widths = [_width_of(setter, cluster) for cluster in clusters]
    if sum(widths) + ROW_GAP * sizes.running_mm * (len(widths) - 1) > room[1] - room[0] + 1e-9:
        return None
    setter.reached = slot[1]
    if setter.earnest:
        _keep_row(setter, clusters, widths, room, setter.bed.y(slot[1]), spread)
    return slot[0], slot[1] + 2 + below


def _width_of(setter: Setter, cluster: Cluster) -> float:
    sizes = setter.bed.sizes
    widths = [item.width_mm if isinstance(item, SetSign) else item.width * sizes.of(item.role) for item in cluster]
    return sum(widths) + CLUSTER_GAP * sizes.running_mm * (len(widths) - 1)


def _rise_of(setter: Setter, item: Ready) -> float:
    sizes = setter.bed.sizes
    return item.height_mm + sizes.dot_mm if isinstance(item, SetSign) else ASCENT * sizes.of(item.role)


def _keep_row(
    setter: Setter, clusters: list[Cluster], widths: list[float], room: tuple[float, float], y: float, spread: bool,
) -> None:
    gap = ROW_GAP * setter.bed.sizes.running_mm
    x = room[0]
    if setter.align == "centre":
        x = (room[0] + room[1] - sum(widths) - gap * (len(widths) - 1)) / 2
    for index, (cluster, width) in enumerate(zip(clusters, widths, strict=True)):
        if spread and 0 < index == len(widths) - 1:
            x = room[1] - width
        at = x
        for item in cluster:
            setter.stand(item, at, y)
            at += _width_of(setter, [item]) + CLUSTER_GAP * setter.bed.sizes.running_mm
        x += width + gap


def set_run(setter: Setter, items: list[Item], at: Cursor, opening: bool) -> Cursor | None:
    """Sets paragraphs one after another, each on the last line of the one before where it fits there whole.

    After an address a new line begins, unless room is tight.
    """
    step = at
    tail: tuple[Cursor, float, int] | None = None
    for item in items:
        after: Cursor | None = None
        if isinstance(item, Sign):
            after, tail = set_row(setter, [item], step, opening and step == at, False), None
        else:
            longer = _follow(setter, item, tail)
            if longer is not None:
                tail = longer
                continue
            after = setter.para(item, step, opening and step == at)
            ended = setter.airy and item.block == "responsible"
            tail = _tail(setter, item, step, opening and step == at) if after and not ended else None
        if after is None:
            return None
        step = after
    return step


def _tail(setter: Setter, para: Para, at: Cursor, opening: bool) -> tuple[Cursor, float, int] | None:
    """The baseline of a paragraph's last line, where its ink ends (mm), its characters; None where centred."""
    size, slots = setter.bed.sizes.of(para.role), setter.slots(para, at, opening)
    count = setter.count(para, slots)
    slot = slots(count - 1) if count else None
    if count is None or slot is None or setter.align == "centre" or para.role != "running":
        return None
    chosen = setter.breaks(para, slots, count)
    start = chosen[-2] + 1 if count > 1 else 0
    right = setter.room_of(para, slot)[0] + para.body.width(start, chosen[-1]) * size
    return slot, right, para.body.chars(start, chosen[-1])


def _follow(setter: Setter, para: Para, tail: tuple[Cursor, float, int] | None) -> tuple[Cursor, float, int] | None:
    """Sets a paragraph on the baseline of the tail, if it fits there whole; the longer tail."""
    if tail is None or para.role != "running" or tail[2] + len(para.text) > LONGEST:
        return None
    slot, size = tail[0], setter.bed.sizes.of(para.role)
    x = tail[1] + RUN_GAP * size
    if x + para.width * size > setter.room_of(para, slot)[1] + 1e-9:
        return None
    if setter.earnest:
        setter.stand(para, x, setter.bed.y(slot[1]))
    return slot, x + para.width * size, tail[2] + len(para.text)
