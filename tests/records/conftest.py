from __future__ import annotations

from pathlib import Path

import pytest

from labeltool.records.store import open_store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "records.sqlite"


@pytest.fixture
def store(path: Path):
    with open_store(path) as opened:
        yield opened
