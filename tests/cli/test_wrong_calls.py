"""Wrong calls: each is refused with a reason, and nothing is written."""

from __future__ import annotations

import json

import pytest
from cli_runs import BALM, CREAM, tree

FILE = f"formulas/{BALM}.toml"
CALLS = [
    ("print",), ("print", ""), ("print", "*.toml"), ("print", "formulas/*.csv"), ("print", "formulas/no-such.toml"),
    ("print", "formulas"), ("print", "formulas/"), ("print", "."), ("print", ".."), ("print", "workshop.toml"),
    ("print", "materials.toml"), ("print", "prints/260503A31-1.pdf"), ("print", "records.sqlite"),
    ("print", "x" * 5000), ("print", "../" * 50 + "x.toml"), ("print", "a\nb"), ("print", "\u202e260503A32"),
    ("print", BALM, "--count", "0"), ("print", BALM, "--count", "-1"), ("print", BALM, "--count", "1000001"),
    ("print", BALM, "--count", "9" * 40), ("print", BALM, "--count", "2.5"), ("print", BALM, "--count", "many"),
    ("print", BALM, "--count", ""), ("print", BALM, "--skip", "99"), ("print", BALM, "--skip", "-1"),
    ("print", BALM, "--skip", "25"), ("print", BALM, "--skip", "9" * 30),
    ("print", BALM, "--stock", "roll-100x40-300dpi", "--skip", "1"),
    ("print", BALM, "--stock", "roll-100x40-300dpi", "--places", "1"),
    ("print", BALM, "--places", "0"), ("print", BALM, "--places", "25"), ("print", BALM, "--places", "5-2"),
    ("print", BALM, "--places", "1,1"), ("print", BALM, "--places", ""), ("print", BALM, "--places", "a"),
    ("print", BALM, "--places", "1-" + "9" * 30),
    ("print", BALM, "--places", "1", "--skip", "1"),
    ("print", BALM, "--size", "0"), ("print", BALM, "--size", "-5 g"), ("print", BALM, "--size", "500"),
    ("print", BALM, "--size", "NaN g"), ("print", BALM, "--size", "5 spoons"), ("print", BALM, "--size", "1e400 g"),
    ("print", BALM, "--made", "31.12.2026"), ("print", BALM, "--made", "2026-13-01"), ("print", BALM, "--on", "soon"),
    ("print", BALM, "--made", "0001-01-01"), ("print", BALM, "--made", "9999-12-31"),
    ("print", BALM, "--stock", "no-such"), ("print", BALM, "--stock", ""),
    ("print", BALM, "--stock", "../../etc/passwd"),
    ("print", BALM, "--artwork", "no-such"), ("print", BALM, "--artwork", ""),
    ("print", BALM, "--stock", "a4-5x13-38.1x21.2"), ("print", BALM, "--stock", "a4-8x12-round-20"),
    ("print", BALM, "--artwork", "front", "--stock", "a4-8x12-round-20"),
    ("print", BALM, "--no-such-option"), ("print", BALM, "--workshop", "missing"), ("print", BALM, "--workshop", FILE),
    ("print", BALM, "--workshop", ""), ("print", "--from", "missing.csv"), ("print", "--from", "formulas"),
    ("print", "--from", FILE), ("print", BALM, "-o", ""), ("print", BALM, "-o", "a\0b.pdf"),
    ("print", "260503A31:0"), ("print", "260503A31:5", "260503B28"), ("print", "260503A31:1", "260503A31:2"),
    ("print", "260503A31:5", "260503B28:99999999"), ("print", "260503A31", "--made", "2026-05-01"),
    ("declare", "formulas/no-such.toml"), ("declare", BALM, "--on", "5/6/26"), ("declare", "260503A31"),
    ("declare", FILE, CREAM), ("check", "260503A31"), ("check", BALM, "--stock", "no-such"),
    ("check", BALM, "--artwork", "bakc"), ("start", FILE), ("start", "formulas"), ("start", ""),
    ("reprint", "260503A31", "--why", "x", "--print", "9"), ("reprint", "260503A31", "--why", "x", "--print", "0"),
    ("reprint", "260503A31", "--why", "x", "--artwork", "front"), ("reprint", "", "--why", "x"),
    ("reprint", "260503A31", "--why", "x", "--count", "0"), ("reprint", "260503A31", "--why", "x", "--skip", "9"),
    ("reprint", "260503A31", "--why", "x", "--stock", "no-such"), ("reprint", BALM, "--why", "x"),
    ("reprint", "260503A31", "--why", "x", "--stock", "a4-8x12-round-20"),
    ("batch", "open", "no-such"), ("batch", "open", "260503A31"), ("batch", "open", BALM, "--size", "0 g"),
    ("batch", "open", BALM, "--made", "2030-01-01"), ("batch", "show", "999999Z99"), ("batch", "show", ""),
    ("stock", "show", ""), ("stock", "show", "a4"), ("stock", "show", "a4-3x8-63.5x33.9", "-o", "missing/x.png"),
    ("stock", "show", "a4-3x8-63.5x33.9", "-o", "x.gif"), ("artwork", "show", "back", "-o", "formulas"),
    ("artwork", "show", "back", "--stock", "a4-8x12-round-20", "-o", "x.png"), ("artwork", "show", "no-such"),
    ("records", "backup", "missing/x.sqlite"), ("records", "backup", "records.sqlite"), ("records", "backup", FILE),
    ("records", "export", "-o", "missing/x.jsonl"), ("records", "export", "-o", "records.sqlite"),
    ("records", "restore", "missing.sqlite"), ("records", "restore", FILE), ("records", "restore", "records.sqlite"),
    ("verify", "missing.pdf"), ("verify", FILE), ("verify", "formulas"), ("verify",),
]
JSON = {"print", "declare", "check", "reprint", "verify"}


def short(call):
    return " ".join(word if len(word) < 40 else f"{word[:10]}..." for word in call).encode("unicode_escape").decode()


@pytest.mark.parametrize("call", CALLS, ids=map(short, CALLS))
def test_wrong_call_is_refused_with_a_reason_and_writes_nothing(printed_shop, call):
    before = tree(printed_shop.folder)
    ran = printed_shop.run(*call)
    assert ran.code == 2, (ran.code, ran.err)
    assert ran.err.startswith("error: "), ran.err
    assert ran.out == "" and "Traceback" not in ran.err and "fault of labeltool" not in ran.err
    assert len(ran.err) < 4000
    assert tree(printed_shop.folder) == before
    if call[0] in JSON:
        again = printed_shop.run(*call, "--json")
        problems = json.loads(again.out)["problems"]
        assert again.code == 2 and any(item["level"] == "error" for item in problems)
        assert again.err == ""
        assert tree(printed_shop.folder) == before
