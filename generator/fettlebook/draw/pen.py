"""The pen: lines, shapes, hatching, text and swatches, each as a piece of SVG.

Line art after ISO 128: two widths, dashes for hidden edges, chain lines for centres, section hatching at 45 degrees,
all in the colour of the text around it, so that dark pages and black print come out right. Lengths are millimetres of
paper, x to the right and y downwards; angles are degrees, anticlockwise as seen.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from xml.sax.saxutils import escape

from fettlebook.draw.geometry import Point, arc_points, box, hatch_lines, left_of, moved, polar, reading_angle, towards

WIDE, NARROW = 0.7, 0.35
"""Line widths in mm: visible edges, and everything else (ISO 128: two widths, 2 to 1)."""

LINES: dict[str, tuple[float, str, str]] = {
    "wide": (WIDE, "", ""),
    "narrow": (NARROW, "", ""),
    "hidden": (NARROW, "3 1", ""),
    "chain": (NARROW, "7 1 0.6 1", ""),
    "phantom": (NARROW, "7 1 0.6 1 0.6 1", ""),
    "grid": (NARROW, "", "0.3"),
}
"""Kinds of line: width, dashes, opacity. chain is for centre lines, phantom for a neighbouring or moved part."""

TEXT_SIZE, SMALLEST_TEXT = 4.2, 3.5
"""Size of letters in mm, and the smallest that reads at arm's length."""

ARROW_LENGTH, ARROW_WIDTH = 3.2, 1.1
"""A closed, filled arrow head of about 20 degrees (ISO 129 leaves it between 15 and 90)."""

NARROW_LETTERS, BROAD_LETTERS = set("iljtfrI.,:;'|!()[] /-"), set("mwMW%@—")


