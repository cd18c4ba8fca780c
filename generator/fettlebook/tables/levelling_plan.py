"""The next move: how far each jack goes, in which order, and where the bubble is to stand after it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fettlebook.tables.least_squares import EQUAL, Matrix, Vector, bounded, dot, least, normal, times
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_learning import LEAST_GAIN, open_directions
from fettlebook.tables.levelling_readings import Row

WEIGHT = 0.002
"""What a move in mm weighs against a reading in mm/m (both squared): keeps moves of bending and twisting small."""

EVEN = 1e-5
"""The same for lifting all alike, only to choose the least of all equal answers."""

MIDDLE_MM, CORNER_MM = 0.15, 0.4
"""Most that one round may bend or twist the bed at a middle and at an end foot. Common practice."""

PORTION_MM, MOST_PORTIONS = 0.4, 4
"""A larger move is made in portions of about this, in so many at most. Common practice."""

ALIKE_MOVES = 1e-6
"""Moves closer than this part are as large as one another: the first foot comes first."""

TRIFLE, TRIFLE_MM = 0.5, 0.02
"""Smaller moves than this many mm are left out while what is left stays within this part of the limit."""

SEEN = 0.5
"""A target is brought into sight by smaller last portions when less than this part of the vial is left in the end."""

LEAST_MM = 0.002
"""Moves below this are left out: no hand and no bubble sets them."""

FEW_LEFT = 0.75
"""Part of the limit that may be left when few jacks are wanted."""


@dataclass(frozen=True)
class Bounds:
    """How far each foot may go in this round [mm], low <= 0 <= high; 0 and 0 for one that stays."""

    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True)
class Step:
    """One jack's move: so many equal portions by the screw, then the last one [mm] by the bubble (or, with row -1 where
    no reading shows it, by the screw too). row: the reading to watch; before, after: that reading around the last
    portion; expected: every reading after it [mm/m]."""

    foot: int
    mm: float
    by_screw: int
    last_mm: float
    row: int
    before: float
    after: float
    expected: tuple[float | None, ...]

    @property
    def screw_mm(self) -> float:
        """Each portion by the screw [mm]."""
        return (self.mm - self.last_mm) / self.by_screw if self.by_screw else 0.0


def off_level(readings: Row, goal: str) -> Row:
    """What is to be brought to nothing [mm/m]: the readings, or for goal untwisted what sets each apart from its mean."""
    if goal == "horizontal":
        return list(readings)
    half = len(readings) // 2
    out: Row = []
    for part in (readings[:half], readings[half:]):
        read = [v for v in part if v is not None]
        mean = sum(read) / len(read) if read else 0.0
        out += [None if v is None else v - mean for v in part]
    return out


def worst(readings: Row, goal: str) -> float:
    """The largest departure [mm/m], without its sign."""
    return max(abs(v) for v in off_level(readings, goal) if v is not None)


def moves_mm(layout: Layout, matrix: Matrix, readings: Row, bounds: Bounds, goal: str = "horizontal",
             prefer: str = "small", limit: float = 0.02) -> Vector:  # fmt: skip
    """The move of every foot [mm] that leaves least of the readings.

        least of |r + A d|^2 + WEIGHT |d - mean d|^2,   low <= d <= high

    For goal untwisted a pitch and a roll of the whole are free. prefer: small (least moves), few (least jacks), raise
    (nothing is lowered).
    """
    d = _least(layout, matrix, readings, bounds, goal)
    if prefer == "few":
        d = _fewer(layout, matrix, readings, bounds, goal, limit, d)
    if prefer == "raise":
        d = _raised(layout, matrix, readings, bounds, goal, d)
        bounds = Bounds((0.0,) * len(d), bounds.high)
    kept = zip(gentle(layout, d, bounds), bounds.low, bounds.high, strict=True)
    d = [0.0 if abs(v) < LEAST_MM else min(max(v, a), b) for v, a, b in kept]
    return _without_trifles(matrix, readings, d, goal, limit)


def _without_trifles(matrix: Matrix, readings: Row, d: Vector, goal: str, limit: float) -> Vector:
    """The move without what is not worth a turn: the least first, while the worst left stays far inside the limit."""
    for _ in range(len(d)):
        there = [j for j, v in enumerate(d) if 0 < abs(v) < TRIFLE_MM]
        if not there:
            break
        j = there[least([abs(d[j]) for j in there], ALIKE_MOVES)]
        left_out = [0.0 if i == j else v for i, v in enumerate(d)]
        if worst(_after(matrix, readings, left_out), goal) > TRIFLE * limit:
            break
        d = left_out
    return d


def _least(layout: Layout, matrix: Matrix, readings: Row, bounds: Bounds, goal: str) -> Vector:
    n, half = len(layout.feet), len(layout.stations)
    free = int(goal == "untwisted")
    seen = [i for i, v in enumerate(readings) if v is not None]
    tall = [matrix[i] + [float(i < half), float(i >= half)] * free for i in seen]
    q, c = normal(tall, [-(readings[i] or 0.0) for i in seen])
    for i in range(n):
        for j in range(n):
            q[i][j] -= WEIGHT / n
        q[i][i] += WEIGHT + EVEN
    for j in range(n, n + 2 * free):
        q[j][j] += EVEN / 1e6
    wide = [1e9] * (2 * free)
    return bounded(q, c, [*bounds.low, *(-w for w in wide)], [*bounds.high, *wide])[:n]


def _fewer(layout: Layout, matrix: Matrix, readings: Row, bounds: Bounds, goal: str, limit: float, d: Vector) -> Vector:
    """Jack after jack is left out while what is left stays well inside the limit (or where it was) and moves grow little."""
    left = max(worst(_after(matrix, readings, d), goal), FEW_LEFT * limit) * (1 + EQUAL)
    most = 1.3 * sum(abs(v) for v in d)
    while True:
        best = None
        for j in range(len(d)):
            if d[j]:
                low, high = list(bounds.low), list(bounds.high)
                low[j] = high[j] = 0.0
                tried = Bounds(tuple(low), tuple(high))
                e = [0.0 if abs(v) < LEAST_MM else v for v in _least(layout, matrix, readings, tried, goal)]
                size = sum(abs(v) for v in e)
                if (
                    size <= most
                    and worst(_after(matrix, readings, e), goal) <= left
                    and (best is None or size < best[0] * (1 - EQUAL))
                ):
                    best = size, e, tried
        if best is None:
            return d
        _, d, bounds = best


def _raised(layout: Layout, matrix: Matrix, readings: Row, bounds: Bounds, goal: str, d: Vector) -> Vector:
    """The same by raising alone: all lifted alike if every foot may, else as well as raising can."""
    up = [v - min(d) for v in d]
    if all(a < b for a, b in zip(bounds.low, bounds.high, strict=True)) and all(
        v <= b for v, b in zip(up, bounds.high, strict=True)
    ):
        return up
    return _least(layout, matrix, readings, Bounds((0.0,) * len(d), bounds.high), goal)


def bending_mm(layout: Layout, d: Vector) -> Vector:
    """The part of a move that bends or twists the bed: what is left after the best lift, pitch and roll."""
    return times(open_directions(layout), d)


def gentle(layout: Layout, d: Vector, bounds: Bounds) -> Vector:
    """The move with its bending part cut to what one round may ask of middle and end feet; feet that stay, stay."""
    bend = bending_mm(layout, d)
    share = bend_share(layout, bend)
    if share >= 1:
        return d
    less = [v - (1 - share) * b for v, b in zip(d, bend, strict=True)]
    held = [j for j in range(len(d)) if bounds.low[j] == bounds.high[j]]
    if held:
        less = [v - less[held[0]] for v in less]
    within = all(
        a - LEAST_MM / 2 <= v <= b + LEAST_MM / 2 for v, a, b in zip(less, bounds.low, bounds.high, strict=True)
    )
    return less if within else [share * v for v in d]


def bend_share(layout: Layout, bend: Vector) -> float:
    """How much of a bending pattern one round may ask for, 1 for all of it."""
    ends = {*layout.groups[0], *layout.groups[-1]}
    return min((CORNER_MM if j in ends else MIDDLE_MM) / abs(b) if b else 1.0 for j, b in enumerate(bend))


def _after(matrix: Matrix, readings: Row, d: Vector) -> Row:
    return [None if v is None else v + dot(row, d) for v, row in zip(readings, matrix, strict=True)]


def steps(matrix: Matrix, readings: Row, d: Vector, in_sight: float) -> list[Step]:
    """The moves in order, largest first, each with the bubble that shows it best and what that is to show in the end.

    Large moves are made in portions, one jack after the other and then again, so that no foot is left hanging; all but
    the last by the screw, the last by the bubble. That one is small enough to keep every target in sight on the vial.

    in_sight   what the vial shows to either side [mm/m]
    """
    order: list[int] = []
    while len(order) < sum(v != 0 for v in d):
        order.append(least([0.0 if j in order else -abs(v) for j, v in enumerate(d)], ALIKE_MOVES))
    portions = min(MOST_PORTIONS, max((int(abs(v) / PORTION_MM) + 1 for v in d), default=1))
    by_bubble = 1 / portions
    found = _sequence(matrix, readings, d, order, portions - 1, by_bubble)
    less = _share_in_sight(found, _after(matrix, readings, d), by_bubble, in_sight)
    if less < by_bubble:
        found = _sequence(matrix, readings, d, order, max(portions - 1, 1), less)
    return [_in_sight(step, in_sight) for step in found]


def _share_in_sight(found: list[Step], last: Row, share: float, in_sight: float) -> float:
    """The largest part of the moves that can be left to the bubble with every target in sight that can be in sight.

    A target is the reading that will be left in the end and, in proportion to that part, what is still to be turned.
    last    the readings when all is done
    share   the part with which the targets in FOUND were worked out
    """
    most = 1.0
    for step in found:
        left = _at(last, step.row)
        if step.row >= 0 and abs(step.after) > in_sight and abs(left) < SEEN * in_sight:
            most = min(most, (in_sight - abs(left)) / abs(step.after - left))
    return most * share


def _in_sight(step: Step, in_sight: float) -> Step:
    """The step; by the screw to its end where so much is left that its bubble would stand out of sight."""
    if step.row < 0 or abs(step.after) <= in_sight * (1 + EQUAL):
        return step
    return replace(step, row=-1, before=0.0, after=0.0)


def _sequence(matrix: Matrix, readings: Row, d: Vector, order: list[int], by_screw: int, share: float) -> list[Step]:
    """The steps when that share of each move is left to the bubble and the rest made in so many portions by the screw."""
    now = _after(matrix, readings, [v * (1 - share) for v in d])
    found = []
    for j in order:
        row = watched(matrix, readings, j)
        then = _after(matrix, now, [d[j] * share if i == j else 0.0 for i in range(len(d))])
        found.append(Step(j, d[j], by_screw, d[j] * share, row, _at(now, row), _at(then, row), tuple(then)))
        now = then
    return found


def _at(readings: Row, row: int) -> float:
    return (readings[row] or 0.0) if row >= 0 else 0.0


def watched(matrix: Matrix, readings: Row, j: int) -> int:
    """The reading that jack j changes most, of those taken; -1 if it changes none enough to be watched."""
    best, most = -1, LEAST_GAIN
    for i, value in enumerate(readings):
        gain = abs(matrix[i][j])
        if value is not None and gain > most * (1 + EQUAL):
            best, most = i, gain
    return best


def screw(mm: float, pitch_mm: float) -> tuple[int, int, float]:
    """A height as whole turns, flats (sixths of a turn) and the degrees left, for a screw of this pitch.

    >>> screw(-2.5, 2.0)
    (1, 1, 30.0)
    """
    sixths = abs(mm) / pitch_mm * 6
    whole = int(sixths + 1e-9)
    return whole // 6, whole % 6, max(0.0, (sixths - whole) * 60)
