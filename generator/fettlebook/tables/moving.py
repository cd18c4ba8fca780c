"""Where the weight of a machine sits, and what it takes to roll it."""

from __future__ import annotations

from math import atan, cos, sin
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.slings import GRAVITY, RIGGING


def foot_loads(
    weights_kg: tuple[float, ...] | None = None,
    spacing_mm: tuple[float, ...] = (),
    rear_kg: tuple[float, ...] | None = None,
    across_mm: float | None = None,
    mass_kg: float | None = None,
    centre_mm: float | None = None,
) -> Table:
    """Centre of gravity from weighings at the feet, or the load on two supports from mass and centre.

        centre from the first foot = sum(weight x distance) / sum(weight)

    weights_kg    at the feet in order from the headstock; with rear_kg the front ones [kg]
    spacing_mm    from foot to foot, one for each gap, or one for all [mm]
    rear_kg       at the rear feet in the same order [kg]; across_mm apart from the front ones
    mass_kg       in place of weights, with centre_mm from the first of two supports
    """
    if weights_kg is None:
        return _two_supports(mass_kg, centre_mm, spacing_mm)
    if mass_kg is not None or centre_mm is not None:
        raise BadValue("mass", "give either the weights or the mass and its centre, not both")
    if len(weights_kg) < 2:
        raise BadValue("weights", "one weighing finds no balance", "weigh at two feet at least, with the machine level")
    places = _places(len(weights_kg), spacing_mm)
    rear = _rear(weights_kg, rear_kg, across_mm)
    total = sum(weights_kg) + sum(rear)
    if total <= 0:
        raise BadValue("weights", "nothing was weighed")
    along = sum(w * x for w, x in zip((*weights_kg, *rear), (*places, *places), strict=False)) / total
    behind = sum(rear) * (across_mm or 0) / total if rear else None
    rows = [_foot_row(f"{side} {n}".strip(), w, x, total, along, behind)
            for side, list_ in (("front" if rear else "foot", weights_kg), ("rear", rear))
            for n, (w, x) in enumerate(zip(list_, places, strict=False), 1)]  # fmt: skip
    return Table(tuple(rows), WEIGH_NOTES, (RIGGING,))


def _places(count: int, spacing: tuple[float, ...]) -> list[float]:
    """Distances of the feet from the first [mm]."""
    gaps = spacing * (count - 1) if len(spacing) == 1 else spacing
    if len(gaps) != count - 1:
        raise BadValue(
            "spacing",
            f"{count} feet have {count - 1} gaps; {len(spacing)} are given",
            "write one for all, or one for each gap",
        )
    return [sum(gaps[:n]) for n in range(count)]


def _rear(front: tuple[float, ...], rear: tuple[float, ...] | None, across: float | None) -> tuple[float, ...]:
    if rear is None and across is None:
        return ()
    if rear is None or across is None:
        raise BadValue(
            "rear" if rear is None else "across", "the rear weights and their distance from the front go together"
        )
    if len(rear) != len(front):
        raise BadValue(
            "rear", f"{len(front)} feet in front and {len(rear)} behind", "write 0 for a foot that is not there"
        )
    return rear


def _foot_row(
    foot: str, weight: float, place: float, total: float, along: float, behind: float | None
) -> dict[str, Any]:
    return {
        "foot": foot,
        "place_mm": place,
        "load_kg": weight,
        "load_kn": weight * GRAVITY / 1000,
        "share_percent": 100 * weight / total,
        "total_kg": total,
        "centre_from_first_mm": along,
        "centre_from_front_mm": behind,
    }


def _two_supports(mass: float | None, centre: float | None, spacing: tuple[float, ...]) -> Table:
    if mass is None or centre is None:
        raise BadValue(
            "weights", "the weights at the feet, or the mass and its centre, must be given", "for example 760, 490"
        )
    if len(spacing) != 1:
        raise BadValue("spacing", "mass and centre give the loads on two supports: one distance is wanted")
    if not 0 <= centre <= spacing[0]:
        raise BadValue(
            "centre", f"a centre {centre:g} mm from the first support lies outside the two: the machine would tip"
        )
    second = mass * centre / spacing[0]
    pairs = ((1, mass - second, 0.0), (2, second, spacing[0]))
    rows = tuple(_foot_row(f"foot {n}", load, place, mass, centre, None) for n, load, place in pairs)
    return Table(rows, WEIGH_NOTES, (RIGGING,))


