"""Small files, small functions, and no word of one machine in the tracked files."""

from __future__ import annotations

import re
from statistics import median

from source_tree import ROOT, functions, package_sources, tracked_files

MOST_LINES_OF_A_FILE = 400
MOST_LINES_OF_A_FUNCTION = 40
PLACES = ("work", "home", "root", "Users")
INDEX = re.compile(r"(?i)https?://(?:[\w-]+\.)*(?:registry|proxy|mirrors?|index|packages)\.[\w.-]+|--(?:extra-)?index-url")
MACHINE = re.compile(r"(?<![\w.*}])/(?:" + "|".join(PLACES) + r")/\w|[A-Za-z]:\\\\?" + PLACES[-1] + r"\\")


def line_count(text: str) -> int:
    return text.count("\n")


def test_no_file_is_long():
    folders = ("labeltool", "tests", "tools", "bench")
    paths = [path for folder in folders for path in (ROOT / folder).rglob("*.py")]
    long = {str(path.relative_to(ROOT)): size for path in paths
            if (size := line_count(path.read_text(encoding="utf-8"))) > MOST_LINES_OF_A_FILE}
    assert long == {}


def test_no_function_is_long():
    long = [f"{module}.{name}: {size}" for module, source in package_sources().items()
            for name, size in functions(source) if size > MOST_LINES_OF_A_FUNCTION]
    assert long == []


def test_files_and_functions_are_small_on_the_whole():
    sources = package_sources()
    sizes = [line_count(source) for module, source in sources.items() if not module.endswith("__init__")]
    lengths = [size for source in sources.values() for _, size in functions(source)]
    assert median(sizes) <= 130
    assert median(lengths) <= 10


def texts() -> dict[str, str]:
    """The tracked files that are text, by name."""
    found = {}
    for path in tracked_files():
        data = path.read_bytes()
        if b"\0" not in data:
            found[path.relative_to(ROOT).as_posix()] = data.decode("utf-8")
    return found


def test_no_place_of_one_machine_is_tracked():
    found = [f"{name}: {match.group()}" for name, text in texts().items() for match in MACHINE.finditer(text)]
    assert found == []


def test_no_package_registry_is_tracked():
    found = [f"{name}: {match.group()}" for name, text in texts().items() for match in INDEX.finditer(text)]
    assert found == []


def test_the_words_looked_for_are_found():
    for place in PLACES:
        assert MACHINE.search(f"see '/{place}/x/y'")
    assert INDEX.search("https:" + "//registry.example.org/x") and INDEX.search("pip install -" + "-index-url x")
    assert MACHINE.search("C:" + "\\" + "Users" + "\\" + "x")
    assert not MACHINE.search("labeltool/" + "workflow and ./home/x or framework/")
