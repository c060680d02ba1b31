"""What reading a file back gave, as a value and as the documented JSON."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from labeltool.finding import Finding
from labeltool.readback.measure import Measured
from labeltool.readback.model import LabelReading
from labeltool.records.model import Batch, PrintRow


@dataclass(frozen=True, slots=True)
class Verified:
    """A file read back: its labels, and the print of the record it fits best.

    `kind`: labels (a PDF), picture, or what else the file is, in words. `same_bytes`: it is the very file on record.
    `measured`: of each label of a picture.
    """

    file: str
    labels: tuple[LabelReading, ...]
    findings: tuple[Finding, ...]
    batch: Batch | None = None
    row: PrintRow | None = None
    kind: str = "labels"
    same_bytes: bool = False
    measured: tuple[Measured | None, ...] = ()

    @property
    def wrong(self) -> bool:
        """Whether anything is not as the record says."""
        return any(item.level == "error" for item in self.findings) or not all(one.matches for one in self.labels)

    def document(self) -> dict[str, Any]:
        """The documented JSON object of `verify`."""
        return {
            "file": self.file, "kind": self.kind,
            "print": self.row.number if self.row else None, "same-bytes": self.same_bytes,
            "labels": [_label(item) | _measured(self.measured[index] if self.measured else None)
                       for index, item in enumerate(self.labels)],
            "problems": [item.as_json() for item in self.findings],
        }


def _label(item: LabelReading) -> dict[str, Any]:
    return {
        "page": item.page, "label": item.label,
        "decoded": {"zbar": item.decoded.zbar, "zxing": item.decoded.zxing}, "code": item.code,
        "matches-record": item.matches, "grade": item.grade, "limits": list(item.limits),
    }


def _measured(item: Measured | None) -> dict[str, Any]:
    if item is None:
        return {}
    return {"measured": {"module-pixels": item.module_px, "side-mm": item.side_mm, "contrast": item.contrast,
                         "growth": list(item.growth) if item.growth else None}}
