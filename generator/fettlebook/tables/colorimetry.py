"""From a spectrum to a colour: CIE 1931 tristimulus values, chromaticity, and sRGB for a screen."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from fettlebook import data

Triple = tuple[float, float, float]

STEP_NM = 10
"""Step of the sums over the spectrum, 380 to 780 nm. A step of 5 nm moves no channel of a colour by more than 0.1."""

TO_LINEAR_SRGB = ((3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570))
"""Matrix from XYZ (D65, Y of white 1) to linear sRGB. Source: iec-61966-2-1."""

LUMENS_PER_WATT = 683.0
"""Luminous efficacy at the top of the eye's curve [lm/W]. Exact by definition but for the last digits."""


@cache
def observer() -> tuple[tuple[float, float, float, float, float], ...]:
    """Wavelength [nm], the three colour-matching functions, and daylight D65, every 10 nm."""
    return tuple((r["nm"], r["x"], r["y"], r["z"], r["d65"]) for r in data.rows("cie-1931"))


def xyz_by_reflection(reflectance: Callable[[float], float]) -> Triple:
    """Tristimulus values of a surface in daylight D65, from its reflectance (0 to 1) by wavelength.

        X = sum(R S x) / sum(S y),   Y and Z likewise; Y of a perfect white is 1

    Sources: cie-observer, cie-d65
    """
    lit = [(reflectance(nm) * d65, x, y, z) for nm, x, y, z, d65 in observer()]
    white = sum(d65 * y for _, _, y, _, d65 in observer())
    return sum(p * x for p, x, _, _ in lit) / white, sum(p * y for p, _, y, _ in lit) / white, sum(p * z for p, _, _, z in lit) / white  # fmt: skip


def xyz_by_emission(radiance: Callable[[float], float]) -> Triple:
    """Tristimulus values of a light source, from its spectral radiance by wavelength [W sr-1 m-3].

        X = 683 sum(L x dl);   Y is the luminance [cd/m2]

    Source: cie-observer
    """
    lit = [(radiance(nm) * STEP_NM * 1e-9 * LUMENS_PER_WATT, x, y, z) for nm, x, y, z, _ in observer()]
    return sum(p * x for p, x, _, _ in lit), sum(p * y for p, _, y, _ in lit), sum(p * z for p, _, _, z in lit)


def chromaticity(xyz: Triple) -> tuple[float, float]:
    """x and y of the chromaticity diagram."""
    return xyz[0] / sum(xyz), xyz[1] / sum(xyz)


def linear_srgb(xyz: Triple) -> Triple:
    """Linear sRGB, not clipped: below 0 or above 1 where a screen cannot show the colour. Source: iec-61966-2-1."""
    x, y, z = xyz
    r, g, b = (row[0] * x + row[1] * y + row[2] * z for row in TO_LINEAR_SRGB)
    return r, g, b


def encoded(linear: float) -> float:
    """One channel as a screen wants it, 0 to 1, from a linear value, which is clipped to 0 to 1.

    Source: iec-61966-2-1 (a straight piece up to 0.0031308, then a power of 1/2.4)
    """
    value = min(1.0, max(0.0, linear))
    return 12.92 * value if value <= 0.0031308 else 1.055 * value ** (1 / 2.4) - 0.055


def hexadecimal(linear: Triple) -> str:
    """A linear sRGB colour as #rrggbb.

    >>> hexadecimal((0.5, 0.5, 0.5))
    '#bcbcbc'
    """
    return "#" + "".join(f"{int(encoded(channel) * 255 + 0.5):02x}" for channel in linear)
