"""Whatever happens to a file of the book: findings with a place, never a traceback, and what is accepted builds. The long run is in tests/fuzz."""

import shutil
from random import Random

import pytest
from building import make_paper, make_site
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from mutations import by_bytes, by_parts

from fettlebook.book.kept import Kept
from fettlebook.book.load import load
from fettlebook.check.report import as_annotations, as_json, report_lines
from fettlebook.check.rules import findings
from fettlebook.plugin import build_site

FILES = ["replace-a-plug-seal.yml", "leaks/find-a-leak.yml", "shop/workshop.yml", "shop/machines/blue-lathe.yml", "shop/glossary.yml", "shop/cautions.yml",
         "shop/steps.yml", "shop/records/plug-2026-11-25.json"]  # fmt: skip
PREVIEWED_IN = 30
WRITTEN_IN = 40


@pytest.fixture(scope="module")
def demo(root, tmp_path_factory):
    return book_to_spoil(root, tmp_path_factory.mktemp("book"))


@pytest.fixture(scope="module")
def kept():
    return Kept(keeping=True)


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
    return book, found


def book_to_spoil(root, folder):
    """A small book in FOLDER that can be built."""
    shutil.copytree(root / "tests/book/demo/procedures", folder / "procedures")
    shutil.copy(root / "mkdocs.yml", folder)
    (folder / "docs").mkdir()
    (folder / "docs/about.md").write_text("# About\n", encoding="utf-8")
    return folder


def spoilt_and_tried(demo, kept, random):
    """One file spoilt: a book without faults is built, sheets included; one with faults is shown by the preview now and then."""
    path = demo / "procedures" / random.choice(FILES)
    good = path.read_bytes()
    bad = random.choice([by_bytes, by_parts])(random, good)
    note(f"{path.name}: {bad!r}")
    try:
        path.write_bytes(bad)
        book, found = read_and_report(demo)
        if not any(not one.mild for one in found):
            make_site(book, kept)
            make_paper(book, random)
            if random.randrange(WRITTEN_IN) == 0:
                build_site(demo, demo / "site", book, with_sheets=False)
        elif random.randrange(PREVIEWED_IN) == 0:
            make_site(book, kept)
    finally:
        path.write_bytes(good)


@settings(
    max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(seed=st.integers(0, 2**63))
def test_no_traceback_whatever_is_written(demo, kept, seed):
    spoilt_and_tried(demo, kept, Random(seed))
