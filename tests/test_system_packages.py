"""What make does where a system package is lacking: install it, or say how and stop."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from source_tree import ROOT

SUDO = 'shift\nexec "$@"\n'
INSTALLS = 'echo "$@" >> "{log}"\necho "#!/bin/sh" > "{bin}/pdftoppm"\n/bin/chmod +x "{bin}/pdftoppm"\n'
REFUSES = 'echo "$@" >> "{log}"\necho "no network" >&2\nexit 100\n'


class Machine:
    """A machine with nothing on its path but what a test puts there."""

    def __init__(self, folder: Path) -> None:
        self.bin = folder / "bin"
        self.bin.mkdir()
        self.log = folder / "log"
        self.log.touch()

    def add(self, name: str, script: str) -> None:
        path = self.bin / name
        path.write_text("#!/bin/sh\n" + script.format(log=self.log, bin=self.bin), encoding="utf-8")
        path.chmod(0o755)

    def run(self, *tasks: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, str(ROOT / "tools" / "system_packages.py"), *tasks]
        environment = os.environ | {"PATH": str(self.bin)}
        return subprocess.run(command, env=environment, capture_output=True, text=True, check=False)

    @property
    def calls(self) -> list[str]:
        return self.log.read_text(encoding="utf-8").splitlines()


@pytest.fixture
def machine(tmp_path):
    here = Machine(tmp_path)
    for name in ("chromium", "java"):
        here.add(name, "")
    return here


@pytest.mark.parametrize(
    ("manager", "calls"),
    [
        ("apt-get", ["update", "install -y --no-install-recommends poppler-utils"]),
        ("dnf", ["install -y poppler-utils"]),
        ("apk", ["add poppler-utils"]),
        ("brew", ["install poppler"]),
    ],
)
def test_what_is_lacking_is_installed(machine, manager, calls):
    machine.add("sudo", SUDO)
    machine.add(manager, INSTALLS)
    result = machine.run("test")
    assert (result.returncode, machine.calls) == (0, calls), result.stderr


def test_nothing_is_done_where_nothing_is_lacking(machine):
    machine.add("apt-get", INSTALLS)
    machine.add("pdftoppm", "")
    assert machine.run("test").returncode == 0
    assert machine.calls == []


def test_a_refused_install_stops_with_the_command(machine):
    machine.add("sudo", SUDO)
    machine.add("apt-get", REFUSES)
    result = machine.run("test")
    assert result.returncode == 1
    assert "pdftoppm" in result.stderr
    assert "do: sudo apt-get install -y --no-install-recommends poppler-utils" in result.stderr


def test_without_a_package_manager_it_stops_and_says_so(machine):
    result = machine.run("test")
    assert result.returncode == 1
    assert "do: install it with the package manager of this system" in result.stderr


def test_an_unknown_task_is_a_wrong_call(machine):
    assert machine.run("tset").returncode == 2
    assert machine.run().returncode == 2
