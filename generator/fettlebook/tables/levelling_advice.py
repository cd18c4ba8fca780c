"""One round of levelling from beginning to end: log, model, checks of what was read, next move, verdict."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from fettlebook.tables.least_squares import Matrix, least
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_learning import Change, Move, learned, lifts_mm
from fettlebook.tables.levelling_plan import Bounds, Step, moves_mm, off_level, steps, worst
from fettlebook.tables.levelling_readings import Round, Row
from fettlebook.tables.levelling_shape import contrary, doubtful
from fettlebook.tables.levelling_suspicion import Suspicion, suspicion

LITTLE = 0.9
"""A move that leaves more than this part of the squares, and the worst as bad, is no use."""


SENSELESS = 0.5
"""Nothing is turned on readings of which more than this part (of the squares) is nothing that jacks can make."""


@dataclass(frozen=True)
class Wish:
    """What is wanted of the bed, and with which level. limit, noise in mm/m; zero is the level's own error [mm/m];
    vial: divisions that it shows to either side."""

    division: float
    limit: float
    noise: float
    zero: float = 0.0
    goal: str = "horizontal"
    prefer: str = "small"
    stay: tuple[int, ...] = ()
    vial: float = 10.0


@dataclass(frozen=True)
class Advice:
    """What the program says after a set of readings. Readings and expected in mm/m; verdict: loose, done, edge,
    contrary, stuck or go on."""

    verdict: str
    readings: Row
    worst_row: int
    worst: float
    steps: tuple[Step, ...] = ()
    expected: Row = field(default_factory=list)
    doubted: int = -1
    contrary: float = 0.0
    suspicion: Suspicion | None = None
    best: float = 0.0


def advise(layout: Layout, wish: Wish, log: Sequence[Round], now: Round) -> Advice:
    """The advice for the readings in NOW, after the rounds in LOG."""
    changes: list[Change] = []
    odd = None
    for n, earlier in enumerate(log):
        change, odd = told(layout, wish, changes, earlier, log[n + 1] if n + 1 < len(log) else now)
        changes.append(change)
    return after_changes(layout, wish, changes, odd, now)


def told(
    layout: Layout, wish: Wish, changes: list[Change], earlier: Round, after: Round
) -> tuple[Change, Suspicion | None]:
    """What was turned in a round and what changed, and what to suspect of it; where the log does not say what was turned,
    the advice of that round. A round that nothing explains teaches nothing."""
    change = _change(layout, wish, changes, earlier, after)
    odd = suspicion(layout, [*changes, change], wish.noise)
    if odd and odd.kind == "reading":
        change = replace(change, found=tuple(None if i == odd.row else v for i, v in enumerate(change.found)))
    elif odd:
        change = replace(change, found=(None,) * len(change.found))
    return change, odd


def _change(layout: Layout, wish: Wish, changes: list[Change], earlier: Round, after: Round) -> Change:
    start = true_readings(earlier, wish)
    if earlier.turned is None:
        moves = as_moves(after_changes(layout, wish, changes, None, earlier).steps)
    else:
        moves = tuple(Move(t.foot, t.mm, t.row, t.shows * wish.division - wish.zero) for t in earlier.turned)
    pairs = zip(start, true_readings(after, wish), strict=True)
    found = (None if a is None or b is None or after.loose else b - a for a, b in pairs)
    return Change(tuple(start), moves, tuple(found))


def true_readings(read: Round, wish: Wish) -> Row:
    """Readings in mm/m, without the level's own error."""
    return [None if v is None else v * wish.division - wish.zero for v in read.readings]


def as_moves(advised: Sequence[Step], bubble: bool = True) -> tuple[Move, ...]:
    """The steps as they are done: portion after portion by the screw, the last by the bubble where there is one."""
    rounds = max((step.by_screw for step in advised), default=0)
    turned = [Move(s.foot, s.screw_mm) for _ in range(rounds) for s in advised]
    last = [Move(s.foot, 0.0, s.row, s.after) if bubble and s.row >= 0 else Move(s.foot, s.last_mm) for s in advised]
    return (*turned, *last)


def after_changes(layout: Layout, wish: Wish, changes: list[Change], odd: Suspicion | None, now: Round) -> Advice:
    """The advice for the readings in NOW after these changes."""
    readings = true_readings(now, wish)
    off = off_level(readings, wish.goal)
    row = least([1.0 if v is None else -abs(v) for v in off])
    here = Advice("loose", readings, row, abs(off[row] or 0.0), expected=readings, suspicion=odd)
    if now.loose:
        return here
    matrix = learned(layout, changes, wish.noise)
    if here.worst <= wish.limit:
        return replace(here, verdict="done" if here.worst <= wish.limit - wish.noise else "edge")
    return _turn(layout, wish, changes, matrix, here)


def _turn(layout: Layout, wish: Wish, changes: list[Change], matrix: Matrix, here: Advice) -> Advice:
    spoken_of = max(2 * wish.division, 8 * wish.noise)
    doubt = doubtful(layout, matrix, here.readings, spoken_of)
    readings = [None if i == doubt else v for i, v in enumerate(here.readings)]
    if doubt < 0:
        part = contrary(layout, matrix, readings, off_level(readings, wish.goal), spoken_of)
        here = replace(here, contrary=part)
        if part > SENSELESS:
            return replace(here, verdict="contrary")
    bounds = bounds_mm(layout, matrix, changes, wish.stay)
    if not any(a < b for a, b in zip(bounds.low, bounds.high, strict=True)):
        return replace(here, verdict="stuck", doubted=doubt, best=here.worst)
    d = moves_mm(layout, matrix, readings, bounds, wish.goal, wish.prefer, wish.limit)
    done = tuple(steps(matrix, readings, d, wish.vial * wish.division))
    expected: Row = list(done[-1].expected) if done else readings
    best = worst(expected, wish.goal) if any(v is not None for v in expected) else 0.0
    hopeless = not done or (
        best > here.worst - wish.noise and squares(expected, wish.goal) > LITTLE * squares(readings, wish.goal)
    )
    return replace(here, verdict="stuck" if hopeless else "go on", steps=() if hopeless else done,
                   expected=here.readings if hopeless else expected, doubted=doubt,
                   best=min(best, here.worst) if hopeless else best)  # fmt: skip


def squares(readings: Row, goal: str) -> float:
    """The sum of the squares of all departures."""
    return sum(v * v for v in off_level(readings, goal) if v is not None)


def bounds_mm(layout: Layout, matrix: Matrix, changes: Sequence[Change], stay: tuple[int, ...]) -> Bounds:
    """How far each foot may still go: its travel less what the log says it has gone; nothing for feet that stay."""
    gone = [0.0] * len(layout.feet)
    for change in changes:
        gone = [g + s for g, s in zip(gone, lifts_mm(matrix, change), strict=True)]
    low, high = [], []
    for j, foot in enumerate(layout.feet):
        moves = foot.jack and j not in stay
        low.append(-max(foot.down_mm + gone[j], 0.0) if moves else 0.0)
        high.append(max(foot.up_mm - gone[j], 0.0) if moves else 0.0)
    return Bounds(tuple(low), tuple(high))
