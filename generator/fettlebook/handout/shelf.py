"""Every printed sheet of a book by its place under sheets/, and the links that pages show."""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.book import Book
from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.handout.sheet import READERS, handout
from fettlebook.handout.whole_book import whole_book

Link = tuple[str, str]
LABELS = {"bench": "Sheet for the bench (PDF)", "trainee": "Sheet for a trainee (PDF)"}


def sheet_uri(id: str, reader: str) -> str:
    """Where a procedure's sheet lies."""
    return f"sheets/{id}-{reader}.pdf"


def procedure_links(book: Book) -> dict[str, tuple[Link, ...]]:
    """(label, uri) of the sheets of each procedure."""
    return {id: tuple((LABELS[reader], sheet_uri(id, reader)) for reader in READERS) for id in book.procedures}


def wall_links(book: Book) -> tuple[Link, ...]:
    """(label, uri) of the whole book and the wall charts."""
    walls = tuple((f"{chart.title} (wall chart)", f"sheets/chart-{chart.id}.pdf") for chart in charts(book))
    return (("The whole book (PDF)", "sheets/book.pdf"), *walls)


def sheets(book: Book, site_url: str = "") -> Iterator[tuple[str, bytes]]:
    """(uri, PDF) of every sheet. Raises SheetFault."""
    for procedure in book.procedures.values():
        for reader in READERS:
            yield sheet_uri(procedure.id, reader), handout(book, procedure, reader, site_url=site_url)
    for chart in charts(book):
        yield f"sheets/chart-{chart.id}.pdf", chart_pdf(book, chart)
    if book.procedures:
        yield "sheets/book.pdf", whole_book(book)
