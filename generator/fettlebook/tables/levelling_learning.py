"""Learning what each jack does from what the recorded moves really did.

Two steps, both least squares held towards what was believed before. First the places of the feet are weighed against
beams on feet that give more and more, by how well each foretold the changes that were read. Then the mix of them is
bent towards the changes themselves, in those directions only that the exact facts leave open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

from fettlebook.tables.least_squares import Matrix, Singular, Vector, dot, solve_many, times
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_model import beam_matrix, foot_matrix
from fettlebook.tables.levelling_readings import Row, Turned

GIVES_MM2 = (0.01, 0.03, 0.1, 0.3, 1.0, 3.0)
"""Beams tried: how far the feet give against the bed's bending, from hard feet on rock to rubber on boards."""

TWISTS = (7.0, 20.0, 60.0)
"""Beams tried: bending over twisting stiffness, from a box to an open bed."""

SPREAD = 0.1
"""How far an entry may well be from the mix [mm/m per mm]."""

HAND = 0.05
"""Part of an expected change that a recorded move may be off by."""

ALIKE = 3.0
"""The readings of one round go wrong together, so that many of them count as one."""

LEAST_GAIN = 0.05
"""A jack that moves a bubble by less than this [mm/m per mm] is not set by it."""


@dataclass(frozen=True)
class Change:
    """What was turned in one round, and by how much each reading changed after it [mm/m]; None where not read twice."""

    turned: tuple[Turned, ...]
    found: Row


def lifts_mm(matrix: Matrix, turned: Sequence[Turned], division: float) -> Vector:
    """How far each foot was lifted if the matrix is right; a move set by a bubble is known by what the bubble did."""
    lifts = [0.0] * len(matrix[0])
    for move in turned:
        if move.row < 0:
            lifts[move.foot] += move.mm
        elif abs(matrix[move.row][move.foot]) > LEAST_GAIN:
            lifts[move.foot] += move.change * division / matrix[move.row][move.foot]
    return lifts


def learned(layout: Layout, changes: Sequence[Change], division: float, noise: float) -> Matrix:
    """The matrix after these changes [mm/m per mm]; the one from the places of the feet when there are none.

    noise   standard error of a reading [mm/m]
    """
    start = foot_matrix(layout)
    told = [change for change in changes if change.turned]
    if not told:
        return start
    beams = [beam_matrix(layout, give, twist) for give in GIVES_MM2 for twist in TWISTS]
    mix = _mixed([start, *beams], told, division, noise)
    return _bent(layout, mix, told, division, noise)


def _mixed(candidates: list[Matrix], changes: Sequence[Change], division: float, noise: float) -> Matrix:
    """The candidates in proportion to how likely each makes what was found."""
    scores = [sum(_score(a, change, division, noise) for change in changes) / ALIKE for a in candidates]
    weights = [exp(score - max(scores)) for score in scores]
    total = sum(weights)
    rows, columns = range(len(candidates[0])), range(len(candidates[0][0]))
    return [[sum(w * a[i][j] for w, a in zip(weights, candidates, strict=True)) / total for j in columns] for i in rows]


def _score(matrix: Matrix, change: Change, division: float, noise: float) -> float:
    """Logarithm of the likelihood, but for a constant."""
    lifts = lifts_mm(matrix, change.turned, division)
    variance = 4 * noise**2 + HAND**2 * _size2(matrix, lifts)
    score = 0.0
    for row, found in zip(matrix, change.found, strict=True):
        if found is not None:
            score -= (found - dot(row, lifts)) ** 2 / (2 * variance) + log(variance) / 2
    return score


def _size2(matrix: Matrix, lifts: Vector) -> float:
    """Mean square of the readings' changes if no jack's share cancelled another's."""
    sizes = [sum(abs(a * s) for a, s in zip(row, lifts, strict=True)) for row in matrix]
    return dot(sizes, sizes) / len(sizes)


def open_directions(layout: Layout) -> Matrix:
    """I - Q Q' with Q the patterns whose effect is exact for any bed: lift all alike, tip along, tip across."""
    n = len(layout.feet)
    basis: Matrix = []
    for pattern in ([1.0] * n, [f.x_mm / 1000 for f in layout.feet], [f.y_mm / 1000 for f in layout.feet]):
        rest = pattern
        for q in basis:
            share = dot(q, rest)
            rest = [v - share * u for v, u in zip(rest, q, strict=True)]
        size = dot(rest, rest) ** 0.5
        if size > 1e-9:
            basis.append([v / size for v in rest])
    return [[float(i == j) - sum(q[i] * q[j] for q in basis) for j in range(n)] for i in range(n)]


def _bent(layout: Layout, mix: Matrix, changes: Sequence[Change], division: float, noise: float) -> Matrix:
    """The mix moved to the changes found, row by row: a + P S' (S P S' + V)^-1 (found - S a)."""
    free = open_directions(layout)
    lifts = [lifts_mm(mix, change.turned, division) for change in changes]
    reach = [[SPREAD**2 * v for v in times(free, s)] for s in lifts]
    variances = [4 * noise**2 + 0.3 * HAND**2 * _size2(mix, s) for s in lifts]
    out = []
    for i, row in enumerate(mix):
        known = [t for t, change in enumerate(changes) if change.found[i] is not None]
        gram = [[dot(lifts[t], reach[u]) + (variances[t] if t == u else 0.0) for u in known] for t in known]
        missed = [[(changes[t].found[i] or 0.0) - dot(row, lifts[t])] for t in known]
        try:
            pulls = solve_many(gram, missed) if known else []
        except Singular:
            pulls = [[0.0] for _ in known]
        out.append([a + sum(p[0] * reach[t][j] for p, t in zip(pulls, known, strict=True)) for j, a in enumerate(row)])
    return out
