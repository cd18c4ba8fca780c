"""Wall charts, each on one sheet of A4 or A3: read across the bench, computed from the tables for this shop."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.shop import Machine
from fettlebook.draw.catalogue import drawings
from fettlebook.handout.grids import Cell, grid
from fettlebook.handout.press import SheetFault, pdf
from fettlebook.handout.words import Words
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues, Column, Table
from fettlebook.tables.writing import all_sources, source_line

PAGE = re.compile(rb"/Type\s*/Page[^s]")
FLAT_OF_HEXAGON = 6
"""A jack screw with a hexagon head is turned by flats, a sixth of a turn each."""


@dataclass(frozen=True)
class Chart:
    """A wall chart: its id and title, and the function that gives its data for a book."""

    id: str
    title: str
    data: Callable[[Book, str], dict[str, Any]]


def chart_pdf(book: Book, chart: Chart) -> bytes:
    """The chart on one sheet: A4 if it fits, else A3. Raises SheetFault when it fits on neither."""
    base = {
        "title": chart.title, "shop": book.workshop.name, "edition": "", "lead": "", "warnings": [], "figures": [], "figure_width": 180,
        "grids": [], "lines": [], "sources": [], "columns": 1, "flipped": False, "size": 12,
    }  # fmt: skip
    for paper in ("a4", "a3"):
        made = pdf("chart", {**base, "paper": paper, **chart.data(book, paper)})
        if len(PAGE.findall(made)) == 1:
            return made
    raise SheetFault(f'the chart "{chart.title}" does not fit on one sheet of A3')


def charts(book: Book) -> tuple[Chart, ...]:
    """The wall charts that this book can have, in the order in which they are listed."""
    threads = [
        Chart(f"threads-{family.lower()}", f"{name}: sizes and tapping drills", _threads(family))
        for family, name in FAMILIES.items()
    ]
    level = [
        Chart(f"levelling-{m.id}", f"Levelling moves: {m.name}", _levelling(m))
        for m in book.machines.values()
        if m.data.get("levelling")
    ]
    return (
        Chart("temper-colours", "Temper colours", _temper), Chart("heat-colours", "Heat colours", _heat), *threads,
        Chart("oil-names", "Oil numbers side by side", _oils), *level,
        Chart("indexing", "Indexing with the shop's plates", _indexing), Chart("steels", "Steels at a glance", _steels),
    )  # fmt: skip


def _table(book: Book, name: str, given: Mapping[str, Any] | None = None) -> Table:
    definition = table_named(name)
    known = definition.table(given or {}, book.workshop.defaults)
    return Table(known.rows, known.notes, known.warnings, all_sources(definition, known), known.columns)


def _grids(book: Book, table: Table, wanted: Sequence[str], title: str = "", fits: int = 200) -> list[dict[str, Any]]:
    columns = [c for name in wanted for c in table.columns if c.name == name]
    return [{"title": title, **part} for part in grid(Words(book, {}), columns, table.rows, fits)]


def _own(title: str, heads: Iterable[tuple[str, str, bool]], rows: Iterable[Iterable[str]]) -> dict[str, Any]:
    """A table of words written here: (label, unit, is a number) a column."""
    cells: list[list[Cell]] = [[{"t": one} for one in row] for row in rows]
    return {
        "title": title,
        "columns": [{"label": label, "unit": unit, "number": number} for label, unit, number in heads],
        "rows": cells,
    }


def _figure(name: str, given: Mapping[str, Any]) -> list[dict[str, str]]:
    if name not in drawings():
        return []
    return [{"svg": drawings()[name].svg(given), "alt": drawings()[name].words(given)}]


def _sources(*tables: Table) -> list[str]:
    return list(dict.fromkeys(source_line(cite) for table in tables for cite in table.sources))


def _temper(book: Book, paper: str) -> dict[str, Any]:
    table = _table(book, "temper-colours", {"time": "5 min"})
    uses = _table(book, "tempering", {"steel": "Silver steel (BS 1407)", "time": "5 min"})
    wanted = ("temperature_c", "colour", "hardness_hrc", "use")
    low = Table(tuple(r for r in uses.rows if 175 <= r["temperature_c"] <= 350), (), (), uses.sources, uses.columns)
    return {
        "lead": "Plain carbon steel, bright and clean, about 5 minutes at heat. A longer time brings every colour at a lower temperature.",
        "grids": [*_grids(book, table, ("colour", "srgb", "low_c", "high_c", "also")),
                  *_grids(book, low, wanted, "Silver steel hardened in water: hardness and use after 5 minutes")],
        "lines": [*table.notes[2:5]], "size": 11 if paper == "a4" else 13,
    }  # fmt: skip


def _heat(book: Book, paper: str) -> dict[str, Any]:
    both = {light: _table(book, "heat-colours", {"light": light}) for light in ("dim", "bright")}
    wanted = ("colour", "srgb", "low_c", "high_c", "also")
    return {
        "lead": "A screen or a print cannot glow: the patch shows hue and order only. Have a second cue.",
        "grids": [one for light, table in both.items() for one in _grids(book, table, wanted, f"In {light} light")],
        "lines": list(both["dim"].notes[:2]) + list(both["dim"].notes[4:]), "size": 11 if paper == "a4" else 13,
    }  # fmt: skip


FAMILIES = {"M": "ISO metric threads", "UN": "Unified threads", "BSW": "Whitworth threads", "BSF": "British fine threads", "BA": "BA threads",
            "G": "Parallel pipe threads"}  # fmt: skip
LARGEST_MM = 50
"""Threads above this are bored and cut on the lathe; a chart of tapping drills ends here."""


def _threads(family: str) -> Callable[[Book, str], dict[str, Any]]:
    def data(book: Book, paper: str) -> dict[str, Any]:
        sizes = _table(book, "thread-sizes", {"family": family})
        kept = [
            r
            for r in sizes.rows
            if r["major_mm"] <= LARGEST_MM
            and r.get("series") in (*SERIES.get(family, ()), *(() if family in SERIES else (r.get("series"),)))
        ]
        drills = [_drill(book, str(row["designation"])) for row in kept]
        w = Words(book, {})
        by_name = {c.name: c for c in sizes.columns}
        wanted: list[Column] = [
            by_name[n]
            for n in (
                "designation",
                "major_mm",
                *(("pitch_mm",) if family in {"M", "BA"} else ("tpi",)),
                "pitch_diameter_mm",
            )
        ]
        heads = [(str(h["label"]), str(h["unit"]), bool(h["number"])) for h in map(w.column, wanted)]
        rows = [
            [*(w.cell(row.get(c.name), c)["t"] for c in wanted), *drill]
            for row, drill in zip(kept, drills, strict=True)
        ]
        return {
            "lead": "Tapping drill from the shop's own drills, for about 75 % of a full thread (1.299 P); a dash where the shop has none that gives 55 to 85 %.",
            "grids": [_own("", [*heads, ("Tapping drill", "", False), ("Thread", "%", True)], rows)],
            "lines": ["Tough steel, deep holes and small taps want 55 to 65 %: take the next larger drill."],
            "sources": _sources(sizes), "size": 11 if paper == "a4" else 12, "columns": 1 if paper == "a4" else 2, "flipped": paper == "a3",
        }  # fmt: skip

    return data


LEAST_THREAD, MOST_THREAD = 55, 85
"""Percent of a full thread outside which no drill is named: a tap breaks above, a thread strips below. Common practice."""

SERIES = {"M": ("coarse",), "UN": ("UNC", "UNF")}


def _drill(book: Book, thread: str) -> tuple[str, str]:
    """The shop's drill nearest to 75 percent of thread, and its percentage; dashes where no drill of the shop serves."""
    try:
        rows = _table(book, "tapping-drills", {"thread": thread, "count": 1}).rows
    except BadValues:
        return "–", "–"
    if not rows or not LEAST_THREAD <= rows[0]["engagement_percent"] <= MOST_THREAD:
        return "–", "–"
    return str(rows[0]["drill"]), f"{rows[0]['engagement_percent']:.0f}"


