"""Heat colours: how hot steel glows, by Planck's law, as the eye sees it in a dim and in a bright shop."""

from __future__ import annotations

from functools import cache
from math import exp, expm1
from typing import Any

from fettlebook import data
from fettlebook.tables.colorimetry import Triple, hexadecimal, linear_srgb, xyz_by_emission
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table

PLANCK, LIGHT, BOLTZMANN = 6.62607015e-34, 299792458.0, 1.380649e-23
"""Planck's constant [J s], speed of light [m/s], Boltzmann's constant [J/K]. Exact by definition of the SI."""

KELVIN = 273.15

ADAPTATION, EXPOSURE, GLARE, REFERENCE_C = 0.45, 0.30, 0.08, 800.0
"""How a swatch is made from a luminance that spans a factor of a million. Tuned by eye, not published: how far the eye adapts
(0 not at all, 1 wholly), the level of red at the reference temperature, the share of white glare, the temperature itself."""

LOWEST_C, HIGHEST_C = 400.0, 1500.0

NOTES = (
    "Printed tables differ by up to 200 °C for the same name (cherry: 700 to 902 °C), and none says in what light it was read. They fall into two groups about as far apart as light moves a colour; the lower group is shown for a dim shop, the upper one for a bright one. The last two columns hold every table.",
    "The light moves the names: the same first red shows at 474 °C in twilight, at 524 °C in daylight and at 581 °C in the sun. Judge in the same dim corner every time, never in sunshine or beside a bright lamp.",
    "Computed: the range of the other group, moved by Planck's law to the temperature of the same luminance against this light.",
    "A screen cannot glow: a swatch shows hue and order only. Scale looks darker than the steel under it, the inside of a fire brighter; a small part outruns its middle at the edges.",
    "Have a second cue: a magnet lets go of iron at about 770 °C (of a carbon steel at 720 to 770), common salt melts at about 800 °C, a thermal crayon marks a temperature, a thermocouple in the fire measures it.",
    "Steel burns and is spoilt where it sparks. Looking into a bright fire hurts the eyes: wear shaded glasses for welding heats, and judge the colour without them in shade.",
)  # fmt: skip


def radiance(temperature_k: float, wavelength_nm: float) -> float:
    """Spectral radiance of a black body.

        L = 2 h c^2 / l^5 / (exp(h c / (l k T)) - 1)

    temperature_k   [K], above 0
    wavelength_nm   [nm], above 0
    gives           [W sr-1 m-3]

    Source: planck
    """
    metres = wavelength_nm * 1e-9
    return 2 * PLANCK * LIGHT**2 / metres**5 / expm1(PLANCK * LIGHT / (metres * BOLTZMANN * temperature_k))


@cache
def glow_xyz(temperature_c: float) -> Triple:
    """Tristimulus values of a black body; the middle one is its luminance [cd/m2].

    >>> round(glow_xyz(800.0)[1], 1)
    13.4
    """
    if not LOWEST_C <= temperature_c <= HIGHEST_C:
        raise BadValue(
            "temperature", f"{temperature_c:g} °C is outside the {LOWEST_C:g} to {HIGHEST_C:g} °C worked out here"
        )
    return xyz_by_emission(lambda nm: radiance(temperature_c + KELVIN, nm))


def glow_srgb(temperature_c: float, brighter: float = 1.0) -> str:
    """A swatch for a glow, as #rrggbb: partial adaptation of the eye, a little glare, each channel saturating on its own.

        x = E / R(800) (Y(800)/Y)^0.45 (c + 0.08 Y) / brighter^0.55,   channel = 1 - exp(-x),   then the sRGB curve

    temperature_c   [degC], 400 to 1500
    brighter        how much brighter the surroundings are than in a dim shop, 1 or more
    """
    xyz = glow_xyz(temperature_c)
    reference = glow_xyz(REFERENCE_C)
    level = EXPOSURE / linear_srgb(reference)[0] * (reference[1] / xyz[1]) ** ADAPTATION / brighter ** (1 - ADAPTATION)
    r, g, b = (1 - exp(-level * (max(0.0, channel) + GLARE * xyz[1])) for channel in linear_srgb(xyz))
    return hexadecimal((r, g, b))


@cache
def daylight_over_twilight() -> float:
    """How many times more luminance a first glow needs in a bright shop than in a dim one.

        Y(first red in daylight) / Y(first red at twilight)

    Source: first-red-by-light (474 and 524 degC), with Planck's law between them
    """
    first = data.read("colour-names")["first_red_c"]
    return glow_xyz(float(first["daylight"]))[1] / glow_xyz(float(first["twilight"]))[1]


