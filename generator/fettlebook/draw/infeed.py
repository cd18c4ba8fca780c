"""How a threading tool goes in: straight, or along the flank with the top slide set over, pass by pass."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, radians, sin, tan
from typing import Any

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point
from fettlebook.tables.definition import Parameter
from fettlebook.tables.designations import thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.threading import thread_passes

SURFACE, DEPTH = 30.0, 62.0
"""Height on paper of the work's surface, and the whole depth on paper [mm]."""

MIDDLE = 72.0


def infeed(thread: str, infeed: str, passes: int | None, slide_angle_deg: float | None) -> str:
    """The groove after each pass, the last one wide, with the way in and what the slide reads."""
    named = thread_named(thread)
    rows = [
        row for row in thread_passes(thread, passes, infeed, slide_angle_deg=slide_angle_deg).rows if not row["spring"]
    ]
    given = {"thread": named.designation, "infeed": infeed, "passes": passes, "angle": slide_angle_deg}
    d = Drawing("infeed", f"{named.designation}, {infeed} infeed", 170, 128, given)
    half, whole = named.angle_deg / 2, rows[-1]["depth_mm"]
    lean = 0.0 if infeed == "radial" else half - 0.5 if slide_angle_deg is None else slide_angle_deg
    start = MIDDLE + DEPTH * tan(radians(lean)) / 2 if lean else MIDDLE
    grooves = [_groove(start, row["depth_mm"] / whole * DEPTH, half, lean) for row in rows]
    left, right = min(g[0][0] for g in grooves), max(g[2][0] for g in grooves)
    for n, groove in enumerate(grooves):
        d.polyline(groove, "wide" if n == len(grooves) - 1 else "narrow")
    last = grooves[-1]
    d.line((left - 14, SURFACE), last[0])
    d.line((last[2]), (right + 14, SURFACE))
    d.hatch(
        [
            (left - 14, SURFACE),
            *last,
            (right + 14, SURFACE),
            (right + 14, SURFACE + DEPTH + 8),
            (left - 14, SURFACE + DEPTH + 8),
        ],
        spacing=4,
    )
    _way_in(d, start, lean)
    _words(d, named.designation, rows, lean, right)
    return d.svg()


def _groove(start: float, depth: float, half_deg: float, lean_deg: float) -> list[Point]:
    """A sharp groove of a depth whose point has gone in along a line that leans to the left by an angle."""
    point = (start - depth * tan(radians(lean_deg)), SURFACE + depth)
    open_half = depth * tan(radians(half_deg))
    return [(point[0] - open_half, SURFACE), point, (point[0] + open_half, SURFACE)]


def _way_in(d: Drawing, start: float, lean: float) -> None:
    """The arrow of the infeed above the work, and the angle that the top slide is set to."""
    tip = (start, SURFACE - 2)
    tail = (tip[0] + 22 * sin(radians(lean)), tip[1] - 22 * cos(radians(lean)))
    d.arrow(tail, tip, "wide", 1.3)
    d.line((start, SURFACE - 26), (start, SURFACE + DEPTH), "chain")
    if lean:
        d.dim_angle((start, SURFACE - 2), 22, 90 - lean, 90, f"{lean:g}°")


def _words(d: Drawing, name: str, rows: list[Mapping[str, Any]], lean: float, right: float) -> None:
    last = rows[-1]
    d.dim_vertical(
        (right + 12, SURFACE), (right + 12, SURFACE + DEPTH), right + 22, f"{written(last['depth_mm'], 3)} deep"
    )
    first = f"first cut {written(rows[0]['cut_mm'], 3)}, last {written(last['cut_mm'], 3)} mm, {len(rows)} passes"
    how = (
        f"along the flank, top slide at {lean:g}° reads {written(last['slide_reading_mm'], 3)} mm at the end"
        if lean
        else "straight in, both flanks cut"
    )
    d.lines_of_text((8, 113), [f"{name}: {how};", f"{first}. Each groove is one pass."])


def _alt(thread: str, infeed: str, passes: int | None, slide_angle_deg: float | None) -> str:
    named = thread_named(thread)
    rows = [
        row for row in thread_passes(thread, passes, infeed, slide_angle_deg=slide_angle_deg).rows if not row["spring"]
    ]
    way = "straight in" if infeed == "radial" else "along one flank"
    return (
        f"A groove for {named.designation} cut in {len(rows)} passes {way}, the cuts getting thinner from {written(rows[0]['cut_mm'], 3)} to "
        f"{written(rows[-1]['cut_mm'], 3)} mm, {written(rows[-1]['depth_mm'], 3)} mm deep in all."
    )


FIGURES = (
    Drawn(
        "infeed",
        "Infeed of a threading tool, pass by pass",
        (
            Parameter("thread", "Thread", kind="text", default="M20x2.5", example="M20x2.5"),
            Parameter("infeed", "Infeed", kind="choice", choices=("flank", "radial"), default="flank", example="flank"),
            Parameter("passes", "Passes", kind="whole", low=1, high=40, default=8, example="8"),
            Parameter("slide_angle", "Top slide from the cross slide", unit="deg", low=0, high=45, default=None, example="29.5"),
        ),
        infeed,
        _alt,
        ("thread-passes",),
    ),
)  # fmt: skip
