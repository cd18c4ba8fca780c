"""One round of levelling from beginning to end: log, model, checks of what was read, next move, verdict."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from fettlebook.tables.least_squares import Matrix
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_learning import Change, learned, lifts_mm
from fettlebook.tables.levelling_plan import Bounds, Step, moves_mm, off_level, steps, worst
from fettlebook.tables.levelling_readings import Round, Row, Turned
from fettlebook.tables.levelling_shape import doubtful
from fettlebook.tables.levelling_suspicion import Suspicion, suspicion


@dataclass(frozen=True)
class Wish:
    """What is wanted of the bed, and with which level. limit, noise in mm/m; zero is the level's own error [mm/m]."""

    division: float
    limit: float
    noise: float
    zero: float = 0.0
    goal: str = "horizontal"
    prefer: str = "small"
    stay: tuple[int, ...] = ()


@dataclass(frozen=True)
class Advice:
    """What the program says after a set of readings. Readings and expected in mm/m; verdict: loose, done, edge,
    stuck or go on."""

    verdict: str
    readings: Row
    worst_row: int
    worst: float
    steps: tuple[Step, ...] = ()
    expected: Row = field(default_factory=list)
    doubted: int = -1
    suspicion: Suspicion | None = None
    best: float = 0.0


def advise(layout: Layout, wish: Wish, log: Sequence[Round], now: Round) -> Advice:
    """The advice for the readings in NOW, after the rounds in LOG."""
    changes = told(layout, wish, log, now)
    return _advise(layout, wish, changes, now)


def told(layout: Layout, wish: Wish, log: Sequence[Round], now: Round) -> list[Change]:
    """What was turned and what changed, round by round; where the log does not say, the advice of that round."""
    changes: list[Change] = []
    for n, earlier in enumerate(log):
        after = log[n + 1] if n + 1 < len(log) else now
        turned = earlier.turned
        if turned is None:
            turned = as_turned(_advise(layout, wish, changes, earlier).steps, wish.division)
        found = [
            None if a is None or b is None else (b - a) * wish.division
            for a, b in zip(earlier.readings, after.readings, strict=True)
        ]
        changes.append(Change(turned, found if not after.loose else [None] * len(found)))
    return changes


def as_turned(advised: Sequence[Step], division: float) -> tuple[Turned, ...]:
    """The steps as they are done: by the bubble where there is one to watch."""
    return tuple(
        Turned(s.foot, 0.0, s.row, (s.after - s.before) / division) if s.row >= 0 else Turned(s.foot, s.mm)
        for s in advised
    )


def _advise(layout: Layout, wish: Wish, changes: list[Change], now: Round) -> Advice:
    readings: Row = [None if v is None else v * wish.division - wish.zero for v in now.readings]
    off = off_level(readings, wish.goal)
    row = max((i for i, v in enumerate(off) if v is not None), key=lambda i: abs(off[i] or 0.0))
    here = Advice("loose", readings, row, abs(off[row] or 0.0), expected=readings)
    if now.loose:
        return here
    matrix = learned(layout, changes, wish.division, wish.noise)
    if here.worst <= wish.limit:
        return replace(here, verdict="done" if here.worst <= wish.limit - wish.noise else "edge")
    return _turn(layout, wish, changes, matrix, here)


def _turn(layout: Layout, wish: Wish, changes: list[Change], matrix: Matrix, here: Advice) -> Advice:
    doubt = doubtful(layout, matrix, here.readings, max(2 * wish.division, 8 * wish.noise))
    readings = [None if i == doubt else v for i, v in enumerate(here.readings)]
    odd = suspicion(layout, changes, wish.division, wish.noise)
    stay = {*wish.stay, *([odd.foot] if odd and odd.kind == "idle" else [])}
    bounds = bounds_mm(layout, matrix, changes, wish.division, stay)
    if not any(a < b for a, b in zip(bounds.low, bounds.high, strict=True)):
        return replace(here, verdict="stuck", suspicion=odd, doubted=doubt, best=here.worst)
    d = moves_mm(layout, matrix, readings, bounds, wish.goal, wish.prefer, wish.limit)
    done = tuple(steps(matrix, readings, d))
    expected: Row = list(done[-1].expected) if done else readings
    best = worst(expected, wish.goal) if any(v is not None for v in expected) else 0.0
    hopeless = not done or best > here.worst - wish.noise
    return replace(here, verdict="stuck" if hopeless else "go on", steps=() if hopeless else done,
                   expected=here.readings if hopeless else expected, doubted=doubt, suspicion=odd, best=best)  # fmt: skip


def bounds_mm(layout: Layout, matrix: Matrix, changes: Sequence[Change], division: float, stay: set[int]) -> Bounds:
    """How far each foot may still go: its travel less what the log says it has gone; nothing for feet that stay."""
    gone = [0.0] * len(layout.feet)
    for change in changes:
        gone = [g + s for g, s in zip(gone, lifts_mm(matrix, change.turned, division), strict=True)]
    low, high = [], []
    for j, foot in enumerate(layout.feet):
        moves = foot.jack and j not in stay
        low.append(-max(foot.down_mm + gone[j], 0.0) if moves else 0.0)
        high.append(max(foot.up_mm - gone[j], 0.0) if moves else 0.0)
    return Bounds(tuple(low), tuple(high))
