"""Measuring a thread's pitch diameter over three wires: the best wire, the wires that will do, and the measurement to expect."""

from __future__ import annotations

from math import atan, cos, degrees, pi, radians, sin, tan
from typing import Any

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.designations import Thread, thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.thread_limits import limits_of
from fettlebook.tables.thread_limits_rows import Limits

CLASSES = {"M": ("6g", "6h", "4h"), "UN": ("1A", "2A", "3A"), "BSW": ("close", "medium", "free"), "BSF": ("close", "medium", "free"),
           "G": ("A", "B"), "BA": ("normal", "close")}  # fmt: skip
"""External classes shown for each family when none is asked for."""

SMALL_CORRECTION_MM = 0.0025
"""Below this the lead angle's correction is less than a micrometer at the bench can tell."""


def best_wire_mm(pitch_mm: float, angle_deg: float) -> float:
    """The wire that touches the flanks at the pitch line, so that an error of the angle does least.

        best = pitch / (2 cos(angle / 2))

    pitch_mm    [mm], above 0
    angle_deg   between the flanks
    gives       [mm], unrounded

    Source: machinerys-handbook-31, p. 2129

    >>> round(best_wire_mm(1, 60), 5), round(best_wire_mm(1, 55), 6)
    (0.57735, 0.563691)
    """
    return pitch_mm / (2 * cos(radians(angle_deg / 2)))


def wire_range_mm(thread: Thread) -> tuple[float, float]:
    """Smallest and largest usable wire [mm]: it must stand over the crest, and touch the straight part of the flank.

        height of the crest over the sharp bottom of the groove   h = H - crest cut off
        smallest = 2 h / (1 / sin(a) + 1)        its top is level with the crest
        largest  = 2 k sin(a) / cos(a)^2         it touches where the flank ends, k = h less the rounding of the crest

    a is half the angle. At 60 degrees with flat crests these are 0.5052 P and 1.0104 P.

    Source: machinerys-handbook-31, p. 2129

    >>> from fettlebook.tables.designations import thread_named
    >>> [round(w, 5) for w in wire_range_mm(thread_named("M8x1"))]
    [0.50518, 1.01036]
    """
    form, half = thread.form, radians(thread.angle_deg / 2)
    cut = (form.sharp_height - form.depth) / 2 if form.even else form.sharp_height / 8
    crest = form.sharp_height - cut
    flank = crest - (form.radius * (1 - sin(half)) if form.even else 0.0)
    smallest, largest = 2 * crest / (1 / sin(half) + 1), 2 * flank * sin(half) / cos(half) ** 2
    return smallest * thread.pitch_mm, largest * thread.pitch_mm


def over_wires_mm(pitch_diameter_mm: float, pitch_mm: float, angle_deg: float, wire_mm: float) -> float:
    """Measurement over three wires, without the correction for the lead angle.

        M = E + w (1 + 1 / sin(angle / 2)) - P / (2 tan(angle / 2))

    60 degrees: M = E + 3 w - 0.866025 P.   55 degrees: M = E + 3.16568 w - 0.960491 P.

    Source: machinerys-handbook-31, p. 2129

    >>> round(over_wires_mm(1 - 0.75 * 0.8660254 / 8, 1 / 8, 60, 0.09), 4)
    1.0806
    """
    half = radians(angle_deg / 2)
    return pitch_diameter_mm + wire_mm * (1 + 1 / sin(half)) - pitch_mm / (2 * tan(half))


def lead_angle_deg(pitch_diameter_mm: float, pitch_mm: float) -> float:
    """Lead angle of a single-start thread at its pitch line, atan(P / (pi E)) [deg].

    >>> round(lead_angle_deg(0.68505, 0.1), 3)
    2.66
    """
    return degrees(atan(pitch_mm / (pi * pitch_diameter_mm)))


def lead_correction_mm(pitch_diameter_mm: float, pitch_mm: float, angle_deg: float, wire_mm: float) -> float:
    """What the wires stand higher because they lie along the helix; add it to the measurement over wires.

        w / 2 x tan(lead angle)^2 x cos(a) x cot(a),   a half the angle between the flanks

    Source: machinerys-handbook-31, p. 2129; from memory
    """
    half = radians(angle_deg / 2)
    slope = pitch_mm / (pi * pitch_diameter_mm)
    return wire_mm / 2 * slope**2 * cos(half) / tan(half)


def pitch_diameter_from_wires_mm(measured_mm: float, pitch_mm: float, angle_deg: float, wire_mm: float) -> float:
    """Pitch diameter from a measurement over three wires, the reverse of over_wires_mm [mm]."""
    return measured_mm - over_wires_mm(0.0, pitch_mm, angle_deg, wire_mm)


def thread_wires(
    thread: str, wire_mm: tuple[float, ...] = (), thread_class: str = "", measured_mm: float | None = None
) -> Table:
    """The measurement to expect over three wires at the basic size and at each limit of each class.

    thread        designation of an external, parallel thread
    wire_mm       wires at hand; the one nearest the best is taken. The best wire itself if none is given
    thread_class  one external class instead of the usual ones
    measured_mm   what the micrometer shows over these wires
    """
    found = thread_named(thread)
    if found.taper:
        raise BadValue(
            "thread",
            f"{found.designation} is taper: three wires measure it only at a gauge plane",
            "use the ring gauge",
        )
    best = best_wire_mm(found.pitch_mm, found.angle_deg)
    low, high = wire_range_mm(found)
    wire = min(wire_mm, key=lambda one: (abs(one - best), one)) if wire_mm else best
    if not low <= wire <= high:
        raise BadValue("wire", f"{wire:g} mm does not sit right in {found.designation}",
                       f"it takes wires from {written(low, 3)} to {written(high, 3)} mm, best {written(best, 3)} mm")  # fmt: skip
    grades = [thread_class] if thread_class else [grade for grade in CLASSES[found.family] if _has(found, grade)]
    limits = [limits_of(found, grade).external for grade in grades]
    rows = [_row(found, best, wire, "basic", "basic", found.pitch_diameter_mm)]
    for each in limits:
        for limit, size in zip(("least", "most"), each.pitch, strict=True):
            if size is not None:
                rows.append(_row(found, best, wire, each.grade, limit, size))
    if measured_mm is not None:
        rows.append(_measured(found, best, wire, measured_mm))
    return Table(tuple(rows), _notes(found, wire, low, high, bool(wire_mm)), _warnings(rows, limits, measured_mm))


