"""What the pages of the site are made from, so that the preview makes only those anew that a change touches."""

from __future__ import annotations

from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.pictures import picture_path, state
from fettlebook.book.procedure import Procedure


def shop_sources(book: Book) -> tuple[Any, ...]:
    """Everything of the shop that any page may show, procedures left out."""
    return book.workshop, dict(book.machines), book.glossary, dict(book.worksheets), book.records


def procedure_sources(book: Book, procedure: Procedure) -> tuple[Any, ...]:
    """What a procedure's page shows of other procedures and of pictures."""
    named = {reference.target.partition("#")[0] for reference in procedure.references}
    titles = tuple((id, book.titles.get(id)) for id in sorted(named))
    figures = (step.figure for step in procedure.steps if step.figure and step.figure.image)
    return procedure, titles, tuple(state(path) for one in figures if (path := picture_path(book, one)))


def listed(p: Procedure) -> tuple[Any, ...]:
    """What lists of procedures show of one."""
    needed = tuple(tuple(one.name for one in kind) for kind in (p.tools, p.materials))
    seen = tuple(one.seen for one in p.trouble)
    sheets = tuple(one.id for one in p.worksheets)
    return (
        sheets, p.id, p.title, p.group, p.summary, p.symptoms, seen, needed, p.first, p.setting, p.machines, p.every, p.revision.number,
        p.values,
    )  # fmt: skip
