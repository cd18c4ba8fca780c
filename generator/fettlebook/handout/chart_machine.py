"""Wall charts for the machines: oil numbers, what a flat of each jack does, moves of the dividing head."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.shop import Machine
from fettlebook.handout.chart_parts import computed, figure, grids, of_words, sources
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues, Table
from fettlebook.tables.levelling_layout import Layout, layout_from

FLAT_OF_HEXAGON = 6
"""A jack screw with a hexagon head is turned by flats, a sixth of a turn each."""
DIVISIONS = range(2, 101)


def oils(book: Book, large: bool) -> dict[str, Any]:
    """ISO, SAE and AGMA numbers of the same oil."""
    table = computed(book, "oil-names")
    store = ", ".join(f"{oil.grade} ({oil.kind})" for oil in book.workshop.oils)
    wanted = ("iso", "v40_mm2_s", "v40_min_mm2_s", "v40_max_mm2_s", "v100_mm2_s", "sae_engine", "sae_gear", "agma")
    return {"lead": f"In this store: {store}." if store else "", "grids": grids(book, table, wanted), "lines": list(table.notes[1:3]) + list(table.notes[-1:]),
            "sources": sources(table)}  # fmt: skip


def levelling(machine: Machine) -> Callable[[Book, bool], dict[str, Any]]:
    """What one flat of each jack of a machine does."""

    def data(book: Book, large: bool) -> dict[str, Any]:
        level = machine.data["levelling"]
        division = table_named("levels").given({}, book.workshop.defaults)["division"]
        heads = [
            ("Jack", "", False),
            ("Across from", "", False),
            ("One flat lifts", "mm", True),
            ("Slope across", "mm/m", True),
            ("Bubble", "divisions", True),
        ]
        return {
            "lead": f"One flat is a sixth of a turn of the jack screw. Bubble: a level of {division:g} mm/m a division, laid across the bed; it moves towards the end that rises.",
            "figures": figure("jacks-plan", {"machine": level}, 1.4 if large else 1),
            "grids": [of_words("What one flat of each jack does, bed taken as stiff", heads, list(_flats(layout_from(level), division)))],
            "lines": ["Never lift on two jacks at once, and never with a hand under the bed: a foot that is eased can drop.",
                      "Coarse first: head jacks until the bed is level along and across; then across at the tail; the middle jacks last, only to touch.",
                      "Turn, tap the bed, wait until the bubble stands, read, write down. Lock each nut and read again: locking moves it.",
                      "A bed bends: the flats above are the most that the bubble moves. The table of jack moves learns what this bed does."],
            "sources": ["The feet, screws and level of this shop, as its book has them; lift of a flat = pitch / 6, slope = lift / distance between the jacks (geometry)",
                        *sources(computed(book, "levels"))],
        }  # fmt: skip

    return data


def _flats(layout: Layout, division: float) -> Iterable[list[str]]:
    """For each jack: lift of one flat [mm], slope over the distance to the foot opposite [mm/m], and bubble [divisions].

    lift = pitch / 6; slope = 1000 lift / distance; rigid bed, geometry alone.
    """
    for group in layout.groups:
        for j in group:
            foot = layout.feet[j]
            across = max((layout.feet[k] for k in group), key=lambda other: abs(other.y_mm - foot.y_mm))
            if foot.jack and foot.pitch_mm and across.y_mm != foot.y_mm:
                lift = foot.pitch_mm / FLAT_OF_HEXAGON
                slope = 1000 * lift / abs(foot.y_mm - across.y_mm)
                yield [foot.name, across.name, f"{lift:.3f}", f"{slope:.2f}", f"{slope / division:.0f}"]


def indexing(book: Book, large: bool) -> dict[str, Any]:
    """Turns and holes for each division up to 100, by plain indexing with the shop's circles."""
    found = {n: _move(book, n) for n in DIVISIONS}
    rows = [[str(n), *_written(table)] for n, table in found.items()]
    third = -(-len(rows) // 3)
    heads = [("Div.", "", True), ("Turns", "", True), ("Holes", "", True), ("Circle", "", True)]
    given = table_named("indexing").given({"divisions": DIVISIONS[0]}, book.workshop.defaults)
    ratio, circles = given["ratio"], ", ".join(f"{c:g}" for c in given["circles"])
    return {
        "lead": f"Worm {ratio} to 1; circles {circles}. Whole turns and holes of the circle for each division; – needs differential indexing.",
        "grids": [of_words("", heads, rows[n : n + third]) for n in range(0, len(rows), third)], "beside": True,
        "lines": ["Set the arms to the holes and one more, counting the pin's own hole. Turn one way only; if past, go back half a turn and come again."],
        "sources": sources(*(table for table in found.values() if table)),
    }  # fmt: skip


def _move(book: Book, divisions: int) -> Table | None:
    try:
        table = computed(book, "indexing", {"divisions": divisions})
    except BadValues:
        return None
    return table if any(row["method"] == "plain" for row in table.rows) else None


def _written(table: Table | None) -> list[str]:
    if table is None:
        return ["–", "–", "–"]
    row = next(row for row in table.rows if row["method"] == "plain")
    holes = (str(row["holes"]), str(row["circle"])) if row["holes"] else ("–", "any")
    return ["0" if row["turns"] is None else str(row["turns"]), *holes]
