"""Every print drawn anew from the record: the same bytes, a library that changed, or a fault that is named."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from dataclasses import fields, replace

import pikepdf
import pytest
from cli_runs import BALM, CREAM, Shop, new_shop

from labeltool.codec import from_plain
from labeltool.output import pdf
from labeltool.output.drawing import drawing
from labeltool.records.model import PrintFacts, PrintOrder
from labeltool.records.store import open_store
from labeltool.typeset.frame import Frame, Picture
from labeltool.workflow import redrawing

SMALL = ("--stock", "a4-3x8-63.5x33.9", "--artwork", "back")


@pytest.fixture(scope="module")
def once_printed(tmp_path_factory):
    """A workshop with prints of many kinds: places, leaflets, two artworks, batches that share a sheet, a roll."""
    shop = new_shop(tmp_path_factory.mktemp("proving"))
    first = shop.document("print", CREAM, *SMALL, "--leaflet", "--count", "5", "--no-verify")["code"]
    second = shop.document("print", BALM, "--places", "2,5-7", "--no-verify")["code"]
    shop.done("print", f"{first}:2", f"{second}:3", "--stock", "a4-2x4-99.1x67.7", "--no-verify")
    shop.done("print", BALM, "--artwork", "front", "--artwork", "back", "--count", "2", "--no-verify")
    shop.done("reprint", first, "--print", "1", "--count", "3", "--why", "wet", "--no-verify")
    shop.done("print", BALM, "--stock", "roll-100x40-300dpi", "--count", "3", "--no-verify")
    return shop


@pytest.fixture
def shop(once_printed, tmp_path):
    return Shop(shutil.copytree(once_printed.folder, tmp_path / "shop"))


def record(shop):
    return shop.folder / "records.sqlite"


def behind_its_back(path, statement):
    """Change a record without its guards, which stand again afterwards."""
    db = sqlite3.connect(path, isolation_level=None)
    guards = db.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for name, _ in guards:
        db.execute(f"DROP TRIGGER {name}")
    db.execute(statement)
    for _, sql in guards:
        db.execute(sql)
    db.close()


def checked(shop, *call):
    """What `records check` says, findings and result together."""
    ran = shop.run("records", "check", *call)
    return ran.code, ran.err + ran.out


def put_on_record(shop, data, change=lambda extra: extra, sha256=None, **facts):
    """One more print of the balm like its first, with other bytes and another row."""
    with open_store(record(shop), create=False) as store:
        row = next(one for one in store.every_print() if (one.extra or {}).get("places"))
        row = store.prints(row.code)[0]
        kept = {item.name: getattr(row, item.name) for item in fields(PrintFacts)} | facts
        file = "prints/another.pdf"
        if data is not None:
            (shop.folder / file).write_bytes(data)
        digest = sha256 or hashlib.sha256(data).hexdigest()
        store.add_print(PrintOrder(**(kept | {"file": file, "sha256": digest, "extra": change(dict(row.extra))})))


def first_bytes(shop):
    with open_store(record(shop), create=False) as store:
        row = next(one for one in store.every_print() if (one.extra or {}).get("places"))
    return (shop.folder / row.file).read_bytes()


def packed_anew(data, tmp_path):
    """The same pages as other bytes, as another version of a library would write them."""
    (tmp_path / "in.pdf").write_bytes(data)
    with pikepdf.open(tmp_path / "in.pdf") as document:
        document.save(tmp_path / "out.pdf", deterministic_id=True)
    return (tmp_path / "out.pdf").read_bytes()


def older(extra):
    return extra | {"drawn": extra["drawn"] | {"by": extra["drawn"]["by"] | {"reportlab": "3.6.0"}}}


def bare(extra):
    return {key: value for key, value in extra.items() if key != "drawn"}


def test_prints_of_every_kind_come_out_as_printed(shop):
    code, said = checked(shop)
    assert (code, said.count("drawn anew: 8 printed files, byte for byte as printed")) == (0, 1), said
    assert "the record is sound" in said


def test_a_print_keeps_what_drew_it(shop):
    with open_store(record(shop), create=False) as store:
        kept = [row.extra["drawn"] for row in store.every_print()]
    assert {item["by"]["reportlab"] for item in kept} == {pdf.REPORTLAB}
    assert all(set(item["by"]) == {"labeltool's PDF writer", "reportlab", "zlib"} for item in kept)


def test_the_latest_prints_alone_can_be_drawn_and_a_shared_sheet_stays_whole(shop):
    for last, files in ((1, 1), (2, 3), (3, 4), (4, 5), (5, 5), (6, 6), (100, 8)):
        code, said = checked(shop, "--frames", str(last))
        assert (code, f"drawn anew: {files} printed file" in said) == (0, True), (last, said)
    assert "drawn anew" not in checked(shop, "--frames", "0")[1]


def test_a_library_that_changed_is_named_and_the_pixels_are_looked_at(shop, tmp_path):
    put_on_record(shop, packed_anew(first_bytes(shop), tmp_path), older)
    code, said = checked(shop)
    assert code == 0
    assert f"reportlab 3.6.0 → {pdf.REPORTLAB}: in other bytes than printed: prints/another.pdf" in said
    assert "1 drawn to the pixel as printed" in said and "8 byte for byte as printed" in said


def test_without_the_file_the_pixels_are_said_not_to_be_known(shop):
    put_on_record(shop, None, older, sha256="1" * 64)
    code, said = checked(shop)
    assert (code, "1 not there as printed to be looked at" in said) == (1, True)  # 1: the file is missing


def test_another_version_does_not_excuse_other_pixels(shop):
    with open_store(record(shop), create=False) as store:
        other = next(row for row in store.every_print() if not (row.extra or {}).get("places"))
    put_on_record(shop, (shop.folder / other.file).read_bytes(), older)
    code, said = checked(shop)
    assert code == 1 and "something else than was printed" in said and "reportlab 3.6.0" in said


def test_other_bytes_by_the_same_versions_are_an_error(shop, tmp_path):
    put_on_record(shop, packed_anew(first_bytes(shop), tmp_path))
    code, said = checked(shop)
    assert code == 1 and "error: prints/another.pdf" in said
    assert "though what draws it is unchanged: to the pixel what was printed" in said


def test_a_print_of_before_is_proved_by_its_bytes_or_said_to_be_unproved(shop, tmp_path):
    put_on_record(shop, first_bytes(shop), bare)
    assert "9 printed files, byte for byte as printed" in checked(shop)[1]
    put_on_record(shop, packed_anew(first_bytes(shop), tmp_path), bare)
    code, said = checked(shop)
    assert "the record does not say what drew them: prints/another.pdf" in said
    assert code == 0  # the later print's file is the one that lies there


def test_a_frame_that_was_exchanged_is_found_by_what_it_draws(shop):
    """Every hash of the record proves: only drawing it shows that this frame never was in that file."""
    with open_store(record(shop), create=False) as store:
        row = next(one for one in store.every_print() if (one.extra or {}).get("places"))
        frame = store.prints(row.code)[0].frames[0]
    run = next(item for item in frame["items"] if item["$"] == "TextRun")
    items = [item | {"x_mm": item["x_mm"] + 0.5} if item is run else item for item in frame["items"]]
    put_on_record(shop, first_bytes(shop), frames=(frame | {"items": items},))
    code, said = checked(shop)
    assert code == 1 and "another.pdf comes out in other bytes" in said and "something else than was printed" in said


@pytest.mark.parametrize(("kind", "lost"), [("font", 6), ("frame", 1)])
def test_a_font_or_frame_with_a_flipped_letter_is_found(shop, kind, lost):
    which = f"SELECT sha256 FROM asset WHERE kind = '{kind}' ORDER BY length(data) DESC LIMIT 1"
    flipped = "substr(data, 1, 899) || 'zz' || substr(data, 902)"
    behind_its_back(record(shop), f"UPDATE asset SET data = {flipped} WHERE sha256 = ({which})")
    code, said = checked(shop)
    assert code == 1 and f"the {kind} " in said and "has been altered" in said
    assert said.count("cannot be drawn again: the asset") >= lost, said


def test_an_altered_event_ends_the_drawing_and_is_told(shop):
    body = "replace(body, '\"labels\":2', '\"labels\":9')"
    behind_its_back(record(shop), f"UPDATE event SET body = {body} WHERE kind = 'print'")
    code, said = checked(shop)
    assert code == 1 and "has been altered" in said and "Traceback" not in said


def test_leaflets_are_files_of_the_record(shop):
    names = sorted(path.name for path in (shop.folder / "prints").glob("*-leaflet.pdf"))
    assert len(names) == 2
    leaflet = shop.folder / "prints" / names[0]
    leaflet.write_bytes(leaflet.read_bytes() + b"\n%")
    code, said = checked(shop)
    assert code == 1 and f"{names[0]} is not the file that was written with print 1" in said
    leaflet.unlink()
    code, said = checked(shop)
    assert code == 1 and f"{names[0]}, print 1 of batch" in said and "is missing" in said


def test_a_draft_is_no_print_that_the_record_lacks(shop):
    shop.done("print", BALM, "--draft", "--count", "1")
    assert checked(shop)[0] == 0
    shutil.copy(shop.folder / "prints" / f"draft-{BALM}.pdf", shop.folder / "prints" / "found.pdf")
    code, said = checked(shop)
    assert code == 1 and "prints/found.pdf is on no record" in said


def test_pillow_counts_where_a_picture_is_drawn_alone(shop):
    with open_store(record(shop), create=False) as store:
        row = next(iter(store.every_print()))
        frame = from_plain(Frame, store.value(row.frames[0]))
    assert "pillow" not in drawing((frame,))
    item = Picture(0, 0, 5, 5, "0" * 64, False, "logo")
    assert "pillow" in drawing((replace(frame, items=(*frame.items, item)),))


def test_equal_prints_into_one_named_file_are_not_taken_for_a_shared_sheet(shop):
    with open_store(record(shop), create=False) as store:
        rows = list(store.every_print())
    shared = [row for row in rows if (row.extra or {}).get("shared")]
    assert len(shared) == 2
    assert [len(group) for group in redrawing.by_file([*shared, *shared, *rows[:1], *rows[:1]])] == [2, 2, 1, 1]
