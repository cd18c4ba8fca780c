"""Milling flats on a bar: how deep, how far to move the table from touch-off, what is left, and the largest polygon in a bar."""

from __future__ import annotations

from math import cos, pi, sqrt, tan
from typing import Any

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written
from fettlebook.tables.spanners import jaw_for, rack


def largest_across_flats_mm(diameter_mm: float, flats: int) -> float:
    """Largest width across flats with sharp corners out of a bar: twice the distance from the axis to a flat.

        across flats = diameter x cos(180 degrees / flats)

    Two flats have no corners: any width up to the diameter can be cut.

    diameter_mm   of the bar [mm], above 0
    flats         from 2
    gives         [mm], unrounded

    Source: definition

    >>> round(largest_across_flats_mm(25, 6), 2), round(largest_across_flats_mm(10, 4), 3)
    (21.65, 7.071)
    """
    return diameter_mm if flats == 2 else diameter_mm * cos(pi / flats)


def depth_per_flat_mm(diameter_mm: float, across_flats_mm: float) -> float:
    """Depth of each flat below the round of the bar, (diameter - across flats) / 2 [mm].

    >>> round(depth_per_flat_mm(25.0, 21.65), 3)
    1.675
    """
    return (diameter_mm - across_flats_mm) / 2


def flats(
    diameter_mm: float | None = None,
    across_flats_mm: float | None = None,
    flats: tuple[int, ...] = (2, 3, 4, 6, 8),
    feeler_mm: float = 0.0,
    cut_mm: float = 0.0,
    measured_mm: float | None = None,
) -> Table:
    """What to cut for each number of flats.

    diameter_mm       of the bar; without it, the smallest bar that gives sharp corners
    across_flats_mm   wanted; without it, the largest the bar gives. For an odd number, twice the distance from axis to flat
    feeler_mm         between cutter and work at touch-off
    cut_mm            how far the table has moved since touch-off
    measured_mm       over a flat and the round opposite, as it is now
    """
    if diameter_mm is None and across_flats_mm is None:
        raise BadValue("diameter", "the bar's diameter or the width across flats must be given", "for example 25 mm")
    if diameter_mm is not None and across_flats_mm is not None and across_flats_mm >= diameter_mm:
        what = f"{across_flats_mm:g} mm across flats leaves no flat on a bar of {diameter_mm:g} mm"
        raise BadValue("across_flats", what, "take a larger bar or a smaller width")
    if len(flats) > 24:
        raise BadValue("flats", "more than 24 numbers of flats are given", "for example 4, 6")
    rows = tuple(_row(n, diameter_mm, across_flats_mm, feeler_mm, cut_mm, measured_mm) for n in flats)
    return Table(rows, _notes(rows), _warnings(rows))


def _row(
    n: int, diameter: float | None, across: float | None, feeler: float, cut: float, measured: float | None
) -> dict[str, Any]:
    largest = None if diameter is None else largest_across_flats_mm(diameter, n)
    wide = across if across is not None else (largest if n > 2 else None)
    smallest_bar = None if n == 2 or wide is None else wide / cos(pi / n)
    bar = diameter if diameter is not None else smallest_bar
    row: dict[str, Any] = dict.fromkeys(column.name for column in COLUMNS)
    row |= {
        "flats": n,
        "across_flats_mm": wide,
        "bar_mm": bar,
        "largest_across_flats_mm": largest,
        "smallest_bar_mm": smallest_bar,
    }
    if wide is None or bar is None:
        return row | _spanner(wide, n)
    sharp = smallest_bar is not None and smallest_bar <= bar * (1 + 1e-12)
    corner_circle = smallest_bar if sharp and smallest_bar is not None else bar
    depth = depth_per_flat_mm(bar, wide)
    over_flat = (bar + wide) / 2
    return row | _spanner(wide, n) | {
        "across_corners_mm": corner_circle if n % 2 == 0 else None,
        "corner_circle_mm": corner_circle,
        "corners": "none" if n == 2 else "sharp" if sharp else "round",
        "flat_to_corner_mm": (wide + corner_circle) / 2 if n % 2 else None,
        "over_flat_mm": over_flat,
        "flat_width_mm": wide * tan(pi / n) if sharp else sqrt(bar * bar - wide * wide),
        "depth_per_flat_mm": depth,
        "table_move_mm": feeler + depth,
        "left_mm": feeler + depth - cut,
        "left_by_measurement_mm": None if measured is None else measured - over_flat,
    }  # fmt: skip


