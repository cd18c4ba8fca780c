"""Reading a figure with its unit, the way people write it at the bench, and turning one unit into another.

Understood: `12.7`, `12,7 mm`, `0.5 in`, `1/2"`, `1 1/2 in`, `½ in`, `3 thou`, `70 °F`, `1 h 30 min` is not (write 90 min).
What could mean two things is refused in words, never guessed.
"""

from __future__ import annotations

import re
import sys
import unicodedata
from dataclasses import dataclass
from math import isfinite, pi, radians, tan


@dataclass(frozen=True)
class Unit:
    """A unit: what it measures, its size in the unit that the program uses inside, and an offset (temperatures)."""

    dimension: str
    factor: float
    offset: float = 0.0
    written: str = ""


UNITS: dict[str, Unit] = {
    "mm": Unit("length", 1.0, written="mm"),
    "cm": Unit("length", 10.0, written="cm"),
    "m": Unit("length", 1000.0, written="m"),
    "um": Unit("length", 1e-3, written="µm"),
    "nm": Unit("length", 1e-6, written="nm"),
    "in": Unit("length", 25.4, written="in"),
    "thou": Unit("length", 0.0254, written="thou"),
    "ft": Unit("length", 304.8, written="ft"),
    "degC": Unit("temperature", 1.0, written="°C"),
    "degF": Unit("temperature", 5 / 9, -32 * 5 / 9, written="°F"),
    "K": Unit("temperature", 1.0, -273.15, written="K"),
    "deg": Unit("angle", 1.0, written="°"),
    "rad": Unit("angle", 180 / pi, written="rad"),
    "arcmin": Unit("angle", 1 / 60, written="′"),
    "arcsec": Unit("angle", 1 / 3600, written="″"),
    "s": Unit("time", 1.0, written="s"),
    "min": Unit("time", 60.0, written="min"),
    "h": Unit("time", 3600.0, written="h"),
    "kg": Unit("mass", 1.0, written="kg"),
    "g": Unit("mass", 1e-3, written="g"),
    "t": Unit("mass", 1000.0, written="t"),
    "lb": Unit("mass", 0.45359237, written="lb"),
    "N": Unit("force", 1.0, written="N"),
    "kN": Unit("force", 1000.0, written="kN"),
    "lbf": Unit("force", 4.4482216152605, written="lbf"),
    "l": Unit("volume", 1.0, written="l"),
    "ml": Unit("volume", 1e-3, written="ml"),
    "gal_us": Unit("volume", 3.785411784, written="US gal"),
    "gal_uk": Unit("volume", 4.54609, written="UK gal"),
    "mm2/s": Unit("viscosity", 1.0, written="mm²/s"),
    "rpm": Unit("rotation", 1.0, written="rpm"),
    "Hz": Unit("frequency", 1.0, written="Hz"),
    "V": Unit("voltage", 1.0, written="V"),
    "A": Unit("current", 1.0, written="A"),
    "W": Unit("power", 1.0, written="W"),
    "kW": Unit("power", 1000.0, written="kW"),
    "hp": Unit("power", 745.69987158227, written="hp"),
    "m/min": Unit("speed", 1.0, written="m/min"),
    "ft/min": Unit("speed", 0.3048, written="ft/min"),
    "mm/rev": Unit("feed", 1.0, written="mm/rev"),
    "in/rev": Unit("feed", 25.4, written="in/rev"),
    "mm/m": Unit("slope", 1.0, written="mm/m"),
    "in/ft": Unit("slope", 1000 / 12, written="in/ft"),
    "in/10in": Unit("slope", 100.0, written="in/10 in"),
    "tpi": Unit("thread count", 1.0, written="TPI"),
    "percent": Unit("ratio", 1.0, written="%"),
    "MPa": Unit("stress", 1.0, written="MPa"),
    "bar": Unit("pressure", 1.0, written="bar"),
    "Nm": Unit("torque", 1.0, written="N m"),
    "lbf ft": Unit("torque", 1.3558179483314, written="lbf ft"),
}
"""Known units. The size of each is exact by definition (inch, pound and gallons: SI brochure and national
definitions; the mechanical horsepower is 550 ft lbf/s). Each dimension is kept in the unit of size 1."""

SPELLINGS: dict[str, str] = {
    '"': "in", "''": "in", "″": "in", "”": "in", "inch": "in", "inches": "in", "ins": "in", "'": "ft", "′": "ft",
    "feet": "ft", "foot": "ft", "mil": "thou", "mils": "thou", "µm": "um", "μm": "um", "micron": "um", "microns": "um",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "c": "degC", "°c": "degC", "℃": "degC", "celsius": "degC", "degc": "degC", "deg c": "degC",
    "f": "degF", "°f": "degF", "℉": "degF", "fahrenheit": "degF", "degf": "degF", "deg f": "degF", "k": "K", "kelvin": "K",
    "°": "deg", "degree": "deg", "degrees": "deg", "radian": "rad", "radians": "rad",
    "arcseconds": "arcsec", "arc seconds": "arcsec", "arc second": "arcsec", "arc sec": "arcsec", "arc s": "arcsec", "seconds of arc": "arcsec",
    "mm/1000 mm": "mm/m", "mm/1000mm": "mm/m", "mm per m": "mm/m",
    "sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "mins": "min",
    "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
    "kilogram": "kg", "kilograms": "kg", "tonne": "t", "tonnes": "t", "lbs": "lb", "pound": "lb", "pounds": "lb",
    "litre": "l", "litres": "l", "liter": "l", "liters": "l", "us gal": "gal_us", "uk gal": "gal_uk", "imp gal": "gal_uk",
    "cst": "mm2/s", "mm²/s": "mm2/s", "in/10 in": "in/10in", "r/min": "rpm", "rev/min": "rpm", "1/min": "rpm",
    "sfm": "ft/min", "fpm": "ft/min", "ipr": "in/rev", "%": "percent", "per cent": "percent", "pct": "percent",
    "n/mm2": "MPa", "n/mm²": "MPa", "n m": "Nm", "n·m": "Nm", "ft lbf": "lbf ft", "lbft": "lbf ft", "ft lb": "lbf ft",
}  # fmt: skip
"""Other ways in which people write a unit, in lower case."""

