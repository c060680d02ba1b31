"""A PDF read back against what should be in it. It knows nothing of the record, only of values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeltool.finding import Finding, Findings
from labeltool.raster import Pdf
from labeltool.readback.alike import first_likes
from labeltool.readback.file import file_faults
from labeltool.readback.model import Decoded, Expected, ExpectedLabel, LabelReading, ReadBack
from labeltool.readback.page import PageReading, Tools, read_page

_DO = "print the labels again, and use none of this file"


def read_back(pdf: bytes, expected: Expected) -> ReadBack:
    """Read every label of a PDF back: symbols by two decoders, words, places, ink, and what should not be there.

    Pages that are proved to be the same, and of which the same is expected, are read once.
    Raises InputError for a file that cannot be read, is encrypted or has no pages; MachineError without zbar.
    """
    opened = Pdf(pdf)
    likes = first_likes(pdf, opened.page_count)
    tools = Tools(expected.fonts)
    done: dict[tuple[int, int], _Group] = {}
    kinds = expected.kinds()
    readings: list[LabelReading] = []
    for number, (page, kind) in enumerate(zip(expected.pages, kinds, strict=True)):
        if number >= opened.page_count:
            readings += _absent(number, page.labels)
            continue
        key = (likes[number], kind)
        if key not in done:
            done[key] = _Group(number, read_page(opened, number, page, tools))
        done[key].count += 1
        readings += _labels(number, page.labels, done[key].reading)
    faults = [*file_faults(opened, pdf), *(finding for group in done.values() for finding in group.findings())]
    return ReadBack(tuple(readings), Findings((*_count_faults(opened.page_count, len(expected.pages)), *faults)))


class _Group:
    """Equal pages, read once."""

    def __init__(self, first: int, reading: PageReading) -> None:
        self.first, self.reading, self.count = first, reading, 0

    def findings(self) -> Iterator[Finding]:
        """The faults of the first page, told for all."""
        place = f"page {self.first + 1}"
        if self.count > 1:
            place += f" and {self.count - 1} like it"
        alike: dict[tuple[str, str], list[int]] = {}
        for fault in self.reading.faults:
            alike.setdefault((fault.rule, fault.text), []).append(fault.label)
        for (rule, text), labels in alike.items():
            numbers = [number for number in labels if number]
            where = f"{place}, {named(numbers)}" if numbers else place
            yield Finding(rule, "error", f"{where}: {text}", do=_DO)


def named(numbers: Sequence[int]) -> str:
    """Labels by their numbers, in order: "label 7", "labels 1-3, 5"."""
    pieces: list[str] = []
    for index, number in enumerate(numbers):
        if index and number == numbers[index - 1] + 1:
            pieces[-1] = f"{pieces[-1].partition('-')[0]}-{number}"
        else:
            pieces.append(str(number))
    return f"label{'s' if len(numbers) > 1 else ''} {', '.join(pieces)}"


def _labels(number: int, labels: Sequence[ExpectedLabel], reading: PageReading) -> Iterator[LabelReading]:
    for count, (label, (decoded, matches)) in enumerate(zip(labels, reading.labels, strict=True), 1):
        code = label.code if _proved(label, decoded, matches) else None
        yield LabelReading(number + 1, count, decoded, code, matches)


def _proved(label: ExpectedLabel, decoded: Decoded, matches: bool) -> bool:
    """Whether a label is of its batch: by its symbol, or by all of its words where it has none."""
    symbols = label.frame.symbols
    return symbols[0].payload in (decoded.zxing, decoded.zbar) if symbols else matches


def _absent(number: int, labels: Sequence[ExpectedLabel]) -> Iterator[LabelReading]:
    return (LabelReading(number + 1, count, Decoded(), None, False) for count in range(1, len(labels) + 1))


def _count_faults(found: int, wanted: int) -> Iterator[Finding]:
    if found < wanted:
        yield Finding("readback.pages", "error", f"{wanted - found} of {wanted} pages are missing", do=_DO)
    if found > wanted:
        yield Finding("readback.pages", "error", f"the file has {found} pages where {wanted} belong", do=_DO)
