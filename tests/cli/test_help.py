"""--help, --version and what comes of a bare or a misspelt command."""

from __future__ import annotations

import importlib
import subprocess
import sys

import click
import pytest
from cli_runs import labeltool, process
from source_tree import ROOT

from labeltool.cli.main import main

sys.path.insert(0, str(ROOT / "tools"))
PATHS = [context.command_path.split()[1:] for _, context in importlib.import_module("docs").commands()]


@pytest.mark.parametrize("words", PATHS, ids=[" ".join(words) or "labeltool" for words in PATHS])
def test_every_command_shows_an_example_that_begins_with_its_own_words(tmp_path, words):
    ran = labeltool(*words, "--help", cwd=tmp_path)
    assert ran.code == 0 and ran.err == ""
    _, _, example = ran.out.partition("Example:\n")
    assert example.strip().startswith(" ".join(["labeltool", *words]))
    assert list(tmp_path.iterdir()) == []


def test_commands_of_the_help_are_those_that_exist(tmp_path):
    listed = labeltool("--help", cwd=tmp_path).out.partition("Commands:\n")[2]
    assert [line.split()[0] for line in listed.splitlines() if line.startswith("  ") and line[2] != " "] == [
        words[0] for words in PATHS if len(words) == 1]


def test_list_of_commands_says_what_each_says_of_itself():
    for name, (_, text) in main.places.items():
        assert main.get_command(click.Context(main), name).get_short_help_str(1000) == text


def test_help_imports_no_command():
    called = "import sys; from labeltool.cli.main import run\ntry: run(['--help'])\nfinally: print(*sys.modules)"
    ran = subprocess.run([sys.executable, "-c", called], capture_output=True, text=True, check=True)
    found = [name for name in ran.stdout.split() if name.startswith("labeltool.")]
    assert found and all(name.startswith(("labeltool.cli", "labeltool.errors", "labeltool.finding")) for name in found)
    assert not any(name.startswith("labeltool.cli.") and name.rpartition(".")[2] in main.places for name in found)


def test_bare_call_shows_the_help(tmp_path):
    ran = labeltool(cwd=tmp_path)
    assert ran.code == 2 and ran.err.startswith("Usage: labeltool ") and "Example:" in ran.err
    assert process("batch", "-h", cwd=tmp_path).out.startswith("Usage: labeltool batch ")


def test_fault_of_the_program_is_one_line_with_its_place(tmp_path, monkeypatch):
    def broken(_):
        raise KeyError("inside")

    monkeypatch.setattr("labeltool.cli.start.start_workshop", broken)
    ran = labeltool("start", "shop", cwd=tmp_path)
    assert ran.code == 3 and ran.out == ""
    assert ran.err.startswith("error: ") and all(word in ran.err for word in ("test_help.py", "KeyError", "'inside'"))


def test_version(tmp_path):
    ran = labeltool("--version", cwd=tmp_path)
    assert ran.code == 0 and ran.out.startswith("labeltool, version ")


@pytest.mark.parametrize(("call", "near"), [
    (("pritn",), "print"), (("batch", "lst"), "list"), (("stock", "shw"), "show"),
    (("print", "x", "--cuont", "3"), "--count"),
])
def test_misspelt_words_are_answered_with_the_nearest(tmp_path, call, near):
    ran = labeltool(*call, cwd=tmp_path)
    assert ran.code == 2 and ran.err.startswith("error: ") and near in ran.err
