"""Milling flats in the dividing head: touch off with a feeler, then raise the table by feeler and depth."""

from __future__ import annotations

from math import acos, cos, degrees, radians, sqrt

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, arc_points, regular_polygon, short
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.flats import depth_per_flat_mm

CENTRE: Point = (58.0, 74.0)


def cut_outline(centre: Point, across_flats: float, diameter: float, flats: int) -> list[Point]:
    """What is left of a round when flats are milled: a polygon, its corners cut off by the round where they reach it."""
    if flats > 2 and across_flats / cos(radians(180 / flats)) <= diameter:
        return regular_polygon(centre, across_flats, flats)
    half = degrees(acos(across_flats / diameter))
    sides = [90 + 360 / flats * n for n in range(flats)]
    points: list[Point] = []
    for n, side in enumerate(sides):
        following = sides[(n + 1) % len(sides)] + (360 if n + 1 == len(sides) else 0)
        points += arc_points(centre, diameter / 2, side + half, following - half, 4)
    return points


def depth_mm(diameter_mm: float, across_flats_mm: float) -> float:
    """Depth of each flat [mm]. Raises BadValue where nothing is to be cut."""
    if across_flats_mm >= diameter_mm:
        raise BadValue(
            "across_flats",
            f"{short(across_flats_mm)} mm is no smaller than the bar of {short(diameter_mm)} mm, so there is nothing to cut",
            "the flats must be narrower than the round",
        )
    return depth_per_flat_mm(diameter_mm, across_flats_mm)


def touch_off(diameter_mm: float, across_flats_mm: float, flats: int, feeler_mm: float) -> str:
    """The bar from its end, the feeler on its top, the end mill over it, and what the table is raised by."""
    deep = depth_mm(diameter_mm, across_flats_mm)
    given = {"diameter": diameter_mm, "across": across_flats_mm, "flats": flats, "feeler": feeler_mm}
    d = Drawing("touch-off", "Touch-off on a round, and the move to a flat", 170, 132, given)
    s = 56 / diameter_mm
    top = CENTRE[1] - s * diameter_mm / 2
    d.circle(CENTRE, s * diameter_mm / 2)
    d.polygon(cut_outline(CENTRE, s * across_flats_mm, s * diameter_mm, flats), "phantom")
    d.centre_mark(CENTRE, s * diameter_mm / 2)
    gap = 1.8 if feeler_mm else 0.0
    _cutter(d, top - gap)
    if feeler_mm:
        d.rectangle(CENTRE[0] - 22, top - gap, 44, gap, "narrow")
        d.leader(
            [(CENTRE[0] - 20, top - gap / 2), (CENTRE[0] - 26, top - 12), (CENTRE[0] - 28, top - 12)],
            f"feeler {short(feeler_mm)}",
        )
    _sizes(d, s, diameter_mm, across_flats_mm, deep)
    _moves(d, deep, feeler_mm, flats)
    return d.svg()


def _cutter(d: Drawing, bottom: float) -> None:
    x, half = CENTRE[0], 15.0
    d.polyline([(x - half, 10), (x - half, bottom), (x + half, bottom), (x + half, 10)])
    d.break_line((x - half, 10), (x + half, 10))
    for n in (-1, 0, 1):
        d.line((x + 10 * n - 4, bottom), (x + 10 * n + 4, bottom - 18), "narrow")
    d.line((x, 5), (x, bottom), "chain")
    d.turning_arrow((x, 22), 8, 160, 20)
    d.leader([(x + half, 20), (x + half + 12, 15)], "end mill")


def _sizes(d: Drawing, s: float, diameter: float, across: float, deep: float) -> None:
    r, h = s * diameter / 2, s * across / 2
    chord = sqrt(r * r - h * h)
    x, y = CENTRE
    d.dim_vertical((x + 22, y - r), (x + chord, y - h), x + r + 12, short(deep))
    d.dim_vertical((x - chord, y - h), (x - chord, y + h), x - r - 14, f"{short(across)} across flats")
    d.leader([(x + r * 0.766, y + r * 0.643), (x + r + 6, y + r + 1)], f"Ø{short(diameter)}")


def _moves(d: Drawing, deep: float, feeler: float, flats: int) -> None:
    x, y = CENTRE[0], CENTRE[1] + 44
    d.arrow((x - 20, y + 8), (x - 20, y - 8), "wide", 1.3)
    total = f"{short(feeler)} + {short(deep)} = {short(feeler + deep)}" if feeler else short(deep)
    d.text((x - 14, y - 1), f"table up by {total} mm", bold=True)
    d.text((x - 14, y + 6), f"then index, and mill each of the {flats} flats at this height")
    until = "it draws the feeler along" if feeler else "it just marks the blue"
    lines = [
        "1  cutter turns: raise until",
        until,
        "2  stop, dial to zero",
        "3  clear, then raise in cuts",
        "4  mill, index, mill",
    ]
    d.lines_of_text((112, 58), lines)


def _alt(diameter_mm: float, across_flats_mm: float, flats: int, feeler_mm: float) -> str:
    deep = depth_mm(diameter_mm, across_flats_mm)
    touch = f"a feeler of {short(feeler_mm)} mm between them" if feeler_mm else "just touching"
    return (
        f"End view: a round of {short(diameter_mm)} mm with an end mill over it, {touch}. After touch-off the table goes up by "
        f"{short(feeler_mm + deep)} mm; each of {flats} flats is {short(deep)} mm deep, {short(across_flats_mm)} mm across flats."
    )


FIGURES = (
    Drawn(
        "touch-off",
        "Touch-off on a round, and the move to a flat",
        (
            Parameter("diameter", "Diameter of the bar", unit="mm", low=1, high=500, default=14.5, example="14.5 mm"),
            Parameter("across_flats", "Across flats", unit="mm", low=0.5, high=499, default=11.0, example="11 mm"),
            Parameter("flats", "Number of flats", kind="whole", low=2, high=12, default=4, example="4"),
            Parameter("feeler", "Feeler at touch-off", unit="mm", low=0, high=2, shop="feeler_mm", default=0.05, example="0.05 mm"),
        ),
        touch_off,
        _alt,
        ("flats",),
    ),
)  # fmt: skip
