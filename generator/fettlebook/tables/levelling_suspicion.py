"""When the readings did not change as foretold: which single mishap would explain it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fettlebook.tables.least_squares import Matrix, Vector, times
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_learning import Change, learned, lifts_mm
from fettlebook.tables.levelling_readings import Row

PART = 1 / 3
"""Changes that differ from what was foretold by more than this part are looked into. Common practice."""

EXPLAINED = 0.2
"""A mishap is named when it leaves less than this part of the squares of the difference."""


@dataclass(frozen=True)
class Suspicion:
    """kind: idle (the jack did nothing), backwards (it went the other way), long or cross (those readings have the wrong
    sign), reading (one is wrong), unknown. part: how far off the changes were, as a part of what was foretold."""

    kind: str
    part: float
    foot: int = -1
    row: int = -1


def suspicion(layout: Layout, changes: Sequence[Change], division: float, noise: float) -> Suspicion | None:
    """What to suspect after the last recorded round; None when it went as foretold."""
    if not changes or not changes[-1].turned:
        return None
    last = changes[-1]
    matrix = learned(layout, changes[:-1], division, noise)
    lifts = lifts_mm(matrix, last.turned, division)
    told = times(matrix, lifts)
    rows = [i for i, v in enumerate(last.found) if v is not None]
    missed = _squares(last.found, told, rows)
    size = sum(told[i] ** 2 for i in rows)
    floor = 4 * noise**2 * len(rows)
    if not rows or missed <= PART**2 * size + 4 * floor:
        return None
    part = (missed / size) ** 0.5 if size else 0.0
    kinds = sorted(_mishaps(layout, matrix, lifts, last.found, rows), key=lambda pair: round(pair[0], 12))
    if kinds and kinds[0][0] <= EXPLAINED * missed + floor:
        kind, foot, row = kinds[0][1]
        return Suspicion(kind, part, foot, row)
    return Suspicion("unknown", part)


def _mishaps(
    layout: Layout, matrix: Matrix, lifts: Vector, found: Row, rows: list[int]
) -> Iterator[tuple[float, tuple[str, int, int]]]:
    """Every single mishap with the squares it would leave."""
    half = len(layout.stations)
    for j, lift in enumerate(lifts):
        for kind, factor in (("idle", 0.0), ("backwards", -1.0)):
            if lift:
                other = [factor * v if i == j else v for i, v in enumerate(lifts)]
                yield _squares(found, times(matrix, other), rows), (kind, j, -1)
    told = times(matrix, lifts)
    for kind, part in (("long", range(half)), ("cross", range(half, 2 * half))):
        turned = [-v if i in part else v for i, v in enumerate(told)]
        yield _squares(found, turned, rows), (kind, -1, -1)
    for k in rows:
        yield _squares(found, told, [i for i in rows if i != k]), ("reading", -1, k)


def _squares(found: Row, told: Vector, rows: Sequence[int]) -> float:
    return sum(((found[i] or 0.0) - told[i]) ** 2 for i in rows)
