"""The command as a process of its own: streams, pipes, encodings, exit codes."""

from __future__ import annotations

import json
import os
import subprocess

import pytest
from cli_runs import BALM, command, environment, process


def test_from_nothing_to_labels(tmp_path):
    assert process("start", "shop", cwd=tmp_path).code == 0
    ran = process("print", "shop/formulas/*.toml", "--count", "1", "--json", cwd=tmp_path)
    assert ran.code == 0, ran.err
    files = [item["file"] for item in json.loads(ran.out)["items"]]
    assert len(files) == 2 and all((tmp_path / name).is_file() for name in files)
    assert process("records", "check", "--workshop", "shop", cwd=tmp_path).code == 0
    wrong = process("print", "shop/formulas/plain-foot-blam.toml", cwd=tmp_path)
    assert wrong.code == 2 and wrong.out == "" and wrong.err.startswith("error: ")


def test_no_colour_goes_into_a_pipe(printed_shop):
    ran = process("print", "nothing-here", cwd=printed_shop.folder)
    assert "\x1b" not in ran.err + ran.out


@pytest.mark.parametrize("encoding", ["latin-1", "cp1252"])
def test_console_that_cannot_show_a_letter_gets_an_escape(shop, encoding):
    shop.change(f"formulas/{BALM}.toml", '"Plain Foot Balm"', '"Żółty Balm"')
    ran = subprocess.run(command("declare", BALM), cwd=shop.folder, capture_output=True, check=False,
                         env=environment() | {"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"})
    assert ran.returncode == 0, ran.stderr
    assert b"\\u017b" in ran.stdout and b"Traceback" not in ran.stderr


def test_reader_that_goes_away_is_no_error(printed_shop):
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "wb") as pipe:
        ran = subprocess.run(command("stock", "list", "--json"), cwd=printed_shop.folder, stdout=pipe,
                             stderr=subprocess.PIPE, env=environment(), check=False)
    assert b"Traceback" not in ran.stderr and b"Error" not in ran.stderr


def test_control_characters_of_files_do_not_reach_the_terminal(shop):
    shop.change(f"formulas/{BALM}.toml", '"Plain Foot Balm"', '"Plain \\u001b[31m\\u202eFoot Balm"')
    for name in ("declare", "check", "print"):
        ran = process(name, BALM, cwd=shop.folder)
        assert "\x1b" not in ran.out + ran.err and "\u202e" not in ran.out + ran.err
