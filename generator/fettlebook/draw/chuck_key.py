"""A chuck key: its square end, where the worn end is cut back, and the flats of the new one."""

from __future__ import annotations

from math import acos, degrees, sqrt

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, arc_points, box, polar, short
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.flats import depth_per_flat_mm

AXIS = 46.0


def rounded_square(centre: Point, across_flats: float, diameter: float) -> list[Point]:
    """A square cut from a round: its flats, and what is left of the round at the corners."""
    if across_flats * sqrt(2) <= diameter:
        half = across_flats / 2
        return box(centre[0] - half, centre[1] - half, across_flats, across_flats)
    flat = degrees(acos(across_flats / diameter))
    return [p for n in range(4) for p in arc_points(centre, diameter / 2, 90 * n + flat, 90 * n + 90 - flat, 4)]


def check_square(square_mm: float, shank_mm: float) -> float:
    """Depth of each flat [mm]. Raises BadValue for a square that the shank does not hold."""
    if square_mm >= shank_mm:
        raise BadValue(
            "square",
            f"{short(square_mm)} mm across flats is no smaller than the shank of {short(shank_mm)} mm, so there is nothing to mill",
            "the flats must be narrower than the round",
        )
    return depth_per_flat_mm(shank_mm, square_mm)


def chuck_key(square_mm: float, shank_mm: float, square_length_mm: float, cut_back_mm: float) -> str:
    """The key from the side with the worn end beyond the cut, and the new square from the end."""
    deep = check_square(square_mm, shank_mm)
    given = {"square": square_mm, "shank": shank_mm, "length": square_length_mm, "cut": cut_back_mm}
    d = Drawing("chuck-key", "Chuck key: cut back, and a new square", 176, 92, given)
    s = min(24 / shank_mm, 44 / (square_length_mm + cut_back_mm))
    cut = 114.0 - s * cut_back_mm
    shoulder = cut - s * square_length_mm
    _handle(d, s * shank_mm / 2)
    _square(d, s, square_mm, shank_mm, shoulder, cut)
    _worn(d, s * square_mm / 2, cut, 114.0)
    r, h = s * shank_mm / 2, s * square_mm / 2
    d.dim_horizontal((shoulder, AXIS + h), (cut, AXIS + h), AXIS + 24, short(square_length_mm))
    d.dim_horizontal((cut, AXIS + h), (114.0, AXIS + h), AXIS + 34, f"cut back {short(cut_back_mm)}")
    d.leader([(40, AXIS - r), (48, AXIS - r - 10)], f"Ø{short(shank_mm)}")
    _end(d, square_mm, shank_mm, deep)
    return d.svg()


def _handle(d: Drawing, r: float) -> None:
    x, bar = 22.0, 3.2
    d.rectangle(x - bar, 8, 2 * bar, 76, "wide", bar)
    d.rectangle(x - 7, AXIS - r - 2, 14, 2 * r + 4)
    d.line((10, AXIS), (122, AXIS), "chain")


def _square(d: Drawing, s: float, square: float, shank: float, shoulder: float, cut: float) -> None:
    r, h = s * shank / 2, s * square / 2
    for side in (-1, 1):
        d.polyline(
            [
                (29, AXIS + side * r),
                (shoulder, AXIS + side * r),
                (shoulder + (r - h), AXIS + side * h),
                (cut, AXIS + side * h),
            ]
        )
    d.line((shoulder, AXIS - r), (shoulder, AXIS + r))
    d.line((cut, AXIS - h), (cut, AXIS + h))
    face = (shoulder + (r - h), AXIS - h), (cut, AXIS + h)
    d.line(face[0], face[1], "narrow")
    d.line((face[0][0], face[1][1]), (face[1][0], face[0][1]), "narrow")


def _worn(d: Drawing, h: float, cut: float, end: float) -> None:
    """The worn end that is cut off, as a neighbouring part: rounded corners."""
    d.polyline([(cut, AXIS - h), (end - 4, AXIS - 0.85 * h), (end, AXIS - 0.5 * h), (end, AXIS + 0.5 * h), (end - 4, AXIS + 0.85 * h), (cut, AXIS + h)], "phantom")  # fmt: skip
    d.line((cut, AXIS - h - 9), (cut, AXIS + h + 4), "narrow")
    d.text((cut, AXIS - h - 11), "cut here", "middle")


def _end(d: Drawing, square: float, shank: float, deep: float) -> None:
    centre, s = (150.0, AXIS), 26 / shank
    d.circle(centre, s * shank / 2, "phantom")
    d.polygon(rounded_square(centre, s * square, s * shank))
    d.centre_mark(centre, s * shank / 2)
    right = centre[0] + s * square / 2
    d.dim_horizontal((centre[0] - s * square / 2, AXIS), (right, AXIS), AXIS + 24, short(square))
    top = polar(centre, s * shank / 2, 90)
    d.dim_vertical(top, (centre[0], AXIS - s * square / 2), 170, short(deep))
    d.text((centre[0], AXIS + 41), "depth of each flat at the right", "middle", 3.5)


def _alt(square_mm: float, shank_mm: float, square_length_mm: float, cut_back_mm: float) -> str:
    deep = check_square(square_mm, shank_mm)
    return (
        f"Chuck key from the side: the worn end is cut back by {short(cut_back_mm)} mm, the new square is {short(square_length_mm)} mm long on a shank of "
        f"{short(shank_mm)} mm. From the end: a square {short(square_mm)} mm across flats, each flat {short(deep)} mm deep."
    )


FIGURES = (
    Drawn(
        "chuck-key",
        "Chuck key: cut back, and a new square",
        (
            Parameter("square", "Square across flats", unit="mm", low=3, high=60, default=11.0, example="11 mm"),
            Parameter("shank", "Diameter of the shank", unit="mm", low=4, high=80, default=14.5, example="14.5 mm"),
            Parameter("square_length", "Length of the square", unit="mm", low=3, high=80, default=18.0, example="18 mm"),
            Parameter("cut_back", "Cut off the worn end", unit="mm", low=0.5, high=60, default=8.0, example="8 mm"),
        ),
        chuck_key,
        _alt,
    ),
)  # fmt: skip
