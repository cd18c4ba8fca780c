"""Three wires in a thread between the anvils of a micrometer: what is measured and what follows from it."""

from __future__ import annotations

from math import radians, sin

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, View
from fettlebook.draw.thread_forms import profile
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.designations import Thread, thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.wires import best_wire_mm, over_wires_mm, wire_range_mm

PITCH_ON_PAPER, LEFT = 34.0, 54.0
UPPER, LOWER = 56.0, 106.0
"""Height on paper of the pitch lines of the two sides; the bolt's core between them is broken out."""


def over_wires(thread: str, wire_mm: float | None) -> str:
    """Both sides of the bolt in section with the wires, pitch diameter and measurement over wires in mm."""
    named, wire = _given(thread, wire_mm)
    d = Drawing(
        "over-wires", f"{named.designation} over three wires", 170, 162, {"thread": named.designation, "wire": wire}
    )
    outline, form = profile(named.form), named.form
    up, down = View(LEFT, UPPER, PITCH_ON_PAPER), View(LEFT, LOWER, PITCH_ON_PAPER)
    top = up.all(outline)
    low = [(x, 2 * LOWER - y) for x, y in down.all([(x + 0.5, y) for x, y in outline])]
    for side, core in ((top, UPPER + 18), (low, LOWER - 18)):
        d.polyline(side)
        d.break_line((side[0][0] - 3, core), (side[-1][0] + 3, core))
        d.hatch([*side, (side[-1][0], core), (side[0][0], core)], spacing=4)
    d.line((LEFT - 24, UPPER), (LEFT + 60, UPPER), "chain")
    d.line((LEFT - 24, LOWER), (LEFT + 72, LOWER), "chain")
    middle = (UPPER + LOWER) / 2
    d.line((LEFT - 30, middle), (LEFT + 70, middle), "chain")
    radius = wire / named.pitch_mm * PITCH_ON_PAPER / 2
    out = radius / sin(radians(named.angle_deg / 2)) - form.sharp_height / 2 * PITCH_ON_PAPER
    wires = [(up(0.5, 0)[0], UPPER - out), (up(-0.5, 0)[0], UPPER - out), (up(0, 0)[0], LOWER + out)]
    for at in wires:
        d.circle(at, radius)
        d.centre_mark(at, radius, 1.5)
    _anvils(d, wires, radius)
    _dimensions(d, named, wire, wires, radius)
    return d.svg()


def _anvils(d: Drawing, wires: list[Point], radius: float) -> None:
    high, low = wires[0][1] - radius, wires[2][1] + radius
    for y, away in ((high, -6), (low, 6)):
        d.polyline([(LEFT - 28, y + away), (LEFT - 28, y), (LEFT + 34, y), (LEFT + 34, y + away)])


def _dimensions(d: Drawing, thread: Thread, wire: float, wires: list[Point], radius: float) -> None:
    over = over_wires_mm(thread.pitch_diameter_mm, thread.pitch_mm, thread.angle_deg, wire)
    high, low = wires[0][1] - radius, wires[2][1] + radius
    d.dim_vertical((LEFT + 34, high), (LEFT + 34, low), 152, f"over wires {written(over, 3)}")
    d.dim_vertical((LEFT + 60, UPPER), (LEFT + 72, LOWER), 138, f"E {written(thread.pitch_diameter_mm, 3)}")
    d.leader(
        [(wires[1][0] - radius * 0.7, wires[1][1] - radius * 0.7), (wires[1][0] - 14, 8)],
        f"Ø{written(wire, 3)}",
    )
    best = best_wire_mm(thread.pitch_mm, thread.angle_deg)
    d.text(
        (8, 157),
        f"{thread.designation}, basic size: wire {written(wire, 3)} mm (best {written(best, 3)}), over wires {written(over, 3)} mm.",
    )


def _given(thread: str, wire_mm: float | None) -> tuple[Thread, float]:
    named = thread_named(thread)
    if named.taper:
        raise BadValue(
            "thread", f"{named.designation} is taper and is not measured over three wires", "take a parallel thread"
        )
    low, high = wire_range_mm(named)
    wire = best_wire_mm(named.pitch_mm, named.angle_deg) if wire_mm is None else wire_mm
    if not low <= wire <= high:
        raise BadValue(
            "wire",
            f"{wire:g} mm does not sit right in {named.designation}",
            f"it takes {written(low, 3)} to {written(high, 3)} mm",
        )
    return named, wire


def _alt(thread: str, wire_mm: float | None) -> str:
    named, wire = _given(thread, wire_mm)
    over = over_wires_mm(named.pitch_diameter_mm, named.pitch_mm, named.angle_deg, wire)
    return (
        f"{named.designation} in section with two wires of {written(wire, 3)} mm in neighbouring grooves on one side and one opposite; a micrometer "
        f"over them reads {written(over, 3)} mm for a pitch diameter of {written(named.pitch_diameter_mm, 3)} mm."
    )


FIGURES = (
    Drawn(
        "over-wires",
        "A thread measured over three wires",
        (
            Parameter("thread", "Thread", kind="text", default="M10x1.5", example="M10x1.5"),
            Parameter("wire", "Wire", unit="mm", low=0.05, high=20, default=None, example="0.9 mm"),
        ),
        over_wires,
        _alt,
        ("thread-wires",),
    ),
)  # fmt: skip
