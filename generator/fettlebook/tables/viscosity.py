"""How an oil thickens when it is cold: the line of ASTM D341 and the viscosity index of ASTM D2270."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log, log10

from fettlebook import data
from fettlebook.tables.oil_words import say

KELVIN = 273.15
"""0 degC in kelvin. Exact by definition."""

THINNEST, THICKEST = 0.21, 2e7
"""Kinematic viscosities between which D341 gives its equation [mm2/s]. Source: astm-d341."""

COLDEST_C, HOTTEST_C = -40.0, 200.0
"""Temperatures for which the line is given here [degC]: inside the charts of D341, and where a shop has oil."""

INDEX_FROM, INDEX_TO = 0.0, 300.0
"""Viscosity indexes taken here; beyond them no shop oil is found and procedures A and B are not tried."""

INDEX_THINNEST = 2.0
"""Below this viscosity at 100 degC the index is not defined [mm2/s]. Source: astm-d2270, 5.1.1."""


class OutOfRange(ValueError):
    """A viscosity, temperature or index outside the range for which the published equations were fitted."""


@dataclass(frozen=True)
class Line:
    """An oil's line on the D341 chart: log10 log10 Z = a - b log10 T, T in kelvin, Z nearly viscosity + 0.7."""

    a: float
    b: float

    def at(self, temperature_c: float) -> float:
        """Kinematic viscosity [mm2/s] at a temperature [degC].

        Raises OutOfRange outside -40 to 200 degC or 0.21 to 2e7 mm2/s.
        """
        if not COLDEST_C <= temperature_c <= HOTTEST_C:
            raise OutOfRange(say("temperature", t=f"{temperature_c:g}"))
        power = self.a - self.b * log10(temperature_c + KELVIN)
        if power > log10(log10(THICKEST + 0.7)):  # asked before raising ten to it, which would overflow
            raise OutOfRange(say("thick", t=f"{temperature_c:g}"))
        found = _viscosity_of(10 ** (10**power))
        if not found >= THINNEST:
            raise OutOfRange(say("thin", t=f"{temperature_c:g}"))
        return found


def line_through(v1_mm2_s: float, t1_c: float, v2_mm2_s: float, t2_c: float) -> Line:
    """The D341 line through two measured points.

        Z = v + 0.7 + exp(-1.47 - 1.84 v - 0.51 v^2),   log10 log10 Z = A - B log10 T

    v1_mm2_s, v2_mm2_s   kinematic viscosities [mm2/s], 0.21 to 2e7
    t1_c, t2_c           their temperatures [degC], different
    gives                the line; raises OutOfRange

    Source: astm-d341

    >>> round(line_through(32, 40, 5.4, 100).at(20), 2)
    86.28
    """
    if t1_c == t2_c:
        raise OutOfRange("two different temperatures are needed for a line")
    y1, y2 = log10(log10(_z_of(v1_mm2_s))), log10(log10(_z_of(v2_mm2_s)))
    x1, x2 = log10(t1_c + KELVIN), log10(t2_c + KELVIN)
    b = (y1 - y2) / (x2 - x1)
    return Line(y1 + b * x1, b)


def _z_of(v_mm2_s: float) -> float:
    if not THINNEST <= v_mm2_s <= THICKEST:
        raise OutOfRange(f"{v_mm2_s:g} mm²/s lies outside {THINNEST} to {THICKEST:.0f} mm²/s")
    return v_mm2_s + 0.7 + exp(-1.47 - 1.84 * v_mm2_s - 0.51 * v_mm2_s**2)


def _viscosity_of(z: float) -> float:
    """The inverse of Z as D341 prints it; the correction dies out above 2 mm2/s, where the cubic would run away."""
    w = z - 0.7
    return w - exp(-0.7487 - 3.295 * w + 0.6119 * w**2 - 0.3193 * w**3) if w < 8 else w


