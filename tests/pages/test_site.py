"""The folder for a web host: what is written, what is left, what is never touched."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from labeltool.errors import InputError
from labeltool.pages.site import MADE_HERE, MANIFEST, Laid, Site

SECRET = "a1" * 32
MARK = MADE_HERE.decode()
ONE, TWO = "B/260503A31/index.html", "B/260503B28/index.html"


def text(words: str) -> str:
    return f"<!DOCTYPE html>{MARK}<p>{words}</p>"


def lay(folder: Path, pages: dict[str, str], secret: str = SECRET) -> Laid:
    return Site(folder, secret).lay({name: text(words) for name, words in pages.items()})


def files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if not path.is_dir()}


def counts(laid: Laid) -> tuple[int, int, int]:
    return laid.written, laid.same, laid.removed


def test_only_what_changed_is_written(tmp_path: Path) -> None:
    assert counts(lay(tmp_path, {ONE: "one", TWO: "two"})) == (2, 0, 0)
    before = {name: (tmp_path / name).stat().st_mtime_ns for name in (ONE, TWO, MANIFEST)}
    assert counts(lay(tmp_path, {ONE: "one", TWO: "two"})) == (0, 2, 0)
    assert {name: (tmp_path / name).stat().st_mtime_ns for name in before} == before
    assert counts(lay(tmp_path, {ONE: "one", TWO: "other"})) == (1, 1, 0)
    assert (tmp_path / ONE).stat().st_mtime_ns == before[ONE]
    assert (tmp_path / TWO).read_text() == text("other")


def test_what_was_lost_or_spoiled_comes_back(tmp_path: Path) -> None:
    lay(tmp_path, {ONE: "one", TWO: "two"})
    (tmp_path / ONE).unlink()
    (tmp_path / TWO).write_text(text("spoiled"))
    assert counts(lay(tmp_path, {ONE: "one", TWO: "two"})) == (2, 0, 0)


def test_a_page_that_no_longer_belongs_goes_with_its_empty_folder(tmp_path: Path) -> None:
    lay(tmp_path, {ONE: "one", TWO: "two"})
    assert counts(lay(tmp_path, {ONE: "one"})) == (0, 1, 1)
    assert files(tmp_path) == {ONE, MANIFEST}
    assert not (tmp_path / TWO).parent.exists()


def test_a_folder_with_something_else_in_it_stays(tmp_path: Path) -> None:
    lay(tmp_path, {TWO: "two"})
    (tmp_path / TWO).with_name("photo.jpg").write_bytes(b"x")
    lay(tmp_path, {})
    assert files(tmp_path) == {"B/260503B28/photo.jpg", MANIFEST}


class TestForeign:
    def test_files_of_others_stay_even_where_they_look_like_pages(self, tmp_path: Path) -> None:
        for name in ("index.html", "B/old/index.html", "B/260503A31/more.html", "robots.txt"):
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).write_text(text("copied by hand"))
        lay(tmp_path, {ONE: "one"})
        assert counts(lay(tmp_path, {})) == (0, 0, 1)
        assert files(tmp_path) == {"index.html", "B/old/index.html", "B/260503A31/more.html", "robots.txt", MANIFEST}

    def test_a_copy_of_a_page_under_another_name_stays(self, tmp_path: Path) -> None:
        lay(tmp_path, {ONE: "one"})
        (tmp_path / "copy.html").write_text(text("one"))
        lay(tmp_path, {})
        assert files(tmp_path) == {"copy.html", MANIFEST}

    def test_one_in_the_way_stops_all_before_anything_is_written(self, tmp_path: Path) -> None:
        (tmp_path / TWO).parent.mkdir(parents=True)
        (tmp_path / TWO).write_text("<p>mine</p>")
        with pytest.raises(InputError) as error:
            lay(tmp_path, {ONE: "one", TWO: "two"})
        assert [item.rule for item in error.value.findings] == ["pages.foreign"]
        assert files(tmp_path) == {TWO}
        assert (tmp_path / TWO).read_text() == "<p>mine</p>"

    @pytest.mark.parametrize("name", ["B", "B/260503A31"])
    def test_a_file_where_a_folder_belongs(self, tmp_path: Path, name: str) -> None:
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("mine")
        with pytest.raises(InputError):
            lay(tmp_path, {ONE: "one"})
        assert files(tmp_path) == {name}

    def test_a_folder_where_a_page_belongs(self, tmp_path: Path) -> None:
        (tmp_path / ONE).mkdir(parents=True)
        with pytest.raises(InputError):
            lay(tmp_path, {ONE: "one"})

    @pytest.mark.parametrize("name", ["B", "B/260503A31", ONE])
    def test_a_link_to_elsewhere_is_not_followed(self, tmp_path: Path, name: str) -> None:
        site, away = tmp_path / "site", tmp_path / "away"
        (site / name).parent.mkdir(parents=True)
        away.mkdir()
        (site / name).symlink_to(away / "x" if name == ONE else away)
        with pytest.raises(InputError):
            lay(site, {ONE: "one"})
        assert files(away) == set()

    def test_a_page_changed_by_hand_stays_and_is_told_every_time(self, tmp_path: Path) -> None:
        lay(tmp_path, {ONE: "one"})
        (tmp_path / ONE).write_text(text("mine now"))
        for _ in range(2):
            laid = lay(tmp_path, {})
            assert laid.removed == 0
            assert [item.rule for item in laid.findings] == ["pages.changed"]
        assert files(tmp_path) == {ONE, MANIFEST}

    def test_another_records_pages_in_the_same_folder_stay(self, tmp_path: Path) -> None:
        lay(tmp_path, {ONE: "one"}, "b2" * 32)
        lay(tmp_path, {TWO: "two"})
        lay(tmp_path, {})
        assert files(tmp_path) == {ONE, MANIFEST}


class TestManifest:
    def test_it_tells_no_path(self, tmp_path: Path) -> None:
        lay(tmp_path, {"B/260503A31/KEYKEY22/index.html": "one"})
        kept = (tmp_path / MANIFEST).read_text()
        assert "KEYKEY22" not in kept and "260503A31" not in kept
        (mark,) = json.loads(kept)["files"]
        other = tmp_path / "other"
        other.mkdir()
        lay(other, {"B/260503A31/KEYKEY22/index.html": "one"}, "b2" * 32)
        assert mark not in (other / MANIFEST).read_text()

    @pytest.mark.parametrize("damage", ["", "{", "[]", '{"format":1,"files":[]}', '{"format":9,"files":{}}', "\0"])
    def test_without_it_pages_are_replaced_and_nothing_is_removed(self, tmp_path: Path, damage: str) -> None:
        lay(tmp_path, {ONE: "one", TWO: "two"})
        (tmp_path / MANIFEST).write_text(damage)
        assert counts(lay(tmp_path, {ONE: "new"})) == (1, 0, 0)
        assert (tmp_path / TWO).exists()

    def test_a_build_that_died_halfway_leaves_nothing_that_the_next_does_not_know(self, tmp_path: Path) -> None:
        site = Site(tmp_path, SECRET)

        def dies(items, length):
            yield next(iter(items))
            raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            site.lay({ONE: text("one"), TWO: text("two")}, dies)
        assert files(tmp_path) == {ONE, MANIFEST}
        assert counts(lay(tmp_path, {TWO: "two"})) == (1, 0, 1)
        assert files(tmp_path) == {TWO, MANIFEST}

    def test_half_a_file_of_a_killed_build_is_swept_once_it_is_old(self, tmp_path: Path) -> None:
        young, old = tmp_path / ".labeltool-a.tmp", tmp_path / ".labeltool-b.tmp"
        young.write_text("x")
        old.write_text("x")
        os.utime(old, (0, 0))
        lay(tmp_path, {})
        assert young.exists() and not old.exists()
