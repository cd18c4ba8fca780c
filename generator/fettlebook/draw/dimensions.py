"""Dimensions and leaders after ISO 129: extension lines with a gap, closed arrow heads, figures over the line.

Figures read from the bottom or from the right of the sheet. Where arrows or figures find no room between the
extension lines they go outside.
"""

from __future__ import annotations

from math import cos, radians, sin

from fettlebook.draw.geometry import Point, distance, left_of, middle, moved, polar, towards
from fettlebook.draw.pen import ARROW_LENGTH, TEXT_SIZE, Pen, text_width

GAP, OVER, LIFT = 0.8, 1.6, 1.0
"""Gap between edge and extension line, how far that stands over, how far figures stand over the line, in mm."""

DIAMETER = "Ø"


class Dimensioned(Pen):
    """A pen that also writes dimensions and leaders."""

    def dim_horizontal(self, p: Point, q: Point, y: float, words: str) -> None:
        """The horizontal distance from P to Q, its line at height Y."""
        p, q = sorted((p, q))
        self._linear(p, q, (p[0], y), (q[0], y), words)

    def dim_vertical(self, p: Point, q: Point, x: float, words: str) -> None:
        """The vertical distance from P to Q, its line at X."""
        p, q = sorted((p, q), key=lambda point: -point[1])
        self._linear(p, q, (x, p[1]), (x, q[1]), words)

    def dim_aligned(self, p: Point, q: Point, offset: float, words: str) -> None:
        """The true distance from P to Q, its line at an offset to the left of the way from P to Q."""
        side = left_of(towards(p, q))
        self._linear(p, q, moved(p, side, offset), moved(q, side, offset), words)

    def dim_diameter(self, centre: Point, radius: float, angle_deg: float, words: str, reach: float = 8) -> None:
        """A diameter: across the circle where the figure fits inside, else from outside on a leader."""
        label = DIAMETER + words if words[:1].isdigit() else words
        if 2 * radius >= text_width(label) + 2 * ARROW_LENGTH + 2:
            self._between(polar(centre, radius, angle_deg + 180), polar(centre, radius, angle_deg), label)
        else:
            self.leader([polar(centre, radius, angle_deg), polar(centre, radius + reach, angle_deg)], label)

    def dim_radius(self, centre: Point, radius: float, angle_deg: float, words: str, reach: float = 8) -> None:
        """A radius, on a leader from outside."""
        label = f"R{words}" if words[:1].isdigit() else words
        self.leader([polar(centre, radius, angle_deg), polar(centre, radius + reach, angle_deg)], label)

    def dim_angle(self, centre: Point, radius: float, start_deg: float, end_deg: float, words: str) -> None:
        """The angle between two directions, on an arc about their centre (end the larger angle).

        With little room the arrows come from outside.
        """
        span = radians(end_deg - start_deg) * radius
        outside = span < 2.6 * ARROW_LENGTH
        spill = 1.6 * ARROW_LENGTH / radius / radians(1) if outside else 0.0
        self.arc(centre, radius, start_deg - spill, end_deg + spill, "narrow")
        lean = ARROW_LENGTH / 2 / radius / radians(1)
        for angle, way in ((start_deg, -90), (end_deg, 90)):
            turned = angle + (way + lean if way < 0 else way - lean)
            tip, direction = polar(centre, radius, angle), polar((0, 0), 1, turned)
            self.arrow_head(tip, (-direction[0], -direction[1]) if outside else direction)
        half = (start_deg + end_deg) / 2
        room = (
            radius + 1.8 + abs(cos(radians(half))) * text_width(words) / 2 + abs(sin(radians(half))) * TEXT_SIZE * 0.3
        )
        self.text(polar(centre, room, half), words, "middle", middle=True)

    def leader(self, points: list[Point], words: str, end: str = "arrow", lines: tuple[str, ...] = ()) -> None:
        """A line from what is meant (first point) by way of others to a shelf under WORDS.

        end: arrow on an edge, dot inside an outline, none on a line. The shelf runs on away from what is meant.
        lines: more words under the shelf.
        """
        tip, knee = points[0], points[-1]
        if end == "arrow":
            self.arrow_head(tip, towards(points[1], tip))
        elif end == "dot":
            self.dot(tip)
        right = knee[0] >= points[-2][0]
        long = max(text_width(words), *(text_width(each) for each in lines), 0) + 1.5
        shelf = (knee[0] + long if right else knee[0] - long, knee[1])
        self.polyline([*points, shelf], "narrow")
        start = min(knee[0], shelf[0]) + 1
        self.text((start, knee[1] - LIFT), words)
        for n, each in enumerate(lines):
            self.text((start, knee[1] + 0.95 * TEXT_SIZE + 1.2 * TEXT_SIZE * n), each)

    def _linear(self, p: Point, q: Point, a: Point, b: Point, words: str) -> None:
        for edge, end in ((p, a), (q, b)):
            if distance(edge, end) > GAP:
                way = towards(edge, end)
                self.line(moved(edge, way, GAP), moved(end, way, OVER), "narrow")
        self._between(a, b, words)

    def _between(self, a: Point, b: Point, words: str) -> None:
        """A dimension line from A to B with its arrows and figures."""
        along, length = towards(a, b), distance(a, b)
        width = text_width(words)
        if length >= 2.4 * ARROW_LENGTH:
            self.line(moved(a, along, ARROW_LENGTH / 2), moved(b, along, -ARROW_LENGTH / 2), "narrow")
            self.arrow_head(a, (-along[0], -along[1]))
            self.arrow_head(b, along)
            if length >= width + 1.5:
                return self._over_line(middle(a, b), along, words)
            tail = ARROW_LENGTH
            self.line(b, moved(b, along, tail + width), "narrow")
        else:
            tail = 2 * ARROW_LENGTH
            self.line(moved(a, along, -tail), moved(b, along, tail + width), "narrow")
            self.arrow_head(a, along)
            self.arrow_head(b, (-along[0], -along[1]))
        return self._over_line(moved(b, along, tail + width / 2), along, words)

    def _over_line(self, at: Point, along: Point, words: str) -> None:
        forward = along if along[0] > 0.001 or (abs(along[0]) <= 0.001 and along[1] < 0) else (-along[0], -along[1])
        self.text(moved(at, left_of(forward), LIFT), words, "middle", along=forward)