def basic_values(v100_mm2_s: float) -> tuple[float, float]:
    """L and H: what oils of index 0 and 100 with this viscosity at 100 degC have at 40 degC.

    v100_mm2_s   kinematic viscosity at 100 degC [mm2/s], 2 or more
    gives        (L, H) [mm2/s], the table interpolated in a straight line up to 70, the standard's quadratics above

    Source: astm-d2270, table 1 and 5.1.2

    >>> [round(x, 2) for x in basic_values(8.86)]
    [119.94, 69.48]
    """
    if not v100_mm2_s >= INDEX_THINNEST:
        raise OutOfRange(say("index_undefined"))
    rows: list[list[float]] = data.read("viscosity-index")["rows"]
    if v100_mm2_s >= rows[-1][0]:
        above = data.read("viscosity-index")["above_70"]
        low, high = ((a * v100_mm2_s + b) * v100_mm2_s + c for a, b, c in (above["L"], above["H"]))
        return low, high
    n = bisect_right(rows, v100_mm2_s, key=lambda row: row[0])
    (v0, l0, h0), (v1, l1, h1) = rows[n - 1], rows[n]
    part = (v100_mm2_s - v0) / (v1 - v0)
    return l0 + part * (l1 - l0), h0 + part * (h1 - h0)


def viscosity_index(v40_mm2_s: float, v100_mm2_s: float) -> float:
    """Viscosity index, unrounded; the standard rounds it to a whole number.

        A, up to 100:    (L - v40) / (L - H) x 100
        B, above 100:    (10^N - 1) / 0.00715 + 100,   N = (log H - log v40) / log v100

    v40_mm2_s, v100_mm2_s   kinematic viscosities at 40 and 100 degC [mm2/s]; v100 2 or more and below v40
    gives                   the index; raises OutOfRange

    Source: astm-d2270

    >>> round(viscosity_index(73.3, 8.86), 2)
    92.43
    """
    if not v40_mm2_s > v100_mm2_s:
        raise OutOfRange(say("exchanged", v100=f"{v100_mm2_s:g}", v40=f"{v40_mm2_s:g}"))
    low, high = basic_values(v100_mm2_s)
    if v40_mm2_s >= high:
        return (low - v40_mm2_s) / (low - high) * 100
    return (10 ** ((log(high) - log(v40_mm2_s)) / log(v100_mm2_s)) - 1) / 0.00715 + 100


def v100_from_index(v40_mm2_s: float, index: float) -> float:
    """Viscosity at 100 degC [mm2/s] of an oil of known index and viscosity at 40 degC [mm2/s].

    The index rises with it, so halving finds the one value. Raises OutOfRange below 2 mm2/s at 100 degC.

    Source: astm-d2270, solved backwards

    >>> round(v100_from_index(73.3, 92.43), 2)
    8.86
    """
    _keep_index(index)
    if not v40_mm2_s > INDEX_THINNEST or viscosity_index(v40_mm2_s, INDEX_THINNEST) > index:
        raise OutOfRange(say("too_thin_for_index", v40=f"{v40_mm2_s:g}", index=f"{index:g}"))
    return _halved(lambda v100: viscosity_index(v40_mm2_s, v100) - index, INDEX_THINNEST, v40_mm2_s * (1 - 1e-9))


def v40_from_index(v100_mm2_s: float, index: float) -> float:
    """Viscosity at 40 degC [mm2/s] of an oil of known index and viscosity at 100 degC [mm2/s], 2 or more.

    Source: astm-d2270, turned round: v40 = L - index (L - H)/100, above 100: v40 = H / v100^N

    >>> round(v40_from_index(5.05, 156.42), 1)
    22.8
    """
    _keep_index(index)
    low, high = basic_values(v100_mm2_s)
    if index <= 100:
        return low - index * (low - high) / 100
    return high / v100_mm2_s ** log10((index - 100) * 0.00715 + 1)


def _keep_index(index: float) -> None:
    if not INDEX_FROM <= index <= INDEX_TO:
        raise OutOfRange(f"a viscosity index of {index:g} lies outside {INDEX_FROM:g} to {INDEX_TO:g}")


def _halved(rising: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses zero. 60 halvings leave nothing of the interval; the browser does the same 60."""
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < 0 else (low, middle)
    return (low + high) / 2
