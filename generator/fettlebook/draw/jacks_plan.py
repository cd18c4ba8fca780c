"""A machine's feet, jacks and stations from above, as they stand in its file: where to turn and where to read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import SMALLEST_TEXT, Drawing, Point, box, regular_polygon, text_width
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.levelling import LONG_CROSS
from fettlebook.tables.levelling_layout import Foot, Layout, layout_from

LEFT, RIGHT, TOP = 24.0, 140.0, 25.0
"""Where the first and the last foot stand across the sheet, and the rear feet down it, in mm."""

LOWEST, HIGHEST = 40.0, 100.0
"""Least and largest distance on paper between front and rear feet; outside it the two scales differ, and that is said."""

EXAMPLE = "feet=6 length=1600 width=450 pitch=2"


class Plan:
    """A layout put on paper: x to the right from the headstock end, rear feet at the top."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        xs = [*(foot.x_mm for foot in layout.feet), *(station.x_mm for station in layout.stations)]
        ys = [f.y_mm for f in layout.feet]
        self.x0, self.y1 = min(xs), max(ys)
        self.scale = (RIGHT - LEFT) / max(max(xs) - self.x0, 1.0)
        wide = max(ys) - min(ys)
        self.across = min(HIGHEST, max(LOWEST, wide * self.scale)) / wide if wide else 1.0
        self.height = wide * self.across
        self.true = abs(self.across / self.scale - 1) < 1e-6

    def __call__(self, x_mm: float, y_mm: float) -> Point:
        return LEFT + (x_mm - self.x0) * self.scale, TOP + (self.y1 - y_mm) * self.across

    def in_front(self, foot: Foot) -> bool:
        """Whether a foot stands on the operator's half."""
        return self(foot.x_mm, foot.y_mm)[1] > TOP + self.height / 2


def jacks_plan(machine: Any) -> str:
    """Feet (jacks as a hexagon in a circle), stations along the middle, sides, ends and the signs of the readings."""
    layout = layout_from(machine)
    plan = Plan(layout)
    low = (
        TOP
        + plan.height
        + 11
        + 5 * max(_levels([(plan(f.x_mm, 0)[0], f.name) for f in layout.feet if plan.in_front(f)]), default=0)
    )
    d = Drawing(
        "jacks-plan", "Feet, jacks and stations from above", 170, low + (37 if plan.true else 42), {"machine": machine}
    )
    _bed(d, plan)
    _feet(d, plan)
    _stations(d, plan)
    _sides(d, plan, low)
    _sizes(d, plan, low)
    _signs(d, low + 24, plan.true)
    return d.svg()


def _bed(d: Drawing, plan: Plan) -> None:
    inset = 0.16 * plan.height
    d.polygon(box(LEFT - 8, TOP + inset, RIGHT - LEFT + 16, plan.height - 2 * inset))
    for y in (0.32, 0.68):
        d.line((LEFT - 8, TOP + y * plan.height), (RIGHT + 8, TOP + y * plan.height), "narrow")
    d.line((LEFT - 10, TOP + plan.height / 2), (RIGHT + 10, TOP + plan.height / 2), "chain")


def _feet(d: Drawing, plan: Plan) -> None:
    for side in (-1, 1):
        feet = [(f, plan(f.x_mm, f.y_mm)) for f in plan.layout.feet if plan.in_front(f) == (side > 0)]
        levels = _levels([(at[0], f.name) for f, at in feet])
        for (foot, at), level in zip(feet, levels, strict=True):
            if foot.jack:
                d.circle(at, 3.6)
                d.polygon(regular_polygon(at, 3.6, 6), "narrow")
            else:
                d.polygon(box(at[0] - 3.2, at[1] - 3.2, 6.4, 6.4))
            y = at[1] + side * (7.5 + 5 * level)
            d.text((at[0], y), foot.name, "middle", SMALLEST_TEXT, middle=True)