def _spanner(wide: float | None, n: int) -> dict[str, Any]:
    """The jaw that goes over the flats, for the numbers of flats that a spanner takes."""
    jaw = jaw_for(wide) if wide is not None and n in (2, 4, 6) else None
    return {"spanner": jaw and jaw.marking, "spanner_gap_mm": jaw and jaw.mm - (wide or 0.0)}


def _notes(rows: tuple[dict[str, Any], ...]) -> tuple[str, ...]:
    notes = [
        "Touch off on the top of the bar with the feeler just dragging, set the dial to zero, then move the table by the figure given."
    ]
    if any(row["flats"] % 2 for row in rows):
        notes.append(
            "An odd number of flats has no two that face each other: no caliper goes across flats. Measure over one flat and "
            "the round opposite; the width across flats then means twice the distance from the axis to a flat."
        )
    if any(row["corners"] == "round" for row in rows):
        notes.append("Round corners: the flats do not meet, and the bar's own round stays between them.")
    return tuple(notes)


def _warnings(rows: tuple[dict[str, Any], ...]) -> tuple[str, ...]:
    deepest = min((row["left_mm"] for row in rows if row["left_mm"] is not None), default=0.0)
    if deepest < -1e-9:
        return (f"The table has already gone {written(-deepest, 3)} mm too far for this flat.",)
    return ()


COLUMNS = (
    Column("flats", "Flats"),
    Column("bar_mm", "Bar", "mm", decimals=2),
    Column("across_flats_mm", "Across flats", "mm", decimals=3),
    Column("across_corners_mm", "Across corners", "mm", decimals=3),
    Column("corners", "Corners", kind="text"),
    Column("depth_per_flat_mm", "Depth of a flat", "mm", decimals=3),
    Column("table_move_mm", "Table from touch-off", "mm", decimals=3),
    Column("left_mm", "Still to go", "mm", decimals=3),
    Column("over_flat_mm", "Over flat and round", "mm", decimals=3, help="measured after one flat, while the round opposite stands"),
    Column("left_by_measurement_mm", "Still to go, as measured", "mm", decimals=3),
    Column("flat_to_corner_mm", "Flat to opposite corner", "mm", decimals=3, help="odd numbers only, finished"),
    Column("flat_width_mm", "Width of a flat", "mm", decimals=2),
    Column("corner_circle_mm", "Circle through the corners", "mm", decimals=3),
    Column("largest_across_flats_mm", "Largest from this bar", "mm", decimals=3),
    Column("smallest_bar_mm", "Smallest bar for sharp corners", "mm", decimals=3),
    Column("spanner", "Spanner", kind="text"),
    Column("spanner_gap_mm", "Spanner's gap", "mm", decimals=3),
)  # fmt: skip

TABLES = (
    Definition(
        name="flats",
        title="Flats, squares and hexagons on a bar",
        about="How deep to mill each flat and how far to move the table from touch-off. Give the bar and the width across flats; without "
        "a width, the largest with sharp corners is taken. Stop the spindle before you measure or reach for the feeler.",
        group="Dividing and flats",
        parameters=(
            Parameter("diameter", "Diameter of the bar", unit="mm", low=0.5, high=2000, default=None, example="25 mm"),
            Parameter("across_flats", "Across flats", unit="mm", low=0.2, high=2000, default=None, example="19 mm"),
            Parameter("flats", "Number of flats", kind="whole", many=True, low=2, high=24, default=(2, 3, 4, 6, 8), example="6"),
            Parameter("feeler", "Feeler at touch-off", unit="mm", low=0, high=5, shop="feeler_mm", default=0.0, example="0.05 mm"),
            Parameter("cut", "Table moved since touch-off", unit="mm", low=0, high=2000, default=0.0, example="1 mm"),
            Parameter("measured", "Measured over flat and round", unit="mm", low=0.2, high=2000, default=None, example="23.6 mm"),
        ),
        columns=COLUMNS,
        compute=flats,
        sources=(Cite("definition", how="computed"), Cite("geometer-hexagons", "factors and the check over one flat")),
        holds="round bars that run true; on a bar that does not, measure over flat and round at two places",
        also=("hexagon", "square", "across flats", "touching off", "spanner flats", "milling flats"),
        examples=({"diameter": "25 mm", "flats": "6"}, {"diameter": "22 mm", "across_flats": "19 mm", "feeler": "0.05 mm"},
                  {"across_flats": "13 mm", "flats": "4, 6"}),
        browser="flats",
        browser_data=lambda: {"jaws": [[jaw.mm, jaw.marking] for jaw in rack()]},
    ),
)  # fmt: skip
