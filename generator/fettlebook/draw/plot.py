"""Axes for curves: linear, logarithmic or by any transform, with ticks, labels, bands and marked points."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from fettlebook.draw.geometry import Point, box, clipped
from fettlebook.draw.pen import TEXT_SIZE, Pen, text_width

Tick = tuple[float, str]


@dataclass(frozen=True)
class Scale:
    """One axis: its range, what it says, and how values lie along it.

    transform   linear by default; log10, or any function that only grows or only falls over the range
    ticks       values to mark, or (value, words); chosen by round steps when empty
    decimals    of the figures at the ticks
    """

    low: float
    high: float
    label: str = ""
    transform: Callable[[float], float] = float
    ticks: Sequence[float | Tick] = ()
    decimals: int | None = None

    def place(self, value: float) -> float:
        """Where a value lies, 0 at the low end and 1 at the high end."""
        t = self.transform
        return (t(value) - t(self.low)) / (t(self.high) - t(self.low))

    def marks(self) -> list[Tick]:
        """Values and words of the ticks."""
        chosen = self.ticks or (_decade_steps(self.low, self.high) if self.transform is log10 else round_steps(self.low, self.high))  # fmt: skip
        return [tick if isinstance(tick, tuple) else (tick, self._written(tick)) for tick in chosen]

    def _written(self, value: float) -> str:
        return f"{value:g}" if self.decimals is None else f"{value:.{self.decimals}f}"


def round_steps(low: float, high: float, about: int = 6) -> list[float]:
    """Multiples of 1, 2, 2.5 or 5 times a power of ten between LOW and HIGH, about so many."""
    raw = abs(high - low) / about
    power = 10.0 ** floor(log10(raw))
    step = next(m * power for m in (1, 2, 2.5, 5, 10) if m * power >= raw * 0.999)
    first, last = min(low, high), max(low, high)
    return [round(n * step, 10) for n in range(ceil(first / step - 1e-9), floor(last / step + 1e-9) + 1)]


def _decade_steps(low: float, high: float) -> list[float]:
    decades = range(floor(log10(low)), ceil(log10(high)) + 1)
    per_decade = (1, 2, 5) if log10(high / low) <= 3 else (1,)
    return [m * 10.0**n for n in decades for m in per_decade if low * 0.999 <= m * 10.0**n <= high * 1.001]


class Axes:
    """A frame on a sheet, with its scales drawn and ready for curves."""

    def __init__(self, pen: Pen, x: float, y: float, width: float, height: float, across: Scale, up: Scale, grid: bool = True):  # fmt: skip
        self.pen, self.x, self.y, self.width, self.height = pen, x, y, width, height
        self.across, self.up = across, up
        self._draw(grid)

    def at(self, x: float, y: float) -> Point:
        """The point of paper for a pair of values."""
        return self.x + self.width * self.across.place(x), self.y + self.height * (1 - self.up.place(y))

    def curve(self, points: Iterable[Point], kind: str = "wide", label: str = "", side: str = "end") -> None:
        """A curve through pairs of values, cut off at the frame; its label stands at its start or its end."""
        places = [self.at(x, y) for x, y in points]
        runs: list[list[Point]] = []
        for a, b in zip(places, places[1:], strict=False):
            kept = clipped(a, b, self.x, self.y, self.width, self.height)
            if kept is None:
                continue
            if runs and runs[-1][-1] == kept[0]:
                runs[-1].append(kept[1])
            else:
                runs.append(list(kept))
        for run in runs:
            self.pen.polyline(run, kind)
        if label and runs:
            x, y = runs[-1][-1] if side == "end" else runs[0][0]
            self.pen.text((x + 1.5, y) if side == "end" else (x - 1.5, y), label, "start" if side == "end" else "end", middle=True)  # fmt: skip

    def band_across(self, low: float, high: float, label: str = "") -> None:
        """A shaded range of the horizontal axis."""
        a, b = self.at(low, self.up.low)[0], self.at(high, self.up.low)[0]
        self.pen.tint(box(min(a, b), self.y, abs(b - a), self.height))
        if label:
            self.pen.text(((a + b) / 2, self.y + 1.2 * TEXT_SIZE), label, "middle")

    def band_up(self, low: float, high: float, label: str = "") -> None:
        """A shaded range of the vertical axis."""
        a, b = self.at(self.across.low, low)[1], self.at(self.across.low, high)[1]
        self.pen.tint(box(self.x, min(a, b), self.width, abs(b - a)))
        if label:
            self.pen.text((self.x + 2, (a + b) / 2), label, middle=True)

    def band_between(self, below: Sequence[Point], above: Sequence[Point]) -> None:
        """The area between two curves, shaded; both must lie inside the frame."""
        self.pen.tint([self.at(x, y) for x, y in [*below, *reversed(above)]])

    def mark(self, x: float, y: float, label: str = "", anchor: str = "start") -> None:
        """A point with its label."""
        place = self.at(x, y)
        self.pen.dot(place, 1)
        if label:
            shift = {"start": 2.0, "end": -2.0, "middle": 0.0}[anchor]
            self.pen.text((place[0] + shift, place[1] - 1.5), label, anchor)

    def line_up(self, x: float, kind: str = "hidden", label: str = "") -> None:
        """A line from bottom to top at a value of the horizontal axis."""
        top, bottom = self.at(x, self.up.high), self.at(x, self.up.low)
        self.pen.line(bottom, top, kind)
        if label:
            self.pen.text((top[0], top[1] - 1.5), label, "middle")

    def line_across(self, y: float, kind: str = "hidden", label: str = "") -> None:
        """A line from left to right at a value of the vertical axis."""
        left, right = self.at(self.across.low, y), self.at(self.across.high, y)
        self.pen.line(left, right, kind)
        if label:
            self.pen.text((right[0] - 1, right[1] - 1.2), label, "end")

    def _draw(self, grid: bool) -> None:
        pen, bottom = self.pen, self.y + self.height
        pen.rectangle(self.x, self.y, self.width, self.height, "narrow")
        for value, words in self.across.marks():
            x = self.at(value, self.up.low)[0]
            if grid and self.x + 0.1 < x < self.x + self.width - 0.1:
                pen.line((x, self.y), (x, bottom), "grid")
            pen.line((x, bottom), (x, bottom + 1.5), "narrow")
            pen.text((x, bottom + 2 + TEXT_SIZE), words, "middle")
        widest = 0.0
        for value, words in self.up.marks():
            y = self.at(self.across.low, value)[1]
            if grid and self.y + 0.1 < y < bottom - 0.1:
                pen.line((self.x, y), (self.x + self.width, y), "grid")
            pen.line((self.x - 1.5, y), (self.x, y), "narrow")
            pen.text((self.x - 2.5, y), words, "end", middle=True)
            widest = max(widest, text_width(words))
        if self.across.label:
            pen.text((self.x + self.width / 2, bottom + 3.4 + 2.1 * TEXT_SIZE), self.across.label, "middle")
        if self.up.label:
            pen.text((self.x - 4.5 - widest, self.y + self.height / 2), self.up.label, "middle", along=(0, -1))
