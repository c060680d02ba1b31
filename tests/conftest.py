"""Profiles of the random tests, and the sizes of all samples at the end of a run."""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Callable, Iterator

import pytest
from hypothesis import settings

PASSED = re.compile(r"(\d+) passing")
FACTOR = int(os.environ.get("LABELTOOL_SAMPLES", "1"))
KEY = "samples"

settings.register_profile("default", deadline=None)
settings.register_profile("torture", deadline=None, max_examples=5000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "default"))


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "slow: takes many seconds (pytest -m 'not slow' leaves it out)")


@pytest.fixture
def samples(record_property: Callable[[str, object], None]) -> Callable[[int], int]:
    """How many samples to draw: the number given, times LABELTOOL_SAMPLES; it is told at the end of the run."""

    def sized(count: int) -> int:
        record_property(KEY, count * FACTOR)
        return count * FACTOR

    return sized


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[None]:
    report = yield
    text = getattr(item, "hypothesis_statistics", None)
    if text and report.when == "call":
        report.user_properties.append((KEY, sum(map(int, PASSED.findall(text)))))
    return report


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    tests, drawn = counted(terminalreporter.stats.get("passed", []))
    if not tests:
        return
    terminalreporter.section("sample sizes")
    for name in sorted(tests):
        more = f", {drawn[name]:,} random samples" if drawn[name] else ""
        terminalreporter.write_line(f"{name}: {tests[name]:,} tests{more}")
    terminalreporter.write_line(f"all: {tests.total():,} tests, {drawn.total():,} random samples")


def counted(reports: list[pytest.TestReport]) -> tuple[Counter[str], Counter[str]]:
    """Tests passed and samples drawn, by test file."""
    tests: Counter[str] = Counter()
    drawn: Counter[str] = Counter()
    for report in reports:
        name = report.nodeid.partition("::")[0].removeprefix("tests/")
        tests[name] += 1
        drawn[name] += sum(size for key, size in report.user_properties if key == KEY)
    return tests, drawn
