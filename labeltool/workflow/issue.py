"""Labels of one batch written: PDF made, read back, put on record with its hash, and laid in place."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path
from typing import Any

from labeltool.codec import to_plain
from labeltool.errors import input_error
from labeltool.finding import Finding
from labeltool.output.drawing import drawing
from labeltool.output.pdf import write_pdf
from labeltool.records.model import PrintOrder, PrintRow, Words
from labeltool.records.printfiles import DRAWN, LEAFLET
from labeltool.records.store import Store
from labeltool.stock.model import Stock
from labeltool.symbol.logo import PNG
from labeltool.typeset.frame import Frame
from labeltool.wording.model import LabelText
from labeltool.workflow.expecting import expected_new
from labeltool.workflow.grading import KEY
from labeltool.workflow.leaflet import Leaflets, put_leaflets
from labeltool.workflow.place import Laid, sheets
from labeltool.workflow.proof import VERIFIED
from labeltool.workflow.publish import check_outputs, check_prints, check_target, digest, publish
from labeltool.workflow.setting import Setting, shown_path
from labeltool.workflow.unfinished import aside, finish


@dataclass(frozen=True, slots=True)
class Job:
    """Labels ready to be written: frames laid on pages, and what the file says of itself."""

    frames: tuple[Frame, ...]
    laid: Laid
    title: str
    author: str
    draft: bool = False
    behind: str | None = None  # "#rrggbb" of what clear stock lies on
    texts: tuple[LabelText, ...] = ()  # the words of each frame
    diameters: tuple[float | None, ...] = ()  # of the cylinder each frame goes round, mm
    leaflets: Leaflets | None = None  # what goes with them on sheets of its own


@dataclass(frozen=True, slots=True)
class Issued:
    """What was written: the record's row (None for a draft), the file, its hash and the preview."""

    row: PrintRow | None
    target: Path
    sha256: str
    preview: str | None
    findings: tuple[Finding, ...] = ()


def make_pdf(job: Job, fonts: Mapping[str, bytes]) -> bytes:
    """The PDF of a job. The same job and fonts give the same bytes."""
    buffer = BytesIO()
    write_pdf(sheets(job.laid, job.frames), buffer, fonts=fonts, title=job.title, author=job.author, draft=job.draft)
    return buffer.getvalue()


def make_leaflets(job: Job, fonts: Mapping[str, bytes]) -> bytes | None:
    """The PDF of the leaflets that go with a job, where it has any."""
    return job.leaflets.pdf(fonts, job.author, draft=job.draft) if job.leaflets else None


def _drawn(job: Job, leaflets: bytes | None) -> dict[str, Any]:
    """The row's entry for what drew the file, so that it can be drawn again and held against its hash."""
    return {"title": job.title, "by": drawing(job.frames)} | ({LEAFLET: digest(leaflets)} if leaflets else {})


def target_pattern(folder: Path, code: str, output: Path | None, cwd: Path) -> Path:
    """Where the PDF goes: -o, else prints/CODE-{n}.pdf."""
    if output is not None:
        return cwd / output
    home = folder / "prints"
    home.mkdir(exist_ok=True)
    return home / f"{code}-{{n}}.pdf"


def inside(folder: Path, target: Path) -> str:
    """The target as the record keeps it: relative to the workshop where it lies inside."""
    whole, home = target.parent.resolve() / target.name, folder.resolve()
    return whole.relative_to(home).as_posix() if whole.is_relative_to(home) else str(whole)


Order = Callable[[str, str], PrintOrder]


def issue(folder: Path, store: Store, job: Job, orders: Sequence[Order], fonts: Mapping[str, bytes],
          setting: Setting, *, output: Path | None, preview: Path | None, verify: bool, codes: Sequence[str]) -> Issued:
    """Write labels of batches on record; each of `orders` makes one batch's row from (file, sha256).

    `codes`: the batch of each label, or one for all. Raises MachineError where the labels read back wrong.
    """
    check_outputs(output, preview, setting.cwd)
    check_prints(folder, None)
    pattern = target_pattern(folder, codes[0], output, setting.cwd)
    data, leaflets = make_pdf(job, fonts), make_leaflets(job, fonts)
    sha256 = digest(data)
    for data_of in fonts.values():
        store.add_asset("logo" if data_of.startswith(PNG) else "font", data_of)
    rows: list[PrintRow] = []
    proof: dict[str, Any] = {KEY: None, VERIFIED: None, DRAWN: _drawn(job, leaflets)}

    def commit() -> Path:
        proved = [_proved(order, proof) for order in orders]
        rows.extend(_commit(store, proved, inside(folder, pattern), sha256, folder, output is None))
        return folder / rows[0].file

    def check(temporary: Path) -> None:
        if verify:
            from labeltool.workflow.reading import check_pages

            expected = expected_new(job.laid, job.frames, codes, job.texts, job.diameters)
            proof.update(check_pages(temporary.read_bytes(), expected, job.laid.stock, job.behind))

    place = aside(pattern.parent, folder)
    for _ in finish(store, folder, place):
        continue
    target = publish(data, place, commit, check)
    if leaflets is not None:
        put_leaflets(leaflets, target)
    return Issued(rows[0], target, sha256, draw_preview(data, preview, setting, job.laid.stock))


