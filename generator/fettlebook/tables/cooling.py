"""How a round bar cools in a quench: the time to half temperature at any depth, and Grossmann's equal diameters.

Grossmann takes two places to harden alike when they need the same time to cool half way from the hardening heat to the
bath. In a bar of diameter D in a quench of severity H = h/(2k) that time follows from conduction in a long cylinder with
the Biot number h R/k = H D. The ideal quench (H without end) brings the surface to bath temperature at once.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from math import cos, exp, inf, pi, sin, sqrt

TERMS = 16
"""Terms of the series; enough for half times from about 1/1000 of R^2/a on."""

SHORTEST = 1e-3
"""Shorter half times count as nothing [R^2/a]."""


def bessel(order: int, x: float) -> float:
    """Bessel function of the first kind, order 0 or 1, by its integral: exact to 1e-9 for x up to 55."""
    steps = 44
    angles = (pi * (n + 0.5) / steps for n in range(steps))
    return sum(cos(order * a - x * sin(a)) for a in angles) / steps


def _crossing(f: Callable[[float], float], low: float, high: float) -> float:
    """Where F changes its sign between LOW and HIGH, by false position with halved ends (Illinois)."""
    a, b, fa, fb = low, high, f(low), f(high)
    for _ in range(80):
        if fa == fb or abs(b - a) < 1e-13 * (abs(a) + abs(b)):
            break
        c = (a * fb - b * fa) / (fb - fa)
        fc = f(c)
        if abs(fc) < 1e-12:
            return c
        if fc * fb < 0:
            a, fa = b, fb
        else:
            fa /= 2
        b, fb = c, fc
    return b


@cache
def _zeros(order: int) -> tuple[float, ...]:
    """The first positive zeros of a Bessel function; each within 0.6 of McMahon's first estimate."""
    guesses = ((n - 0.25 + order / 2) * pi for n in range(1, TERMS + 1))
    return tuple(_crossing(lambda x: bessel(order, x), g - 0.6, g + 0.6) for g in guesses)


@lru_cache(maxsize=500)
def _series(biot: float) -> tuple[tuple[float, float], ...]:
    """Roots z of z J1(z) = Bi J0(z) and their shares C = 2 J1 / (z (J0^2 + J1^2)). Source: incropera, table 5.1."""
    lows = (0.0, *_zeros(1)[:-1])
    found = []
    for low, high in zip(lows, _zeros(0), strict=True):
        z = (
            high
            if biot == inf
            else _crossing(lambda x: x * bessel(1, x) - biot * bessel(0, x), low + 1e-9, high - 1e-9)
        )
        j0, j1 = bessel(0, z), bessel(1, z)
        found.append((z, 2 * j1 / (z * (j0 * j0 + j1 * j1))))
    return tuple(found)


def first_term(biot: float) -> tuple[float, float]:
    """The first root and its share for a long cylinder; what handbooks tabulate. biot: h R / k, above 0."""
    return _series(biot)[0]


@lru_cache(maxsize=2000)
def half_time(biot: float, radius_share: float) -> float:
    """Time to half temperature at a share of the radius (0 centre, 1 surface), in units of R^2/a (a Fourier number).

    biot            h R / k = H D, above 0; inf for the ideal quench
    gives           [-]; 0 at the surface of the ideal quench

    Source: incropera, conduction in a long cylinder

    >>> round(half_time(float("inf"), 0.0), 4)
    0.2005
    """
    shares = [(z, c * bessel(0, z * radius_share)) for z, c in _series(biot)]

    def left(fourier: float) -> float:
        return sum(c * exp(-min(z * z * fourier, 700.0)) for z, c in shares) - 0.5

    if left(SHORTEST) < 0:
        return 0.0
    high = 0.5
    while left(high) > 0:
        high *= 2
    return _crossing(left, SHORTEST, high)


def ideal_diameter_mm(diameter_mm: float, severity_per_in: float, radius_share: float = 0.0) -> float:
    """Diameter [mm] of the ideally quenched bar whose centre cools like this place of this bar.

        DI^2 t(inf, 0) = D^2 t(H D, r)

    diameter_mm       D [mm]
    severity_per_in   H [1/in]
    radius_share      0 centre to 1 surface

    Source: grossmann-1952, half-temperature time
    """
    biot = severity_per_in * diameter_mm / 25.4
    return diameter_mm * sqrt(half_time(round(biot, 9), radius_share) / half_time(inf, 0.0))


def critical_diameter_mm(ideal_mm: float, severity_per_in: float) -> float:
    """The bar [mm] whose centre reaches half martensite in a quench of severity H, from the ideal diameter [mm].

    Source: grossmann-1952, half-temperature time
    """
    return _crossing(lambda d: ideal_diameter_mm(d, severity_per_in) - ideal_mm, 0.01, ideal_mm)
