"""How a twisted bed makes taper: the ways seen from the tailstock end, and what the tool does."""

from __future__ import annotations

from math import cos, radians, sin

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point
from fettlebook.tables.alignment import radial_shift_mm
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written

LEAN_DEG = 5.0
"""The lean is drawn as this angle, whatever it is: a real one would not be seen."""

MIDDLE, GROUND, HIGH = 62.0, 74.0, 46.0
"""Middle of the bed, height of the ways and of the centre over them on the sheet [mm]."""


def bed_taper(twist_mm_per_m: float, centre_height_mm: float) -> str:
    """End view: the bed level (thin) and leaning as at the tailstock end, the tool carried from the work by the lean."""
    shift = radial_shift_mm(twist_mm_per_m, centre_height_mm)
    given = {"twist": twist_mm_per_m, "height": centre_height_mm}
    d = Drawing("bed-taper", "Bed twist and the tool", 170, 128, given)
    side = 1 if twist_mm_per_m > 0 else -1 if twist_mm_per_m < 0 else 0
    _section(d, 0, "phantom")
    _section(d, side * LEAN_DEG, "wide")
    centre = (MIDDLE, GROUND - HIGH)
    d.circle(centre, 11)
    d.centre_mark(centre, 11)
    _tool(d, side)
    d.dim_vertical(centre, (MIDDLE, GROUND), MIDDLE + 54, f"centre height {written(centre_height_mm, 0)}")
    d.text((MIDDLE - 50, GROUND + 30), "front (operator)")
    d.text((MIDDLE + 50, GROUND + 30), "rear", "end")
    d.lines_of_text((8, GROUND + 40), _said(twist_mm_per_m, shift))
    return d.svg()


def _leant(point: Point, lean_deg: float) -> Point:
    """A point of the bed, y upwards from the ways, turned about their middle; above 0 the rear rises and the top leans to the front (left)."""
    a, (x, y) = radians(lean_deg), point
    return MIDDLE + x * cos(a) - y * sin(a), GROUND - x * sin(a) - y * cos(a)


def _section(d: Drawing, lean: float, kind: str) -> None:
    """A bed with a vee in front and a flat behind, and its feet."""
    outline = [(-34, 0), (-30, 5), (-26, 0), (24, 0), (36, 0), (36, -6), (30, -6), (30, -16), (36, -16), (36, -20),
               (-36, -20), (-36, -16), (-30, -16), (-30, -6), (-36, -6), (-36, 0)]  # fmt: skip
    d.polygon([_leant(point, lean) for point in outline], kind)


def _tool(d: Drawing, side: int) -> None:
    tip, back = (-11.0, HIGH), (-40.0, HIGH)
    for lean, kind in ((0, "phantom"), (side * LEAN_DEG, "wide")):
        place = [
            _leant(p, lean)
            for p in (tip, (tip[0] - 5, HIGH - 4), (back[0], HIGH - 4), (back[0], HIGH + 1), (tip[0] - 4, HIGH + 1))
        ]
        d.polygon(place, kind)
    if side:
        a, b = _leant((-25.0, HIGH + 8), 0), _leant((-25.0, HIGH + 8), side * LEAN_DEG)
        d.arrow((a[0] + side * 4, a[1]), (b[0] - side * 4, a[1]))


def _said(twist: float, shift: float) -> list[str]:
    if twist == 0:
        return ["no twist: the tool keeps its distance, the work comes out parallel"]
    away, end = ("away from", "larger") if twist > 0 else ("towards", "smaller")
    return [
        f"{written(abs(twist), 3)} mm/m: the tool leans {away} the work by {written(abs(shift), 4)} mm,",
        f"the work comes out {written(2 * abs(shift), 4)} mm {end} there (lean not to scale)",
    ]


def _alt(twist_mm_per_m: float, centre_height_mm: float) -> str:
    words = " ".join(_said(twist_mm_per_m, radial_shift_mm(twist_mm_per_m, centre_height_mm)))
    return (
        f"End view of a lathe bed, drawn level in thin chain lines and leaning in wide ones, with the tool in front of the work at a centre height of "
        f"{written(centre_height_mm, 0)} mm. {words[0].upper()}{words[1:]}."
    )


FIGURES = (
    Drawn(
        "bed-taper",
        "Bed twist and the tool",
        (
            Parameter("twist", "Twist, rear higher at the tailstock end above 0", unit="mm/m", low=-20, high=20, default=0.02, example="0.02 mm/m"),
            Parameter("centre_height", "Centre height", unit="mm", low=20, high=1000, default=165.0, example="160 mm"),
        ),
        bed_taper,
        _alt,
        ("bed-twist", "two-collars"),
    ),
)  # fmt: skip
