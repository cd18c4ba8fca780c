"""Wall charts for the hearth: temper colours, heat colours and what each heat is for, steels at a glance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from fettlebook.book.book import Book
from fettlebook.handout.chart_parts import computed, grids, of_words, sources
from fettlebook.handout.words import Words
from fettlebook.tables.definition import BadValues, Table

Row = Mapping[str, Any]
THROUGH_MM = 10
"""Section of the part for which the chart says in what a steel hardens."""


def temper(book: Book, large: bool) -> dict[str, Any]:
    """Temper colours, and hardness and uses of the steel that most tools of a small shop are made of."""
    table = _patches(computed(book, "temper-colours", {"time": "5 min"}))
    uses = computed(book, "tempering", {"steel": "Silver steel (BS 1407)", "time": "5 min"})
    low = Table(tuple(r for r in uses.rows if 175 <= r["temperature_c"] <= 350), (), (), uses.sources, uses.columns)
    return {
        "lead": "Plain carbon steel, bright and clean, about 5 minutes at heat. A longer time brings every colour at a lower temperature.",
        "grids": [*grids(book, table, ("colour", "srgb", "low_c", "high_c", "also")),
                  *grids(book, low, ("temperature_c", "colour", "hardness_hrc", "use"), "Silver steel hardened in water: hardness and use after 5 minutes")],
        "lines": [*table.notes[2:5]], "sources": sources(table, uses, named=large),
    }  # fmt: skip


def _patches(table: Table) -> Table:
    """The table with its colours headed as what they are on paper."""
    columns = tuple(replace(c, label="Patch") if c.kind == "colour" else c for c in table.columns)
    return replace(table, columns=columns)


def heat(book: Book, large: bool) -> dict[str, Any]:
    """Heat colours in dim and in bright light, and the heats at which the shop's steels are annealed and hardened."""
    dim, bright = (computed(book, "heat-colours", {"light": light}) for light in ("dim", "bright"))
    return {
        "lead": "A screen or a print cannot glow: the patch shows hue and order only. Have a second cue.",
        "grids": [_both_lights(book, dim, bright), _what_for(book, dim)],
        "lines": [dim.notes[0].removesuffix(" The last two columns hold every table."), *dim.notes[4:]],
        "sources": [*sources(dim, named=large), "heats of the steels: as the table of heat treatment in this book cites them"],
    }  # fmt: skip


def _both_lights(book: Book, dim: Table, bright: Table) -> dict[str, Any]:
    w = Words(book, {})
    by_name = {c.name: c for c in dim.columns}
    unit = str(w.column(by_name["low_c"])["unit"])
    heads = [("Colour", "", False), ("Patch", "", False), ("Dim light, from", unit, True), ("to", unit, True),
             ("Bright light, from", unit, True), ("to", unit, True), ("Also called", "", False)]  # fmt: skip
    rows = [
        [*(w.cell(a[name], by_name[name]) for name in ("colour", "srgb", "low_c", "high_c")), w.cell(b["low_c"], by_name["low_c"]),
         w.cell(b["high_c"], by_name["high_c"]), w.cell(a["also"], by_name["also"])]
        for a, b in zip(dim.rows, bright.rows, strict=True)
    ]  # fmt: skip
    return of_words("", heads, rows)


def _what_for(book: Book, dim: Table) -> dict[str, Any]:
    heads = [("Steel", "", False), ("Soft anneal", "", False), ("Full anneal", "", False), ("Harden", "", False), ("in", "", False),
             ("Colour to harden, dim light", "", False)]  # fmt: skip
    rows = []
    for steel in computed(book, "steels").rows:
        fit = _operations(book, str(steel["grade"])) if steel["hardenable"] == "yes" else []
        harden = [r for r in fit if r["operation"] == "harden"]
        if harden:
            anneal = ([r for r in fit if (r["operation"], r["way"]) == ("anneal", way)] for way in ("soft", "full"))
            heats = [_written_span(book, found) for found in (*anneal, harden)]
            quench = " or ".join(dict.fromkeys(str(r["way"]) for r in harden))
            rows.append([str(steel["grade"]), *heats, quench, _colours(dim.rows, _span(harden))])
    return of_words(f"What the heat is for: parts up to {THROUGH_MM} mm thick", heads, rows)


def _operations(book: Book, grade: str) -> list[Row]:
    """What can be done with a steel at THROUGH_MM."""
    try:
        rows = computed(book, "heat-treatment", {"steel": grade, "section": f"{THROUGH_MM} mm"}).rows
    except BadValues:
        return []
    return [r for r in rows if r["low_c"] is not None and (r.get("largest_mm") or THROUGH_MM) >= THROUGH_MM]


def _span(rows: Sequence[Row]) -> tuple[float, float]:
    return min(r["low_c"] for r in rows), max(r["high_c"] for r in rows)


def _written_span(book: Book, rows: Sequence[Row]) -> str:
    if not rows:
        return "–"
    low, high = (Words(book, {}).figure(t, "degC", 0) for t in _span(rows))
    return low if low == high else f"{low} to {high}"


def _colours(rows: Sequence[Row], span: tuple[float, float]) -> str:
    """The colour names that a range of temperature passes through."""
    names = [str(r["colour"]) for r in rows if r["low_c"] <= span[1] and span[0] <= (r["high_c"] or span[1])]
    return names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}" if names else "–"


def steels(book: Book, large: bool) -> dict[str, Any]:
    """Every steel of the book: what it hardens in, its names, carbon and critical temperatures."""
    table = computed(book, "steels")
    return {
        "lead": "A name in brackets is the nearest relative, not the same steel.", "warnings": list(table.warnings),
        "grids": grids(book, table, ("grade", "how", "uk", "us", "carbon_percent", "ac1_c", "ac3_c")),
        "lines": list(table.notes[2:3]), "sources": sources(table, named=False), "flipped": True,
    }  # fmt: skip
