"""A bar with flats from its end: across flats, across corners, depth of a flat, and what to measure when the number is odd."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, polar, regular_polygon
from fettlebook.draw.touch_off import cut_outline
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.flats import flats as flats_table

CENTRE: Point = (80.0, 62.0)
BAR_RADIUS = 38.0


def flats_in_bar(diameter_mm: float, across_flats_mm: float | None, flats: int) -> str:
    """The finished section inside the bar's round, dimensioned in mm."""
    row = flats_table(diameter_mm, across_flats_mm, (flats,)).rows[0]
    d = Drawing(
        "flats-in-bar", "Flats on a bar", 170, 132, {"diameter": diameter_mm, "across": across_flats_mm, "flats": flats}
    )
    s = 2 * BAR_RADIUS / diameter_mm
    wide = row["across_flats_mm"] if row["across_flats_mm"] is not None else 0.75 * diameter_mm
    d.circle(CENTRE, BAR_RADIUS, "phantom")
    if row["corners"] == "sharp":
        outline = regular_polygon(CENTRE, s * wide, flats, 180)
    else:
        outline = cut_outline(CENTRE, s * wide, s * diameter_mm, flats)
    d.polygon(outline)
    d.hatch(outline, spacing=4)
    d.centre_mark(CENTRE, BAR_RADIUS, 3)
    if row["across_flats_mm"] is not None:
        _dimensions(d, row, s * wide / 2, flats)
    d.leader([polar(CENTRE, BAR_RADIUS, -40), polar(CENTRE, BAR_RADIUS + 10, -40)], f"bar Ø{written(diameter_mm, 2)}")
    d.lines_of_text((8, 117), _lines(row, flats))
    return d.svg()


def _dimensions(d: Drawing, row: Mapping[str, Any], half: float, flats: int) -> None:
    """The first flat lies on top; an odd number has a corner below it."""
    x, y = CENTRE
    left, right = x - BAR_RADIUS - 14, x + BAR_RADIUS + 12
    d.dim_vertical((x, y - BAR_RADIUS), (x, y - half), right, written(row["depth_per_flat_mm"], 3))
    if flats % 2:
        low = y - half + row["flat_to_corner_mm"] / row["across_flats_mm"] * 2 * half
        d.dim_vertical((x, y - half), (x, low), left, f"{written(row['flat_to_corner_mm'], 3)} flat to corner")
    else:
        d.dim_vertical((x, y - half), (x, y + half), left, f"{written(row['across_flats_mm'], 3)} across flats")


def _lines(row: Mapping[str, Any], flats: int) -> list[str]:
    if row["across_flats_mm"] is None:
        return ["Give the width across flats: two flats can be any distance apart."]
    if flats % 2:
        return [
            f"{flats} flats: none faces another, so no caliper goes across flats.",
            f"After the first flat measure {written(row['over_flat_mm'], 3)} mm over it and the round opposite.",
        ]
    corners = (
        f"across corners {written(row['across_corners_mm'], 3)} mm, corners {row['corners']}"
        if flats > 2
        else "the round stays between them"
    )
    return [
        f"{flats} flats, {corners}.",
        f"After the first flat measure {written(row['over_flat_mm'], 3)} mm over it and the round opposite.",
    ]


def _alt(diameter_mm: float, across_flats_mm: float | None, flats: int) -> str:
    row = flats_table(diameter_mm, across_flats_mm, (flats,)).rows[0]
    return f"End view of a bar of {written(diameter_mm, 2)} mm with {flats} flats. " + " ".join(_lines(row, flats))


FIGURES = (
    Drawn(
        "flats-in-bar",
        "Flats on a bar",
        (
            Parameter("diameter", "Diameter of the bar", unit="mm", low=0.5, high=2000, default=25.0, example="25 mm"),
            Parameter("across_flats", "Across flats", unit="mm", low=0.2, high=2000, default=None, example="19 mm"),
            Parameter("flats", "Number of flats", kind="whole", low=2, high=12, default=6, example="6"),
        ),
        flats_in_bar,
        _alt,
        ("flats",),
    ),
)  # fmt: skip