def _oils(book: Book, paper: str) -> dict[str, Any]:
    table = _table(book, "oil-names")
    store = ", ".join(f"{oil.grade} ({oil.kind})" for oil in book.workshop.oils)
    wanted = ("iso", "v40_mm2_s", "v40_min_mm2_s", "v40_max_mm2_s", "v100_mm2_s", "sae_engine", "sae_gear", "agma")
    return {"lead": f"In this store: {store}.", "grids": _grids(book, table, wanted), "lines": list(table.notes[1:3]) + list(table.notes[-1:]),
            "sources": _sources(table)[:4], "size": 11 if paper == "a4" else 14}  # fmt: skip


def _levelling(machine: Machine) -> Callable[[Book, str], dict[str, Any]]:
    def data(book: Book, paper: str) -> dict[str, Any]:
        level = machine.data["levelling"]
        division = float(book.workshop.defaults.get("level_mm_per_m", 0.02))
        heads = [
            ("Jack", "", False),
            ("Across from", "", False),
            ("One flat lifts", "mm", True),
            ("Slope across", "mm/m", True),
            ("Bubble", "divisions", True),
        ]
        return {
            "lead": f"One flat is a sixth of a turn of the jack screw. Bubble: a level of {division:g} mm/m a division, laid across the bed; it moves towards the end that rises.",
            "figures": _figure("jacks-plan", {"machine": level}), "figure_width": 170 if paper == "a4" else 240,
            "grids": [_own("What one flat of each jack does, bed taken as stiff", heads, list(_flats(level["feet"], division)))],
            "lines": ["Never lift on two jacks at once, and never with a hand under the bed: a foot that is eased can drop.",
                      "Coarse first: head jacks until the bed is level along and across; then across at the tail; the middle jacks last, only to touch.",
                      "Turn, tap the bed, wait until the bubble stands, read, write down. Lock each nut and read again: locking moves it.",
                      "A bed bends: the flats above are the most that the bubble moves. The table of jack moves learns what this bed does."],
        }  # fmt: skip

    return data


