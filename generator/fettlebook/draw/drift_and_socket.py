"""A socket resized hot over a hexagon drift: the drift in the vice, the socket driven down over its taper."""

from __future__ import annotations

from math import cos, radians

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, arc_points, box, regular_polygon, short
from fettlebook.tables.definition import BadValue, Parameter

AXIS, JAWS = 64.0, 124.0
"""The drift's axis across the sheet and the top of the vice's jaws, in mm."""

THINNEST_MM = 2.0
"""Wall over the corners of the hexagon below which a socket splits. Common practice."""


def wall_mm(across_flats_mm: float, outside_mm: float) -> float:
    """Wall of a socket over the corners of its hexagon.

        wall = (outside - across flats / cos 30 degrees) / 2

    across_flats_mm   of the hexagon [mm], above 0
    outside_mm        outside diameter [mm]
    gives             [mm], unrounded; refused below 2 mm

    Source: definition

    >>> round(wall_mm(24, 34), 2)
    3.14
    """
    wall = (outside_mm - across_flats_mm / cos(radians(30))) / 2
    if wall < THINNEST_MM:
        raise BadValue(
            "outside",
            f"a hexagon of {short(across_flats_mm)} mm leaves a wall of {short(wall)} mm over its corners in {short(outside_mm)} mm, "
            f"less than {THINNEST_MM:g} mm",
            "take a larger outside diameter",
        )
    return wall


def drift_and_socket(across_flats_mm: float, was_mm: float, outside_mm: float, allowance_mm: float, taper_mm: float, full_mm: float) -> str:  # fmt: skip
    """Drift in the vice with its taper up, hot socket on the taper, the mark it is driven to; and the mouth, old and new."""
    new = across_flats_mm + allowance_mm
    wall = wall_mm(new, outside_mm)
    _keep_growing(was_mm, new)
    given = {
        "flats": across_flats_mm,
        "was": was_mm,
        "outside": outside_mm,
        "allowance": allowance_mm,
        "taper": taper_mm,
        "full": full_mm,
    }
    d = Drawing("drift-and-socket", "Hot socket driven over a hexagon drift", 170, 146, given)
    s = 30 / outside_mm
    tall, long = 26.0, 44.0
    _vice(d, s * new / 2)
    _drift(d, s * new / 2, s * was_mm / 2 - 0.8, tall, long)
    _socket(d, s, outside_mm, was_mm, JAWS - tall - long * 0.82)
    mark = JAWS - 3
    d.line((AXIS - s * new / 2 - 3, mark), (AXIS + s * new / 2 + 3, mark), "hidden")
    d.leader([(AXIS + s * new / 2 + 3, mark), (AXIS + 27, mark - 6)], "mark: down to here before it is dark", "none")
    d.leader(
        [(AXIS + s * new / 2, JAWS - tall * 0.6), (AXIS + 27, JAWS - tall * 0.6 - 5)],
        f"full hexagon {short(new)} across flats",
    )
    d.dim_vertical((AXIS - s * new / 2, JAWS), (AXIS - s * new / 2, JAWS - tall), AXIS - 26, f"full {short(full_mm)}")
    d.dim_vertical(
        (AXIS - s * new / 2, JAWS - tall),
        (AXIS - s * was_mm / 2 + 0.8, JAWS - tall - long),
        AXIS - 26,
        f"taper {short(taper_mm)}",
    )
    _mouth(d, s, new, was_mm, outside_mm, wall)
    d.text((AXIS + 42, 50), f"{short(across_flats_mm)} head + {short(allowance_mm)} for shrinking", size=3.5)
    return d.svg()


def _keep_growing(was: float, new: float) -> None:
    if was >= new:
        raise BadValue(
            "was",
            f"a socket of {short(was)} mm is no smaller than the drift of {short(new)} mm",
            "a drift makes a hexagon larger, never smaller",
        )
    if new > 1.12 * was:
        raise BadValue(
            "was",
            f"from {short(was)} to {short(new)} mm is more than one size: the corners split",
            "start from the next smaller socket",
        )


def _vice(d: Drawing, h: float) -> None:
    for side in (-1, 1):
        x = AXIS + side * h if side > 0 else AXIS - h - 18
        d.hatch(box(x, JAWS, 18, 16), angle=135)
        d.polygon(box(x, JAWS, 18, 16))
    d.text((AXIS + h + 20, JAWS + 9), "vice, drift up to its shoulder")


