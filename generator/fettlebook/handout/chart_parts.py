"""Pieces of the wall charts: computed tables, tables of words, drawings, and where the figures come from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from fettlebook.book.book import Book
from fettlebook.draw.catalogue import drawings
from fettlebook.handout.cited import place, source_lines
from fettlebook.handout.grids import Cell, grid
from fettlebook.handout.pictures import on_paper
from fettlebook.handout.words import Words
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import Table
from fettlebook.tables.writing import all_sources


def computed(book: Book, name: str, given: Mapping[str, Any] | None = None) -> Table:
    """A table for this shop, with every source of it."""
    definition = table_named(name)
    known = definition.table(given or {}, book.workshop.defaults)
    return Table(known.rows, known.notes, known.warnings, all_sources(definition, known), known.columns)


def grids(book: Book, table: Table, wanted: Sequence[str], title: str = "") -> list[dict[str, Any]]:
    """The WANTED columns of a table, in that order."""
    columns = [c for name in wanted for c in table.columns if c.name == name]
    return [{"title": title, **part} for part in grid(Words(book, {}), columns, table.rows, fits=200)]


def of_words(
    title: str, heads: Iterable[tuple[str, str, bool]], rows: Iterable[Iterable[str | Cell]]
) -> dict[str, Any]:
    """A table of words written here: (label, unit, is a number) a column."""
    cells = [[{"t": one} if isinstance(one, str) else one for one in row] for row in rows]
    columns = [{"label": label, "unit": unit, "number": number} for label, unit, number in heads]
    return {"title": title, "columns": columns, "rows": cells}


def figure(name: str, given: Mapping[str, Any], scale: float) -> list[dict[str, str]]:
    """A drawing, SCALE times its usual size."""
    if name not in drawings():
        return []
    return [{"svg": on_paper(drawings()[name].svg(given), scale), "alt": drawings()[name].words(given)}]


def sources(*tables: Table, named: bool = True) -> list[str]:
    """Where the figures of TABLES come from."""
    return source_lines((place(cite) for table in tables for cite in table.sources), named=named)
