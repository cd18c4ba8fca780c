"""Every printed sheet of a book by its place under sheets/, and the links that pages show.

A shop that prints on one paper has its sheets in sheets/; the second paper of a shop that prints on two lies in a folder of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.book import Book
from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.handout.press import papers
from fettlebook.handout.sheet import READERS, handout
from fettlebook.handout.whole_book import whole_book

Link = tuple[str, str]
LABELS = {"bench": "Sheet for the bench (PDF)", "trainee": "Sheet for a trainee (PDF)"}


def sheet_uri(id: str, reader: str, folder: str = "") -> str:
    """Where a procedure's sheet lies."""
    return f"sheets/{folder}{id}-{reader}.pdf"


def _folders(book: Book) -> dict[str, str]:
    """The folder under sheets/ of each of the shop's papers."""
    return {paper: f"{paper}/" if n else "" for n, paper in enumerate(papers(book.workshop.paper))}


def _said(label: str, book: Book, paper: str) -> str:
    """A label with its paper, where there is more than one to choose from."""
    return f"{label.removesuffix(')')}, {paper.capitalize()})" if len(_folders(book)) > 1 else label


def procedure_links(book: Book) -> dict[str, tuple[Link, ...]]:
    """(label, uri) of the sheets of each procedure."""
    return {
        id: tuple(
            (_said(LABELS[reader], book, paper), sheet_uri(id, reader, folder))
            for paper, folder in _folders(book).items()
            for reader in READERS
        )
        for id in book.procedures
    }


def wall_links(book: Book) -> tuple[Link, ...]:
    """(label, uri) of the whole book and the wall charts."""
    found = []
    for paper, folder in _folders(book).items():
        found.append((_said("The whole book (PDF)", book, paper), f"sheets/{folder}book.pdf"))
        for chart in charts(book):
            label = _said(f"{chart.title} (wall chart)", book, paper)
            found.append((label, f"sheets/{folder}chart-{chart.id}.pdf"))
    return tuple(found)


def sheets(book: Book, site_url: str = "") -> Iterator[tuple[str, bytes]]:
    """(uri, PDF) of every sheet. Raises SheetFault."""
    for paper, folder in _folders(book).items():
        for procedure in book.procedures.values():
            for reader in READERS:
                yield sheet_uri(procedure.id, reader, folder), handout(book, procedure, reader, paper, site_url)
        for chart in charts(book):
            yield f"sheets/{folder}chart-{chart.id}.pdf", chart_pdf(book, chart, paper)
        if book.procedures:
            yield f"sheets/{folder}book.pdf", whole_book(book, paper)
