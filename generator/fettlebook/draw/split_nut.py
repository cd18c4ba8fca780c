"""A screw held by its thread in a split nut in the chuck: in section, and from the end with the slit between two jaws."""

from __future__ import annotations

from math import cos, radians, sin

from fettlebook.draw.definition import Drawn
from fettlebook.draw.geometry import Point
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import BadValue, Parameter

AXIS, FACE = 46.0, 74.0
"""Height of the axis and place of the nut's face on the sheet [mm]."""


def split_nut(thread_mm: float, head_mm: float, nut_mm: float) -> str:
    """The nut in section with the screw's shoulder on its face, and the end view with the jaws."""
    _fits(thread_mm, head_mm, nut_mm)
    d = Drawing("split-nut", "Split nut in the chuck", 170, 96, {"d": thread_mm, "h": head_mm, "n": nut_mm})
    s = 34 / nut_mm
    _section(d, s * thread_mm / 2, s * head_mm / 2, s * nut_mm / 2)
    d.dim_vertical((FACE - 34, AXIS - s * nut_mm / 2), (FACE - 34, AXIS + s * nut_mm / 2), 14, f"Ø{short(nut_mm, 1)}")
    d.leader([(FACE - 22, AXIS - s * thread_mm / 4), (FACE - 14, 12)], f"thread Ø{short(thread_mm, 1)}", end="dot")
    d.leader([(FACE, AXIS + s * head_mm / 2.4), (FACE + 4, 84)], "shoulder on the nut's face")
    _end(d, (134.0, AXIS), s)
    return d.svg()


def _fits(thread: float, head: float, nut: float) -> None:
    if not thread < head:
        raise BadValue("head", f"a head of {short(head)} mm has no shoulder over a thread of {short(thread)} mm",
                       "give the diameter of the head")  # fmt: skip
    if nut < 1.4 * thread:
        raise BadValue("nut", f"{short(nut)} mm leaves less than a fifth of {short(thread)} mm as wall",
                       "take a bar about twice the thread's diameter")  # fmt: skip


def _section(d: Drawing, thread: float, head: float, nut: float) -> None:
    for side, angle in ((-1, 45), (1, 45)):
        ring = [(FACE - 34, AXIS + side * thread), (FACE, AXIS + side * thread), (FACE, AXIS + side * nut), (FACE - 34, AXIS + side * nut)]  # fmt: skip
        d.hatch(ring, angle=angle)
        d.polygon(ring)
        jaw = [(FACE - 40, AXIS + side * nut), (FACE - 10, AXIS + side * nut), (FACE - 10, AXIS + side * (nut + 8)), (FACE - 40, AXIS + side * (nut + 8))]  # fmt: skip
        d.hatch(jaw, spacing=3, angle=135)
        d.polygon(jaw)
        d.line((FACE - 30, AXIS + side * 0.82 * thread), (FACE, AXIS + side * 0.82 * thread), "narrow")
    d.rectangle(FACE, AXIS - head, 15, 2 * head)
    d.polyline([(FACE - 30, AXIS - thread), (FACE - 30, AXIS + thread)])
    d.line((FACE - 46, AXIS), (FACE + 19, AXIS), "chain")
    tip = (FACE + 15, AXIS - head)
    d.polygon([tip, (tip[0] + 16, tip[1] - 10), (tip[0] + 16, tip[1] - 2), (tip[0] + 3, tip[1] + 4)])
    d.arrow((tip[0] + 6, AXIS - head + 6), (tip[0] + 6, AXIS + 5))
    d.text((tip[0] + 9, AXIS - 3), "feed", size=3.8)


def _end(d: Drawing, centre: Point, s: float) -> None:
    """Seen from the tailstock: three jaws, the slit of the nut half way between two of them."""
    nut = 17.0
    d.circle(centre, nut)
    d.circle(centre, nut * 0.5, "narrow")
    for n in range(3):
        _jaw(d, centre, 90 + 120 * n, nut, n + 1)
    for side in (-0.9, 0.9):
        a, b = _around(centre, 30, nut * 0.5, side), _around(centre, 30, nut, side)
        d.line(a, b)
    d.leader([_around(centre, 30, nut * 0.8, 0), (centre[0] + 20, 22)], "slit", end="dot")
    d.text((centre[0], 92), "slit half way between two jaws", "middle", 3.8)


def _jaw(d: Drawing, centre: Point, angle: float, radius: float, number: int) -> None:
    corners = [(radius, -4), (radius + 11, -4), (radius + 11, 4), (radius, 4)]
    d.polyline([_around(centre, angle, r, t) for r, t in corners])
    x, y = _around(centre, angle, radius + 6, 0)
    d.text((x, y), str(number), "middle", 4, middle=True)


def _around(centre: Point, angle: float, out: float, across: float) -> Point:
    a = radians(angle)
    return centre[0] + out * cos(a) - across * sin(a), centre[1] - out * sin(a) - across * cos(a)


def _alt(thread_mm: float, head_mm: float, nut_mm: float) -> str:
    return (
        f"Section: a nut of {short(nut_mm, 1)} mm in the chuck jaws holds a screw by its thread of {short(thread_mm, 1)} mm, the shoulder of its "
        f"head of {short(head_mm, 1)} mm on the face of the nut, the tool facing from the rim to the middle. From the end: three "
        "jaws, and the slit of the nut half way between two of them."
    )


FIGURES = (
    Drawn(
        "split-nut",
        "Split nut in the chuck",
        (
            Parameter("thread", "Diameter of the thread", unit="mm", low=2, high=60, default=12.0, example="12 mm"),
            Parameter("head", "Diameter of the head", unit="mm", low=3, high=80, default=18.0, example="18 mm"),
            Parameter("nut", "Diameter of the nut", unit="mm", low=4, high=120, default=24.0, example="24 mm"),
        ),
        split_nut,
        _alt,
    ),
)
