"""The page that counts what the book holds, worked out from the loaded book at every build."""

from __future__ import annotations

from fettlebook import data
from fettlebook.book.book import Book
from fettlebook.book.counts import Counts, counted, of_book
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


def counts_page(book: Book) -> Page:
    """Totals, the rest of the book, and a row for each procedure."""
    rows = [(p, [getattr(counted(p), field) for field, _ in COLUMNS]) for p in book.procedures.values()]
    totals = of_book(book)
    known = {
        "rows": rows, "totals": _named(totals), "labels": [label for _, label in COLUMNS], "sums": [getattr(totals, field) for field, _ in COLUMNS],
        "rest": _rest(book),
    }  # fmt: skip
    html = Writer(book, URI, {}).render("counts.html", title=TITLE, **known)
    headings = (Heading(2, "totals", "Together"), Heading(2, "each", "Each procedure"))
    return Page(URI, TITLE, html, headings, "", "about", Findable("page", (("title", TITLE), ("other name", "statistics, how much is in the book"))))  # fmt: skip


def _named(totals: Counts) -> list[tuple[str, int]]:
    return [(label, getattr(totals, field)) for field, label in COLUMNS]


def _rest(book: Book) -> list[tuple[str, int]]:
    """What does not belong to one procedure."""
    return [
        ("Procedures", len(book.procedures)), ("Tables that can be asked for any figures", len(tables())), ("Kinds of drawing", len(drawings())),
        ("Worksheets that all may use", sum(1 for sheet in book.worksheets.values() if sheet)), ("Sources in the list, all tables counted", len(data.sources())),
        ("Words explained", len(book.glossary)), ("Machines", len(book.machines)), ("Records of jobs", len(book.records)),
    ]  # fmt: skip
