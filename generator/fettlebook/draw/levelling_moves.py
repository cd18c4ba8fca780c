"""What the readings of a level mean, what shapes of a bed they show, and the traditional order of levelling it."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import SMALLEST_TEXT, Drawing, Point, box
from fettlebook.tables.definition import Parameter

LEAN_DEG = 7.0
"""Tilt as it is drawn; a real one could not be seen."""

SHAPES = (
    ("pitch", "long readings alike: + + +"), ("roll", "cross readings alike: + + +"),
    ("twist", "cross readings change: − 0 +"), ("bend", "long readings change: + 0 −"),
)  # fmt: skip
"""The four parts of what is left, and how each shows in the readings."""

ORDER_Y = 124.0
LEFT, RIGHT = 28.0, 142.0


def levelling_moves(pairs: int) -> str:
    """Two views with the level and its signs, four shapes, and the feet from above with the order of the work."""
    d = Drawing(
        "levelling-moves",
        "Reading the level, and the traditional order",
        170,
        ORDER_Y + 54 + 5.2 * pairs,
        {"pairs": pairs},
    )
    _view(d, (10, 30), 66, "from the front", ("headstock end", "tailstock end"), "long +: tailstock end high")
    _view(d, (104, 30), 52, "from the tailstock end", ("front", "rear"), "cross +: rear high")
    for n, (name, words) in enumerate(SHAPES):
        _shape(d, name, words, (12 + 84 * (n % 2), 66 + 28 * (n // 2)))
    _order(d, pairs)
    return d.svg()


def _turned(points: Sequence[Point], about: Point) -> list[Point]:
    """Points turned so that their right side rises."""
    c, s = cos(radians(LEAN_DEG)), sin(radians(LEAN_DEG))
    return [
        (about[0] + (x - about[0]) * c + (y - about[1]) * s, about[1] - (x - about[0]) * s + (y - about[1]) * c)
        for x, y in points
    ]


def _view(d: Drawing, at: Point, width: float, seen: str, ends: tuple[str, str], words: str) -> None:
    """A bed that rises to the right, the level on it, its bubble run to the high side."""
    x, y = at
    middle = x + width / 2
    for corners in (box(x, y, width, 7), box(middle - 13, y - 5, 26, 5)):
        d.polygon(_turned(corners, at))
    d.polygon(_turned(box(middle - 7, y - 4, 14, 2.4), at), "narrow")
    bubble = _turned([(middle + 3.6, y - 2.8)], at)[0]
    d.dot(bubble, 1.1)
    d.text((middle, 6), seen, "middle", bold=True)
    d.line((x - 2, y + 17), (x + width + 2, y + 17), "narrow")
    for foot in (x + 4, x + width - 4):
        top = _turned([(foot, y + 7)], at)[0]
        d.line(top, (top[0], y + 17))
    d.arrow((x + width + 4, y + 15), (x + width + 4, y + 5))
    d.text((x, y + 22), ends[0], size=SMALLEST_TEXT)
    d.text((x + width, y + 22), ends[1], "end", size=SMALLEST_TEXT)
    d.text((middle, y + 28), words, "middle", bold=True)


def _shape(d: Drawing, name: str, words: str, at: Point) -> None:
    """A small bed from the front: the near edge wide, the far edge narrow, the level plane dashed."""
    x, y = at
    w, steps = 40.0, 12
    near, far = [], []
    for n in range(steps + 1):
        t = n / steps
        rise = {
            "pitch": (4 * t, 4 * t),
            "roll": (0.0, 3.0),
            "twist": (2.5 - 5 * t, -2.5 + 5 * t),
            "bend": (12 * t * (1 - t),) * 2,
        }[name]
        near.append((x + w * t, y + 12 - rise[0]))
        far.append((x + 8 + w * t, y + 5 - rise[1]))
    d.polyline([(x, y + 12), (x + w, y + 12), (x + w + 8, y + 5), (x + 8, y + 5), (x, y + 12)], "hidden")
    d.polyline(near)
    d.polyline(far)
    for n in (0, steps // 2, steps):
        d.line(near[n], far[n], "narrow")
    d.text((x, y + 19), f"{name}: {words}", size=SMALLEST_TEXT)


def order_of_work(pairs: int) -> list[str]:
    """The steps in words: pair after pair from one end, each pair's cross reading first, then the span left behind."""
    steps = ["Pair 1: cross to 0 with one jack, level at pair 1."]
    for n in range(2, pairs + 1):
        steps.append(
            f"Pair {n}: cross to 0 with one jack; then long to 0 with both alike, level between {n - 1} and {n}."
        )
    return [*steps, "Round again until every reading holds. Seat every foot first."]


def _order(d: Drawing, pairs: int) -> None:
    d.text((85, ORDER_Y + 2), "the traditional order, feet from above", "middle", bold=True)
    top, low = ORDER_Y + 12, ORDER_Y + 34
    d.polygon(box(LEFT - 8, top + 4, RIGHT - LEFT + 16, low - top - 8))
    xs = [LEFT + (RIGHT - LEFT) * n / (pairs - 1) for n in range(pairs)]
    for n, x in enumerate(xs):
        for y in (top, low):
            d.circle((x, y), 3)
        d.text((x + 4.5, top), str(n + 1), middle=True, bold=True)
        d.rectangle(x - 1.5, (top + low) / 2 - 5, 3, 10, "narrow", 0.5)
        if n:
            between = (x + xs[n - 1]) / 2
            d.rectangle(between - 5, (top + low) / 2 - 1.5, 10, 3, "narrow", 0.5)
            d.arrow((xs[n - 1] + 9, low + 6), (x - 5, low + 6))
    d.text((LEFT - 11, (top + low) / 2), "headstock end", "middle", SMALLEST_TEXT, along=(0, -1))
    for n, words in enumerate(order_of_work(pairs)):
        d.text((12, low + 14 + 5.2 * n), words, size=SMALLEST_TEXT)


def _alt(pairs: int) -> str:
    return (
        "Two views of a bed with a level on it: seen from the front, long plus means the tailstock end is high; seen from the tailstock "
        "end, cross plus means the rear is high. Four shapes: " + "; ".join(f"{name}, {words}" for name, words in SHAPES)
        + ". The traditional order: " + " ".join(order_of_work(pairs))
    )  # fmt: skip


FIGURES = (
    Drawn(
        "levelling-moves",
        "Reading the level, and the traditional order",
        (Parameter("pairs", "Pairs of feet", kind="whole", low=2, high=5, default=3, example="3"),),
        levelling_moves,
        _alt,
        ("jack-moves", "levelling-rounds"),
    ),
)  # fmt: skip
