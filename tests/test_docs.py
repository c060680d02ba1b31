"""The pages under docs/ say what the code does, and every command explains itself."""

from __future__ import annotations

import importlib
import re
import sys

import pytest
from source_tree import ROOT

sys.path.insert(0, str(ROOT / "tools"))
docs = importlib.import_module("docs")
rule_names = importlib.import_module("rule_names")
words_docs = importlib.import_module("words_docs")

COMMANDS = docs.commands()
PAGES = ["README.md", "DEVELOPERS.md", "CHANGELOG.md", *(f"docs/{path.name}" for path in (ROOT / "docs").glob("*.md"))]


def page(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def test_cli_page_is_current():
    assert page("docs/cli.md") == docs.cli_page(), "make docs"


def test_the_page_of_label_words_is_current():
    assert page("docs/languages.md") == words_docs.page(), "make docs"


def test_every_rule_has_its_line_in_the_page_of_errors():
    assert docs.gaps(page("docs/errors.md"), rule_names.rule_names(ROOT / "labeltool")) == []


def test_gaps_are_found():
    text = "## file\n\n- `file.size`: smaller\n- `file.size`: again\n- `file.gone`: x\n- `row.sum`: y\n"
    found = docs.gaps(text, ("file.size", "file.kind", "row.sum"))
    assert found == ["file.kind is left out", "file.gone is no rule of the code", "file.size is listed twice",
                     "row.sum stands under file"]


def test_rule_names_are_read_from_the_source(tmp_path):
    lines = ['Finding("one.two", "error", "x")', 'report.error("three.four", "x")', 'f(rule="no.family")',
             'NAME = "one.five-six"', 'FILE = "one.toml"', 'make(Finding, rule="y")', 'note(rule="seven.eight")']
    (tmp_path / "a.py").write_text("\n".join(lines), encoding="utf-8")
    assert rule_names.rule_names(tmp_path) == ("one.five-six", "one.two", "seven.eight", "three.four")


@pytest.mark.parametrize(("command", "context"), COMMANDS, ids=[context.command_path for _, context in COMMANDS])
def test_every_command_has_help_and_an_example(command, context):
    text = command.get_help(context)
    _, _, example = text.partition("Example:")
    assert command.help and f"labeltool {context.command_path.removeprefix('labeltool').strip()}".strip() in example
    for parameter in command.params:
        assert parameter.param_type_name == "argument" or parameter.help, f"{parameter.name} has no help"


@pytest.mark.parametrize("name", PAGES)
def test_links_lead_somewhere(name):
    for target in re.findall(r"\]\(([^)#]+)\)", page(name)):
        assert ((ROOT / name).parent / target).exists(), f"{name} links to {target}"


def test_the_commands_of_the_readme_exist():
    known = {context.command_path for _, context in COMMANDS}
    said = re.findall(r"^(?:\$ )?labeltool ([a-z]+)(?: ([a-z]+))?", page("README.md"), re.MULTILINE)
    assert len(said) > 5
    for first, second in said:
        paths = {f"labeltool {first}", f"labeltool {first} {second}".strip()}
        assert paths & known, f"labeltool {first} {second}"


def test_every_make_target_of_the_pages_exists():
    targets = set(re.findall(r"^([a-z]+):", page("Makefile"), re.MULTILINE))
    for name in PAGES:
        assert set(re.findall(r"`make ([a-z]+)`", page(name))) <= targets
