"""Learning what each jack does from what the recorded moves really did.

Two steps, both least squares held towards what was believed before. First the places of the feet are weighed against
beams on feet that give more and more, by how well each foretold the changes that were read. Then the mix of them is
bent towards the changes themselves, in those directions only that the exact facts leave open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp

from fettlebook.tables.least_squares import Matrix, Singular, Vector, dot, solve_many, times
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_model import beam_matrix, foot_matrix

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
class Move:
    """One jack's move: a height in mm, or, with row >= 0, turned until that reading was `shows` [mm/m]."""

    foot: int
    mm: float = 0.0
    row: int = -1
    shows: float = 0.0


@dataclass(frozen=True)
class Change:
    """One round: the readings before, the moves in order, and by how much each reading had changed after them, all in
    mm/m; None where not read twice."""

    start: tuple[float | None, ...]
    moves: tuple[Move, ...]
    found: tuple[float | None, ...]


def lifts_mm(matrix: Matrix, change: Change) -> Vector:
    """How far each foot was lifted in that round if the matrix is right [mm].

    A jack set by a bubble went as far as it took, with all that was turned before it, to bring the bubble there.
    """
    lifts = [0.0] * len(matrix[0])
    for move in change.moves:
        lift = move.mm
        if move.row >= 0:
            gain, start = matrix[move.row][move.foot], change.start[move.row]
            if abs(gain) <= LEAST_GAIN or start is None:
                continue
            lift = (move.shows - start - dot(matrix[move.row], lifts)) / gain
        lifts[move.foot] += lift
    return lifts


def learned(layout: Layout, changes: Sequence[Change], noise: float) -> Matrix:
    """The matrix after these changes [mm/m per mm]; the one from the places of the feet when there are none.

    noise   standard error of a reading [mm/m]
    """
    told = [change for change in changes if change.moves and any(v is not None for v in change.found)]
    return _bent(layout, mixed(layout, told, noise), told, noise) if told else foot_matrix(layout)


@lru_cache(maxsize=16)
def _beams(layout: Layout) -> tuple[Matrix, ...]:
    return tuple(beam_matrix(layout, give, twist) for give in GIVES_MM2 for twist in TWISTS)


def mixed(layout: Layout, changes: Sequence[Change], noise: float) -> Matrix:
    """The places of the feet and the beams in proportion to how likely each makes what was found [mm/m per mm]."""
    candidates = (foot_matrix(layout), *_beams(layout))
    misfits = [_misfits(layout, change, noise) for change in changes]
    scores = [-sum(misfit[n] for misfit in misfits) / (2 * ALIKE) for n in range(len(candidates))]
    weights = [exp(score - max(scores)) for score in scores]
    total = sum(weights)
    rows, columns = range(len(candidates[0])), range(len(candidates[0][0]))
    return [[sum(w * a[i][j] for w, a in zip(weights, candidates, strict=True)) / total for j in columns] for i in rows]


@lru_cache(maxsize=512)
def _misfits(layout: Layout, change: Change, noise: float) -> tuple[float, ...]:
    """For each candidate the squares by which it foretold that round wrongly, over what they may well be."""
    start = foot_matrix(layout)
    doubt = 4 * noise**2 + HAND**2 * _size2(start, lifts_mm(start, change))
    return tuple(missed2(a, change) / doubt for a in (start, *_beams(layout)))


def missed2(matrix: Matrix, change: Change) -> float:
    """Sum of the squares by which the matrix foretold that round's changes wrongly."""
    lifts = lifts_mm(matrix, change)
    return sum((f - dot(row, lifts)) ** 2 for row, f in zip(matrix, change.found, strict=True) if f is not None)


def _size2(matrix: Matrix, lifts: Vector) -> float:
    """Mean square of the readings' changes if no jack's share cancelled another's."""
    sizes = [sum(abs(a * s) for a, s in zip(row, lifts, strict=True)) for row in matrix]
    return dot(sizes, sizes) / len(sizes)


@lru_cache(maxsize=16)
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


def _bent(layout: Layout, mix: Matrix, changes: Sequence[Change], noise: float) -> Matrix:
    """The mix moved to the changes found, row by row: a + P S' (S P S' + V)^-1 (found - S a)."""
    free = open_directions(layout)
    lifts = [lifts_mm(mix, change) for change in changes]
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
