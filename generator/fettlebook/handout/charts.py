"""Wall charts, each on one sheet: read across the bench, computed from the tables for this shop."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from fettlebook.book.book import Book
from fettlebook.handout.chart_heat import heat, steels, temper
from fettlebook.handout.chart_machine import indexing, levelling, oils
from fettlebook.handout.chart_threads import FAMILIES, threads
from fettlebook.handout.press import PAPERS, SheetFault, papers, pdf
from fettlebook.tables.definition import BadValue, BadValues

PAGE = re.compile(rb"/Type\s*/Page[^s]")
LARGER = {"a4": "a3", "letter": "tabloid"}
"""The paper of twice the size, for a chart that does not fit."""

SIZES = (14, 12.5, 11)
"""Points of the letters: the first that fits is taken, so that a chart is read from as far as it can be."""

PATCHES = (14, 10, 7, 4.2)
"""Heights of a colour's patch in millimetres, tried in the same way once the letters are chosen."""


@dataclass(frozen=True)
class Chart:
    """A wall chart: its id and title, and the function that gives its data for a book, on a small or a large sheet."""

    id: str
    title: str
    data: Callable[[Book, bool], dict[str, Any]]


def chart_pdf(book: Book, chart: Chart, paper: str = "") -> bytes:
    """The chart on one sheet: A4 or Letter if it fits, else A3 or Tabloid. Raises SheetFault when it fits on neither."""
    paper = (paper or papers(book.workshop.paper)[0]).lower()
    base = {
        "title": chart.title, "shop": book.workshop.name, "edition": "", "lead": "", "warnings": [], "figures": [],
        "grids": [], "lines": [], "sources": [], "columns": 1, "beside": False, "flipped": False,
    }  # fmt: skip
    for large, name in enumerate((paper, LARGER[paper])):
        data = {**base, **_worked_out(book, chart, bool(large)), "paper": PAPERS[name]}
        coloured = any("colour" in cell for grid in data["grids"] for row in grid["rows"] for cell in row)
        for size in SIZES:
            if fitting := _on_one_page({**data, "size": size}):
                larger = (_on_one_page({**data, "size": size, "patch": patch}) for patch in PATCHES[:-1] if coloured)
                return next((made for made in larger if made), fitting)
    raise SheetFault(f'the chart "{chart.title}" does not fit on one sheet of {LARGER[paper].capitalize()}')


def _worked_out(book: Book, chart: Chart, large: bool) -> dict[str, Any]:
    """What stands on the chart. A book with faults is printed too, as far as it goes, so a value of the shop's may be wrong here."""
    try:
        return chart.data(book, large)
    except (BadValue, BadValues) as fault:
        raise SheetFault(f'"{chart.title}": {"; ".join(str(fault).splitlines())}') from fault


def _on_one_page(data: dict[str, Any]) -> bytes:
    """The chart with these sizes; nothing when it needs a second page."""
    made = pdf("chart", data)
    return made if len(PAGE.findall(made)) == 1 else b""


def charts(book: Book) -> tuple[Chart, ...]:
    """The wall charts that this book can have, in the order in which they are listed."""
    sizes = [
        Chart(f"threads-{family.lower()}", f"{name}: sizes and tapping drills", threads(family))
        for family, name in FAMILIES.items()
    ]
    level = [
        Chart(f"levelling-{m.id}", f"Levelling moves: {m.name}", levelling(m))
        for m in book.machines.values()
        if m.data.get("levelling")
    ]
    return (
        Chart("temper-colours", "Temper colours", temper), Chart("heat-colours", "Heat colours", heat), *sizes,
        Chart("oil-names", "Oil numbers side by side", oils), *level,
        Chart("indexing", "Indexing with the shop's plates", indexing), Chart("steels", "Steels at a glance", steels),
    )  # fmt: skip