def _proved(order: Order, proof: Mapping[str, Any]) -> Order:
    """The order whose row keeps what drew it, and the read-back and predicted grade: None with --no-verify."""

    def keeping(file: str, sha256: str) -> PrintOrder:
        plain = order(file, sha256)
        return replace(plain, extra=dict(plain.extra or {}) | dict(proof))

    return keeping


def _commit(store: Store, orders: Sequence[Order], file: str, sha256: str, folder: Path, fresh: bool) -> list[PrintRow]:
    """All rows in one transaction; the first row's number names the file, which must not stand there already."""
    rows: list[PrintRow] = []
    with store.together():
        for order in orders:
            rows.append(store.add_print(order(rows[0].file if rows else file, sha256)))
        if fresh and not _free(folder / rows[0].file, sha256):
            raise input_error("output.exists", f"{rows[0].file} stands there already and is never replaced",
                              do="move it away, or name another file with -o")
    return rows


def _free(target: Path, sha256: str) -> bool:
    """Whether nothing stands there, or these very bytes: the same call under the same key, a moment ago."""
    return not target.exists() or (target.is_file() and digest(target.read_bytes()) == sha256)


def issue_draft(job: Job, fonts: Mapping[str, bytes], target: Path, setting: Setting, preview: Path | None) -> Issued:
    """Write a draft: nothing on record, no code used."""
    check_target(target)
    data = make_pdf(job, fonts)
    leaflets = make_leaflets(job, fonts)
    publish(data, target.parent, lambda: target, lambda _: None)
    if leaflets is not None:
        put_leaflets(leaflets, target)
    return Issued(None, target, digest(data), draw_preview(data, preview, setting, job.laid.stock))


def draw_preview(data: bytes, preview: Path | None, setting: Setting, stock: Stock) -> str | None:
    """The first page as PNG beside the PDF, where one was asked for: of a thermal roll, one bit a printer dot.

    Elsewhere the labels' edges are drawn in grey, which the PDF never has.
    """
    if preview is None:
        return None
    from labeltool.output.images import with_edges
    from labeltool.output.pictures import edge_page
    from labeltool.output.png import PREVIEW_DPI, rasterise_page, write_dots, write_png

    path = setting.cwd / preview
    if stock.kind == "roll" and "thermal" in stock.medium:
        write_dots(data, path, dpi=stock.dpi)
    else:
        edges = rasterise_page(edge_page(stock), 0, PREVIEW_DPI)
        write_png(with_edges(rasterise_page(data, 0, PREVIEW_DPI), edges), path)
    return shown_path(path, setting.cwd)


def printed_words(text: LabelText) -> Words:
    """What decides whether a later print supersedes this one."""
    def say(name: str) -> tuple[str, ...]:
        return tuple(f"{block.heading} {block.text}".strip() for block in text.blocks if block.name == name)

    return Words("\n".join(say("ingredients")), say("warnings"), "\n".join(say("date")))


def date_on_label(frames: Sequence[Frame]) -> str | None:
    """The best-before date as labels have it; "" where the open jar stands instead, None where neither does.

    Of a set's products, the earliest.
    """
    words = [item for frame in frames for item in frame.words]
    dates = [text.split()[-1] for block, text in words if block == "date" and text]
    earliest = min(dates, key=lambda date: date.split("/")[::-1], default=None)
    return earliest or ("" if any(block == "opening" for block, _ in words) else None)


def stored_fonts(store: Store, frames: tuple[Frame, ...]) -> dict[str, bytes]:
    """The fonts and pictures that frames name, from the record."""
    return {sha: store.asset(sha) for frame in frames for sha in frame.files}


def plain_stock(stock: Stock) -> Any:
    """A stock as the record keeps it."""
    return to_plain(stock)

