"""Small dense least squares in plain Python: a handful of unknowns, every one between two bounds.

A matrix is a list of rows. Nothing here knows what the numbers mean.
"""

from __future__ import annotations

from collections.abc import Sequence

Matrix = list[list[float]]
Vector = list[float]

SINGULAR = 1e-18
"""A pivot smaller than this part of the largest entry of the matrix counts as zero."""


class Singular(ValueError):
    """The equations do not fix every unknown."""


EQUAL = 1e-9
"""Figures closer than this part count as equal, so that page and program choose alike."""


def least(values: Sequence[float], equal: float = EQUAL) -> int:
    """The place of the least value, the first of those that are equal.

    >>> least([3.0, 1.0 + 1e-12, 1.0])
    1
    """
    best = 0
    for i, value in enumerate(values):
        if value < values[best] - equal * abs(values[best]):
            best = i
    return best


def times(matrix: Sequence[Sequence[float]], vector: Sequence[float]) -> Vector:
    """The product of a matrix and a vector."""
    return [dot(row, vector) for row in matrix]


def dot(a: Sequence[float], b: Sequence[float]) -> float:
    """The sum of the products of two vectors' entries, in order."""
    total = 0.0
    for x, y in zip(a, b, strict=True):
        total += x * y
    return total


def solve(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> Vector:
    """The solution of a square system, by elimination with row exchange.

    Raises Singular when the equations do not fix every unknown.

    >>> solve([[2, 0], [0, 4]], [1, 1])
    [0.5, 0.25]
    """
    return [row[0] for row in solve_many(matrix, [[value] for value in right])]


def solve_many(matrix: Sequence[Sequence[float]], right: Sequence[Sequence[float]]) -> Matrix:
    """The same for several right sides at once, one a column of RIGHT."""
    n = len(matrix)
    work = [[float(v) for v in row] + [float(v) for v in extra] for row, extra in zip(matrix, right, strict=True)]
    smallest = SINGULAR * max((abs(v) for row in matrix for v in row), default=0.0)
    for k in range(n):
        best = max(range(k, n), key=lambda i: abs(work[i][k]))
        if not abs(work[best][k]) > smallest:
            raise Singular
        work[k], work[best] = work[best], work[k]
        _clear_below(work, k)
    return _back(work, n)


def _clear_below(work: Matrix, k: int) -> None:
    pivot = work[k]
    for i in range(k + 1, len(work)):
        row = work[i]
        factor = row[k] / pivot[k]
        if factor:
            for j in range(k, len(row)):
                row[j] -= factor * pivot[j]


def _back(work: Matrix, n: int) -> Matrix:
    for k in range(n - 1, -1, -1):
        row = work[k]
        for c in range(n, len(row)):
            for j in range(k + 1, n):
                row[c] -= row[j] * work[j][c]
            row[c] /= row[k]
    return [row[n:] for row in work]


def normal(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> tuple[Matrix, Vector]:
    """(M'M, M'b): what the least-squares solution of M x = b is found from."""
    columns = list(zip(*matrix, strict=True))
    return [[dot(a, b) for b in columns] for a in columns], [dot(a, right) for a in columns]


def bounded(q: Matrix, c: Vector, low: Sequence[float], high: Sequence[float]) -> Vector:
    """The x that makes x'Qx/2 - c'x smallest with low <= x <= high, Q symmetric and positive definite.

    Active set: solve for the free unknowns, hold at its bound the one that is furthest outside, let go the one that
    pulls hardest back inside, until neither is left. low <= 0 <= high is expected.
    """
    n = len(c)
    held: dict[int, float] = {j: low[j] for j in range(n) if low[j] == high[j]}
    never = set(held)
    x = _with_held(q, c, held)
    for _ in range(6 * n + 6):
        outside = max(range(n), key=lambda j: max(low[j] - x[j], x[j] - high[j])) if n else 0
        if n and max(low[outside] - x[outside], x[outside] - high[outside]) > 1e-12:
            held[outside] = low[outside] if x[outside] < low[outside] else high[outside]
        else:
            loose = _pulls_inside(q, c, x, {j: v for j, v in held.items() if j not in never}, low)
            if loose is None:
                break
            del held[loose]
        x = _with_held(q, c, held)
    return [min(max(v, a), b) for v, a, b in zip(x, low, high, strict=True)]


def _with_held(q: Matrix, c: Vector, held: dict[int, float]) -> Vector:
    free = [j for j in range(len(c)) if j not in held]
    right = [c[i] - sum(q[i][j] * v for j, v in held.items()) for i in free]
    found = solve([[q[i][j] for j in free] for i in free], right)
    x = [held.get(j, 0.0) for j in range(len(c))]
    for j, value in zip(free, found, strict=True):
        x[j] = value
    return x


def _pulls_inside(q: Matrix, c: Vector, x: Vector, held: dict[int, float], low: Sequence[float]) -> int | None:
    best, most = None, 1e-12
    for j in held:
        slope = dot(q[j], x) - c[j]
        inward = -slope if x[j] == low[j] else slope
        if inward > most:
            best, most = j, inward
    return best
