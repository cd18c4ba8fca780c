"""Plane geometry for drawings: points on paper in millimetres, x to the right and y downwards.

Angles are in degrees, counted anticlockwise as one sees the paper, from the right.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin

Point = tuple[float, float]


@dataclass(frozen=True)
class View:
    """From millimetres of the part to millimetres of paper: the part's origin on paper, the scale, y upwards.

    >>> View(10, 50, 2)(5, 10)
    (20, 30)
    """

    x: float
    y: float
    scale: float = 1.0

    def __call__(self, x: float, y: float) -> Point:
        return self.x + self.scale * x, self.y - self.scale * y

    def all(self, points: Iterable[Point]) -> list[Point]:
        """Several points at once."""
        return [self(x, y) for x, y in points]


def moved(point: Point, direction: Point, by: float) -> Point:
    """POINT moved along a unit vector."""
    return point[0] + direction[0] * by, point[1] + direction[1] * by


def distance(a: Point, b: Point) -> float:
    """Length of the line from A to B."""
    return hypot(b[0] - a[0], b[1] - a[1])


def towards(a: Point, b: Point) -> Point:
    """The unit vector from A to B; to the right when they coincide."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length else (1.0, 0.0)


def left_of(direction: Point) -> Point:
    """The unit vector to the left of a direction, as seen on paper: upwards for a line to the right."""
    return direction[1], -direction[0]


def middle(a: Point, b: Point) -> Point:
    """Half way between A and B."""
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def polar(centre: Point, radius: float, angle_deg: float) -> Point:
    """The point at a radius and an angle from a centre."""
    return centre[0] + radius * cos(radians(angle_deg)), centre[1] - radius * sin(radians(angle_deg))


def arc_points(centre: Point, radius: float, start_deg: float, end_deg: float, step_deg: float = 5) -> list[Point]:
    """Points along an arc, both ends included, no further than a step apart."""
    pieces = max(1, round(abs(end_deg - start_deg) / step_deg))
    return [polar(centre, radius, start_deg + (end_deg - start_deg) * n / pieces) for n in range(pieces + 1)]


def regular_polygon(centre: Point, across_flats: float, sides: int, turned_deg: float = 0) -> list[Point]:
    """Corners of a regular polygon by its width across flats; a flat lies at the bottom when it is not turned."""
    radius = across_flats / 2 / cos(radians(180 / sides))
    first = 90 + 180 / sides if sides % 2 == 0 else 90
    return [polar(centre, radius, first + turned_deg + 360 / sides * n) for n in range(sides)]


def box(x: float, y: float, width: float, height: float) -> list[Point]:
    """Corners of an upright rectangle by its upper left corner."""
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def hatch_lines(outlines: Sequence[Sequence[Point]], spacing: float, angle_deg: float) -> list[tuple[Point, Point]]:
    """Parallel lines that fill the region inside an odd number of closed outlines, so inner outlines are holes.

    The lines are laid out from the corner of the sheet and not of the outline, so the sections of one part line up.
    """
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    turned = [[(x * c - y * s, x * s + y * c) for x, y in outline] for outline in outlines]
    heights = [y for outline in turned for _, y in outline]
    lines: list[tuple[Point, Point]] = []
    if not heights:
        return lines
    for n in range(int(min(heights) // spacing), int(max(heights) // spacing) + 1):
        y = (n + 0.5) * spacing
        xs = sorted(x for outline in turned for x in _crossings(outline, y))
        for a, b in zip(xs[::2], xs[1::2], strict=False):
            if b - a > 0.2:
                lines.append(((a * c + y * s, -a * s + y * c), (b * c + y * s, -b * s + y * c)))
    return lines


def _crossings(outline: Sequence[Point], y: float) -> Iterable[float]:
    """Where the closed outline crosses a horizontal line."""
    for (x1, y1), (x2, y2) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (y1 <= y) != (y2 <= y):
            yield x1 + (x2 - x1) * (y - y1) / (y2 - y1)


def clipped(a: Point, b: Point, x: float, y: float, width: float, height: float) -> tuple[Point, Point] | None:
    """The part of the line from A to B that lies inside a rectangle, or nothing."""
    first, last = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for step, room in ((-dx, a[0] - x), (dx, x + width - a[0]), (-dy, a[1] - y), (dy, y + height - a[1])):
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first > last:
        return None
    return (a[0] + first * dx, a[1] + first * dy), (a[0] + last * dx, a[1] + last * dy)


def reading_angle(direction: Point) -> float:
    """By how much text along a line is turned in SVG, so that it reads from the bottom or the right (ISO 129)."""
    angle = degrees(atan2(direction[1], direction[0]))
    if angle > 89.999:
        return angle - 180
    return angle + 180 if angle < -90.001 else angle