def moved_by_light(temperature_c: float, factor: float) -> float:
    """The temperature whose luminance is FACTOR times that at TEMPERATURE_C, between 400 and 1500 degC; found by halving."""
    wanted = glow_xyz(temperature_c)[1] * factor
    low, high = LOWEST_C, HIGHEST_C
    for _ in range(40):
        half = (low + high) / 2
        low, high = (half, high) if glow_xyz(half)[1] < wanted else (low, half)
    return (low + high) / 2


def heat_colours(light: str = "dim") -> Table:
    """The heat colours in order, with their ranges of temperature as seen in a dim or in a bright shop."""
    return Table(_rows(light), notes=NOTES)


@cache
def _rows(light: str) -> tuple[dict[str, Any], ...]:
    return tuple(_row(row, light) for row in data.rows("colour-names", "heat"))


def _row(row: dict[str, Any], light: str) -> dict[str, Any]:
    here, other = ("lower", "upper") if light == "dim" else ("upper", "lower")
    factor = daylight_over_twilight() if light == "bright" else 1 / daylight_over_twilight()
    low, high = _span(row[here])
    both = [*_span(row["lower"]), *_span(row["upper"])]
    middle = (low + high) / 2
    last = row["colour"] == "white"
    moved = [moved_by_light(value, factor) for value in _span(row[other])]
    return {
        "colour": row["colour"],
        "srgb": glow_srgb(middle, daylight_over_twilight() if light == "bright" else 1.0),
        "low_c": low,
        "high_c": None if last else high,
        "computed_low_c": moved[0],
        "computed_high_c": None if last else moved[1],
        "middle_c": middle,
        "luminance_cd_m2": glow_xyz(middle)[1],
        "all_low_c": min(both),
        "all_high_c": None if last else max(both),
        "also": ", ".join(row["also"]),
    }


def _span(tables: dict[str, Any]) -> tuple[float, float]:
    values = [float(v) for value in tables.values() for v in (value if isinstance(value, list) else [value])]
    return min(values), max(values)


TABLES = (
    Definition(
        name="heat-colours",
        title="Heat colours",
        about="What temperature a glow means. A bright shop needs 50 to 140 °C more than a dim one for the same look, and the printed tables differ by as much, so go by the range and by a second cue: a magnet, a thermal crayon, salt.",
        parameters=(
            Parameter("light", "Light in the shop", kind="choice", choices=("dim", "bright"), default="dim", example="dim", help="dim: a shaded corner, no lamp on the part; bright: daylight through windows"),
        ),
        columns=(
            Column("colour", "Colour", kind="text"),
            Column("srgb", "As a screen shows it", kind="colour", help="computed from Planck's law and made visible; a hint, not a match"),
            Column("low_c", "From", "degC", decimals=0),
            Column("high_c", "To", "degC", decimals=0),
            Column("computed_low_c", "Computed from the other light, from", "degC", decimals=0),
            Column("computed_high_c", "Computed from the other light, to", "degC", decimals=0),
            Column("middle_c", "Swatch at", "degC", decimals=0),
            Column("luminance_cd_m2", "Luminance of a black body", "cd/m²", significant=2),
            Column("all_low_c", "Every table, lowest", "degC", decimals=0),
            Column("all_high_c", "Every table, highest", "degC", decimals=0),
            Column("also", "Also called", kind="text"),
        ),
        compute=heat_colours,
        sources=(
            Cite("chapman-red-heat", "table", "secondary"), Cite("stirling-1905", "page 50", "secondary"), Cite("dooley", "section 458"), Cite("german-glow-chart", "table"),
            Cite("howe-colours", how="memory"), Cite("white-taylor-colours", how="memory"), Cite("first-red-by-light", "post of 2007", "secondary"),
            Cite("planck", how="computed"), Cite("cie-observer", "2 degree observer", "secondary"), Cite("iec-61966-2-1", how="secondary"), Cite("second-cues", how="memory"),
        ),
        holds="iron and steel with a dark skin of scale, 400 to 1500 °C; names by the range and not to better than 50 °C",
        also=("glow", "red heat", "cherry red", "incandescence", "forging colours", "hardening heat", "Glühfarben"),
        group="heat",
        examples=({"light": "dim"}, {"light": "bright"}),
    ),
)  # fmt: skip
