"""What the rules compare with: everything that a procedure may point to, by name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from fettlebook import data
from fettlebook.book.book import Book
from fettlebook.book.procedure import Procedure
from fettlebook.draw.catalogue import drawings
from fettlebook.draw.signs import signs
from fettlebook.tables.catalogue import tables


@dataclass(frozen=True)
class Known:
    """Names that exist.

    procedures  whole and damaged ones, so that a link to a procedure with a fault of its own is not called wrong too
    signs       numbers of ISO 7010 for which there is a picture
    """

    root: Path
    procedures: Mapping[str, Procedure]
    machines: frozenset[str]
    tables: frozenset[str]
    drawings: frozenset[str]
    sources: frozenset[str]
    signs: frozenset[str]
    cautions: frozenset[str]
    steps: frozenset[str]
    worksheets: frozenset[str]


def known(book: Book) -> Known:
    """Everything that the procedures of BOOK may point to."""
    return Known(
        book.root, {**book.damaged, **book.procedures}, frozenset(book.machines), frozenset(tables()), frozenset(drawings()),
        frozenset(data.sources()), frozenset(signs()), frozenset(book.cautions), frozenset(book.steps), frozenset(book.worksheets),
    )  # fmt: skip


def nearest(name: str, names: Iterable[str], otherwise: str = "") -> str:
    """A guess at what was meant, as a hint."""
    near = get_close_matches(name, sorted(names), 1, 0.55)
    return f'did you mean "{near[0]}"?' if near else otherwise
