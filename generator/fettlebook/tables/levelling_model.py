"""What each jack does to each reading: first from where the feet stand, later from what the moves really did.

A matrix A has a row for each reading (long of every station, then cross of every station) and a column for each foot;
an entry is the change of that reading for a lift of that foot [mm/m per mm].
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from fettlebook.tables.least_squares import Matrix, Vector, solve_many
from fettlebook.tables.levelling_layout import Layout


@lru_cache(maxsize=16)
def foot_matrix(layout: Layout) -> Matrix:
    """The matrix from the places of the feet alone; no stiffness is asked for.

    Feet across from one another make a pair with a height at y = 0 and a tilt. Cross reading of a station: the tilts of
    the pairs on either side, interpolated. Long reading: the slope from one of them to the other. Exact for lifting all
    feet alike (nothing changes), tipping along (+1 on every long reading for 1 mm/m) and tipping across.

    gives   [mm/m per mm]
    Source: common practice
    """
    places, heights, tilts = _pairs(layout)
    tilted = [k for k, tilt in enumerate(tilts) if tilt is not None]
    at = [places[k] for k in tilted]
    n = len(layout.feet)
    slopes: list[Vector] = []
    crosses: list[Vector] = []
    for station in layout.stations:
        k = min(max(sum(p < station.x_mm for p in places), 1), len(places) - 1)
        span = (places[k] - places[k - 1]) / 1000
        slopes.append([(heights[k][j] - heights[k - 1][j]) / span for j in range(n)])
        shares = _shares(at, station.x_mm)
        crosses.append(
            [1000 * sum(s * _of(tilts[t])[j] for s, t in zip(shares, tilted, strict=True)) for j in range(n)]
        )
    return slopes + crosses


def _of(tilt: Vector | None) -> Vector:
    return tilt or []


def _pairs(layout: Layout) -> tuple[Vector, Matrix, list[Vector | None]]:
    """Place of each pair, and its height at y = 0 [mm per mm] and tilt [1/mm] for a lift of each foot."""
    n = len(layout.feet)
    places, heights, tilts = [], [], []
    tilt: Vector | None
    for group in layout.groups:
        ys = [layout.feet[j].y_mm for j in group]
        mean = sum(ys) / len(ys)
        spread = sum((y - mean) ** 2 for y in ys)
        places.append(sum(layout.feet[j].x_mm for j in group) / len(group))
        if spread > 1:
            tilt = [0.0] * n
            for j, y in zip(group, ys, strict=True):
                tilt[j] = (y - mean) / spread
            heights.append([(1 / len(group) if j in group else 0.0) - mean * tilt[j] for j in range(n)])
        else:
            tilt = None
            heights.append([1 / len(group) if j in group else 0.0 for j in range(n)])
        tilts.append(tilt)
    _lone_feet(layout, places, heights, tilts)
    return places, heights, tilts


def _lone_feet(layout: Layout, places: Vector, heights: Matrix, tilts: list[Vector | None]) -> None:
    """A foot with none across from it lifts the bed at its own y; the tilt there comes from the pairs beside it."""
    known = [k for k, tilt in enumerate(tilts) if tilt is not None]
    for k, group in enumerate(layout.groups):
        if tilts[k] is None:
            y = layout.feet[group[0]].y_mm
            for share, t in zip(_shares([places[i] for i in known], places[k]), known, strict=True):
                heights[k] = [h - y * share * v for h, v in zip(heights[k], _of(tilts[t]), strict=True)]


def _shares(at: Sequence[float], x: float) -> Vector:
    """How much each place counts at x when one goes straight from place to place and level beyond the ends."""
    shares = [0.0] * len(at)
    right = next((k for k, a in enumerate(at) if a >= x), len(at) - 1)
    if right == 0 or x >= at[-1]:
        shares[right] = 1.0
        return shares
    part = (x - at[right - 1]) / (at[right] - at[right - 1])
    shares[right - 1], shares[right] = 1 - part, part
    return shares


def beam_matrix(layout: Layout, give_mm2: float, twist: float) -> Matrix:
    """The matrix of an even bed that bends and twists on springy feet.

        w'''' EI = loads,  p'' GJ = moments,  foot j: f_j / k + w(x_j) + y_j p(x_j) = lift of foot j
        in all: sum f = 0, sum f x = 0, sum f y = 0 (a lift brings no load in all)

    give_mm2   EI / (k L^2 x 1 m) with L the length between the end feet [mm2]: 0 for feet that do not give
    twist      EI / GJ
    gives      [mm/m per mm]

    Source: beam and torsion bar theory (common practice)
    """
    n, first = len(layout.feet), layout.feet[0].x_mm
    xs = [(foot.x_mm - first) / 1000 for foot in layout.feet]
    ys = [foot.y_mm / 1000 for foot in layout.feet]
    bend = [[abs(a - b) ** 3 / 12 - twist * ya * yb * abs(a - b) / 2 for b, yb in zip(xs, ys, strict=True)]
            for a, ya in zip(xs, ys, strict=True)]  # fmt: skip
    for j in range(n):
        bend[j][j] += give_mm2
    left = [row + [1.0, x, y] for row, x, y in zip(bend, xs, ys, strict=True)]
    left += [[1.0] * n + [0.0] * 3, xs + [0.0] * 3, ys + [0.0] * 3]
    eye = [[float(i == j) for j in range(n)] for i in range(n + 3)]
    loads = solve_many(left, eye)
    slopes, crosses = [], []
    for station in layout.stations:
        at = (station.x_mm - first) / 1000
        long = [(at - x) * abs(at - x) / 4 for x in xs] + [0.0, 1.0, 0.0]
        cross = [-twist * y * abs(at - x) / 2 for x, y in zip(xs, ys, strict=True)] + [0.0, 0.0, 1.0]
        slopes.append([sum(a * row[j] for a, row in zip(long, loads, strict=True)) for j in range(n)])
        crosses.append([sum(a * row[j] for a, row in zip(cross, loads, strict=True)) for j in range(n)])
    return slopes + crosses