WEIGH_NOTES = (
    "Weigh with the machine level: a lean shifts the weight. Lift no more than the scale needs, on packing.",
    "A lathe's weight sits near the headstock and usually behind the bed's middle line, where the motor is; move the carriage and tailstock to where "
    "they will be when it is lifted.",
    "On more than three feet the loads depend on how the jacks are set; the sum and the centre do not.",
)


def rolling(mass_kg: float, slope_percent: float = 0.0) -> Table:
    """Pull to keep a machine rolling or sliding, and the order of work with a toe jack and skates.

        pull = weight x (resistance + slope)

    mass_kg         [kg]
    slope_percent   of the floor, uphill above 0 [%]
    """
    weight = mass_kg * GRAVITY / 1000
    lean = atan(slope_percent / 100)
    rows = tuple(
        {
            "gear": row["gear"],
            "pull_low_kn": weight * (row["low"] * cos(lean) + sin(lean)),
            "pull_high_kn": weight * (row["high"] * cos(lean) + sin(lean)),
        }
        for row in data.rows("moving", "pull")
    )
    order = "; ".join(f"{n}. {step}" for n, step in enumerate(data.read("moving")["order"], 1))
    notes = (
        f"Order with a toe jack and skates: {order}.",
        "Starting takes up to twice the pull. Never stand downhill; a brake or a second winch holds it back.",
    )
    warnings = [RIGGING]
    if any(row["pull_low_kn"] < 0 for row in rows):
        warnings.append("On this slope it rolls by itself: it must be held back, not pulled.")
    return Table(rows, notes, tuple(warnings))


TABLES = (
    Definition(
        name="foot-loads",
        title="Where the weight sits",
        about="Weigh a machine at its feet, or at its two ends: their balance gives the centre of gravity. Or the other way round, the load on "
        "two supports from the mass and its centre.",
        group="Moving",
        parameters=(
            Parameter("weights", "Weights at the feet, from the headstock", unit="kg", many=True, low=0, high=50000, default=None, example="760, 490"),
            Parameter("spacing", "From foot to foot", unit="mm", many=True, low=50, high=20000, example="1560 mm"),
            Parameter("rear", "Weights at the rear feet", unit="kg", many=True, low=0, high=50000, default=None, example="300, 210"),
            Parameter("across", "Front feet to rear feet", unit="mm", low=50, high=5000, default=None, example="420 mm"),
            Parameter("mass", "Mass, in place of the weights", unit="kg", low=1, high=100000, default=None, example="1250 kg"),
            Parameter("centre", "Its centre from the first support", unit="mm", low=0, high=20000, default=None, example="600 mm"),
        ),
        columns=(
            Column("foot", "Foot", kind="text"),
            Column("place_mm", "From the first", "mm", decimals=0),
            Column("load_kg", "Load", "kg", decimals=0),
            Column("load_kn", "Load", "kN", decimals=2),
            Column("share_percent", "Share", "percent", decimals=1),
            Column("total_kg", "Together", "kg", decimals=0),
            Column("centre_from_first_mm", "Centre from the first", "mm", decimals=0),
            Column("centre_from_front_mm", "Centre behind the front", "mm", decimals=0),
        ),
        compute=foot_loads,
        browser="foot-loads",
        browser_data=lambda: {"gravity": GRAVITY, "notes": WEIGH_NOTES, "rigging": RIGGING},
        sources=(Cite("weighing-appendix", "moment balance", "secondary"), Cite("definition", how="computed")),
        holds="a machine standing level; feet in one or two rows",
        also=("centre of gravity", "center of gravity", "weighing", "balance point", "jacks"),
        examples=({"weights": [620, 380], "spacing": [1500]}, {"weights": [320, 180], "rear": [440, 310], "spacing": [1500], "across": 420}),
    ),
    Definition(
        name="rolling",
        title="Pulling a machine across the floor",
        about="How hard one pulls to move a machine on skates, rollers or skids, and the order of getting it on to skates.",
        group="Moving",
        parameters=(
            Parameter("mass", "Mass", unit="kg", low=1, high=50000, example="1250 kg"),
            Parameter("slope", "Slope, uphill above 0", unit="percent", low=-20, high=20, default=0.0, example="2 %"),
        ),
        columns=(
            Column("gear", "On", kind="text"),
            Column("pull_low_kn", "Pull from", "kN", decimals=2),
            Column("pull_high_kn", "to", "kN", decimals=2),
        ),
        compute=rolling,
        sources=(Cite("common-practice", "resistance of skates, rollers and skids", "practice"), Cite("skates-order", "order of work")),
        holds="slopes to 20 %, slow pulling",
        also=("rollers", "skates", "pipes", "winch", "toe jack", "moving a lathe"),
        examples=({"mass": 1250},),
    ),
)  # fmt: skip
