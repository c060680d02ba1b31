"""Install the system packages that a task needs, or say the command and stop.

Usage: python tools/system_packages.py TASK…   (TASK: run, test, venv)
"""

from __future__ import annotations

import ctypes.util
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Need:
    """Something outside Python: whether it is here, and the package that holds it, by package manager."""

    what: str
    is_here: Callable[[], bool]
    packages: dict[str, str]


@dataclass(frozen=True, slots=True)
class Manager:
    """A package manager: the commands that come before the names of packages."""

    name: str
    install: tuple[str, ...]
    refresh: tuple[str, ...] = ()
    as_root: bool = True


MANAGERS = (
    Manager("apt-get", ("apt-get", "install", "-y", "--no-install-recommends"), ("apt-get", "update")),
    Manager("dnf", ("dnf", "install", "-y")),
    Manager("apk", ("apk", "add")),
    Manager("pacman", ("pacman", "-S", "--noconfirm", "--needed")),
    Manager("zypper", ("zypper", "--non-interactive", "install")),
    Manager("brew", ("brew", "install"), as_root=False),
)

BROWSERS = ("chromium", "chromium-browser", "google-chrome")

ZBAR = Need(
    "the zbar library, which reads QR codes back",
    lambda: ctypes.util.find_library("zbar") is not None,
    {"apt-get": "libzbar0", "dnf": "zbar", "apk": "zbar", "pacman": "zbar", "zypper": "libzbar0", "brew": "zbar"},
)
POPPLER = Need(
    "poppler's pdftoppm, the second pair of eyes of the tests",
    lambda: shutil.which("pdftoppm") is not None,
    {"apt-get": "poppler-utils", "dnf": "poppler-utils", "apk": "poppler-utils", "pacman": "poppler",
     "zypper": "poppler-tools", "brew": "poppler"},
)
CHROMIUM = Need(
    "Chromium, in which the tests look at the pages",
    lambda: any(shutil.which(name) for name in BROWSERS),
    {"apt-get": "chromium", "dnf": "chromium", "apk": "chromium", "pacman": "chromium", "zypper": "chromium",
     "brew": "chromium"},
)
JAVA = Need(
    "Java, in which the tests' checker of HTML runs",
    lambda: shutil.which("java") is not None,
    {"apt-get": "default-jre-headless", "dnf": "java-latest-openjdk-headless", "apk": "openjdk17-jre-headless",
     "pacman": "jre-openjdk-headless", "zypper": "java-17-openjdk-headless", "brew": "openjdk"},
)
VENV = Need(
    "Python's venv",
    lambda: importlib.util.find_spec("ensurepip") is not None,
    {"apt-get": f"python3.{sys.version_info.minor}-venv"},
)

TASKS: dict[str, tuple[Need, ...]] = {"run": (ZBAR,), "test": (POPPLER, CHROMIUM, JAVA), "venv": (VENV,)}


def main(tasks: Sequence[str]) -> int:
    """Install what the tasks lack; the exit code is 1 where something is lacking afterwards."""
    unknown = [task for task in tasks if task not in TASKS]
    if unknown or not tasks:
        print(__doc__, file=sys.stderr)
        return 2
    wanted = [need for task in tasks for need in TASKS[task]]
    lacking = [need for need in wanted if not need.is_here()]
    if not lacking:
        return 0
    manager = next((item for item in MANAGERS if shutil.which(item.name)), None)
    if manager is not None:
        install(manager, lacking)
    still = [need for need in lacking if not need.is_here()]
    if still:
        explain(manager, still)
    return 1 if still else 0


def install(manager: Manager, lacking: Sequence[Need]) -> None:
    """Try to install, without ever asking for a password."""
    prefix = right_prefix(manager)
    names = package_names(manager, lacking)
    if prefix is None or not names:
        return
    print(f"installing {', '.join(names)}", file=sys.stderr)
    if manager.refresh:
        run((*prefix, *manager.refresh))
    run((*prefix, *manager.install, *names))


def right_prefix(manager: Manager) -> tuple[str, ...] | None:
    """What comes before a command of this manager: nothing, sudo, or None where there is no right to install."""
    if not manager.as_root or os.geteuid() == 0:
        return ()
    return ("sudo", "-n") if shutil.which("sudo") and run(("sudo", "-n", "true"), quiet=True) else None


def package_names(manager: Manager, lacking: Sequence[Need]) -> list[str]:
    """The packages that hold what is lacking."""
    return [need.packages[manager.name] for need in lacking if manager.name in need.packages]


def run(command: Sequence[str], *, quiet: bool = False) -> bool:
    """Run a command that may not ask; whether it succeeded. Its output goes to stderr."""
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    to = subprocess.DEVNULL if quiet else sys.stderr
    result = subprocess.run(command, stdin=subprocess.DEVNULL, stdout=to, stderr=to, env=environment, check=False)
    return result.returncode == 0


def explain(manager: Manager | None, lacking: Sequence[Need]) -> None:
    """Say what is lacking and the command that installs it."""
    for need in lacking:
        print(f"error: {need.what} is not installed", file=sys.stderr)
    names = package_names(manager, lacking) if manager else []
    if manager and names:
        sudo = ("sudo",) if manager.as_root else ()
        print(f"  do: {' '.join((*sudo, *manager.install, *names))}", file=sys.stderr)
    else:
        print("  do: install it with the package manager of this system", file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
