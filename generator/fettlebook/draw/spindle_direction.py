"""Which way a lathe's spindle turns forward, seen from the tailstock."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.geometry import Point, polar
from fettlebook.draw.sheet import Drawing

CENTRE: Point = (96.0, 46.0)


def spindle_direction() -> str:
    """The chuck from the tailstock end: the operator at the left, the top coming over towards them."""
    d = Drawing("spindle-direction", "Forward, seen from the tailstock", 160, 106)
    d.circle(CENTRE, 27)
    d.circle(CENTRE, 7, "narrow")
    for angle in (90, 210, 330):
        corners = [polar(CENTRE, r, angle + t) for r, t in ((8, -22), (24, -8), (24, 8), (8, 22))]
        d.polygon(corners)
    d.centre_mark(CENTRE, 27)
    d.turning_arrow(CENTRE, 34, 50, 150)
    d.polygon([(60, 46), (44, 44), (34, 44), (34, 52), (58, 52)])
    d.leader([(40, 52), (36, 64)], "tool")
    d.line((56, 80), (136, 80))
    d.hatch([(56, 80), (136, 80), (136, 86), (56, 86)])
    d.text((96, 93), "bed", "middle")
    d.circle((16, 30), 5)
    d.polyline([(16, 35), (16, 58), (10, 80)])
    d.line((16, 58), (22, 80))
    d.line((16, 42), (28, 50))
    d.text((8, 93), "operator")
    d.text((CENTRE[0], 103), "the top of the chuck comes towards the operator", "middle", 3.8)
    return d.svg()


ALT = (
    "The chuck seen from the tailstock end, the operator standing at the left, the tool on the operator's side. An arrow over the chuck "
    "shows that its top comes towards the operator, anticlockwise from here."
)

FIGURES = (Drawn("spindle-direction", "Forward, seen from the tailstock", (), spindle_direction, ALT),)
