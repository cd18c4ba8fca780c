"""The formulas from which ISO 965-1 made its tables of tolerances, unrounded: a check on the tables, not a substitute.

The printed figures are these, stepped to preferred numbers, with exceptions; thread_limits_iso965 uses the printed ones.
"""

from __future__ import annotations

from math import sqrt

RANGES = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 300.0)
"""Limits of the ranges of diameter [mm]. Source: iso-965-1, as bosl2-screws has it (ASME B1.13M starts the second at 1.5)."""

GRADE_FACTOR = {
    "Td": {4: 0.63, 6: 1.0, 8: 1.6},
    "Td2": {3: 0.5, 4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6, 9: 2.0},
    "TD2": {4: 0.85, 5: 1.06, 6: 1.32, 7: 1.7, 8: 2.12},
    "TD1": {4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6},
}
"""Each grade over grade 6; of TD2 over Td2 of grade 6. Source: iso-965-1, as bosl2-screws has it."""


def deviation_formula_um(pitch_mm: float, position: str) -> float:
    """Fundamental deviation [micrometre]: es of e, f, g below basic, EI of G above it; h and H none.

        e  -(50 + 11 P)     f  -(30 + 11 P)     g  -(15 + 11 P)     G  +(15 + 11 P)

    Source: iso-965-1, as bosl2-screws has it

    >>> deviation_formula_um(1.5, "g")
    -31.5
    """
    base = {"e": 50, "f": 30, "g": 15, "G": 15}.get(position)
    if base is None:
        return 0.0
    return (base + 11 * pitch_mm) * (1 if position == "G" else -1)


def mean_diameter_mm(diameter_mm: float) -> float:
    """Geometric mean of the range in which a diameter lies [mm]. Raises ValueError outside 0.99 to 300 mm."""
    for low, high in zip(RANGES, RANGES[1:], strict=False):
        if low < diameter_mm <= high:
            return sqrt(low * high)
    raise ValueError(f"{diameter_mm:g} mm is outside the ranges of ISO 965-1, over 0.99 to 300 mm")


def tolerance_formula_um(kind: str, diameter_mm: float, pitch_mm: float, grade: int = 6) -> float:
    """A tolerance of ISO 965-1 before it is stepped [micrometre].

        Td(6)   180 P^(2/3) - 3.15 / sqrt(P)
        Td2(6)  90 P^0.4 d^0.1, d the geometric mean of its range; TD2 = 1.32 times that
        TD1(6)  433 P - 190 P^1.22 below 1 mm, 230 P^0.7 from 1 mm

    kind  Td, Td2, TD2 or TD1

    Source: iso-965-1, as bosl2-screws has it

    >>> round(tolerance_formula_um("Td2", 10, 1.5), 2), round(tolerance_formula_um("TD1", 10, 1.5), 2)
    (130.18, 305.49)
    """
    if kind == "Td":
        base = 180 * pitch_mm ** (2 / 3) - 3.15 / sqrt(pitch_mm)
    elif kind == "TD1":
        base = 433 * pitch_mm - 190 * pitch_mm**1.22 if pitch_mm < 1 else 230 * pitch_mm**0.7
    else:
        base = 90 * pitch_mm**0.4 * mean_diameter_mm(diameter_mm) ** 0.1
    return base * GRADE_FACTOR[kind][grade]
