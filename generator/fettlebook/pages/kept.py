"""Pages that were made before: in the preview only what depends on a change is made anew."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

from fettlebook.book.book import Book
from fettlebook.book.pictures import picture_path, state
from fettlebook.book.procedure import Procedure

Made = TypeVar("Made")


class Kept:
    """What was made, each beside everything that it was made from.

    A build asks once for each and gains nothing; a preview keeps one for as long as it runs. What a thing was made from is
    compared part by part, and a part that is the same object is not looked into: procedures come from the cache of the book.
    """

    def __init__(self, keeping: bool = False) -> None:
        self.keeping = keeping
        self._made: dict[Hashable, tuple[Any, Any]] = {}
        self._asked: set[Hashable] = set()

    def get(self, name: Hashable, sources: Any, make: Callable[[], Made]) -> Made:
        """What MAKE gives for NAME, made again only if SOURCES are not what they were."""
        if not self.keeping:
            return make()
        self._asked.add(name)
        if name not in self._made or self._made[name][0] != sources:
            self._made[name] = (sources, make())
        return self._made[name][1]

    def forget(self) -> None:
        """Drop what the last run did not ask for."""
        self._made = {name: made for name, made in self._made.items() if name in self._asked}
        self._asked = set()


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
