"""The colour of a thin oxide film on steel, and how fast the film grows: what a temper colour is.

Light is reflected by the film's surface and by the steel under it; the two waves strengthen or weaken each other by
wavelength, and the oxide swallows some. One film of magnetite on iron gives the colours in their right order.
"""

from __future__ import annotations

from cmath import exp as cexp
from functools import cache
from math import exp, log, pi

from fettlebook import data
from fettlebook.tables.colorimetry import Triple, hexadecimal, linear_srgb, xyz_by_reflection
from fettlebook.tables.definition import BadValue

KELVIN = 273.15

GROWTH = data.read("colour-names")["growth"]
"""The law of growth: an own fit to the printed tables, not a published constant."""

FAST, SLOW = float(GROWTH["power"]), float(GROWTH["slow_power"])
"""Powers of time between which films were seen to grow: square root (rapatz), fourth root (reports from ovens)."""


def reflectance(film_nm: float, wavelength_nm: float, film: complex, substrate: complex) -> float:
    """Share of the light that a film on a thick substrate reflects, straight from the front, in air.

        r = (r01 + r12 e) / (1 + r01 r12 e),   e = exp(-2i 2 pi N1 d / wavelength),   R = |r|^2
        r01 = (1 - N1) / (1 + N1),   r12 = (N1 - N2) / (N1 + N2)

    film_nm         thickness [nm], 0 or more
    wavelength_nm   [nm], above 0
    film, substrate complex index n - ik of the film (N1) and of what is under it (N2)
    gives           0 to 1

    Source: airy-film
    """
    r01 = (1 - film) / (1 + film)
    r12 = (film - substrate) / (film + substrate)
    e = cexp(-4j * pi * film * film_nm / wavelength_nm)
    return abs((r01 + r12 * e) / (1 + r01 * r12 * e)) ** 2


@cache
def indices(wavelength_nm: float) -> tuple[complex, complex]:
    """Complex index n - ik of the oxide film and of iron at a wavelength of 380 to 780 nm, by straight lines between points.

    Sources: querry-1985 with the tuned offset of k for thin films, johnson-christy-1974
    """
    offset = data.read("optical-constants")["film_k_offset"]
    return _index("magnetite", wavelength_nm) - 1j * offset, _index("iron", wavelength_nm)


def _index(material: str, wavelength_nm: float) -> complex:
    rows = data.rows("optical-constants", material)
    last = next(n for n, row in enumerate(rows) if n and row["nm"] >= wavelength_nm)
    a, b = rows[last - 1], rows[last]
    part = (wavelength_nm - a["nm"]) / (b["nm"] - a["nm"])
    return complex(a["n"] + part * (b["n"] - a["n"]), -a["k"] - part * (b["k"] - a["k"]))


def film_xyz(film_nm: float) -> Triple:
    """Tristimulus values in daylight D65 of an oxide film of an optical thickness [nm] on bright steel."""
    return xyz_by_reflection(lambda nm: reflectance(film_nm, nm, *indices(nm)))


@cache
def film_srgb(film_nm: float) -> str:
    """The colour of an oxide film of an optical thickness [nm] on bright steel, as #rrggbb for a screen.

    >>> film_srgb(0.0), film_srgb(20.0)
    ('#c0beba', '#a09371')
    """
    return hexadecimal(linear_srgb(film_xyz(film_nm)))


def grown_nm(temperature_c: float, minutes: float, power: float = FAST) -> float:
    """Optical thickness of the film on bright plain steel after a time at a temperature in still air.

        d = 15 nm (t / 5 min)^p exp(4838 K (1/493.15 K - 1/T)),   p = 1/2

    temperature_c   [degC], above absolute zero; fitted for 180 to 340
    minutes         [min], above 0; fitted for 1 to 240
    power           p; 1/4 is the slow end, after which steel in an oven was seen paler
    gives           [nm], unrounded

    Source: own fit to the temperatures in the printed tables (karmarsch-lueger and others); agrees with what rapatz says
    of 45 and 60 minutes at 230 degC

    >>> round(grown_nm(277, 5), 1)
    41.4
    """
    _in_reason(temperature_c, minutes)
    anchor = GROWTH["temperature_c"] + KELVIN
    rise = GROWTH["exponent_k"] * (1 / anchor - 1 / (temperature_c + KELVIN))
    return float(GROWTH["film_nm"] * (minutes / GROWTH["minutes"]) ** power * exp(rise))


def temperature_for(film_nm: float, minutes: float, power: float = FAST) -> float:
    """The temperature that grows a film of an optical thickness [nm] in a time [min]: the law of `grown_nm` turned round.

    gives   [degC], unrounded; None of the range of the fit is checked here
    """
    anchor = GROWTH["temperature_c"] + KELVIN
    grown = log(film_nm / GROWTH["film_nm"]) - power * log(minutes / GROWTH["minutes"])
    return 1 / (1 / anchor - grown / GROWTH["exponent_k"]) - KELVIN


def same_colour_c(temperature_c: float, minutes: float, other_minutes: float) -> float:
    """The temperature at which OTHER_MINUTES give the colour that MINUTES give at TEMPERATURE_C.

        1/T2 = 1/T1 + ln(t2/t1) / 9676 K,   9676 K being twice the exponent of `grown_nm`

    gives   [degC], unrounded
    """
    _in_reason(temperature_c, minutes)
    inverse = 1 / (temperature_c + KELVIN) + log(other_minutes / minutes) / (2 * GROWTH["exponent_k"])
    return 1 / inverse - KELVIN


def _in_reason(temperature_c: float, minutes: float) -> None:
    if not minutes > 0:
        raise BadValue(
            "time", f"{minutes:g} min is no time in which a film could grow", "write a time above 0, like 5 min"
        )
    if not temperature_c > -KELVIN:
        raise BadValue("temperature", f"{temperature_c:g} °C is below absolute zero")
