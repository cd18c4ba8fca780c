"""A train of change wheels seen from the end of the lathe, each with its teeth and the shaft it sits on."""

from __future__ import annotations

from math import asin, degrees

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, polar
from fettlebook.tables.definition import BadValue, Parameter

WIDTH = 170.0
ROOM = (94.0, 112.0)
"""Paper for the wheels [mm]; the words stand to the right of it."""

FLATTEST, STEEPEST = 28.0, 75.0
"""Slopes of the line from one shaft to the next, downwards [degrees]."""


def gear_train(drivers: tuple[int, ...], driven: tuple[int, ...], idler: int | None) -> str:
    """The wheels as circles by their teeth, to one scale, with the way each turns."""
    wheels, shafts = _wheels(drivers, driven, idler)
    scale, places = _places(shafts)
    ends = _ends(wheels, places, scale)
    lowest = max(place[1] + max(shaft) * scale / 2 for place, shaft in zip(places, shafts, strict=True))
    height = max(lowest, ends[-1] + 12) + 6
    d = Drawing(
        "gear-train", "Train of change wheels", WIDTH, height, {"drivers": drivers, "driven": driven, "idler": idler}
    )
    for teeth, shaft, role in wheels:
        d.circle(places[shaft], teeth * scale / 2, "narrow" if role.startswith("second driver") else "wide")
    for n, place in enumerate(places):
        d.centre_mark(place, 2.5, 1.5)
        d.circle(place, 1.8)
        largest = max(teeth for teeth, shaft, _ in wheels if shaft == n)
        way = (60, 120) if n % 2 else (120, 60)
        if largest * scale > 18:
            d.turning_arrow(place, largest * scale / 2 - 3.5, *way)
    _words(d, wheels, places, scale, ends)
    return d.svg()


def _wheels(
    drivers: tuple[int, ...], driven: tuple[int, ...], idler: int | None
) -> tuple[list[tuple[int, int, str]], list[tuple[int, ...]]]:
    """(teeth, shaft, role) of each wheel, and the wheels of each shaft: the one that meshes towards the spindle first."""
    if len(drivers) != len(driven) or len(drivers) not in (1, 2):
        raise BadValue(
            "driven",
            f"{len(drivers)} drivers and {len(driven)} driven are no train",
            "write one of each, or two of each",
        )
    if len(drivers) == 2:
        (a, c), (b, d) = drivers, driven
        roles = [(a, 0, "first driver, on the first shaft"), (b, 1, "first driven, on the stud"), (c, 1, "second driver, on the same stud"),
                 (d, 2, "second driven, on the leadscrew")]  # fmt: skip
        return roles, [(a, a), (b, c), (d, d)]
    i = idler or round((drivers[0] + driven[0]) / 2)
    name = "idler, on the stud" if idler else "idler, of any size"
    return [(drivers[0], 0, "driver, on the first shaft"), (i, 1, name), (driven[0], 2, "driven, on the leadscrew")], [
        (drivers[0], drivers[0]), (i, i), (driven[0], driven[0]),
    ]  # fmt: skip


def _places(shafts: list[tuple[int, ...]]) -> tuple[float, list[Point]]:
    """Scale [mm a tooth] and centres of the three shafts, so that all wheels fill their room.

    A shaft's wheels stay below the centre before it, which leaves the way to the words free.
    """
    places: list[Point] = [(0.0, 0.0)]
    for n in (0, 1):
        away = (shafts[n][1] + shafts[n + 1][0]) / 2
        level = degrees(asin(min(1.0, max(shafts[n + 1]) / 2 / away)))
        places.append(polar(places[-1], away, -min(STEEPEST, max(FLATTEST, level))))
    reach = [max(shaft) / 2 for shaft in shafts]
    left, right = (
        min(p[0] - r for p, r in zip(places, reach, strict=True)),
        max(p[0] + r for p, r in zip(places, reach, strict=True)),
    )
    top, low = (
        min(p[1] - r for p, r in zip(places, reach, strict=True)),
        max(p[1] + r for p, r in zip(places, reach, strict=True)),
    )
    scale = min(ROOM[0] / (right - left), ROOM[1] / (low - top))
    return scale, [(8 + (x - left) * scale, 8 + (y - top) * scale) for x, y in places]


def _rim(wheel: tuple[int, int, str], places: list[Point], scale: float) -> Point:
    """Where a wheel's leader touches it."""
    teeth, shaft, _ = wheel
    return polar(places[shaft], teeth * scale / 2, 38 if shaft == 1 else 0)


def _ends(wheels: list[tuple[int, int, str]], places: list[Point], scale: float) -> list[float]:
    """How far down the sheet each leader ends, so that the words keep clear of each other."""
    ends: list[float] = []
    for wheel in wheels:
        ends.append(max(ends[-1] + 22 if ends else 14.0, _rim(wheel, places, scale)[1]))
    return ends


def _words(
    d: Drawing, wheels: list[tuple[int, int, str]], places: list[Point], scale: float, ends: list[float]
) -> None:
    """A leader from each wheel's rim to its teeth and its role, in order down the sheet."""
    for (teeth, shaft, role), y in zip(wheels, ends, strict=True):
        where, _, on = role.partition(", ")
        rim = _rim((teeth, shaft, role), places, scale)
        d.leader([rim, (107, y)], f"{teeth} teeth", "arrow", (where, on))


def _alt(drivers: tuple[int, ...], driven: tuple[int, ...], idler: int | None) -> str:
    wheels, _ = _wheels(drivers, driven, idler)
    return (
        "Change wheels from the end of the lathe, from the spindle on: "
        + "; ".join(f"{teeth} teeth, {role}" for teeth, _, role in wheels)
        + "."
    )


FIGURES = (
    Drawn(
        "gear-train",
        "Train of change wheels",
        (
            Parameter("drivers", "Drivers", kind="whole", many=True, low=8, high=400, default=(50, 127), example="50, 127"),
            Parameter("driven", "Driven", kind="whole", many=True, low=8, high=400, default=(100, 60), example="100, 60"),
            Parameter("idler", "Idler of a simple train", kind="whole", low=8, high=400, default=None, example="40"),
        ),
        gear_train,
        _alt,
        ("change-gears",),
    ),
)  # fmt: skip
