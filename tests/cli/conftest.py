"""Workshops for the tests of commands."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from cli_runs import BALM, CREAM, Shop, new_shop


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """A new workshop."""
    return new_shop(tmp_path)


@pytest.fixture(scope="session")
def printed_shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A workshop with one print of each formula, made once; to be read, not changed."""
    home = new_shop(tmp_path_factory.mktemp("printed"))
    home.done("print", CREAM, BALM, "--count", "2", "--stock", "a4-2x4-99.1x67.7")
    return home


@pytest.fixture
def used_shop(printed_shop: Shop, tmp_path: Path) -> Shop:
    """A copy of the printed workshop, to be changed."""
    return Shop(shutil.copytree(printed_shop.folder, tmp_path / "used"))
