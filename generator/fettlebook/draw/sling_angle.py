"""Two sling legs and the angle that counts: between a leg and the horizontal, at the load."""

from __future__ import annotations

from math import radians, sin, tan

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, box
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.figures import written

LEAST_DEG = 30.0
"""Flatter than this a leg carries the whole load or more, and no sling is rigged so. Common practice; local rules decide."""

CENTRE, HOOK = 75.0, 16.0


def share(angle_deg: float) -> float:
    """Pull in each of two legs over the weight of the load.

        pull / weight = 1 / (2 sin angle)

    angle_deg   between a leg and the horizontal [deg], 30 to 90
    gives       0.5 for upright legs, 1 at 30 degrees

    Source: definition

    >>> round(share(60), 3)
    0.577
    """
    if not LEAST_DEG <= angle_deg <= 90:
        raise BadValue(
            "angle",
            f"{angle_deg:g}° from the horizontal is outside 30 to 90°: flatter, each leg carries the whole load or more",
            "take longer slings or a spreader; an angle from the vertical is 90° minus this one",
        )
    return 1 / (2 * sin(radians(angle_deg)))


def sling_angle(angle_deg: float, mass_kg: float | None) -> str:
    """Hook, two legs, load with its centre of gravity, and the angle as the three conventions give it."""
    factor = share(angle_deg)
    half = min(40.0, 66 / tan(radians(angle_deg)))
    rise = half * tan(radians(angle_deg))
    top, bottom = HOOK + 8 + rise, HOOK + 8 + rise + 24
    d = Drawing("sling-angle", f"Sling legs at {angle_deg:g}° from the horizontal", 170, bottom + (32 if mass_kg is not None else 25), {"angle": angle_deg, "mass": mass_kg})  # fmt: skip
    _hook(d)
    _load(d, half, top)
    for side in (-1, 1):
        d.line((CENTRE, HOOK + 8), (CENTRE + side * half, top))
        d.circle((CENTRE + side * half, top), 1.4)
    d.line((CENTRE + half, top), (CENTRE + half - min(half, 26), top), "narrow")
    d.dim_angle((CENTRE + half, top), min(15.0, half * 0.62), 180 - angle_deg, 180, f"{angle_deg:g}°")
    _conventions(d, angle_deg, factor, half, top)
    _figures(d, factor, mass_kg, bottom + 12)
    return d.svg()


def _hook(d: Drawing) -> None:
    d.line((CENTRE, 4), (CENTRE, HOOK - 2))
    d.arc((CENTRE, HOOK + 3), 5, 90, -150)
    d.line((CENTRE, HOOK - 2), (CENTRE, HOOK + 1), "narrow")


def _load(d: Drawing, half: float, top: float) -> None:
    wide = max(half + 8, 34.0)
    d.polygon(box(CENTRE - wide, top, 2 * wide, 24))
    d.line((CENTRE, HOOK + 12), (CENTRE, top + 28), "chain")
    d.circle((CENTRE, top + 13), 2.4)
    d.dot((CENTRE, top + 13))
    d.text((CENTRE + 4, top + 14.5), "centre of gravity")


def _conventions(d: Drawing, angle_deg: float, factor: float, half: float, top: float) -> None:
    x = CENTRE + max(half, 34.0) + 12
    d.lines_of_text((min(x, 122), HOOK + 6), ["counted here:", "from the horizontal", f"{angle_deg:g}°"])
    d.lines_of_text((min(x, 122), HOOK + 26), ["elsewhere:", f"from the vertical {90 - angle_deg:g}°", f"between legs {180 - 2 * angle_deg:g}°"])  # fmt: skip


def _figures(d: Drawing, factor: float, mass_kg: float | None, y: float) -> None:
    said = f"Each of two legs pulls {written(factor, 2)} × the weight of the load."
    d.text((CENTRE, y), said, "middle", bold=True)
    if mass_kg is not None:
        d.text(
            (CENTRE, y + 7),
            f"{written(mass_kg, 0)} kg on the hook: as {written(factor * mass_kg, 0)} kg on each leg",
            "middle",
        )
    d.text(
        (CENTRE, y + (14 if mass_kg is not None else 7)),
        "The hook stands over the centre of gravity. A licensed rigger decides.",
        "middle",
    )


def _alt(angle_deg: float, mass_kg: float | None) -> str:
    more = (
        f" Of {written(mass_kg, 0)} kg each leg carries as much as {written(share(angle_deg) * mass_kg, 0)} kg."
        if mass_kg
        else ""
    )
    return (
        f"Two sling legs from a hook to a load. The angle of {angle_deg:g} degrees is measured at the load, between a leg and the horizontal. "
        f"Each leg pulls {written(share(angle_deg), 2)} times the weight.{more} The hook stands over the centre of gravity."
    )


FIGURES = (
    Drawn(
        "sling-angle",
        "Sling legs and their angle",
        (
            Parameter("angle", "Angle of a leg from the horizontal", unit="deg", low=LEAST_DEG, high=85, default=60.0, example="60 deg"),
            Parameter("mass", "Mass on the hook", unit="kg", low=1, high=1e5, default=None, example="1200 kg"),
        ),
        sling_angle,
        _alt,
        ("sling-loads",),
    ),
)  # fmt: skip