def _flats(feet: Sequence[Mapping[str, Any]], division: float) -> Iterable[list[str]]:
    """For each jack: lift of one flat [mm], slope over the distance to the foot opposite [mm/m], and bubble [divisions].

    lift = pitch / 6; slope = 1000 lift / distance; rigid bed, geometry alone.
    """
    for foot in feet:
        across = [f for f in feet if f is not foot and f["x_mm"] == foot["x_mm"]]
        if foot.get("jack") and foot.get("screw_pitch_mm") and across:
            lift = float(foot["screw_pitch_mm"]) / FLAT_OF_HEXAGON
            slope = 1000 * lift / abs(float(foot["y_mm"]) - float(across[0]["y_mm"]))
            yield [str(foot["name"]), str(across[0]["name"]), f"{lift:.3f}", f"{slope:.2f}", f"{slope / division:.0f}"]


def _indexing(book: Book, paper: str) -> dict[str, Any]:
    rows = [[str(n), *_move(book, n)] for n in range(2, 101)]
    third = -(-len(rows) // 3)
    heads = [("Div.", "", True), ("Turns", "", True), ("Holes", "", True), ("Circle", "", True)]
    circles = ", ".join(f"{c:g}" for c in book.workshop.defaults.get("circles", ()))
    return {
        "lead": f"Worm 40 to 1; circles {circles}. Whole turns and holes of the circle for each division; – needs differential indexing.",
        "grids": [_own("", heads, rows[n : n + third]) for n in range(0, len(rows), third)], "columns": 3,
        "lines": ["Set the arms to the holes and one more, counting the pin's own hole. Turn one way only; if past, go back half a turn and come again."],
        "size": 11 if paper == "a4" else 15,
    }  # fmt: skip


def _move(book: Book, divisions: int) -> list[str]:
    try:
        rows = [r for r in _table(book, "indexing", {"divisions": divisions}).rows if r["method"] == "plain"]
    except BadValues:
        rows = []
    if not rows:
        return ["–", "–", "–"]
    row = rows[0]
    return [
        "0" if row["turns"] is None else str(row["turns"]),
        *(("–", "any") if not row["holes"] else (str(row["holes"]), str(row["circle"]))),
    ]


def _steels(book: Book, paper: str) -> dict[str, Any]:
    table = _table(book, "steels")
    wanted = ("grade", "hardenable", "how", "uk", "us", "carbon_percent", "ac1_c", "ac3_c")
    return {
        "lead": "A name in brackets is the nearest relative, not the same steel.", "warnings": list(table.warnings),
        "grids": _grids(book, table, wanted), "lines": list(table.notes[2:3]), "flipped": True, "size": 11,
    }  # fmt: skip
