"""A map of an order of work: a box for each part, under those that it waits for; boxes beside each other wait for nobody there.

Rows are levels: a box stands one row under the lowest of those that it waits for. A line that passes a row takes a place in
it like a box does. Columns are chosen so that lines stay short. Nothing is placed by hand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise, product
from xml.sax.saxutils import quoteattr

from fettlebook.draw.sheet import Drawing, text_width

COLUMN, EDGE, GAP, SIZE, LINE, LEAST_HEIGHT = 35.0, 2.5, 9.0, 4.6, 5.6, 15.5
"""Width of a column, edge of the sheet, space between rows, letters and their lines, and a box that a thumb hits [mm]."""
LEGEND_SIZE = 4.0
MOST_TURNS = 7
"""Rows of which both orders of equals are tried."""


@dataclass(frozen=True)
class Box:
    """A part of the work: its number, its words, the numbers that it waits for, whether it is signed, where it leads."""

    number: int
    words: str
    after: tuple[int, ...] = ()
    signed: bool = False
    href: str = ""


@dataclass(frozen=True)
class Spot:
    """A place in a row: a box, or a line on its way past (the box that it goes to)."""

    box: int
    towards: int = 0


def order_map(title: str, boxes: Sequence[Box], numbered: bool = True) -> str:
    """The map as SVG. Boxes come in an order in which none waits for a later one.

    numbered  with numbers in the boxes and a legend below, and at least 90 mm wide
    """
    rows, lines = _rows(boxes)
    places = _columns(rows, lines)
    known = {box.number: box for box in boxes}
    columns = max(max(places.values()) + 1, 3 if numbered else 1)
    width = 2 * EDGE + columns * COLUMN
    legend = _legend(boxes, width - 2 * EDGE) if numbered else []
    texts = {box.number: _wrapped(f"{box.number} {box.words}" if numbered else box.words, COLUMN - 9) for box in boxes}
    heights = [max([LEAST_HEIGHT, *(len(texts[s.box]) * LINE + 5 for s in row if not s.towards)]) for row in rows]
    tops = [EDGE + sum(heights[:n]) + GAP * n for n in range(len(rows))]
    height = tops[-1] + heights[-1] + 4 + len(legend) * 5.2 + EDGE
    d = Drawing("order-map", title, width, height, {"boxes": str(boxes)})
    middles = {spot: EDGE + (x + 0.5) * COLUMN for spot, x in places.items()}
    for n, row in enumerate(rows):
        for spot in row:
            if spot.towards:
                d.line((middles[spot], tops[n]), (middles[spot], tops[n] + heights[n]), "narrow")
            else:
                _box(d, known[spot.box], texts[spot.box], middles[spot], tops[n], heights[n])
        if n:
            _joined(d, [line for line in lines if line[1] in row], middles, tops[n - 1] + heights[n - 1], tops[n])
    d.lines_of_text((EDGE, tops[-1] + heights[-1] + 9), legend, size=LEGEND_SIZE)
    return d.svg()


def _rows(boxes: Sequence[Box]) -> tuple[list[list[Spot]], list[tuple[Spot, Spot]]]:
    """Spots by row, and the lines from row to row."""
    level: dict[int, int] = {}
    for box in boxes:
        level[box.number] = max((level[m] + 1 for m in box.after), default=0)
    rows: list[list[Spot]] = [[] for _ in range(max(level.values()) + 1)]
    lines = []
    for box in boxes:
        rows[level[box.number]].append(Spot(box.number))
    for box in boxes:
        for m in box.after:
            passed = {n: Spot(m * 1000 + n, box.number) for n in range(level[m] + 1, level[box.number])}
            for n, spot in passed.items():
                rows[n].append(spot)
            way = [Spot(m), *passed.values(), Spot(box.number)]
            lines += list(zip(way, way[1:], strict=False))
    return rows, lines


def _columns(rows: list[list[Spot]], lines: list[tuple[Spot, Spot]]) -> dict[Spot, float]:
    """A column for each spot, in halves from 0: of the ways to break ties, the one with the fewest crossings and the shortest lines."""
    ways = product((1, -1), repeat=min(len(rows), MOST_TURNS))
    return min((_laid(rows, lines, (*way, *[1] * len(rows))) for way in ways), key=lambda found: _cost(found, lines))


def _laid(rows: list[list[Spot]], lines: list[tuple[Spot, Spot]], turns: tuple[int, ...]) -> dict[Spot, float]:
    """Rows set one after the other, each close to what it hangs from; equal wishes in the order of the numbers, or against it."""
    widest = max(len(row) for row in rows)
    before: dict[Spot, list[Spot]] = {}
    for a, b in lines:
        before.setdefault(b, []).append(a)
    found: dict[Spot, float] = {}
    for row, turn in zip(rows, turns, strict=False):
        alone = len(row) == 1
        wished = {s: _mean([] if alone else [found[a] for a in before.get(s, [])], (widest - 1) / 2) for s in row}
        there = sorted(row, key=lambda s: (wished[s], turn * s.box))
        found |= dict(zip(there, _spread(tuple(wished[s] for s in there), widest), strict=True))
    return found


@cache
def _spread(wishes: tuple[float, ...], widest: int) -> tuple[float, ...]:
    """Columns at least one apart, as close to what is wished as can be."""
    choices = combinations([n / 2 for n in range(2 * widest - 1)], len(wishes))
    apart = (one for one in choices if all(b - a >= 1 for a, b in pairwise(one)))
    return min(apart, key=lambda one: (sum((x - w) ** 2 for x, w in zip(one, wishes, strict=True)), one))


def _cost(x: Mapping[Spot, float], lines: list[tuple[Spot, Spot]]) -> tuple[int, float]:
    """Crossings, and how far lines run sideways. Lines of different gaps never cross: their ends lie in other rows."""
    row = {spot: n for n, spot in enumerate(x)}
    crossings = sum(
        1 for (a, b), (c, d) in combinations(lines, 2)
        if (x[a] - x[c]) * (x[b] - x[d]) < 0 and max(row[a], row[c]) < min(row[b], row[d])
    )  # fmt: skip
    return crossings, sum((x[a] - x[b]) ** 2 for a, b in lines)


def _mean(values: list[float], otherwise: float) -> float:
    return sum(values) / len(values) if values else otherwise


def _box(d: Drawing, box: Box, lines: list[str], x: float, y: float, height: float) -> None:
    width = COLUMN - 3
    if box.href:
        d.add(f'<a href={quoteattr(box.href)} tabindex="-1">')
        d.add(
            f'<rect x="{x - width / 2:g}" y="{y:g}" width="{width:g}" height="{height:g}" stroke="none" pointer-events="all"/>'
        )
    d.rectangle(x - width / 2, y, width, height, radius=1)
    if box.signed:
        d.rectangle(x - width / 2 + 1.1, y + 1.1, width - 2.2, height - 2.2, "narrow", radius=0.6)
    first = y + height / 2 - LINE * (len(lines) - 1) / 2
    for n, words in enumerate(lines):
        d.text((x, first + n * LINE), words, "middle", SIZE, bold=True, middle=True)
    if box.href:
        d.add("</a>")


def _joined(d: Drawing, lines: list[tuple[Spot, Spot]], x: Mapping[Spot, float], top: float, bottom: float) -> None:
    """The lines of one gap: those that share an end share a level, others that would lie over each other take their own."""
    groups: list[set[tuple[Spot, Spot]]] = []
    for line in lines:
        touching = [g for g in groups if any(set(line) & set(other) for other in g)]
        groups = [g for g in groups if g not in touching] + [set().union({line}, *touching)]
    for n, group in enumerate(groups):
        level = top + GAP * (0.42 if len(groups) == 1 or _straight(group, x) else 0.25 + 0.35 * n / (len(groups) - 1))
        for a, b in sorted(group, key=lambda line: (line[0].box, line[1].box)):
            d.polyline(((x[a], top), (x[a], level), (x[b], level), (x[b], bottom)), "narrow")
        for b in sorted({b for _, b in group if not b.towards}, key=lambda s: s.box):
            d.arrow_head((x[b], bottom), (0, 1))


def _straight(group: set[tuple[Spot, Spot]], x: Mapping[Spot, float]) -> bool:
    return all(x[a] == x[b] for a, b in group)


def _legend(boxes: Sequence[Box], width: float) -> list[str]:
    said = [
        "A box waits for every box from which an arrow comes. Boxes that no chain of arrows joins can be done side by side."
    ]
    if any(box.signed for box in boxes):
        said.append("Double frame: a second person signs in it.")
    return [line for words in said for line in _wrapped(words, width, LEGEND_SIZE)]


def _wrapped(words: str, width: float, size: float = SIZE) -> list[str]:
    """Words in lines that fit WIDTH."""
    out = [""]
    for word in words.split():
        longer = f"{out[-1]} {word}".strip()
        if out[-1] and text_width(longer, size) > width:
            out.append(word)
        else:
            out[-1] = longer
    return out
