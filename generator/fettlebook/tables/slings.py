"""What a leg of a sling carries, by its angle and by the number of legs that are counted on."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, cos, degrees, radians, sin
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

GRAVITY = 9.80665
"""Standard acceleration of gravity [m/s2]. Exact by definition."""

FLATTEST_DEG, FLAT_DEG = 30.0, 45.0
"""Angles of a leg from the horizontal: below the first nothing is lifted, below the second it is warned of [deg].
Source: powertex-manual (two-leg slings end at 60 deg from the vertical); 45 is common practice."""

RIGGING = (
    "Lifting is for a competent person with rated, inspected gear: sling, shackles, hook, hoist and whatever it hangs from. Nobody stands under "
    "or beside a load that could fall or swing, and no part of a body goes under a load held only by a jack."
)


WORDS = {
    "together": "the leg's length and the hook's height go together",
    "either": "give either the angle or the length and height, not both",
    "plumb": "a single leg hangs plumb under its hook; at an angle the load swings",
    "plumb_hint": "leave the angle out, or count two legs",
    "needed": "the angle of a leg, or its length and the hook's height, must be given",
    "flat": "a leg at {angle}° from the horizontal is outside 30° to 90°: flatter than 30° each leg would pull more than twice its share and "
    "crush the load, and nothing is lifted so",
    "flat_hint": "use longer slings or a spreader beam",
    "factor": "Factor {factor} = leg length over the hook's height above the load; a tape measure gives it without any angle.",
    "other": "Measured from the vertical the same leg stands at {other}°. Mixing the two up is the classic mistake: 30° from the vertical is a "
    "factor of 1.155, 30° from the horizontal is 2.0.",
    "steeper": "Flatter than 45° from the horizontal: use longer legs or a spreader beam if you can.",
    "rigid": "Of four legs on a rigid load two may carry everything. European chain practice counts three, North American practice two; the first "
    "line shows the cautious figure.",
}
"""Sentences that the page says as well."""

NOTES = (
    "Each leg, shackle and eye must be rated for the tension, in the unit on its tag. The legs push the load inward as well (last column).",
    "Legs alike and the weight under the hook: otherwise the steeper leg carries more. A machine's weight sits near its headstock and motor: find "
    "the balance by lifting a hand's breadth first.",
)


def leg_factor(angle_deg: float) -> float:
    """Tension of a leg over its share of the weight.

        factor = 1 / sin(angle from the horizontal)

    angle_deg   of the leg from the HORIZONTAL [deg], 30 to 90
    gives       [-], 1 for a vertical leg

    Source: sling-maker

    >>> [round(leg_factor(a), 3) for a in (90, 60, 45, 30)]
    [1.0, 1.155, 1.414, 2.0]
    """
    if not FLATTEST_DEG - 1e-9 <= angle_deg <= 90:
        raise BadValue("angle", WORDS["flat"].format(angle=f"{angle_deg:g}"), WORDS["flat_hint"])
    return 1 / sin(radians(angle_deg))


def sling_loads(
    mass_kg: float,
    legs: int = 2,
    angle_deg: float | None = None,
    measured_from: str = "horizontal",
    sling_length_mm: float | None = None,
    height_mm: float | None = None,
) -> Table:
    """Pull in each leg of a sling, legs alike and the weight in the middle.

    mass_kg           of the load with its gear [kg]
    legs              1 to 4
    angle_deg         of a leg [deg], from the side named by measured_from
    sling_length_mm   in place of the angle: leg from hook to load, and the hook's height over it [mm]
    height_mm
    """
    angle = _angle_from_horizontal(legs, angle_deg, measured_from, sling_length_mm, height_mm)
    factor = leg_factor(angle)
    rows = tuple(_leg_row(mass_kg, legs, counted, angle, factor, practice) for counted, practice in _counted(legs))
    return Table(rows, _sling_notes(angle, factor), _sling_warnings(angle, legs))


def _angle_from_horizontal(
    legs: int, angle: float | None, side: str, length: float | None, height: float | None
) -> float:
    """The angle of a leg from the horizontal [deg], however it was given. Raises BadValue."""
    if (length is None) != (height is None):
        raise BadValue("sling_length" if length is None else "height", WORDS["together"])
    if length is not None and height is not None:
        if angle is not None:
            raise BadValue("angle", WORDS["either"])
        if height > length:
            raise BadValue(
                "height",
                f"the hook cannot be {height:g} mm over the load on a leg of {length:g} mm",
                "were the two exchanged?",
            )
        return degrees(asin(height / length))
    if legs == 1 and angle not in (None, 90 if side == "horizontal" else 0):
        raise BadValue("angle", WORDS["plumb"], WORDS["plumb_hint"])
    if angle is None:
        if legs == 1:
            return 90.0
        raise BadValue("angle", WORDS["needed"], "for example 60 deg")
    return angle if side == "horizontal" else 90 - angle


def _counted(legs: int) -> Iterator[tuple[int, str]]:
    """How many legs are taken to carry, the cautious figure first."""
    if legs <= 2:
        yield legs, "all legs"
        return
    yield 2, "rigid load: two legs carry"
    yield 3, "three legs carry"


def _leg_row(mass: float, legs: int, counted: int, angle: float, factor: float, practice: str) -> dict[str, Any]:
    each = mass / counted * factor
    return {
        "legs": legs,
        "counted_legs": counted,
        "practice": practice,
        "angle_deg": angle,
        "angle_from_vertical_deg": 90 - angle,
        "factor": factor,
        "tension_kn": each * GRAVITY / 1000,
        "tension_kg": each,
        "push_kn": mass / counted * GRAVITY / 1000 * factor * cos(radians(angle)),
    }


def _sling_notes(angle: float, factor: float) -> tuple[str, ...]:
    return (
        WORDS["factor"].format(factor=written(factor, 3)),
        WORDS["other"].format(other=written(90 - angle, 1)),
        *NOTES,
    )


def _sling_warnings(angle: float, legs: int) -> tuple[str, ...]:
    steeper = (WORDS["steeper"],) if angle < FLAT_DEG else ()
    return (RIGGING, *steeper, *((WORDS["rigid"],) if legs > 2 else ()))


def browser_data() -> dict[str, Any]:
    """What does not change, for the browser."""
    return {
        "rigging": RIGGING,
        "gravity": GRAVITY,
        "flattest": FLATTEST_DEG,
        "flat": FLAT_DEG,
        "words": WORDS,
        "notes": NOTES,
    }


def sling_modes(wll_kg: float | None = None) -> Table:
    """Mode factors of slings by arrangement, and what a leg's rating allows.

    wll_kg   working load limit of one leg, from its tag [kg]
    """
    rows = tuple(
        {**row, "may_lift_kg": wll_kg * row["factor"] if wll_kg is not None else None}
        for row in data.rows("moving", "modes")
    )
    notes = (
        "Angles here are from the VERTICAL, as sling tags give them: 0-45 and 45-60.",
        "The tag on the sling wins over this table.",
    )
    return Table(rows, notes, (RIGGING,))


TABLES = (
    Definition(
        name="sling-loads",
        title="What each leg of a sling carries",
        about="The flatter the legs, the harder each one pulls. This gives the pull for an angle measured at the load, or for a leg's length and the "
        "hook's height, and refuses what is not lifted at all.",
        group="Moving",
        parameters=(
            Parameter("mass", "Mass of the load with its gear", unit="kg", low=1, high=50000, example="1250 kg"),
            Parameter("legs", "Legs", kind="whole", low=1, high=4, default=2, example="2"),
            Parameter("angle", "Angle of a leg", unit="deg", low=0, high=90, default=None, example="60 deg", help="measured at the load"),
            Parameter("measured_from", "Measured from the", kind="choice", choices=("horizontal", "vertical"), default="horizontal", example="horizontal"),
            Parameter("sling_length", "Leg from hook to load, in place of the angle", unit="mm", low=100, high=30000, default=None, example="3000 mm"),
            Parameter("height", "Height of the hook over the load", unit="mm", low=50, high=30000, default=None, example="2400 mm"),
        ),
        columns=(
            Column("legs", "Legs"),
            Column("counted_legs", "Counted"),
            Column("practice", "Taken as", kind="text"),
            Column("angle_deg", "From the horizontal", "deg", decimals=1),
            Column("angle_from_vertical_deg", "From the vertical", "deg", decimals=1),
            Column("factor", "Factor", decimals=3),
            Column("tension_kn", "Pull in each leg", "kN", decimals=2),
            Column("tension_kg", "As a rating", "kg", decimals=0),
            Column("push_kn", "Inward push", "kN", decimals=2),
        ),
        compute=sling_loads,
        sources=(Cite("sling-maker", "table and worked example"), Cite("msu-rigging", "angles from the vertical"), Cite("certex-chain", "legs to count"),
                 Cite("powertex-manual", "limit of 60° from the vertical"), Cite("from-memory", "two legs for a rigid load", "memory")),
        holds="legs of 30° to 90° from the horizontal, alike, the weight under the hook",
        also=("lifting", "hoist", "chain", "strap", "rigging", "crane", "sling angle", "sling chart"),
        examples=({"mass": 1250, "legs": 2, "angle": 60}, {"mass": 1250, "legs": 4, "angle": 45}),
        browser="sling-loads",
        browser_data=browser_data,
    ),
    Definition(
        name="sling-modes",
        title="Mode factors of slings",
        about="What a sling may lift in each arrangement, from the rating of one leg.",
        group="Moving",
        parameters=(Parameter("wll", "Rating of one leg", unit="kg", low=10, high=50000, default=None, example="1000 kg"),),
        columns=(
            Column("arrangement", "Arrangement (angles from the vertical)", kind="text"),
            Column("factor", "Factor", decimals=1),
            Column("may_lift_kg", "May lift", "kg", decimals=0),
        ),
        compute=sling_modes,
        sources=(Cite("powertex-manual", "mode factor table"),),
        holds="webbing slings after EN 1492, uniform load method",
        also=("working load limit", "WLL", "choke hitch", "basket hitch"),
    ),
)  # fmt: skip