NUMBER = re.compile(r"[-+−]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
MIXED = re.compile(r"([-+−]?)(?:(\d+)(?:\s+|-))?(\d+)\s*[/⁄]\s*(\d+)")


class Unreadable(ValueError):
    """A figure that cannot be read; the message says why and what to write instead."""


def unit_named(written: str) -> str:
    """The key in UNITS of a unit as written, whatever its spelling. Raises Unreadable for an unknown one."""
    text = " ".join(written.strip().split())
    for key in UNITS:
        if text == key:
            return key
    folded = text.lower()
    if folded in SPELLINGS:
        return SPELLINGS[folded]
    matches = [key for key in UNITS if key.lower() == folded]
    if len(matches) == 1:
        return matches[0]
    raise Unreadable(f'"{written.strip()}" is not a unit known here')


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """VALUE in another unit of the same dimension. Raises Unreadable when the two measure different things.

    An angle is also understood where a slope is wanted, as its tangent: levels are engraved either way.

    >>> round(convert(20, "arcsec", "mm/m"), 4)
    0.097
    """
    a, b = UNITS[from_unit], UNITS[to_unit]
    if a.dimension == "angle" and b.dimension == "slope" and abs(value * a.factor) < 90:
        return 1000 * tan(radians(value * a.factor)) / b.factor
    if a.dimension != b.dimension:
        raise Unreadable(f"{from_unit} measures {a.dimension}, {to_unit} measures {b.dimension}")
    return (value * a.factor + a.offset - b.offset) / b.factor


def read_number(text: str) -> float:
    """A number as people write it: decimal point or comma, fraction, mixed number, vulgar fraction sign."""
    value, rest = _leading_number(text)
    if rest:
        raise Unreadable(f'"{text.strip()}" is not a number; write one like 12.7 or 1/2')
    if not isfinite(value):
        raise Unreadable(f'"{text.strip()}" is not a finite number')
    return value


LARGEST = sys.float_info.max
"""A whole number above it has no figure that can be worked with."""


def read_quantity(text: str | float | int, unit: str) -> float:
    """The figure in TEXT, in UNIT (a key of UNITS, or "" for a bare number). A number without a unit is in UNIT already.

    Raises Unreadable, in words, for text, two meanings, another dimension, or what is not finite.
    """
    if isinstance(text, bool):
        raise Unreadable("a yes or no is not a figure")
    if isinstance(text, (int, float)):
        if isinstance(text, int) and abs(text) > LARGEST:
            raise Unreadable("a number of more than 308 digits cannot be worked with")
        value, written = float(text), ""
    elif not isinstance(text, str):
        raise Unreadable("a list or a group of things is not a figure")
    else:
        value, written = _leading_number(text, UNITS[unit].written if unit in UNITS else unit)
    if not isfinite(value):
        raise Unreadable(f'"{text}" is not a finite number')
    if not written:
        return value
    if not unit:
        raise Unreadable(f'"{str(text).strip()}" has a unit where a plain number is wanted; leave out "{written}"')
    return convert(value, unit_named(written), unit)


def _leading_number(text: str, like: str = "") -> tuple[float, str]:
    """The number that TEXT starts with, and what follows it (the unit, stripped). LIKE is the unit of the hint."""
    plain = _spelled_out(text)
    if not plain:
        raise Unreadable("nothing is written here; write a number")
    if re.match(r"[-+]?\d{1,3}(,\d{3})+(?!\d)", plain) and not re.match(r"[-+]?0,", plain):
        raise Unreadable(
            f'"{text.strip()}" could be a thousand or a decimal comma; write it with a point or without a comma'
        )
    plain = re.sub(r"(?<=\d),(?=\d)", ".", plain, count=1)
    if mixed := MIXED.match(plain):
        sign, whole, top, bottom = mixed.groups()
        if int(bottom) == 0:
            raise Unreadable(f'"{text.strip()}" divides by zero')
        value = int(whole or 0) + int(top) / int(bottom)
        return (-value if sign in "-−" and sign else value), plain[mixed.end() :].strip()
    if number := NUMBER.match(plain):
        rest = plain[number.end() :].strip()
        if rest[:1] in {",", "/"} or rest[:1].isdigit():
            raise Unreadable(
                f'"{text.strip()}" is not one number; write one figure and its unit, like {f"12.7 {like}".strip()}'
            )
        return float(number.group().replace("−", "-")), rest
    raise Unreadable(f'"{text.strip()}" does not start with a number; write one like {f"12.7 {like}".strip()}')


def _spelled_out(text: str) -> str:
    """TEXT with vulgar fraction signs as `n/m` and the true minus as a hyphen."""
    out: list[str] = []
    for sign in text.strip():
        form = (
            unicodedata.normalize("NFKC", sign)
            if unicodedata.category(sign) == "No" and "⁄" in unicodedata.normalize("NFKC", sign)
            else sign
        )
        if form != sign and out and out[-1].isdigit():
            out.append(" ")
        out.append(form.replace("⁄", "/"))
    return "".join(out).replace("−", "-").replace("\u00a0", " ")
