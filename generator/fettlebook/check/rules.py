"""Every rule, and the run of them all over a book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from types import ModuleType

from fettlebook.book.book import Book
from fettlebook.book.kept import Kept
from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check import (
    cautions,
    circles,
    figures,
    hazards,
    ids,
    links,
    own_values,
    paired,
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
    paired,
    typed,
    unfinished,
)
"""Each has `procedure_faults(procedure, known)` and RULES, the names of its rules with what each asks."""
OF_THE_BOOK: tuple[ModuleType, ...] = (circles, shop, own_values)


def check_book(book: Book, kept: Kept | None = None) -> list[Finding]:
    """Every fault that the rules find in BOOK, damaged procedures included, sorted by place. Advice is not among them.

    kept  findings made before, for a preview
    """
    return [finding for finding in findings(book, kept) if not finding.mild]


def findings(book: Book, kept: Kept | None = None) -> list[Finding]:
    """Every fault and every piece of advice, sorted by place."""
    with_names, kept = known(book), kept or Kept()
    names = kept.get("names", (now := _names(with_names)), lambda: now)
    everything = [f for one in with_names.procedures.values() for f in _found_in(one, with_names, names, kept)]
    return sorted({*everything, *book_findings(book, with_names)})


def _names(known: Known) -> tuple[object, ...]:
    """Everything that exists beside procedures' own content. Their order follows their titles, and no rule looks at it."""
    return (*(value for key, value in vars(known).items() if key != "procedures"), frozenset(known.procedures))


def _found_in(procedure: Procedure, known: Known, names: object, kept: Kept) -> tuple[Finding, ...]:
    """What the rules say about one procedure, from the last time if it, all names and the steps that it points to are the same.

    One that shows a picture is looked at each time, since the picture's file may have changed.
    """
    pictures = object() if any(one.kind == "image" for one in procedure.references) else None
    others = {r.target.partition("#")[0] for r in procedure.references if r.kind == "procedure" and "#" in r.target}
    steps = [(id, links.fragments(known.procedures[id])) for id in sorted(others & known.procedures.keys())]
    sources = (procedure, names, pictures, steps)
    return kept.get(("rules", procedure.id), sources, lambda: tuple(procedure_findings(procedure, known)))


def procedure_findings(procedure: Procedure, with_names: Known) -> Iterator[Finding]:
    """What the rules say about one procedure."""
    for rule in OF_PROCEDURES:
        yield from rule.procedure_faults(procedure, with_names)


def book_findings(book: Book, with_names: Known) -> Iterable[Finding]:
    """What the rules say about the book as a whole."""
    yield from circles.book_faults(with_names)
    yield from shop.shop_faults(book, with_names)
    yield from own_values.book_faults(book)
    yield from paired.book_faults(book)
