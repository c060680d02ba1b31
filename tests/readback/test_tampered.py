"""Real prints altered in one thing: every alteration is found, and what is only saved anew passes."""

import subprocess
from io import BytesIO
from types import ModuleType

import pikepdf
import pypdf
import pytest
import tampered_pages
import tampered_symbols
import tampered_words
from cli_runs import CREAM, new_shop
from tampering import mutated

from labeltool.readback.read import read_back
from labeltool.records.store import open_store
from labeltool.workflow.expecting import expected_of

A, B = "260503A31", "260503B28"


def mutations(module: ModuleType):
    return [item for name, item in vars(module).items()
            if callable(item) and item.__module__ == module.__name__ and not name.startswith("_")
            and name != "paint_all"]


ALL = [item for module in (tampered_words, tampered_symbols, tampered_pages) for item in mutations(module)]


@pytest.fixture(scope="module")
def print_on_record(tmp_path_factory):
    """A sheet with labels of two batches, and what the record says of it."""
    shop = new_shop(tmp_path_factory.mktemp("tampered"))
    for _ in range(2):
        shop.done("batch", "open", CREAM, "--made", "2026-05-03")
    shop.done("print", f"{A}:3", f"{B}:3", "--skip", "1", "--stock", "a4-2x4-99.1x67.7")
    path = shop.folder / "prints" / f"{A}-1.pdf"
    with open_store(shop.folder / "records.sqlite", create=False) as store:
        expected = expected_of(store, store.prints(A)[0])
    return shop, path, expected


def told(data: bytes, expected):
    """The rules of all that is told of a file, notes aside."""
    return {item.rule for item in read_back(data, expected).findings if item.level != "note"}


def test_there_are_many_mutations():
    assert len(ALL) == len({item.__name__ for item in ALL}) >= 115


@pytest.mark.parametrize("mutation", ALL, ids=lambda item: item.__name__)
def test_what_was_altered_is_found(mutation, print_on_record):
    _, path, expected = print_on_record
    assert told(mutated(path.read_bytes(), mutation), expected)


def by_qpdf(data, _):
    target = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.save(target, object_stream_mode=pikepdf.ObjectStreamMode.generate, linearize=True,
                 recompress_flate=True)
    return target.getvalue()


def by_pypdf(data, _):
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(BytesIO(data)))
    writer.compress_identical_objects()
    target = BytesIO()
    writer.write(target)
    return target.getvalue()


def by_pypdf_flattened(data, _):
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(BytesIO(data)))
    for page in writer.pages:
        page.compress_content_streams()
    target = BytesIO()
    writer.write(target)
    return target.getvalue()


def by_cairo(data, folder):
    (folder / "in.pdf").write_bytes(data)
    subprocess.run(["pdftocairo", "-pdf", folder / "in.pdf", folder / "out.pdf"], check=True)
    return (folder / "out.pdf").read_bytes()


@pytest.mark.parametrize("program", [by_qpdf, by_pypdf, by_pypdf_flattened], ids=lambda item: item.__name__)
def test_copy_saved_anew_passes(program, print_on_record, tmp_path):
    _, path, expected = print_on_record
    saved = program(path.read_bytes(), tmp_path)
    assert saved != path.read_bytes()
    reading = read_back(saved, expected)
    assert reading.matches and told(saved, expected) == set()


def test_copy_by_cairo_passes_and_its_lost_scaling_is_told(print_on_record, tmp_path):
    _, path, expected = print_on_record
    reading = read_back(by_cairo(path.read_bytes(), tmp_path), expected)
    assert reading.matches and {item.rule for item in reading.findings} == {"readback.print-scaling"}


def test_print_itself_passes(print_on_record):
    _, path, expected = print_on_record
    reading = read_back(path.read_bytes(), expected)
    assert reading.matches and not reading.findings
