"""A bush in a stripped hole, in section: flange on the boss, sealant on its thread, the old plug inside."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import BadValue, Parameter

AXIS, FACE = 70.0, 30.0
"""The axis and the seat of the boss on the sheet [mm]."""
DEPTH = 44.0


def bush_section(inner_mm: float, outer_mm: float, flange_mm: float) -> str:
    """The boss with its larger thread, the bush with its flange, and the hole for the old plug."""
    if outer_mm < inner_mm + 4:
        raise BadValue("outer", f"a bush of {short(outer_mm)} mm over a thread of {short(inner_mm)} mm has less than 2 mm of wall",
                       "make the outside thread at least 4 mm larger")  # fmt: skip
    d = Drawing(
        "bush-section", "Bush in a stripped hole, in section", 160, 100, {"i": inner_mm, "o": outer_mm, "f": flange_mm}
    )
    s = 44 / outer_mm
    inner, outer, flange = s * inner_mm / 2, s * outer_mm / 2, max(3.0, s * flange_mm)
    rim = outer + 8
    for side, angle in ((-1, 45), (1, 135)):
        boss = [(AXIS + side * outer, FACE), (AXIS + side * 50, FACE), (AXIS + side * 50, FACE + DEPTH), (AXIS + side * outer, FACE + DEPTH)]  # fmt: skip
        bush = [(AXIS + side * inner, FACE - flange), (AXIS + side * rim, FACE - flange), (AXIS + side * rim, FACE), (AXIS + side * outer, FACE), (AXIS + side * outer, FACE + DEPTH - 8), (AXIS + side * inner, FACE + DEPTH - 8)]  # fmt: skip
        d.hatch(boss, angle=angle)
        d.hatch(bush, spacing=1.4, angle=180 - angle)
        d.polyline([boss[0], boss[1]])
        d.line(boss[0], boss[3])
        d.break_line((AXIS + side * 50, FACE - 2), (AXIS + side * 50, FACE + DEPTH + 2))
        d.polygon(bush)
        d.line((AXIS + side * 0.9 * inner, FACE - flange), (AXIS + side * 0.9 * inner, FACE + DEPTH - 8), "narrow")
    d.line((AXIS - outer, FACE + DEPTH), (AXIS + outer, FACE + DEPTH), "narrow")
    d.line((AXIS, 14), (AXIS, FACE + DEPTH + 8), "chain")
    d.dim_horizontal(
        (AXIS - inner, FACE + DEPTH - 8), (AXIS + inner, FACE + DEPTH - 8), 86, f"old plug Ø{short(inner_mm)}"
    )
    d.dim_horizontal((AXIS - outer, FACE + DEPTH), (AXIS + outer, FACE + DEPTH), 96, f"bush Ø{short(outer_mm)}")
    d.leader([(AXIS + outer, FACE + 20), (128, FACE + 26)], "sealant", lines=("on this", "thread"))
    d.leader([(AXIS + rim - 2, FACE - flange), (AXIS + rim + 6, 10)], f"flange {short(flange_mm, 1)}")
    return d.svg()


def _alt(inner_mm: float, outer_mm: float, flange_mm: float) -> str:
    return (
        f"Section through a boss: a bush of {short(outer_mm)} mm is screwed into it with sealant on its outer thread, its flange of "
        f"{short(flange_mm, 1)} mm on the seat, and inside it the thread of {short(inner_mm)} mm for the old plug."
    )


FIGURES = (
    Drawn(
        "bush-section",
        "Bush in a stripped hole, in section",
        (
            Parameter(
                "inner", "Thread for the old plug", unit="mm", low=4, high=100, default=20.95, example="20.95 mm"
            ),
            Parameter("outer", "Thread in the boss", unit="mm", low=8, high=140, default=30.0, example="30 mm"),
            Parameter("flange", "Thickness of the flange", unit="mm", low=1, high=10, default=3.0, example="3 mm"),
        ),
        bush_section,
        _alt,
    ),
)