def _has(thread: Thread, grade: str) -> bool:
    try:
        limits_of(thread, grade)
    except BadValue:
        return False
    return True


def _row(thread: Thread, best: float, wire: float, grade: str, limit: str, pitch_diameter: float) -> dict[str, Any]:
    pitch, angle = thread.pitch_mm, thread.angle_deg
    return {
        "thread": thread.designation,
        "class": grade,
        "limit": limit,
        "pitch_diameter_mm": pitch_diameter,
        "best_wire_mm": best,
        "wire_mm": wire,
        "over_wires_mm": over_wires_mm(pitch_diameter, pitch, angle, wire),
        "lead_angle_deg": lead_angle_deg(pitch_diameter, pitch),
        "lead_correction_mm": lead_correction_mm(pitch_diameter, pitch, angle, wire),
    }


def _measured(thread: Thread, best: float, wire: float, measured: float) -> dict[str, Any]:
    size = pitch_diameter_from_wires_mm(measured, thread.pitch_mm, thread.angle_deg, wire)
    if not 0.5 * thread.pitch_diameter_mm < size < 1.5 * thread.pitch_diameter_mm:
        raise BadValue(
            "measured",
            f"{measured:g} mm over wires of {written(wire, 3)} mm is no {thread.designation}",
            "measure again",
        )
    size -= lead_correction_mm(size, thread.pitch_mm, thread.angle_deg, wire)
    return _row(thread, best, wire, "measured", "as it is", size) | {"over_wires_mm": measured}


def _notes(thread: Thread, wire: float, low: float, high: float, own: bool) -> tuple[str, ...]:
    notes = [f"Wires from {written(low, 3)} to {written(high, 3)} mm will do; all three must be alike within 0.002 mm."]
    if not own:
        notes.append(
            "Drill shanks serve as wires when they are the same size along their length: give their diameter as the wire."
        )
    correction = lead_correction_mm(thread.pitch_diameter_mm, thread.pitch_mm, thread.angle_deg, wire)
    if correction >= SMALL_CORRECTION_MM:
        notes.append(
            f"The helix lifts the wires by {written(correction, 3)} mm: for a close class add that to what is given here."
        )
    return tuple(notes)


def _warnings(rows: list[dict[str, Any]], limits: list[Limits], measured: float | None) -> tuple[str, ...]:
    if measured is None:
        return ()
    size = rows[-1]["pitch_diameter_mm"]
    said = []
    for each in limits:
        low, high = each.pitch
        if low is None or high is None:
            continue
        where = "above" if size > high else "below" if size < low else "inside"
        gap = f" by {written(size - high if size > high else low - size, 3)} mm" if where != "inside" else ""
        said.append(f"{where} {each.grade}{gap}")
    return (f"The pitch diameter measured, {written(size, 3)} mm, is " + ", ".join(said) + ".",)


TABLES = (
    Definition(
        name="thread-wires",
        title="Measuring a thread over three wires",
        about="What a micrometer should show over three equal wires in the thread, two on one side and one opposite. The best wire touches at "
        "the pitch line. Stop the spindle, clean the thread, and hold the wires with a dab of grease.",
        group="Threads and gearing",
        parameters=(
            Parameter("thread", "Thread", kind="text", example="M10x1.5"),
            Parameter("wire", "Wires at hand", unit="mm", many=True, low=0.05, high=20, shop="wires_mm", default=(), example="0.9 mm",
                      help="their diameters; the one nearest the best is taken"),
            Parameter("class", "Class", kind="text", default="", argument="thread_class", example="6g"),
            Parameter("measured", "Measured over the wires", unit="mm", low=0.1, high=2000, default=None, example="10.38 mm"),
        ),
        columns=(
            Column("class", "Class", kind="text"),
            Column("limit", "Limit", kind="text"),
            Column("over_wires_mm", "Over wires", "mm", decimals=3, inch_decimals=4),
            Column("best_wire_mm", "Best wire", "mm", decimals=3, inch_decimals=4),
            Column("wire_mm", "Wire taken", "mm", decimals=3, inch_decimals=4),
            Column("pitch_diameter_mm", "Pitch diameter", "mm", decimals=3, inch_decimals=4),
            Column("lead_angle_deg", "Lead angle", "deg", decimals=2),
            Column("lead_correction_mm", "Correction for it", "mm", decimals=4),
            Column("thread", "Thread", kind="text"),
        ),
        compute=thread_wires,
        sources=(Cite("machinerys-handbook-31", "p. 2129"), Cite("army-od1645", "three-wire method")),
        holds="external, parallel, single-start threads of 60, 55 and 47.5 degrees; lead angles up to about 5 degrees",
        also=("three wire", "pitch diameter", "effective diameter", "thread measuring wires", "over wires"),
        examples=({"thread": "M10x1.5"}, {"thread": "1/2 BSW"}, {"thread": "3/4-10 UNC", "wire": "0.0577 in"}),
    ),
)  # fmt: skip
