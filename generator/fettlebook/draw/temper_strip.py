"""Temper colours as a strip over temperature: for one time with its names, and for several times under each other."""

from __future__ import annotations

from math import ceil, floor

from fettlebook.draw.colour_chart import (
    LEFT,
    RIGHT,
    ROW,
    Band,
    band_rows,
    colour_strip,
    degrees_over,
    degrees_under,
    key,
    place,
)
from fettlebook.draw.definition import Drawn
from fettlebook.draw.plot import Scale
from fettlebook.draw.sheet import Drawing
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.film import FAST, SLOW, film_srgb, temperature_for
from fettlebook.tables.temper_colours import (
    HIGHEST_C,
    LONGEST_MIN,
    LOWEST_C,
    SHORTEST_MIN,
    named_colours,
    temper_colours,
)

FILMS_NM = [2.5 * n for n in range(2, 39)]
"""Films of the strip. Beyond 95 nm shop tables say grey; the second order of colours is not part of the ladder."""

TIMES_MIN = (1.0, 5.0, 15.0, 60.0, 240.0)


BEYOND = f"Below {LOWEST_C} and above {HIGHEST_C} °C take the figures as a hint only."
"""Said under a strip that reaches outside what the law of growth was fitted for."""


def in_words(minutes: float) -> str:
    """A time as it is said at the bench: 5 min, 1 h.

    >>> in_words(240), in_words(90)
    ('4 h', '90 min')
    """
    return f"{minutes / 60:g} h" if minutes >= 60 and minutes % 60 == 0 else f"{minutes:g} min"


def strip(minutes: float, power: float = FAST) -> list[tuple[float, str]]:
    """Temperature and colour along the strip for a time, the film growing with that power of it."""
    return [(temperature_for(film, minutes, power), film_srgb(film)) for film in FILMS_NM]


def temper_strip(time_min: float) -> str:
    """The strip for one time, and a row for each name: computed band as a swatch, published range as a line."""
    rows = temper_colours(time_min).rows
    d = Drawing(
        "temper-strip", f"Temper colours after {in_words(time_min)}", 170, 60 + ROW * len(rows), {"time": time_min}
    )
    scale = _scale(time_min)
    d.text((LEFT, 6), f"Bright plain steel, {in_words(time_min)} at heat, still air", bold=True)
    colour_strip(d, 16, 7.5, scale, strip(time_min))
    colour_strip(d, 23.5, 5.5, scale, strip(time_min, SLOW))
    for y, words in ((19.75, "grows fast"), (26.25, "grows slowly")):
        d.text((LEFT - 2, y), words, "end", middle=True, size=3.5)
    degrees_over(d, 16, scale)
    degrees_under(d, 29, scale, 37 + ROW * len(rows))
    bands = [
        Band(
            r["colour"],
            r["srgb"],
            (r["computed_low_c"], r["computed_high_c"]),
            (r["published_low_c"], r["published_high_c"]),
            (r["low_c"], r["high_c"]),
        )
        for r in rows
    ]
    band_rows(d, 37, scale, bands)
    key(
        d,
        43 + ROW * len(rows),
        "computed for this time, film growing fast",
        "printed tables, moved to this time; right: all of it, and slow growth",
    )
    if not all(row["fitted"] for row in rows):
        d.text((LEFT, 57 + ROW * len(rows)), BEYOND)
    return d.svg()


def _scale(minutes: float) -> Scale:
    rows = temper_colours(minutes).rows
    low = min(row["low_c"] for row in rows)
    high = max(row["high_c"] for row in rows)
    return Scale(10 * floor(low / 10 - 1), 10 * ceil(high / 10 + 1))


def temper_times() -> str:
    """The strip for several times under each other, on one scale of temperature."""
    d = Drawing("temper-times", "Temper colours and time", 170, 43 + 15 * len(TIMES_MIN))
    scale = Scale(140, 420)
    degrees_over(d, 14, scale)
    for n, minutes in enumerate(TIMES_MIN):
        y = 14 + 15 * n
        _patches(d, y, 7, scale, minutes, FAST)
        _patches(d, y + 7, 5, scale, minutes, SLOW)
        d.text((LEFT - 3, y + 6), in_words(minutes), "end", middle=True)
        d.text((RIGHT + 2, y + 6), _blue_words(minutes), middle=True)
    bottom = 14 + 15 * len(TIMES_MIN) - 3
    degrees_under(d, bottom, scale, bottom)
    d.text((LEFT, bottom + 14), "The same colour comes at a lower temperature in a longer time.")
    d.text((LEFT, bottom + 20), "Upper: the film grows fast; lower: slowly. Right: dark blue, °C.")
    d.text((LEFT, bottom + 26), BEYOND)
    return d.svg()


def _patches(d: Drawing, y: float, height: float, scale: Scale, minutes: float, power: float) -> None:
    """One strip that is bright steel before the first colour and grey after the last, with a line where it is blue."""
    colours = strip(minutes, power)
    bare = [(scale.low, film_srgb(0.0)), (colours[0][0] - 12, film_srgb(0.0))]
    colour_strip(d, y, height, scale, [*bare, *colours, (scale.high, colours[-1][1])])
    x = place(scale, _blue_c(minutes, power))
    d.line((x, y - 1), (x, y + height + 1), "narrow")


def _blue_c(minutes: float, power: float) -> float:
    blue = next(row for row in named_colours() if row["colour"] == "dark blue")
    return temperature_for(blue["film_nm"], minutes, power)


def _blue_words(minutes: float) -> str:
    low, high = sorted(_blue_c(minutes, power) for power in (FAST, SLOW))
    return written(low, 0) if high - low < 1 else f"{written(low, 0)}–{written(high, 0)}"


def _alt_times() -> str:
    said = ", ".join(f"{_blue_words(t)} °C in {in_words(t)}" for t in TIMES_MIN)
    return f"Five strips of temper colours under each other on one scale of temperature, each for a longer time. Every colour moves to a lower temperature; dark blue comes at {said}. Where two figures stand, the first is for a film that grows fast with time, the second for one that grows slowly."


def _alt(time_min: float) -> str:
    said = "; ".join(
        f"{row['colour']} {written(row['low_c'], 0)} to {written(row['high_c'], 0)} °C"
        for row in temper_colours(time_min).rows
    )
    return f"Strip of temper colours for {in_words(time_min)} at heat. By the printed tables, moved to this time, and by fast and slow growth: {said}."


TIME = Parameter(
    "time", "Time at temperature", unit="min", low=SHORTEST_MIN, high=LONGEST_MIN, default=5.0, example="5 min"
)

FIGURES = (
    Drawn("temper-strip", "Temper colours over temperature", (TIME,), temper_strip, _alt, ("temper-colours",)),
    Drawn("temper-times", "Temper colours and time", (), temper_times, _alt_times, ("temper-colours",)),
)  # fmt: skip