def written(value: float) -> str:
    """A coordinate with at most two decimals, the same text on every machine."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def pair(point: Point) -> str:
    """A point as x,y."""
    return f"{written(point[0])},{written(point[1])}"


def text_width(words: str, size: float = TEXT_SIZE) -> float:
    """About how wide WORDS come out [mm]; exact to a tenth or so for the typeface meant here."""
    units = sum(
        0.29 if s in NARROW_LETTERS else 0.8 if s in BROAD_LETTERS else 0.6 if s.isupper() else 0.51 for s in words
    )
    return units * size


class Pen:
    """A sheet being drawn on. NAME and the GIVEN parameters make the ids inside it its own."""

    def __init__(self, name: str, title: str, width: float, height: float, given: Mapping[str, Any] | None = None):
        self.name, self.title, self.width, self.height = name, title, width, height
        digest = hashlib.sha256(json.dumps(given or {}, sort_keys=True, default=str).encode()).hexdigest()
        self.prefix = f"{name}-{digest[:8]}"
        self.pieces: list[str] = []
        self.texts: list[tuple[str, float, float, float, float]] = []
        self._low, self._high = [width, height], [0.0, 0.0]
        self._ids = 0

    def line(self, a: Point, b: Point, kind: str = "wide") -> None:
        """A straight line."""
        self.polyline((a, b), kind)

    def polyline(self, points: Iterable[Point], kind: str = "wide", closed: bool = False) -> None:
        """Straight lines through several points."""
        corners = list(points)
        self._seen(corners)
        self._path("M" + "L".join(pair(p) for p in corners) + ("Z" if closed else ""), kind)

    def polygon(self, points: Iterable[Point], kind: str = "wide") -> None:
        """A closed outline."""
        self.polyline(points, kind, closed=True)

    def rectangle(self, x: float, y: float, width: float, height: float, kind: str = "wide", radius: float = 0) -> None:
        """An upright rectangle by its upper left corner."""
        self._seen(box(x, y, width, height))
        size = f'x="{written(x)}" y="{written(y)}" width="{written(width)}" height="{written(height)}"'
        rounded = f' rx="{written(radius)}"' if radius else ""
        self.add(f"<rect {size}{rounded}{self.stroke(kind)}/>")

    def circle(self, centre: Point, radius: float, kind: str = "wide") -> None:
        """A circle."""
        self._seen(box(centre[0] - radius, centre[1] - radius, 2 * radius, 2 * radius))
        place = f'cx="{written(centre[0])}" cy="{written(centre[1])}" r="{written(radius)}"'
        self.add(f"<circle {place}{self.stroke(kind)}/>")

    def arc(self, centre: Point, radius: float, start_deg: float, end_deg: float, kind: str = "wide") -> None:
        """An arc, anticlockwise when the end is the larger angle."""
        self._seen(arc_points(centre, radius, start_deg, end_deg))
        large, sweep = int(abs(end_deg - start_deg) > 180), int(end_deg < start_deg)
        a, b = polar(centre, radius, start_deg), polar(centre, radius, end_deg)
        self._path(f"M{pair(a)}A{written(radius)},{written(radius)} 0 {large} {sweep} {pair(b)}", kind)

    def dot(self, centre: Point, radius: float = 0.8) -> None:
        """A filled dot."""
        self._seen(box(centre[0] - radius, centre[1] - radius, 2 * radius, 2 * radius))
        place = f'cx="{written(centre[0])}" cy="{written(centre[1])}" r="{written(radius)}"'
        self.add(f'<circle {place} fill="currentColor" stroke="none"/>')

    def centre_mark(self, centre: Point, radius: float, over: float = 3) -> None:
        """Two chain lines that cross in the centre of something round and stand over its edge."""
        x, y = centre
        reach = radius + over
        self.line((x - reach, y), (x + reach, y), "chain")
        self.line((x, y - reach), (x, y + reach), "chain")

    def break_line(self, a: Point, b: Point, depth: float = 1.6) -> None:
        """A narrow line with a zigzag in its middle: here the part goes on."""
        along = towards(a, b)
        side = left_of(along)
        mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        zig, zag = moved(moved(mid, along, -1), side, depth), moved(moved(mid, along, 1), side, -depth)
        self.polyline((a, moved(mid, along, -2), zig, zag, moved(mid, along, 2), b), "narrow")

    def hatch(self, *outlines: Sequence[Point], gaps: Sequence[Sequence[Point]] = (), spacing: float = 2.2, angle: float = 45) -> None:  # fmt: skip
        """Section hatching of one or more closed outlines, holes and gaps (for text) left free.

        Parts that meet in a section take other angles (45, 135) or spacings.
        """
        lines = hatch_lines([*outlines, *gaps], spacing, angle)
        if lines:
            self._path("".join(f"M{pair(a)}L{pair(b)}" for a, b in lines), "narrow")

    def tint(self, points: Iterable[Point], opacity: float = 0.12) -> None:
        """A light shade of the ink over an area, for a range in a plot."""
        corners = list(points)
        self._seen(corners)
        path = "M" + "L".join(pair(p) for p in corners) + "Z"
        self.add(f'<path d="{path}" fill="currentColor" fill-opacity="{opacity:g}" stroke="none"/>')

    def arrow_head(self, tip: Point, direction: Point, size: float = 1) -> None:
        """A filled arrow head that points along DIRECTION (a unit vector)."""
        back, side = moved(tip, direction, -ARROW_LENGTH * size), left_of(direction)
        corners = (tip, moved(back, side, ARROW_WIDTH / 2 * size), moved(back, side, -ARROW_WIDTH / 2 * size))
        self._seen(corners)
        self.add(f'<path d="M{"L".join(pair(p) for p in corners)}Z" fill="currentColor" stroke="none"/>')

    def arrow(self, a: Point, b: Point, kind: str = "narrow", size: float = 1) -> None:
        """A line from A to an arrow head at B."""
        along = towards(a, b)
        self.line(a, moved(b, along, -ARROW_LENGTH * size / 2), kind)
        self.arrow_head(b, along, size)

    def turning_arrow(self, centre: Point, radius: float, start_deg: float, end_deg: float) -> None:
        """An arc with an arrow head at its end: which way something turns."""
        self.arc(centre, radius, start_deg, end_deg, "narrow")
        way = 90 if end_deg > start_deg else -90
        lean = way / 90 * 28 * ARROW_LENGTH / max(radius, ARROW_LENGTH)
        self.arrow_head(polar(centre, radius, end_deg), polar((0, 0), 1, end_deg + way - lean))

    def text(self, at: Point, words: str, anchor: str = "start", size: float = TEXT_SIZE, along: Point = (1, 0), bold: bool = False, middle: bool = False) -> None:  # fmt: skip
        """Words at a point: the start, middle or end of their base line, or of their middle line.

        along turns them to run along a direction; they then read from the bottom or from the right of the sheet.
        Raises ValueError for letters too small to read at arm's length.
        """
        if size < SMALLEST_TEXT:
            raise ValueError(f"letters of {size} mm are too small; the smallest are {SMALLEST_TEXT} mm")
        turn = reading_angle(along)
        drop = 0.33 * size if middle else 0.0
        down = left_of(polar((0, 0), 1, -turn))
        x, y = moved(at, down, -drop)
        self._text_seen(words, (x, y), anchor, size, turn)
        attributes = "" if anchor == "start" else f' text-anchor="{anchor}"'
        attributes += "" if size == TEXT_SIZE else f' font-size="{written(size)}"'
        attributes += ' font-weight="600"' if bold else ""
        attributes += f' transform="rotate({written(turn)} {written(x)} {written(y)})"' if abs(turn) > 0.01 else ""
        self.add(f'<text x="{written(x)}" y="{written(y)}"{attributes} fill="currentColor" stroke="none">{escape(words)}</text>')  # fmt: skip

    def lines_of_text(self, at: Point, lines: Sequence[str], anchor: str = "start", size: float = TEXT_SIZE) -> None:
        """Several lines of words, one under the other."""
        for n, words in enumerate(lines):
            self.text((at[0], at[1] + 1.25 * size * n), words, anchor, size)

    def swatch(self, x: float, y: float, width: float, height: float, colour: str, outlined: bool = True) -> None:
        """A rectangle of an explicit colour, where the colour is the subject."""
        self._seen(box(x, y, width, height))
        size = f'x="{written(x)}" y="{written(y)}" width="{written(width)}" height="{written(height)}"'
        edge = self.stroke("narrow") if outlined else ' stroke="none"'
        self.add(f'<rect {size} fill="{colour}"{edge}/>')

    def strip(self, x: float, y: float, width: float, height: float, colours: Sequence[tuple[float, str]]) -> None:
        """A strip that runs through colours from left to right: (place from 0 to 1, colour)."""
        ident = self.ident("strip")
        stops = "".join(f'<stop offset="{place:.4f}" stop-color="{colour}"/>' for place, colour in colours)
        self.add(f'<linearGradient id="{ident}">{stops}</linearGradient>')
        self.swatch(x, y, width, height, f"url(#{ident})")

    def ident(self, kind: str) -> str:
        """An id that no other drawing has."""
        self._ids += 1
        return f"{self.prefix}-{kind}{self._ids}"

    def add(self, piece: str) -> None:
        """A piece of SVG as it is."""
        self.pieces.append(piece)

    def stroke(self, kind: str) -> str:
        """The attributes of a kind of line, where they differ from those of the whole sheet (narrow)."""
        if kind not in LINES:
            raise ValueError(f"{kind} is not a kind of line; there are {', '.join(LINES)}")
        width, dashes, opacity = LINES[kind]
        attributes = "" if width == NARROW else f' stroke-width="{width:g}"'
        attributes += f' stroke-dasharray="{dashes}"' if dashes else ""
        return attributes + (f' stroke-opacity="{opacity}"' if opacity else "")

    def overrun(self) -> float:
        """By how many mm anything drawn stands over the edge of the sheet; 0 when all fits (text by its estimate)."""
        over = (-self._low[0], -self._low[1], self._high[0] - self.width, self._high[1] - self.height)
        return max(0.0, *over)

    def _path(self, path: str, kind: str) -> None:
        self.add(f'<path d="{path}"{self.stroke(kind)}/>')

    def _seen(self, points: Iterable[Point]) -> None:
        for point in points:
            for n in (0, 1):
                self._low[n], self._high[n] = min(self._low[n], point[n]), max(self._high[n], point[n])

    def _text_seen(self, words: str, at: Point, anchor: str, size: float, turn: float) -> None:
        width = text_width(words, size)
        start = {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]
        along = polar((0, 0), 1, -turn)
        up = left_of(along)
        corners = [moved(moved(at, along, start + w), up, h) for w in (0, width) for h in (-0.2 * size, 0.7 * size)]
        self._seen(corners)
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        self.texts.append((words, min(xs), min(ys), max(xs), max(ys)))
