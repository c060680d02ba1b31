from __future__ import annotations

import os
from pathlib import Path

import pytest

from labeltool.formula.files import MOST_BYTES, Data, is_there, read_data, shown_path, text_of
from labeltool.formula.report import Report


def text(content: bytes) -> tuple[str | None, Report]:
    report = Report()
    return text_of(Data(Path("x"), "x", content), report), report


def test_paths_are_shown_from_the_current_folder(tmp_path: Path) -> None:
    assert shown_path(tmp_path / "a" / "b.toml", tmp_path) == str(Path("a", "b.toml"))
    assert shown_path(tmp_path / "b.toml", tmp_path / "a") == str(Path("..", "b.toml"))
    assert shown_path(Path("b.toml"), tmp_path) == "b.toml"
    assert shown_path(tmp_path / "b.toml", None) == "b.toml"


def test_a_file_of_just_ten_megabytes_is_read(tmp_path: Path) -> None:
    (tmp_path / "x").write_bytes(b"a" * MOST_BYTES)
    report = Report()
    data = read_data(tmp_path / "x", tmp_path, report)
    assert data is not None
    assert len(data.content) == MOST_BYTES
    assert not report.count


def test_a_file_that_grows_while_it_is_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "x").write_bytes(b"a" * (MOST_BYTES + 1))
    small = Path(__file__).stat()
    monkeypatch.setattr(Path, "stat", lambda self, **_: small)
    report = Report()
    assert read_data(tmp_path / "x", tmp_path, report) is None
    assert [item.rule for item in report.findings()] == ["file.size"]


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000, "loop", "no/where"])
def test_impossible_names_are_findings(tmp_path: Path, name: str) -> None:
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    report = Report()
    assert read_data(tmp_path / name, tmp_path, report) is None
    assert report.findings().items[0].rule in ("file.missing", "file.unreadable")


def test_a_pipe_is_no_input_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    report = Report()
    assert read_data(tmp_path / "pipe", tmp_path, report) is None
    assert [item.rule for item in report.findings()] == ["file.kind"]


def test_what_cannot_be_looked_at_may_be_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_: Path) -> bool:
        raise PermissionError

    assert not is_there(tmp_path / "nothing")
    assert not is_there(Path("a\0b"))
    monkeypatch.setattr(Path, "exists", refuse)
    assert is_there(tmp_path)


def test_a_byte_order_mark_is_no_text() -> None:
    found, report = text(b"\xef\xbb\xbfa = 1\r\n")
    assert found == "a = 1\r\n"
    assert not report.count


@pytest.mark.parametrize(("content", "rule", "line"), [
    (b"a\nb\xff", "file.encoding", 2), (b"a\r\n\r\n\x07", "file.control", 3), (b"\xfe\xff\0a", "file.encoding", None),
    (b"\xed\xa0\x80", "file.encoding", 1), (b"a\x7f", "file.control", 1), (b"a\x0cb", "file.control", 1),
])
def test_what_is_no_plain_text_is_told_with_its_line(content: bytes, rule: str, line: int | None) -> None:
    found, report = text(content)
    assert found is None
    (finding,) = report.findings()
    assert (finding.rule, finding.where.line) == (rule, line)


def test_the_hash_is_of_the_bytes() -> None:
    empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert Data(Path("x"), "x", b"").sha256 == empty
