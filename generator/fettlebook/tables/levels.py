"""What a division of a precision level says, in every unit in which people quote it, and the level's own error."""

from __future__ import annotations

from collections.abc import Mapping
from math import atan, degrees
from typing import Any

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

TRAVEL_MM = 2.0
"""How far the bubble goes for one division where nothing else is said. Source: vial-maker-sensitivity."""

ZERO_LIMIT = 0.25
"""Own error beyond which a level is adjusted before it is used [divisions]. Common practice."""


def arc_seconds(mm_per_m: float) -> float:
    """The angle of a slope in seconds of arc.

        angle = arctan(slope)

    mm_per_m   slope [mm/m]
    gives      [arc seconds], unrounded

    Source: definition

    >>> round(arc_seconds(0.02), 3)
    4.125
    """
    return degrees(atan(mm_per_m / 1000)) * 3600


def vial_radius_m(mm_per_m: float, travel_mm: float = TRAVEL_MM) -> float:
    """The radius to which a vial is ground: bubble travel over tilt.

    mm_per_m    slope for one division [mm/m], above 0
    travel_mm   bubble travel for one division [mm]
    gives       [m], unrounded

    Source: definition

    >>> vial_radius_m(0.02)
    100.0
    """
    return travel_mm / mm_per_m


def reversal(reading: float, reading_reversed: float) -> tuple[float, float]:
    """The true tilt and the level's own error from two readings on one spot, the level turned end for end between them.

        tilt = (a - b) / 2,   own error = (a + b) / 2

    reading, reading_reversed   divisions, both with the sign that the level itself shows (its own marked end counts as
                                plus both times)
    gives                       (tilt, own error) in divisions

    Source: definition

    >>> reversal(3, -1)
    (2.0, 1.0)
    """
    return (reading - reading_reversed) / 2, (reading + reading_reversed) / 2


def levels(
    division_mm_per_m: float,
    base_mm: float = 200.0,
    reading: float | None = None,
    reading_reversed: float | None = None,
    travel_mm: float = TRAVEL_MM,
) -> Table:
    """One division of a level, its parts and multiples, in the usual units, and the height over a base length.

    division_mm_per_m   slope for one division [mm/m], above 0
    base_mm             length over which the height is wanted [mm], above 0
    reading             divisions as laid, for the reversal check
    reading_reversed    divisions on the same spot with the level turned end for end
    travel_mm           bubble travel for one division [mm]
    """
    if (reading is None) != (reading_reversed is None):
        raise BadValue("reading" if reading is None else "reversed", BOTH, BOTH_HINT)
    rows = [_row(what, count, division_mm_per_m, base_mm) for what, count in NAMED]
    notes = [
        f"Height is over a base of {base_mm:g} mm.",
        TEN_INCHES,
        f"A bubble that moves {travel_mm:g} mm for a division needs a vial ground to a radius of "
        f"{written(vial_radius_m(division_mm_per_m, travel_mm), 1)} m: a warm hand bends it. Wait, and read both ends of the bubble.",
        SERIES,
    ]
    warnings: tuple[str, ...] = ()
    if reading is not None and reading_reversed is not None:
        tilt, error = reversal(reading, reading_reversed)
        rows += [_row("the surface's tilt", tilt, division_mm_per_m, base_mm),
                 _row("the level's own error", error, division_mm_per_m, base_mm)]  # fmt: skip
        notes.append(HALVES)
        if abs(error) > ZERO_LIMIT:
            warnings = (f"The level is out by {written(abs(error), 2)}{OUT}",)
    return Table(tuple(rows), notes=tuple(notes), warnings=warnings)


NAMED = (("one division", 1.0), ("a quarter", 0.25), ("half", 0.5), ("two", 2.0), ("five", 5.0), ("ten", 10.0))
BOTH, BOTH_HINT = "the reversal check needs both readings", "read, turn the level end for end, read again"
TEN_INCHES = "Per foot and per ten inches differ by 20 percent: look which of the two is engraved."
SERIES = (
    "Engineers' levels to DIN 877 reach 0.02 mm/m a division; 0.05, 0.1, 0.3 and 1 mm/m are the coarser ones in use "
    "(the series from memory)."
)
HALVES = (
    "Tilt is half the difference of the two readings, own error half their sum; plus is the level's own marked end."
)
OUT = " divisions. Adjust it, or take its own error off every reading and always lay it the same way round."


def browser_data() -> dict[str, Any]:
    """What does not change, for the browser."""
    return {"named": NAMED, "both": BOTH, "both_hint": BOTH_HINT, "ten_inches": TEN_INCHES, "series": SERIES, "halves": HALVES,
            "out": OUT, "limit": ZERO_LIMIT}  # fmt: skip


def _row(what: str, count: float, division_mm_per_m: float, base_mm: float) -> Mapping[str, Any]:
    slope = division_mm_per_m * count
    return {
        "what": what,
        "divisions": count,
        "mm_per_m": slope,
        "arc_s": arc_seconds(slope),
        "in_per_ft": slope * 12 / 1000,
        "in_per_10in": slope / 100,
        "height_mm": slope * base_mm / 1000,
    }


TABLES = (
    Definition(
        name="levels",
        title="What a level's division means",
        about="Turns a reading in divisions of your level into a slope, an angle and a height over a base. "
        "The figure engraved on the vial is the slope for one division. Check the level first: read it, turn it end for end "
        "on the same spot, read it again, and give both readings.",
        group="Levelling and alignment",
        parameters=(
            Parameter("division", "One division of the level", unit="mm/m", low=0.001, high=20, shop="level_mm_per_m",
                      default=0.02, example="0.02 mm/m", help="as engraved on the vial; 0.0005 in/ft, 0.0005 in/10 in and 20 arcsec are understood too"),
            Parameter("base", "Base over which the height is wanted", unit="mm", low=1, high=10000, default=200.0, example="200 mm"),
            Parameter("reading", "Reversal check: reading as laid, in divisions", kind="number", low=-100, high=100, default=None, example="3"),
            Parameter("reversed", "Reversal check: turned end for end", kind="number", low=-100, high=100, default=None,
                      argument="reading_reversed", example="-1", help="same spot, the level's own marked end is plus both times"),
            Parameter("travel", "Bubble travel for one division", unit="mm", low=0.5, high=10, default=TRAVEL_MM, example="2 mm"),
        ),
        columns=(
            Column("what", "What", kind="text"),
            Column("divisions", "Divisions", decimals=2),
            Column("mm_per_m", "Slope", "mm/m", decimals=4),
            Column("arc_s", "Angle", "arcsec", decimals=2),
            Column("in_per_ft", "Slope", "in/ft", decimals=6),
            Column("in_per_10in", "Slope", "in/10 in", decimals=6),
            Column("height_mm", "Height over the base", "mm", decimals=4),
        ),
        compute=levels,
        sources=(Cite("definition", how="computed"), Cite("vial-maker-sensitivity", "2 mm of bubble travel"),
                 Cite("din-877", "usual divisions", "memory")),
        browser="levels",
        browser_data=browser_data,
        holds="slopes up to 20 mm/m, where a level is read at all",
        also=("spirit level", "bubble", "sensitivity", "arc seconds", "machinist's level", "reversal", "zero error"),
        examples=({"division": "0.02 mm/m"}, {"division": "0.02 mm/m", "reading": 3, "reversed": -1}),
    ),
)  # fmt: skip
