"""The same inputs on the same day give the same bytes, in any folder, at any time, in any process."""

from __future__ import annotations

import hashlib

import pytest
from cli_runs import BALM, CREAM, new_shop, process

CALLS = [
    (CREAM, "--count", "2"), (BALM, "--count", "5", "--skip", "3"),
    (BALM, "--stock", "roll-100x40-300dpi", "--count", "3"),
    (CREAM, "--artwork", "front", "--artwork", "back", "--stock", "a4-2x2-99.1x139", "--count", "1"),
    (BALM, "--draft", "--count", "1"),
]


@pytest.mark.parametrize("call", CALLS, ids=" ".join)
def test_two_workshops_print_the_same_bytes(tmp_path, call):
    shops = [new_shop(tmp_path, name) for name in ("one", "another with a longer name")]
    found = [shop.document("print", *call, "--made", "2026-05-01") for shop in shops]
    files = [(shop.folder / item["file"]).read_bytes() for shop, item in zip(shops, found, strict=True)]
    assert files[0] == files[1]
    assert found[0] == found[1]
    if "--draft" not in call:
        assert hashlib.sha256(files[0]).hexdigest() == found[0]["sha256"]


def test_bytes_do_not_hang_on_the_order_of_hashing(tmp_path):
    digests = set()
    for seed in ("0", "1", "4711"):
        shop = new_shop(tmp_path, f"seed-{seed}")
        ran = process("print", CREAM, "--made", "2026-05-01", "--on", "2026-05-03", "--json", cwd=shop.folder,
                      env={"PYTHONHASHSEED": seed, "TZ": "Pacific/Auckland" if seed == "1" else "UTC", "LC_ALL": "C"})
        assert ran.code == 0, ran.err
        digests.add(ran.json["sha256"])
    assert len(digests) == 1


def test_key_in_the_link_is_drawn_anew_for_each_batch_and_kept_with_it(tmp_path):
    shop = new_shop(tmp_path)
    shop.change("workshop.toml", '# link = "https://workshop.example/B/{code}"',
                'link = "https://workshop.example/B/{code}-{key}"')
    first, second = (shop.document("print", BALM, "--count", "1") for _ in range(2))
    keys = [item["qr"].rpartition("-")[2] for item in (first, second)]
    assert keys[0] != keys[1] and all(len(key) == 8 for key in keys)
    assert all(set(key) <= set("23456789ABCDEFGHJKMNPQRSTVWXYZ") for key in keys)
    assert shop.document("print", first["code"], "--count", "1")["qr"] == first["qr"]
    assert shop.document("reprint", first["code"], "--why", "x")["qr"] == first["qr"]
