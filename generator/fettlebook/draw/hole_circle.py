"""A circle of holes on an index plate, with the sector arms set for one move of the crank."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, polar
from fettlebook.tables.definition import BadValue, Parameter

CENTRE: Point = (62.0, 66.0)
RADIUS, ARM = 46.0, 54.0


def hole_circle(circle: int, holes: int, turns: int) -> str:
    """The plate from the front: the pin's hole filled, the arms on it and on the hole to move to, the holes between counted."""
    if not 0 <= holes < circle:
        raise BadValue("holes", f"{holes} holes are no part of a circle of {circle}", "whole turns are counted apart")
    d = Drawing(
        "hole-circle", "Hole circle and sector arms", 170, 141, {"circle": circle, "holes": holes, "turns": turns}
    )
    d.circle(CENTRE, RADIUS + 13)
    d.circle(CENTRE, RADIUS, "chain")
    d.circle(CENTRE, 5)
    d.centre_mark(CENTRE, 5, 3)
    size = min(2.4, 0.32 * 6.2832 * RADIUS / circle)
    for n in range(circle):
        d.circle(_hole(n, circle), size, "wide" if 0 < n <= holes else "narrow")
    d.dot(_hole(0, circle), size + 0.9)
    _arms(d, circle, holes)
    _words(d, circle, holes, turns)
    return d.svg()


def _hole(n: int, circle: int) -> Point:
    """Holes are counted clockwise from the top, the way the crank turns."""
    return polar(CENTRE, RADIUS, 90 - 360 * n / circle)


def _arms(d: Drawing, circle: int, holes: int) -> None:
    """The bevelled edges of the two arms: behind the pin, and past the hole to move to."""
    step = 360 / circle
    first, last = 90 + 0.5 * step, 90 - (holes + 0.5) * step
    for edge, away in ((first, 1), (last, -1)):
        d.line(polar(CENTRE, 7, edge), polar(CENTRE, ARM, edge))
        d.line(polar(CENTRE, ARM, edge), polar(CENTRE, ARM, edge + 7 * away), "wide")
        d.line(polar(CENTRE, ARM, edge + 7 * away), polar(CENTRE, 7, edge + 40 * away), "narrow")
    if holes * step > 12:
        d.turning_arrow(CENTRE, 26, 90, 90 - holes * step)


def _words(d: Drawing, circle: int, holes: int, turns: int) -> None:
    for number, n in (("1", 0), ("2", holes)) if holes else (("1", 0),):
        d.text(polar(CENTRE, RADIUS - 8, 90 - 360 * n / circle), number, "middle", bold=True, middle=True)
    d.lines_of_text((126, 40), ["1 the pin is here", *(["2 and moves here,"] if holes else []), "clockwise"])
    d.lines_of_text((126, 70), ["arms: count", f"{holes + 1} holes, with", "the pin's own"])
    move = f"{turns} whole turn{'s' if turns != 1 else ''}" + (" and " if holes else "") if turns else ""
    d.text((8, 137), f"Move: {move}" + (f"{holes} holes of {circle}" if holes or not turns else ""), bold=True)


def _alt(circle: int, holes: int, turns: int) -> str:
    move = f"{turns} whole turns and " if turns else ""
    return (
        f"An index plate with a circle of {circle} holes. One move is {move}{holes} holes; the sector arms stand so that {holes + 1} holes lie "
        "between them, counted with the one the pin is in."
    )


FIGURES = (
    Drawn(
        "hole-circle",
        "Hole circle and sector arms",
        (
            Parameter("circle", "Holes of the circle", kind="whole", low=4, high=150, default=21, example="21"),
            Parameter("holes", "Holes to move", kind="whole", low=0, high=149, default=14, example="14"),
            Parameter("turns", "Whole turns", kind="whole", low=0, high=720, default=6, example="6"),
        ),
        hole_circle,
        _alt,
        ("indexing",),
    ),
)  # fmt: skip
