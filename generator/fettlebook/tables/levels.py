"""What a division of a precision level says, in every unit in which people quote it."""

from __future__ import annotations

from math import atan, degrees

from fettlebook.tables.definition import Cite, Column, Definition, Parameter, Table


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


def levels(division_mm_per_m: float, base_mm: float = 200.0) -> Table:
    """One division of a level, in the four usual units, and its height over a base length.

    division_mm_per_m   slope for one division [mm/m], above 0
    base_mm             length over which the height is wanted [mm], above 0
    """
    row = {
        "divisions": 1,
        "mm_per_m": division_mm_per_m,
        "arc_s": arc_seconds(division_mm_per_m),
        "in_per_ft": division_mm_per_m * 12 / 1000,
        "height_mm": division_mm_per_m * base_mm / 1000,
    }
    multiples = (0.25, 0.5, 1, 2, 5, 10)
    rows = tuple({**{k: v * m for k, v in row.items()}, "arc_s": arc_seconds(division_mm_per_m * m)} for m in multiples)
    return Table(rows, notes=(f"Height is over a base of {base_mm:g} mm.",))


TABLES = (
    Definition(
        name="levels",
        title="What a level's division means",
        about="Turns a reading in divisions of your level into a slope, an angle and a height over a base. "
        "The figure engraved on the vial is the slope for one division.",
        group="Levelling and alignment",
        parameters=(
            Parameter("division", "One division of the level", unit="mm/m", low=0.001, high=20, shop="level_mm_per_m",
                      default=0.02, example="0.02 mm/m", help="as engraved on the vial; 0.0005 in/ft is understood too"),
            Parameter("base", "Base over which the height is wanted", unit="mm", low=1, high=10000, default=200.0, example="200 mm"),
        ),
        columns=(
            Column("divisions", "Divisions", decimals=2),
            Column("mm_per_m", "Slope", "mm/m", decimals=4),
            Column("arc_s", "Angle", "arcsec", decimals=2),
            Column("in_per_ft", "Slope", "in/ft", decimals=6),
            Column("height_mm", "Height over the base", "mm", decimals=4),
        ),
        compute=levels,
        sources=(Cite("definition", how="computed"),),
        holds="slopes up to 20 mm/m, where a level is read at all",
        also=("spirit level", "bubble", "sensitivity", "arc seconds", "machinist's level"),
    ),
)  # fmt: skip
