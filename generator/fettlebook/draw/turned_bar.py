"""A trainee's first turned part: a bar in the chuck with two diameters and a square shoulder."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import BadValue, Parameter

AXIS, JAWS, END = 48.0, 38.0, 132.0
"""The axis, the face of the jaws and the faced end on the sheet [mm]."""


def turned_bar(
    bar_mm: float, first_mm: float, first_length_mm: float, second_mm: float, second_length_mm: float
) -> str:
    """The bar from the front with its two steps; lengths are measured from the faced end."""
    _fits(bar_mm, first_mm, first_length_mm, second_mm, second_length_mm)
    given = {"bar": bar_mm, "one": (first_mm, first_length_mm), "two": (second_mm, second_length_mm)}
    d = Drawing("turned-bar", "The first turned part", 170, 104, given)
    s = min(44 / bar_mm, 56 / first_length_mm)
    r, one, two = s * bar_mm / 2, s * first_mm / 2, s * second_mm / 2
    x1, x2 = END - s * first_length_mm, END - s * second_length_mm
    d.rectangle(8, AXIS - 34, 16, 68)
    for side in (-1, 1):
        d.polygon(
            [(24, AXIS + side * r), (JAWS, AXIS + side * r), (JAWS, AXIS + side * (r + 9)), (24, AXIS + side * (r + 9))]
        )
    d.polyline([(24, AXIS - r), (x1, AXIS - r), (x1, AXIS - one), (x2, AXIS - one), (x2, AXIS - two), (END, AXIS - two), (END, AXIS + two), (x2, AXIS + two), (x2, AXIS + one), (x1, AXIS + one), (x1, AXIS + r), (24, AXIS + r)])  # fmt: skip
    d.line((x1, AXIS - one), (x1, AXIS + one))
    d.line((x2, AXIS - two), (x2, AXIS + two))
    d.line((4, AXIS), (END + 6, AXIS), "chain")
    d.dim_horizontal((x1, AXIS + r), (END, AXIS + two), AXIS + 44, short(first_length_mm))
    d.dim_horizontal((x2, AXIS + one), (END, AXIS + two), AXIS + 34, short(second_length_mm))
    d.dim_vertical((END, AXIS - two), (END, AXIS + two), 152, f"Ø{short(second_mm)}")
    d.leader([((x1 + x2) / 2, AXIS - one), ((x1 + x2) / 2 + 3, 14)], f"Ø{short(first_mm)}")
    d.leader([((JAWS + x1) / 2, AXIS - r), ((JAWS + x1) / 2 + 3, 14)], f"bar Ø{short(bar_mm)}")
    return d.svg()


def _fits(bar: float, first: float, first_length: float, second: float, second_length: float) -> None:
    if not bar > first > second:
        raise BadValue("second", f"diameters of {short(bar)}, {short(first)} and {short(second)} mm do not get smaller towards the end",
                       "bar, then the first, then the second diameter")  # fmt: skip
    if second_length >= first_length:
        raise BadValue("second_length", f"{short(second_length)} mm leaves nothing of the first diameter, which is {short(first_length)} mm long",
                       "both are measured from the end")  # fmt: skip


def _alt(bar_mm: float, first_mm: float, first_length_mm: float, second_mm: float, second_length_mm: float) -> str:
    return (
        f"A bar of {short(bar_mm)} mm in the chuck, its end faced. From the end it is turned to {short(first_mm)} mm over {short(first_length_mm)} mm, "
        f"and to {short(second_mm)} mm over the last {short(second_length_mm)} mm, with a square shoulder between."
    )


FIGURES = (
    Drawn(
        "turned-bar",
        "The first turned part",
        (
            Parameter("bar", "Diameter of the bar", unit="mm", low=4, high=200, default=40.0, example="40 mm"),
            Parameter("first", "First diameter", unit="mm", low=3, high=200, default=37.0, example="37 mm"),
            Parameter(
                "first_length", "Its length from the end", unit="mm", low=2, high=400, default=20.0, example="20 mm"
            ),
            Parameter("second", "Second diameter", unit="mm", low=2, high=200, default=35.0, example="35 mm"),
            Parameter(
                "second_length", "Its length from the end", unit="mm", low=1, high=400, default=15.0, example="15 mm"
            ),
        ),
        turned_bar,
        _alt,
    ),
)
