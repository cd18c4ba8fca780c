"""Whatever happens to a file of the book: findings with a place, never a traceback. The long run is in tests/fuzz."""

import shutil
from random import Random

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from mutations import by_bytes, by_parts

from fettlebook.book.load import load
from fettlebook.check.report import as_annotations, as_json, report_lines
from fettlebook.check.rules import findings

FILES = ["replace-a-plug-seal.yml", "leaks/find-a-leak.yml", "shop/workshop.yml", "shop/machines/blue-lathe.yml", "shop/glossary.yml", "shop/cautions.yml",
         "shop/steps.yml", "shop/records/plug-2026-11-25.json"]  # fmt: skip


@pytest.fixture(scope="module")
def demo(root, tmp_path_factory):
    folder = tmp_path_factory.mktemp("book")
    shutil.copytree(root / "tests/book/demo/procedures", folder / "procedures")
    return folder


def read_and_report(book_root):
    """Everything that a check does; gives the findings."""
    book, faults = load(book_root)
    found = sorted({*faults, *findings(book)})
    report_lines(found, book_root)
    as_annotations(found)
    as_json(found)
    for one in found:
        assert one.place.file
        assert one.what
        assert "\n" not in one.what
        assert one.rule not in {"table-failed", "drawing-failed"}, one
    whole = set(book.procedures)
    assert not {one.place.file for one in faults if not one.mild} & {book.procedures[id].place.file for id in whole}
    return found


@settings(
    max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(seed=st.integers(0, 2**63))
def test_no_traceback_whatever_is_written(demo, seed):
    random = Random(seed)
    path = demo / "procedures" / random.choice(FILES)
    good = path.read_bytes()
    bad = random.choice([by_bytes, by_parts])(random, good)
    note(f"{path.name}: {bad!r}")
    try:
        path.write_bytes(bad)
        read_and_report(demo)
    finally:
        path.write_bytes(good)
