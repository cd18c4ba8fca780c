"""The page that counts what the book holds, worked out from the loaded book at every build."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from fettlebook import data
from fettlebook.book.book import Book
from fettlebook.book.counts import Counts, counted, of_book, sources_of, together
from fettlebook.book.groups import GROUPS
from fettlebook.book.kept import Kept
from fettlebook.draw.catalogue import drawings
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.writer import Writer
from fettlebook.tables.catalogue import tables

URI, TITLE = "the-book-in-numbers.html", "The book in numbers"
COLUMNS = (
    ("stages", "Stages"), ("steps", "Steps"), ("checks", "Steps with a check"), ("holds", "Signed by a second person"), ("readings", "Readings to write down"),
    ("cautions", "Cautions"), ("tables", "Tables worked out"), ("figures", "Numbers worked out"), ("worksheets", "Worksheets"),
    ("drawings", "Drawings"), ("pictures", "Pictures"), ("symptoms", "Symptoms"), ("questions", "Questions"), ("sources", "Sources"),
)  # fmt: skip
"""Field of Counts and what the page calls it."""


MOST_ROWS = 150
"""Procedures beyond which the table has a row for each group, so that the page stays light."""


def counts_page(book: Book, kept: Kept | None = None) -> Page:
    """Totals, the rest of the book, and a row for each procedure; in a large book for each group of procedures."""
    kept = kept or Kept()
    each = {p.id: kept.get(("counts", p.id), p, partial(counted, p)) for p in book.procedures.values()}
    totals = of_book(book, each.values())
    rows = [(name, link, [getattr(counts, field) for field, _ in COLUMNS]) for name, link, counts in _rows(book, each)]
    heading = "Each procedure" if len(each) <= MOST_ROWS else "Each group"
    known = {
        "heading": heading, "rows": rows, "totals": _named(totals), "labels": [label for _, label in COLUMNS], "sums": [getattr(totals, field) for field, _ in COLUMNS],
        "rest": _rest(book),
    }  # fmt: skip
    html = Writer(book, URI, {}).render("counts.html", title=TITLE, **known)
    headings = (Heading(2, "totals", "Together"), Heading(2, "each", heading))
    return Page(URI, TITLE, html, headings, "", "about", Findable("page", (("title", TITLE), ("other name", "statistics, how much is in the book"))))  # fmt: skip


def _rows(book: Book, each: Mapping[str, Counts]) -> Iterator[tuple[str, str, Counts]]:
    """What each row is about, where it leads, and its counts."""
    procedures = book.procedures.values()
    if len(each) <= MOST_ROWS:
        yield from ((p.title, f"procedures/{p.id}.html", each[p.id]) for p in procedures)
        return
    for id, title in GROUPS.items():
        inside = [p for p in procedures if p.group == id]
        if inside:
            different = len({source for p in inside for source in sources_of(p)})
            yield title, f"procedures/index.html#{id}", together((each[p.id] for p in inside), different)


def _named(totals: Counts) -> list[tuple[str, int]]:
    return [(label, getattr(totals, field)) for field, label in COLUMNS]


def _rest(book: Book) -> list[tuple[str, int]]:
    """What does not belong to one procedure."""
    return [
        ("Procedures", len(book.procedures)), ("Tables that can be asked for any figures", len(tables())), ("Kinds of drawing", len(drawings())),
        ("Worksheets that all may use", sum(1 for sheet in book.worksheets.values() if sheet)), ("Sources in the list, all tables counted", len(data.sources())),
        ("Words explained", len(book.glossary)), ("Machines", len(book.machines)), ("Records of jobs", len(book.records)),
    ]  # fmt: skip
