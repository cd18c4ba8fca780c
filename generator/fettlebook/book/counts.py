"""What a book holds, counted from the loaded book itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields

from fettlebook.book.book import Book
from fettlebook.book.order import has_order
from fettlebook.book.procedure import Numbers, Procedure


@dataclass(frozen=True)
class Counts:
    """Counts of one procedure, or of all together.

    checks    steps that say how to know that they are right, by a check, readings with limits, or a hold point
    holds     steps that a second person signs
    readings  figures and words to write down, each place counted
    tables    tables worked out for the job, shown or only used
    figures   numbers that the program worked out: in the cells of shown tables, and those used by name in words or limits
    drawings  drawings computed at their steps, the map of the order among them
    sources   different sources: its own, those of its tables, and those of its worksheets
    """

    stages: int = 0
    steps: int = 0
    checks: int = 0
    holds: int = 0
    readings: int = 0
    cautions: int = 0
    tables: int = 0
    figures: int = 0
    worksheets: int = 0
    drawings: int = 0
    pictures: int = 0
    symptoms: int = 0
    questions: int = 0
    sources: int = 0


def counted(p: Procedure) -> Counts:
    """The counts of one procedure."""
    shown = [s.figure for s in p.steps if s.figure]
    return Counts(
        stages=len(p.stages), steps=len(p.steps), checks=sum(1 for s in p.steps if _checked(s)), holds=sum(1 for s in p.steps if s.hold),
        readings=sum(len(r.at) or 1 for s in p.steps for r in s.readings), cautions=len(p.cautions), tables=len(p.numbers),
        figures=sum(_cells(n) for n in p.numbers if not n.hidden) + len(_used(p)), worksheets=len(p.worksheets),
        drawings=sum(1 for f in shown if f.draw) + has_order(p), pictures=sum(1 for f in shown if f.image),
        symptoms=len(p.symptoms) + len(p.trouble), questions=len(p.questions), sources=len(set(sources_of(p))),
    )  # fmt: skip


def together(counts: Iterable[Counts], different_sources: int) -> Counts:
    """The sum of several, with sources that several share counted once."""
    rows = list(counts)
    summed = {one.name: sum(getattr(row, one.name) for row in rows) for one in fields(Counts)}
    return Counts(**{**summed, "sources": different_sources})


def of_book(book: Book, each: Iterable[Counts] | None = None) -> Counts:
    """The counts of all procedures together; EACH are theirs, counted here without."""
    procedures = book.procedures.values()
    different = {source for p in procedures for source in sources_of(p)}
    return together(each or (counted(p) for p in procedures), len(different))


def sources_of(p: Procedure) -> Iterator[str]:
    """Every source that a procedure rests on: a key of the list of sources, or the shop's own words."""
    yield from (source.key or source.text for source in p.sources)
    yield from (cite.key for n in p.numbers for cite in n.sources)
    yield from (cite.key for sheet in p.worksheets for cite in sheet.sources)


def _checked(step: object) -> bool:
    return bool(getattr(step, "check", None) or getattr(step, "readings", None) or getattr(step, "hold", None))


def _cells(n: Numbers) -> int:
    """Numbers in the cells of a table as it is shown."""
    values = (row.get(column.name) for row in n.rows for column in n.columns)
    return sum(1 for value in values if isinstance(value, (int, float)) and not isinstance(value, bool))


def _used(p: Procedure) -> set[str]:
    """Named figures that are numbers and stand in the words or limits of the procedure."""
    named = {r.target for r in p.references if r.kind == "value"}
    return {v.name for v in p.values.values() if v.name in named and isinstance(v.value, (int, float))}
