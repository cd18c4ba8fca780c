"""Wall charts of threads: sizes of a family, and the tapping drill from the shop's own drills."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from fettlebook.book.book import Book
from fettlebook.handout.chart_parts import computed, of_words, sources
from fettlebook.handout.words import Words
from fettlebook.tables.definition import BadValues, Table

FAMILIES = {"M": "ISO metric threads", "UN": "Unified threads", "BSW": "Whitworth threads", "BSF": "British fine threads", "BA": "BA threads",
            "G": "Parallel pipe threads"}  # fmt: skip
LARGEST_MM = 50
"""Threads above this are bored and cut on the lathe; a chart of tapping drills ends here."""


LEAST_THREAD, MOST_THREAD = 55, 85
"""Percent of a full thread outside which no drill is named: a tap breaks above, a thread strips below. Common practice."""

SERIES = {"M": ("coarse",), "UN": ("UNC", "UNF")}


def threads(family: str) -> Callable[[Book, bool], dict[str, Any]]:
    """The chart of one family."""

    def data(book: Book, large: bool) -> dict[str, Any]:
        sizes = computed(book, "thread-sizes", {"family": family})
        kept = [row for row in sizes.rows if _shown(family, row)]
        drills = [_drill(book, str(row["designation"])) for row in kept]
        tapping = [table for _, table in drills if table]
        heads, rows = _sizes(book, family, sizes, kept)
        return {
            "lead": "Tapping drill from the shop's own drills, for about 75 % of a full thread (1.299 P); a dash where the shop has none that gives 55 to 85 %.",
            "grids": [of_words("", [*heads, ("Tapping drill", "", False), ("Thread", "%", True)], [[*row, *said] for row, (said, _) in zip(rows, drills, strict=True)])],
            "lines": ["Tough steel, deep holes and small taps want 55 to 65 %: take the next larger drill."],
            "sources": sources(sizes, *tapping[:1]), "columns": 2 if large else 1, "flipped": large,
        }  # fmt: skip

    return data


def _shown(family: str, row: Mapping[str, Any]) -> bool:
    return row["major_mm"] <= LARGEST_MM and (family not in SERIES or row.get("series") in SERIES[family])


def _sizes(
    book: Book, family: str, sizes: Table, kept: list[Mapping[str, Any]]
) -> tuple[list[tuple[str, str, bool]], list[list[str]]]:
    w = Words(book, {})
    pitch = "pitch_mm" if family in {"M", "BA"} else "tpi"
    by_name = {c.name: c for c in sizes.columns}
    wanted = [by_name[name] for name in ("designation", "major_mm", pitch, "pitch_diameter_mm")]
    heads = [(str(h["label"]), str(h["unit"]), bool(h["number"])) for h in map(w.column, wanted)]
    return heads, [[w.cell(row.get(c.name), c)["t"] for c in wanted] for row in kept]


def _drill(book: Book, thread: str) -> tuple[tuple[str, str], Table | None]:
    """The shop's drill nearest to 75 percent of thread, its percentage, and the table they come from; dashes where no drill serves."""
    try:
        table = computed(book, "tapping-drills", {"thread": thread, "count": 1})
    except BadValues:
        return ("–", "–"), None
    if not table.rows or not LEAST_THREAD <= table.rows[0]["engagement_percent"] <= MOST_THREAD:
        return ("–", "–"), table
    return (str(table.rows[0]["drill"]), f"{table.rows[0]['engagement_percent']:.0f}"), table
