"""Every rule, and the run of them all over a book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from types import ModuleType

from fettlebook.book.book import Book
from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check import (
    cautions,
    circles,
    figures,
    hazards,
    ids,
    links,
    shop,
    sources,
    stages,
    steps,
    times,
    typed,
    unfinished,
    values,
)
from fettlebook.check.known import Known, known

OF_PROCEDURES: tuple[ModuleType, ...] = (
    ids,
    links,
    cautions,
    hazards,
    stages,
    steps,
    values,
    figures,
    sources,
    times,
    typed,
    unfinished,
)
"""Each has `procedure_faults(procedure, known)` and RULES, the names of its rules with what each asks."""
OF_THE_BOOK: tuple[ModuleType, ...] = (circles, shop)


def check_book(book: Book) -> list[Finding]:
    """Every fault that the rules find in BOOK, damaged procedures included, sorted by place. Advice is not among them."""
    return [finding for finding in findings(book) if not finding.mild]


def findings(book: Book) -> list[Finding]:
    """Every fault and every piece of advice, sorted by place."""
    with_names = known(book)
    everything = [f for one in with_names.procedures.values() for f in procedure_findings(one, with_names)]
    return sorted({*everything, *book_findings(book, with_names)})


def procedure_findings(procedure: Procedure, with_names: Known) -> Iterator[Finding]:
    """What the rules say about one procedure."""
    for rule in OF_PROCEDURES:
        yield from rule.procedure_faults(procedure, with_names)


def book_findings(book: Book, with_names: Known) -> Iterable[Finding]:
    """What the rules say about the book as a whole."""
    yield from circles.book_faults(with_names)
    yield from shop.shop_faults(book, with_names)
