"""The chart that temper and heat colours share: a strip of colour over temperature, and a row for each name under it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fettlebook.draw.plot import Scale, round_steps
from fettlebook.draw.sheet import Drawing
from fettlebook.tables.figures import written
from fettlebook.tables.quantities import convert

LEFT, RIGHT, ROW = 34.0, 142.0, 6.6
"""Left and right end of the strip, and the height of a row, in mm."""


@dataclass(frozen=True)
class Band:
    """A named colour: its swatch over one range, a line under it over another, and the range that stands in figures.

    A range is (low, high) in degrees Celsius; high None is open at the top.
    """

    name: str
    colour: str
    swatch: tuple[float, float | None]
    line: tuple[float, float | None]
    figures: tuple[float, float | None]


def place(scale: Scale, celsius: float) -> float:
    """Where a temperature lies across the sheet, kept within the strip."""
    return LEFT + (RIGHT - LEFT) * min(1.0, max(0.0, scale.place(celsius)))


def colour_strip(d: Drawing, y: float, height: float, scale: Scale, colours: Sequence[tuple[float, str]]) -> None:
    """A strip of (temperature, colour) on a scale of temperature."""
    d.strip(LEFT, y, RIGHT - LEFT, height, [(scale.place(celsius), colour) for celsius, colour in colours])


def degrees_over(d: Drawing, y: float, scale: Scale) -> None:
    """Ticks in degrees Fahrenheit over a strip."""
    low, high = (convert(t, "degC", "degF") for t in (scale.low, scale.high))
    for f in round_steps(low, high, 7):
        x = place(scale, convert(f, "degF", "degC"))
        d.line((x, y - 1.5), (x, y), "narrow")
        d.text((x, y - 2.5), written(f, 0), "middle")
    d.text((RIGHT + 9, y - 2.5), "°F")


def degrees_under(d: Drawing, y: float, scale: Scale, down: float) -> None:
    """Ticks in degrees Celsius under a strip, with light lines down through the rows."""
    for c in round_steps(scale.low, scale.high, 7):
        x = place(scale, c)
        d.line((x, y), (x, y + 1.5), "narrow")
        if down > y + 7:
            d.line((x, y + 7), (x, down), "grid")
        d.text((x, y + 6), written(c, 0), "middle")
    d.text((RIGHT + 9, y + 6), "°C")


def band_rows(d: Drawing, y: float, scale: Scale, bands: Sequence[Band]) -> None:
    """A row for each name: its swatch, the line under it, and figures beside it."""
    for n, band in enumerate(bands):
        middle = y + ROW * (n + 0.5)
        d.text((LEFT - 2, middle), band.name, "end", middle=True)
        a, b = _ends(scale, band.swatch)
        d.swatch(a, middle - 2.7, max(0.8, b - a), 3.2, band.colour)
        _range(d, middle + 1.9, *_ends(scale, band.line), band.line[1] is None)
        low, high = band.figures
        words = f"from {written(low, 0)}" if high is None else f"{written(low, 0)}–{written(high, 0)}"
        d.text((RIGHT + 2, middle), words, middle=True)


def _ends(scale: Scale, span: tuple[float, float | None]) -> tuple[float, float]:
    return place(scale, span[0]), place(scale, scale.high if span[1] is None else span[1])


def _range(d: Drawing, y: float, a: float, b: float, open_end: bool = False) -> None:
    d.line((a, y), (b, y), "wide")
    for x in (a,) if open_end else (a, b):
        d.line((x, y - 1), (x, y + 1), "wide")


def key(d: Drawing, y: float, swatch: str, line: str) -> None:
    """What the swatch and the line of a row mean."""
    d.swatch(LEFT, y - 3, 8, 3.2, "none")
    d.text((LEFT + 10, y), swatch)
    _range(d, y + 4.8, LEFT, LEFT + 8)
    d.text((LEFT + 10, y + 6.2), line)
