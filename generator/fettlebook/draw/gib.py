"""A dovetail slide in section: the gib, its screws with lock nuts, and where the shake is read."""

from __future__ import annotations

from math import radians, tan

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, box
from fettlebook.tables.definition import Parameter

MIDDLE, WAY, DEEP = 78.0, 58.0, 18.0
"""Middle of the slide, upper face of the way, and depth of the dovetail on the sheet [mm]."""


def gib_section(angle_deg: float) -> str:
    """The way below, the slide over it, the gib between them at the right with a screw, and an indicator."""
    d = Drawing("gib-section", "Gib of a dovetail slide, in section", 170, 104, {"angle": angle_deg})
    lean = DEEP / tan(radians(angle_deg))
    top, foot = 26 + lean, 26.0
    way = [(MIDDLE - top, WAY), (MIDDLE + top, WAY), (MIDDLE + foot, WAY + DEEP), (MIDDLE + 62, WAY + DEEP), (MIDDLE + 62, WAY + DEEP + 14), (MIDDLE - 62, WAY + DEEP + 14), (MIDDLE - 62, WAY + DEEP), (MIDDLE - foot, WAY + DEEP)]  # fmt: skip
    gib = [(MIDDLE + top + 1, WAY + 1), (MIDDLE + top + 7, WAY + 1), (MIDDLE + foot + 8, WAY + DEEP - 1), (MIDDLE + foot + 2, WAY + DEEP - 1)]  # fmt: skip
    slide = [(MIDDLE - 58, WAY - 22), (MIDDLE + 58, WAY - 22), (MIDDLE + 58, WAY + DEEP - 0.8), (MIDDLE + foot + 8.6, WAY + DEEP - 0.8), (MIDDLE + top + 7.6, WAY - 0.4), (MIDDLE - top - 0.2, WAY - 0.4), (MIDDLE - foot - 0.2, WAY + DEEP - 0.8), (MIDDLE - 58, WAY + DEEP - 0.8)]  # fmt: skip
    screw = [(MIDDLE + 36, WAY + 6), (MIDDLE + 70, WAY + 6), (MIDDLE + 70, WAY + 12), (MIDDLE + 36, WAY + 12)]
    d.hatch(way, angle=135)
    d.hatch(slide, gaps=(screw, box(MIDDLE - 37, WAY - 14, 14, 7)))
    d.hatch(gib, spacing=1.2, angle=135)
    for outline in (way, slide, gib, screw):
        d.polygon(outline)
    d.rectangle(MIDDLE + 58, WAY + 3, 6, 12)
    d.line((MIDDLE + 33, WAY + 9), (MIDDLE + 74, WAY + 9), "chain")
    _said(d, top)
    return d.svg()


def _said(d: Drawing, top: float) -> None:
    d.leader([(MIDDLE + top + 3, WAY + 5), (MIDDLE + top + 2, 26), (MIDDLE + top + 6, 26)], "gib", end="dot")
    d.leader([(MIDDLE + 61, WAY + 3), (MIDDLE + 58, 30), (MIDDLE + 62, 30)], "lock nut", end="arrow")
    d.leader([(MIDDLE + 69, WAY + 12), (MIDDLE + 69, WAY + DEEP + 20), (MIDDLE + 65, WAY + DEEP + 20)], "gib screw")
    d.text((MIDDLE - 30, WAY - 9), "slide", "middle")
    d.text((MIDDLE - 30, WAY + DEEP + 22), "way", "middle")
    x = MIDDLE - 64
    d.circle((x - 5, WAY - 27), 6)
    d.line((x, WAY - 22), (x + 6, WAY - 16), "narrow")
    d.line((x - 5, WAY - 27), (x - 2, WAY - 30), "narrow")
    d.text((4, 18), "indicator on the fixed part", size=3.8)
    d.arrow((MIDDLE - 10, 22), (MIDDLE - 24, 22))
    d.arrow((MIDDLE + 2, 22), (MIDDLE + 16, 22))
    d.text((MIDDLE - 4, 17), "rock", "middle", 3.8)


def _alt(angle_deg: float) -> str:
    return (
        f"Section across a dovetail slide of {angle_deg:g} degrees: the way below, the slide over it, and the gib between them at one side, "
        "pressed by a screw with a lock nut. An indicator on the fixed part touches the slide, which is rocked to both sides."
    )


FIGURES = (
    Drawn(
        "gib-section",
        "Gib of a dovetail slide, in section",
        (Parameter("angle", "Angle of the dovetail", unit="deg", low=45, high=75, default=55.0, example="55 deg"),),
        gib_section,
        _alt,
    ),
)
