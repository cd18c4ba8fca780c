"""Holes for taper pipe threads: no percentage of thread, since the tap cuts as deep as it is turned in."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Table
from fettlebook.tables.drills import MM_PER_INCH, Drill, drills_named
from fettlebook.tables.figures import written
from fettlebook.tables.quantities import read_number
from fettlebook.tables.threads import Thread

CITES = (
    Cite("taper-drills-catalogue", "Rc taps"),
    Cite("taper-drills-list", "BSP taper"),
)


def taper_drills(thread: Thread, drills: tuple[str, ...], count: int) -> Table:
    """Drills for a straight hole that is not reamed: those at hand within the published span, or the published one.

    thread   R, Rc or NPT
    drills   series or single sizes at hand
    errors   BadValue for a size without a published drill
    """
    known = data.read("drills")["taper"]["NPT" if thread.family == "NPT" else "R"].get(thread.size)
    if known is None:
        raise BadValue("thread", f"no tapping drill for {thread.designation} is on record", "a taper thread's hole is no percentage of thread; "
                       f"bore to about {written(thread.minor_mm, 2)} mm, the minor diameter, and try the plug gauge")  # fmt: skip
    if thread.family == "NPT":
        return _recalled(known)
    return _within(thread, drills, count, *known)


def _recalled(drill: str) -> Table:
    row = _row(Drill(drill, read_number(drill) * MM_PER_INCH, "inch"))
    note = "A taper thread: the hole is no percentage of thread. The size is for a hole drilled and not reamed; gauge as you tap."
    return Table((row,), (note,), (), (Cite("from-memory", "drills for taper pipe threads", "memory"),))


def _within(thread: Thread, drills: tuple[str, ...], count: int, low: float, full: float, high: float) -> Table:
    """The drills at hand from LOW to HIGH, nearest to FULL first: up to that a straight hole has a full thread throughout."""
    at_hand = sorted(drills_named(drills), key=lambda drill: (abs(drill.mm - full), drill.mm))
    shown = [drill for drill in at_hand if low - 0.05 <= drill.mm <= high + 0.05][:count]
    warnings = () if shown else (f"No drill at hand lies between {low:g} and {high:g} mm; these come nearest.",)
    notes = (
        f"A taper thread: the hole is no percentage of thread. A catalogue of taps drills {low:g} to {full:g} mm, a straight hole with a full thread "
        f"to its end; a list of tap drills gives {high:g} mm, full at the mouth ({written(_depth_percent(thread, high, 0.0), 0)} percent) and "
        f"{written(_depth_percent(thread, high, thread.gauge_length_mm or 0.0), 0)} percent {written(thread.gauge_length_mm or 0.0, 1)} mm in. "
        "The two disagree: the smaller hole seals longer and taps harder.",
        f"Easiest on the tap: ream 1:16 until the mouth is {written(thread.minor_mm, 2)} mm. Tap until the gauge's notch is flush with the face.",
    )
    return Table(tuple(_row(drill) for drill in shown or at_hand[:3]), notes, warnings, CITES)


def _depth_percent(thread: Thread, hole_mm: float, inside_mm: float) -> float:
    """Share of the full depth of thread that a straight hole leaves at a distance from the face [percent]."""
    major = thread.major_mm - thread.taper * inside_mm
    return 100 * (major - hole_mm) / (2 * thread.form.depth * thread.pitch_mm)


def _row(drill: Drill) -> dict[str, Any]:
    empty = (
        "engagement_percent",
        "basis",
        "engagement_1_299_percent",
        "engagement_1_083_percent",
        "within_minor_limits",
    )
    found = {"drill": drill.name, "drill_mm": drill.mm, "drill_in": drill.mm / MM_PER_INCH, "series": drill.series}
    return found | dict.fromkeys(empty)
