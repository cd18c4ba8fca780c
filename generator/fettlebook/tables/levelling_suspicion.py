"""When the readings did not change as foretold: which single mishap would explain it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from fettlebook.tables.least_squares import Vector, least, times
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_learning import Change, lifts_mm, mixed

PART = 1 / 3
"""Changes that differ from what was foretold by more than this part are looked into. Common practice."""

EXPLAINED = 0.2
"""A mishap is named when it leaves less than this part of the squares of the difference."""

CLEARER = 2.0
"""... and when the next one leaves more than this many times as much; otherwise it is not known which it was."""

FEWEST = 5
"""Readings below which no single one is picked out."""


@dataclass(frozen=True)
class Suspicion:
    """kind: idle (the jack did nothing), backwards (it went the other way), long or cross (those readings have the wrong
    sign), reading (one is wrong), nothing (no reading changed), unknown. part: how far off the changes were, as a part of what was foretold."""

    kind: str
    part: float
    foot: int = -1
    row: int = -1


def suspicion(layout: Layout, changes: Sequence[Change], noise: float) -> Suspicion | None:
    """What to suspect of the last recorded round; None when it went as some floor would let it go."""
    if not changes or not changes[-1].moves:
        return None
    *before, last = changes
    rows = [i for i, v in enumerate(last.found) if v is not None]
    told = _foretold(layout, before, last, noise)
    missed, size = _squares(last.found, told, rows), sum(told[i] ** 2 for i in rows)
    floor = 4 * noise**2 * len(rows)
    if not rows or missed <= PART**2 * size + 4 * floor:
        return None
    part = (missed / size) ** 0.5 if size else 0.0
    kinds = list(_mishaps(layout, before, last, noise, told, rows))
    best = least([left for left, _ in kinds])
    left, (kind, foot, row) = kinds[best]
    next_best = min(other for n, (other, _) in enumerate(kinds) if n != best)
    named = left <= EXPLAINED * missed + floor and left * CLEARER + floor < next_best
    if named:
        return Suspicion(kind, part, foot, row)
    still = all(abs(last.found[i] or 0.0) <= 2 * noise for i in rows)
    return Suspicion("nothing" if still else "unknown", part)


def _foretold(layout: Layout, before: list[Change], change: Change, noise: float) -> Vector:
    """What the floor that explains this and the earlier rounds best would have let the readings do."""
    matrix = mixed(layout, [*before, change], noise)
    return times(matrix, lifts_mm(matrix, change))


def without(change: Change, foot: int, factor: float) -> Change:
    """The round as if that jack had done FACTOR of what was written: 0 nothing, -1 gone the other way."""
    if not factor:
        return replace(change, moves=tuple(m for m in change.moves if m.foot != foot))
    return replace(change, moves=tuple(replace(m, mm=factor * m.mm) if m.foot == foot else m for m in change.moves))


def _mishaps(layout: Layout, before: list[Change], last: Change, noise: float, told: Vector,
             rows: list[int]) -> Iterator[tuple[float, tuple[str, int, int]]]:  # fmt: skip
    """Every single mishap with the squares it would leave."""
    half = len(layout.stations)
    for j in sorted({move.foot for move in last.moves}):
        for kind, factor in (("idle", 0.0), ("backwards", -1.0)):
            if not factor or all(m.row < 0 for m in last.moves if m.foot == j):
                yield (
                    _squares(last.found, _foretold(layout, before, without(last, j, factor), noise), rows),
                    (kind, j, -1),
                )
    for kind, part in (("long", range(half)), ("cross", range(half, 2 * half))):
        turned = [-v if i in part else v for i, v in enumerate(told)]
        yield _squares(last.found, turned, rows), (kind, -1, -1)
    for k in rows if len(rows) >= FEWEST else ():
        yield _squares(last.found, told, [i for i in rows if i != k]), ("reading", -1, k)


def _squares(found: Sequence[float | None], told: Vector, rows: Sequence[int]) -> float:
    return sum(((found[i] or 0.0) - told[i]) ** 2 for i in rows)
