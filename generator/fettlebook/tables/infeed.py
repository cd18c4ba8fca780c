"""Single-point threading: how deep a tool must go, and in which cuts."""

from __future__ import annotations

from itertools import accumulate
from math import cos, radians, sin, sqrt, tan

from fettlebook import data
from fettlebook.tables.threads import Thread

FIRST_SHARE = 0.3
"""Chip area of the first pass over that of the later ones, so that the first cut into the round is not the heaviest."""


def sharp_depth_over_pitch(thread: Thread, side: str) -> float:
    """Depth that a perfectly sharp tool would need for flanks at basic size, over the pitch.

        external 60 degrees   7H/8   (the crest has lost H/8)
        internal 60 degrees   3H/4   (the crest has lost H/4)
        Whitworth, BA         (H + depth) / 2, rounded alike at both ends

    Source: iso-68-1; bs-84

    >>> from fettlebook.tables.designations import thread_named
    >>> round(sharp_depth_over_pitch(thread_named("M8"), "external"), 6)
    0.757772
    """
    height = thread.form.sharp_height
    if thread.angle_deg == 60 and not thread.taper:
        return height * (7 / 8 if side == "external" else 3 / 4)
    return (height + thread.form.depth) / 2


def nose_allowance_mm(angle_deg: float, radius_mm: float = 0.0, flat_mm: float = 0.0) -> float:
    """By how much a tool's nose ends short of its sharp point [mm]; so much less depth does the same to the flanks.

        radius  r (1 / sin(a) - 1)        flat  f / (2 tan(a)),       a half the angle between the flanks

    radius_mm, flat_mm   of the nose; one of the two

    Source: definition

    >>> round(nose_allowance_mm(60, radius_mm=0.1), 6), round(nose_allowance_mm(60, flat_mm=0.125), 6)
    (0.1, 0.108253)
    """
    half = radians(angle_deg / 2)
    return radius_mm * (1 / sin(half) - 1) + flat_mm / (2 * tan(half))


def depth_mm(
    thread: Thread, side: str = "external", radius_mm: float | None = None, flat_mm: float | None = None
) -> float:
    """Depth of cut from the crest, on the radius, that brings the flanks to basic size.

    With no nose given, the nose of the thread's own form: a radius of H/6 for external 60 degree threads (0.613435 P), a flat
    of P/8 for internal ones (0.541266 P), the form's own radius for Whitworth (0.640327 P) and BA (0.6 P).

    thread      as thread_named gives it
    side        external or internal
    radius_mm   of the tool's nose, or
    flat_mm     width of its flat
    gives       [mm], unrounded

    Sources: navy-14345; iso-68-1; bs-84; bs-93

    >>> from fettlebook.tables.designations import thread_named
    >>> round(depth_mm(thread_named("M6")), 6), round(depth_mm(thread_named("M6"), flat_mm=1 / 8), 6)
    (0.613435, 0.649519)
    """
    pitch = thread.pitch_mm
    if radius_mm is None and flat_mm is None:
        if thread.angle_deg != 60 or thread.taper:
            return thread.form.depth * pitch
        radius_mm, flat_mm = (thread.form.sharp_height / 6 * pitch, 0.0) if side == "external" else (0.0, pitch / 8)
    return sharp_depth_over_pitch(thread, side) * pitch - nose_allowance_mm(
        thread.angle_deg, radius_mm or 0.0, flat_mm or 0.0
    )


def cumulative_depths_mm(depth: float, passes: int) -> list[float]:
    """Depth after each pass, so that every pass but the first two takes the same area of chip.

        depth_k = depth x sqrt(f_k / (passes - 1)),    f = 0.3 for the first, then 1, 2, 3 ... passes - 1

    depth    whole depth [mm], above 0
    passes   1 or more

    Source: infeed-constant-area

    >>> [round(x, 4) for x in cumulative_depths_mm(0.6, 5)]
    [0.1643, 0.3, 0.4243, 0.5196, 0.6]
    """
    if passes == 1:
        return [depth]
    shares = [FIRST_SHARE, *range(1, passes)]
    return [depth * sqrt(share / (passes - 1)) for share in shares]


def slide_reading_mm(depth: float, angle_deg: float) -> float:
    """Advance of a top slide set over to an angle from the cross slide, for a depth on the radius.

        reading = depth / cos(angle)

    Source: navy-14345 (slant = straight / cos 30 degrees)

    >>> round(slide_reading_mm(0.649519 / 8, 29), 4)
    0.0928
    """
    return depth / cos(radians(angle_deg))


def usual_passes(pitch_mm: float) -> tuple[int, int]:
    """Fewest and most passes that a catalogue gives for a pitch, between its rows by proportion, beyond them carried on.

    Source: threading-passes-ingersoll, for pitches of 0.5 to 3 mm

    >>> usual_passes(1.5), usual_passes(1.75)
    ((5, 12), (6, 13))
    """
    rows = data.rows("thread-passes", "passes")
    if pitch_mm <= rows[0]["pitch"]:
        return rows[0]["few"], rows[0]["many"]
    low, high = next(
        ((a, b) for a, b in zip(rows, rows[1:], strict=False) if pitch_mm <= b["pitch"]), (rows[-2], rows[-1])
    )
    part = (pitch_mm - low["pitch"]) / (high["pitch"] - low["pitch"])
    few, many = (low[key] + part * (high[key] - low[key]) for key in ("few", "many"))
    return int(few + 0.5), int(many + 0.5)


def passes_within(depth: float, passes: int, first_mm: float | None, last_mm: float | None) -> int:
    """The number of passes nearest to PASSES whose first cut is not above FIRST_MM and whose last is not below LAST_MM.

    Where both cannot be had the first cut wins, since it is the one that breaks the tool. At most 200.
    """
    if last_mm is not None:
        while passes > 2 and last_cut_mm(depth, passes) < last_mm:
            passes -= 1
    if first_mm is not None:
        while passes < 200 and cumulative_depths_mm(depth, passes)[0] > first_mm:
            passes += 1
    return passes


def last_cut_mm(depth: float, passes: int) -> float:
    """The last and thinnest cut [mm]."""
    depths = [0.0, *cumulative_depths_mm(depth, passes)]
    return depths[-1] - depths[-2]


def published_infeed(thread: Thread, side: str) -> tuple[float | None, list[float]]:
    """Whole depth and depth after each pass that a catalogue gives for an insert [mm]; None and nothing where it has none.

    Source: threading-depth-sumitomo, external metric threads

    >>> from fettlebook.tables.designations import thread_named
    >>> published_infeed(thread_named("M10"), "external"), len(published_infeed(thread_named("M8"), "external")[1])
    ((0.92, []), 7)
    """
    if thread.family != "M" or side != "external":
        return None, []
    known, pitch = data.read("thread-passes"), round(thread.pitch_mm, 4)
    return known["catalogue_depths"].get(pitch), list(accumulate(known["catalogue_cuts"].get(pitch, [])))
