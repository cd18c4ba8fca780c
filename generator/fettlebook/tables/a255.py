"""Ideal critical diameter from composition by the factors of ASTM A255, grain size 7, and what belongs to it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping

INCH_MM = 25.4

LIMITS = {"C": (0.1, 0.7), "Mn": (0.5, 1.65), "Si": (0.15, 0.6), "Cr": (0.0, 1.35), "Ni": (0.0, 1.5), "Mo": (0.0, 0.55), "Cu": (0.0, 0.35), "V": (0.0, 0.2)}  # fmt: skip
"""Composition range of the method [mass %]. Source: astm-a255, 1.3 (Cu and V from memory)."""

JOMINY_DI = (
    (0.5, 0.27), (1, 0.50), (1.5, 0.73), (2, 0.95), (2.5, 1.16), (3, 1.37), (3.5, 1.57), (4, 1.75), (4.5, 1.93), (5, 2.12), (5.5, 2.29), (6, 2.45),
    (6.5, 2.58), (7, 2.72), (7.5, 2.86), (8, 2.97), (9, 3.22), (10, 3.41), (11, 3.61), (12, 3.81), (14, 4.16), (16, 4.46),
)  # fmt: skip
"""Distance from the quenched end [1/16 in] and the ideal diameter [in] whose centre cools alike. Source: astm-a255, from memory;
good to 0.05 in up to 8/16, to about 0.1 in beyond."""


def outside(composition: Mapping[str, float]) -> tuple[str, ...]:
    """What of a composition [mass %] lies outside the range of the method, in words."""
    return tuple(
        f"{element} {composition.get(element, 0.0):g} % lies outside {low:g} to {high:g} %"
        for element, (low, high) in LIMITS.items()
        if not low <= composition.get(element, 0.0) <= high
    )


def carbon_factor_in(carbon: float) -> float:
    """Base diameter [in] for carbon [mass %], grain size 7. Valid to 0.90 % by the print, used to 0.70. Source: astm-a255."""
    if carbon <= 0.39:
        return 0.54 * carbon
    if carbon <= 0.55:
        return 0.171 + 0.001 * carbon + 0.265 * carbon**2
    if carbon <= 0.65:
        return 0.115 + 0.268 * carbon - 0.038 * carbon**2
    if carbon <= 0.75:
        return 0.143 + 0.2 * carbon
    return 0.062 + 0.409 * carbon - 0.135 * carbon**2


def factors(composition: Mapping[str, float]) -> dict[str, float]:
    """The factor of each element; their product is the ideal diameter [in]. Source: astm-a255, non-boron steel."""
    share = {element: composition.get(element, 0.0) for element in LIMITS}
    mn = share["Mn"]
    return {
        "C": carbon_factor_in(share["C"]), "Mn": 3.3333 * mn + 1 if mn <= 1.2 else 5.10 * mn - 1.12, "Si": 1 + 0.7 * share["Si"],
        "Ni": 1 + 0.363 * share["Ni"], "Cr": 1 + 2.16 * share["Cr"], "Mo": 1 + 3 * share["Mo"], "Cu": 1 + 0.365 * share["Cu"], "V": 1 + 1.73 * share["V"],
    }  # fmt: skip


def ideal_critical_diameter_in(composition: Mapping[str, float]) -> float:
    """Ideal critical diameter DI [in]: the bar that just gets half martensite at its centre in an ideal quench.

    composition   mass % by element; check `outside` first
    Source: astm-a255

    >>> round(ideal_critical_diameter_in({"C": 0.45, "Si": 0.25, "Mn": 0.65}), 2)
    0.84
    """
    product = 1.0
    for factor in factors(composition).values():
        product *= factor
    return product


def full_hardness_hrc(carbon: float) -> float:
    """Hardness of 100 % martensite [HRC] against carbon [mass %], 0.1 to 0.69. Source: astm-a255, from memory.

    >>> round(full_hardness_hrc(0.4))
    56
    """
    c = carbon
    return 35.395 + 6.990 * c + 312.330 * c**2 - 821.744 * c**3 + 1015.479 * c**4 - 538.346 * c**5


def half_hardness_hrc(carbon: float) -> float:
    """Hardness of 50 % martensite [HRC] against carbon [mass %], 0.1 to 0.69. Source: astm-a255, from memory.

    >>> round(half_hardness_hrc(0.4))
    42
    """
    c = carbon
    return 22.974 + 6.214 * c + 356.364 * c**2 - 1091.488 * c**3 + 1464.880 * c**4 - 750.441 * c**5


def jominy_distance_mm(ideal_mm: float) -> float | None:
    """Distance from the quenched end [mm] that cools like the centre of the ideal bar; None beyond 16/16 in.

    ideal_mm   ideal diameter [mm]; below the first row the distance shrinks to nothing with it
    Source: astm-a255, from memory
    """
    wanted = ideal_mm / INCH_MM
    pairs = ((0.0, 0.0), *JOMINY_DI)
    if wanted > pairs[-1][1]:
        return None
    n = min(max(bisect_right([di for _, di in pairs], wanted), 1), len(pairs) - 1)
    (j0, d0), (j1, d1) = pairs[n - 1], pairs[n]
    return (j0 + (j1 - j0) * (wanted - d0) / (d1 - d0)) / 16 * INCH_MM
