"""Ways of working on a simulated bed: each gives the number of rounds until every reading is within the limit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from levelling_shop import Shop

from fettlebook.tables.levelling_advice import Advice, Wish, after_changes, as_moves, told
from fettlebook.tables.levelling_learning import Change
from fettlebook.tables.levelling_readings import Round, Turned

LIMIT = 0.02
"""Every reading within [mm/m]."""
DIVISION = 0.02
CAP = 20
"""Rounds after which a start counts as not finished."""
WISH = Wish(DIVISION, LIMIT, 0.1 * DIVISION)


def finished(readings: list[float]) -> bool:
    return max(abs(r) for r in readings) <= LIMIT


def rigid_plane(shop: Shop) -> int:
    """Only pitch and roll are taken out, as if the bed could not bend."""
    half = len(shop.bed.at)
    middle = sum(shop.bed.xs) / len(shop.bed.xs)
    for k in range(CAP):
        r = shop.read()
        if finished(r):
            return k
        pitch, roll = sum(r[:half]) / half, sum(r[half:]) / half
        for j, (x, y) in enumerate(zip(shop.bed.xs, shop.bed.ys, strict=True)):
            shop.turn(j, -pitch * (x - middle) - roll * y)
        shop.end_round()
    return CAP + 1


def along_the_bed(shop: Shop) -> int:
    """The traditional way: pair by pair from one end, cross with one jack, long with both, watching the span left behind.

    A jack found seized is where the work starts from, and its neighbour sets the cross reading.
    """
    pairs = shop.layout.groups
    start = next((n for n, pair in enumerate(pairs) if shop.dead in pair), 0)
    for k in range(CAP):
        if finished(shop.read()):
            return k
        for n, behind in [
            (start, -1),
            *((n, n - 1) for n in range(start + 1, len(pairs))),
            *((n, n + 1) for n in range(start - 1, -1, -1)),
        ]:
            _pair(shop, pairs[n], pairs[behind] if behind >= 0 else None)
        shop.end_round()
    return CAP + 1


def _pair(shop: Shop, pair: list[int], behind: list[int] | None) -> None:
    x = shop.bed.xs[pair[0]]
    free = [j for j in pair if j != shop.dead]
    shop.by_bubble(free[-1:], len(shop.bed.at) + _nearest(shop, x), 0.0)
    if behind is not None:
        shop.by_bubble(pair, _nearest(shop, (x + shop.bed.xs[behind[0]]) / 2), 0.0)


def ends_first(shop: Shop) -> int:
    """A bad order: ends first, middle feet backed off and brought up last."""
    pairs = shop.layout.groups
    middle = pairs[1:-1]
    for pair in middle:
        for j in pair:
            shop.lifts[j] -= 1.0 if j != shop.dead else 0.0
    far = (shop.bed.xs[0] + shop.bed.xs[-1]) / 2
    for k in range(CAP):
        if finished(shop.read()):
            return k
        for pair in (pairs[0], pairs[-1]):
            free = [j for j in pair if j != shop.dead]
            shop.by_bubble(free[-1:], len(shop.bed.at) + _nearest(shop, shop.bed.xs[pair[0]]), 0.0)
        shop.by_bubble(pairs[-1], _nearest(shop, far), 0.0)
        for n, pair in enumerate(middle):
            shop.seat()
            x = shop.bed.xs[pair[0]]
            shop.by_bubble(pair, _nearest(shop, (x + shop.bed.xs[pairs[n][0]]) / 2), 0.0)
            shop.by_bubble([j for j in pair if j != shop.dead][-1:], len(shop.bed.at) + _nearest(shop, x), 0.0)
        shop.end_round()
    return CAP + 1


def _nearest(shop: Shop, x: float) -> int:
    return min(range(len(shop.bed.at)), key=lambda m: abs(shop.bed.at[m] - x))


def advised(shop: Shop, bubble: bool = True, learn: bool = True) -> int:
    """The program's advice: large moves in portions by the screw, the last portion to the bubble target or by angle too.

    A screw that will not turn is met at the first try: what was turned until then is noted, and it stays from then on.
    """
    changes: list[Change] = []
    wish, odd, last = WISH, None, None
    for k in range(CAP):
        r = shop.read()
        if finished(r):
            return k
        now = Round([v / DIVISION for v in r])
        if last and learn:
            change, odd = told(shop.layout, wish, changes, last, now)
            changes.append(change)
        turned: list[Turned] = []
        met = True
        while met and not turned:
            advice = after_changes(shop.layout, wish, changes, odd, now)
            if not advice.steps:
                return CAP + 1
            turned, met = _work(shop, advice, bubble)
            if met:
                wish = replace(WISH, stay=(shop.dead,))
        last = replace(now, turned=tuple(turned))
        shop.end_round()
    return CAP + 1


def _work(shop: Shop, advice: Advice, bubble: bool) -> tuple[list[Turned], bool]:
    """What was turned, and whether a screw was met that will not turn (the round ends there)."""
    turned: list[Turned] = []
    for move in as_moves(advice.steps, bubble):
        if move.foot == shop.dead:
            return turned, True
        if move.row >= 0:
            shop.by_bubble([move.foot], move.row, move.shows)
        else:
            shop.turn(move.foot, move.mm)
        turned.append(Turned(move.foot, move.mm, move.row, move.shows / DIVISION))
    return turned, False


WAYS: dict[str, Callable[[Shop], int]] = {
    "rigid plane": rigid_plane,
    "ends first": ends_first,
    "along the bed": along_the_bed,
    "advice, by angle": lambda shop: advised(shop, bubble=False),
    "advice, to the bubble, nothing learnt": lambda shop: advised(shop, learn=False),
    "advice, to the bubble": advised,
}
