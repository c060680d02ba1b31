"""A real browser without a window, and the checker of HTML, for the tests of the pages."""

from __future__ import annotations

import importlib.util
import json
import shutil
import subprocess
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from source_tree import ROOT

sys.path.insert(0, str(ROOT / "tools"))
BROWSERS: tuple[str, ...] = importlib.import_module("system_packages").BROWSERS
PHONE, DESKTOP = (360, 640), (1280, 800)
QUIET = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--no-sandbox"]


@contextmanager
def browser() -> Iterator[Browser]:
    """The system's Chromium; it may ask no host but what a test opens."""
    path = next(found for name in BROWSERS if (found := shutil.which(name)))
    with sync_playwright() as tools:
        running = tools.chromium.launch(executable_path=path, args=QUIET)
        yield running
        running.close()


@dataclass
class Watched:
    """A page of the browser, with what it said and whom it asked."""

    page: Page
    console: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def hosts(self) -> set[str]:
        """Every host and port that was asked."""
        return {urlsplit(address).netloc for address in self.asked}


def watched(context: BrowserContext) -> Watched:
    """A new page whose console, faults and requests are kept."""
    kept = Watched(context.new_page())
    kept.page.on("console", lambda said: kept.console.append(said.text))
    kept.page.on("pageerror", lambda error: kept.console.append(str(error)))
    kept.page.on("request", lambda request: kept.asked.append(request.url))
    return kept


def accessibility_faults(page: Page, *, doubts: bool = True) -> list[tuple[str, list[str]]]:
    """What the accessibility checker finds wrong: (rule, elements), and what it has its `doubts` about.

    It cannot tell the contrast of what is scrolled out of a table, or stands on a drawing.
    """
    found: dict[str, Any] = Axe().run(page).response
    unsure = found["incomplete"] if doubts else []
    return [(item["id"], [node["html"][:200] for node in item["nodes"]]) for item in (*found["violations"], *unsure)]


def html_faults(files: Iterable[Path]) -> list[str]:
    """Everything the HTML checker says of some files, warnings and remarks too."""
    spec = importlib.util.find_spec("html_checker")
    assert spec is not None and spec.submodule_search_locations
    jar = Path(spec.submodule_search_locations[0]) / "vnujar" / "vnu.jar"
    command = ["java", "-jar", str(jar), "--format", "json", "--stdout", "--exit-zero-always", *map(str, files)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    said = json.loads(done.stdout)["messages"]
    return [f"{item['url'].rsplit('/', 1)[-1]}:{item.get('lastLine')}: {item['message']}" for item in said]