def _levels(labels: Sequence[tuple[float, str]]) -> list[int]:
    """On which of three lines each label stands, so that neighbours do not run into one another."""
    ends, levels = [-1e9, -1e9, -1e9], []
    for x, words in labels:
        half = text_width(words, SMALLEST_TEXT) / 2
        level = next((n for n, end in enumerate(ends) if x - half > end + 1.5), 2)
        ends[level] = x + half
        levels.append(level)
    return levels


def _stations(d: Drawing, plan: Plan) -> None:
    places = [plan(s.x_mm, 0)[0] for s in plan.layout.stations]
    apart = min((b - a for a, b in zip(places, places[1:], strict=False)), default=30.0)
    half, y = min(5.0, 0.3 * apart), TOP + plan.height / 2
    every = max(1, round(13 / apart)) if apart else 1
    for n, (station, x) in enumerate(zip(plan.layout.stations, places, strict=True)):
        d.rectangle(x - half, y - 1.6, 2 * half, 3.2, "wide", 0.6)
        d.rectangle(x - half / 2, y - 0.6, half, 1.2, "narrow", 0.5)
        if n % every == 0:
            d.text((x, y - 2.8), station.name, "middle", SMALLEST_TEXT, bold=True)
            d.text((x, y + 5.4), written(station.x_mm - plan.layout.feet[0].x_mm, 0), "middle", SMALLEST_TEXT)


def _sides(d: Drawing, plan: Plan, low: float) -> None:
    middle = TOP + plan.height / 2
    d.text((7, middle), "headstock end", "middle", along=(0, -1))
    d.text((167, middle), "tailstock end", "middle", along=(0, -1))
    d.text(((LEFT + RIGHT) / 2, 6), "rear", "middle", bold=True)
    d.text(((LEFT + RIGHT) / 2, low + 5), "front: the operator stands here", "middle", bold=True)


def _sizes(d: Drawing, plan: Plan, low: float) -> None:
    feet = plan.layout.feet
    first, last = plan(feet[0].x_mm, 0)[0], plan(feet[-1].x_mm, 0)[0]
    if last > first:
        d.dim_horizontal((first, low - 1), (last, low - 1), low + 15, written(feet[-1].x_mm - feet[0].x_mm, 0))
    ys = [f.y_mm for f in feet]
    if max(ys) > min(ys):
        d.dim_vertical((RIGHT + 9, TOP), (RIGHT + 9, TOP + plan.height), RIGHT + 19, written(max(ys) - min(ys), 0))


def _signs(d: Drawing, y: float, true: bool) -> None:
    long_plus, cross_plus = (part.split(" is ")[1] for part in LONG_CROSS.split(", "))
    d.arrow((LEFT - 8, y), (LEFT + 2, y))
    d.text((LEFT + 4, y), f"long +: {long_plus}", middle=True)
    d.arrow((96, y + 5), (96, y - 5))
    d.text((99, y), f"cross +: {cross_plus}", middle=True)
    d.text(
        (LEFT - 8, y + 9),
        "Figures in mm; at the stations from the first foot. Hexagon: jack. Square: fixed foot.",
        size=SMALLEST_TEXT,
    )
    if not true:
        d.text((LEFT - 8, y + 14), "Drawn wider or narrower across the bed than along it.", size=SMALLEST_TEXT)


def _alt(machine: Any) -> str:
    layout = layout_from(machine)
    rear = [f.name for f in layout.feet if f.y_mm > 0]
    front = [f.name for f in layout.feet if f.y_mm <= 0]
    stations = ", ".join(f"{s.name} at {written(s.x_mm - layout.feet[0].x_mm, 0)} mm" for s in layout.stations)
    return (
        f"Plan of the machine from above, headstock end left, operator below. Front feet: {', '.join(front)}. "
        f"Rear feet: {', '.join(rear) or 'none'}. Stations of the level along the bed: {stations}. Signs: {LONG_CROSS}."
    )


FIGURES = (
    Drawn(
        "jacks-plan",
        "Feet, jacks and stations from above",
        (Parameter("machine", "Machine", kind="mapping", default=EXAMPLE, example=EXAMPLE, help="feet and stations of a machine's file"),),
        jacks_plan,
        _alt,
        ("jack-moves", "bed-shape"),
    ),
)  # fmt: skip