def _drift(d: Drawing, h: float, small: float, tall: float, long: float) -> None:
    shoulder, top = JAWS - tall, JAWS - tall - long
    d.polyline([(AXIS - h, JAWS + 16), (AXIS - h, shoulder), (AXIS - small, top), (AXIS + small, top), (AXIS + h, shoulder), (AXIS + h, JAWS + 16)])  # fmt: skip
    d.line((AXIS - h, shoulder), (AXIS + h, shoulder), "narrow")
    d.line((AXIS, 14), (AXIS, JAWS + 20), "chain")


def _socket(d: Drawing, s: float, outside: float, was: float, mouth: float) -> None:
    r, h, deep, drive = s * outside / 2, s * was / 2, 26.0, s * was / 4
    floor, top = mouth - deep, mouth - deep - 14
    for side in (-1, 1):
        wall = [
            (AXIS + side * x, y)
            for x, y in ((h, mouth), (r, mouth), (r, top), (drive, top), (drive, floor), (h, floor))
        ]
        d.hatch(wall)
        d.polygon(wall)
    for y in (floor, top):
        d.line((AXIS - drive, y), (AXIS + drive, y))
    d.arrow((AXIS - r - 6, top - 2), (AXIS - r - 6, top + 14), "wide", 1.3)
    d.text((AXIS - r - 9, top + 6), "copper", "end")
    d.text((AXIS - r - 9, top + 11.5), "hammer", "end")
    d.leader([(AXIS + r, top + 6), (AXIS + r + 10, top - 2)], "socket, bright red all round")


def _mouth(d: Drawing, s: float, new: float, was: float, outside: float, wall: float) -> None:
    centre = (AXIS + 60, 74.0)
    r = s * outside / 2
    hexagon = regular_polygon(centre, s * new, 6)
    d.hatch(arc_points(centre, r, 0, 355), hexagon)
    d.circle(centre, r)
    d.polygon(hexagon)
    d.polygon(regular_polygon(centre, s * was, 6), "phantom")
    d.centre_mark(centre, r)
    d.dim_vertical((centre[0] + s * new * 0.2887, centre[1] - s * new / 2), (centre[0] + s * new * 0.2887, centre[1] + s * new / 2), centre[0] + r + 10, short(new))  # fmt: skip
    d.leader(
        [(centre[0] - r * 0.866, centre[1] - r * 0.5), (centre[0] - r - 3, centre[1] - r + 2)], f"Ø{short(outside)}"
    )


def _alt(across_flats_mm: float, was_mm: float, outside_mm: float, allowance_mm: float, taper_mm: float, full_mm: float) -> str:  # fmt: skip
    new = across_flats_mm + allowance_mm
    return (
        f"Section: a hexagon drift stands in the vice, tapered end up over {short(taper_mm)} mm, with {short(full_mm)} mm of full hexagon {short(new)} mm across flats "
        f"behind it. The socket of {short(was_mm)} mm, bright red, is driven down over it to the mark. Beside it the mouth with the old and the new hexagon; "
        f"the wall over the corners is {short(wall_mm(new, outside_mm))} mm."
    )


FIGURES = (
    Drawn(
        "drift-and-socket",
        "Hot socket driven over a hexagon drift",
        (
            Parameter("across_flats", "Across flats of the jack's head", unit="mm", low=5, high=100, default=24.0, example="24 mm"),
            Parameter("was", "Socket's size before", unit="mm", low=5, high=100, default=23.0, example="23 mm"),
            Parameter("outside", "Outside of the socket", unit="mm", low=8, high=160, default=34.0, example="34 mm"),
            Parameter("allowance", "Drift larger than the head by", unit="mm", low=0, high=2, default=0.15, example="0.15 mm"),
            Parameter("taper", "Length of the taper", unit="mm", low=5, high=200, default=40.0, example="40 mm"),
            Parameter("full", "Length of the full hexagon", unit="mm", low=5, high=200, default=25.0, example="25 mm"),
        ),
        drift_and_socket,
        _alt,
    ),
)  # fmt: skip
