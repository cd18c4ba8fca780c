"""Heat colours as a strip over temperature, for a dim or a bright shop, with the printed ranges and the second cues."""

from __future__ import annotations

from fettlebook.draw.colour_chart import ROW, Band, band_rows, colour_strip, degrees_over, degrees_under, key, place
from fettlebook.draw.definition import Drawn
from fettlebook.draw.plot import Scale
from fettlebook.draw.sheet import Drawing
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.heat_colours import daylight_over_twilight, glow_srgb, heat_colours

CUES = ((770, "magnet lets go 770"), (801, "common salt melts 801"))
"""Temperatures that show without a thermometer. Source: second-cues."""


def heat_strip(light: str) -> str:
    """The strip for one light, and a row for each name: printed range as its swatch, computed range as a line under it."""
    rows = heat_colours(light).rows
    scale = Scale(400, 1400)
    d = Drawing("heat-strip", f"Heat colours in a {light} shop", 170, 64 + ROW * len(rows), {"light": light})
    d.text((34, 6), f"Hot steel in a {light} shop", bold=True)
    brighter = daylight_over_twilight() if light == "bright" else 1.0
    colour_strip(d, 16, 13, scale, [(t, glow_srgb(float(t), brighter)) for t in range(400, 1401, 25)])
    degrees_over(d, 16, scale)
    down = 37 + ROW * len(rows)
    degrees_under(d, 29, scale, down)
    bands = []
    for r in rows:
        printed, computed = (r["low_c"], r["high_c"]), (r["computed_low_c"], r["computed_high_c"])
        bands.append(Band(r["colour"], r["srgb"], printed, computed, printed))
    band_rows(d, 37, scale, bands)
    for n, (celsius, words) in enumerate(CUES):
        x = place(scale, celsius)
        d.line((x, 37), (x, down + 4 + 5.5 * n), "hidden")
        d.line((x, down + 4 + 5.5 * n), (x + 3, down + 4 + 5.5 * n), "hidden")
        d.text((x + 4, down + 4 + 5.5 * n), words, middle=True)
    key(d, down + 17, "printed tables, for this light", "computed from the tables of the other light")
    return d.svg()


def _alt(light: str) -> str:
    said = "; ".join(
        f"{row['colour']} from {written(row['low_c'], 0)}"
        + (f" to {written(row['high_c'], 0)}" if row["high_c"] else "")
        + " °C"
        for row in heat_colours(light).rows
    )
    return f"Strip of heat colours as seen in a {light} shop. By the printed tables: {said}. A magnet lets go at about 770 °C, common salt melts at 801 °C."


FIGURES = (
    Drawn(
        "heat-strip",
        "Heat colours over temperature",
        (
            Parameter(
                "light", "Light in the shop", kind="choice", choices=("dim", "bright"), default="dim", example="dim"
            ),
        ),
        heat_strip,
        _alt,
        ("heat-colours",),
    ),
)
