"""Searching a drawer of change wheels for the trains nearest to a ratio.

A train is the tuple of its wheels from the spindle to the leadscrew: (driver, driven) or (first driver, first driven,
second driver, second driven), where the two wheels in the middle sit on one stud.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from math import inf

Train = tuple[int, ...]

EXACT = 1e-10
"""A train whose ratio is off by less than this is exact: the rest is the rounding of the arithmetic itself."""


@dataclass(frozen=True)
class Stand:
    """What the machine leaves room for.

    clearance     teeth by which a pair must outreach the wheel that passes the next shaft (15: common practice)
    centres_mm    from the first wheel's shaft to the leadscrew [mm]; None where it was not measured
    module_mm     of the wheels [mm]; needed with centres_mm
    mounted       the train on the machine now
    """

    clearance: int = 15
    centres_mm: float | None = None
    module_mm: float | None = None
    mounted: Train = ()


@dataclass(frozen=True)
class Found:
    """A train with its error (ratio over the wanted ratio, less 1), whether it fits, and how many wheels to put on."""

    train: Train
    error: float
    fits: bool
    idler: int | None
    changes: int

    def rank(self) -> tuple[object, ...]:
        """Order: those that fit, smallest error, fewest wheels to put on, larger wheels, smaller sum."""
        return (not self.fits, abs(self.error), self.changes, -min(self.train), sum(self.train), self.train)


def train_ratio(train: Train) -> float:
    """Turns of the leadscrew for one turn of the first wheel: product of the drivers over product of the driven.

    train   teeth, from the spindle: driver, driven, driver, driven
    gives   leadscrew turns over spindle turns

    Source: definition

    >>> train_ratio((50, 100, 127, 60)) * 2          # 12 per inch on a 2 mm leadscrew
    2.1166666666666667
    """
    top, bottom = 1, 1
    for driver, driven in zip(train[::2], train[1::2], strict=True):
        top, bottom = top * driver, bottom * driven
    return top / bottom


def compound_fits(train: Train, stand: Stand) -> bool:
    """Whether four wheels go on without a wheel fouling the next shaft.

        a + b >= c + clearance   and   c + d >= b + clearance

    With the centres known, the two centre distances and the centres must also close a triangle.

    Source: common-practice

    >>> compound_fits((50, 100, 127, 60), Stand()), compound_fits((20, 25, 127, 60), Stand())
    (True, False)
    """
    a, b, c, d = train
    room = a + b >= c + stand.clearance and c + d >= b + stand.clearance
    return room and _spans((a + b), (c + d), stand)


def _spans(first: int, second: int, stand: Stand) -> bool:
    """Whether a stud can stand so that both pairs (sums of teeth) mesh, with these centres."""
    if stand.centres_mm is None or stand.module_mm is None:
        return True
    r, s = first * stand.module_mm / 2, second * stand.module_mm / 2
    return abs(r - s) < stand.centres_mm < r + s


def idler_for(train: Train, gears: Sequence[int], stand: Stand) -> int | None:
    """The smallest other wheel of the drawer that joins a simple train's two wheels; None when none does."""
    a, b = train
    spare = Counter(gears) - Counter(train)
    if stand.centres_mm is not None and stand.module_mm is not None:
        if (a + b + 2) * stand.module_mm / 2 >= stand.centres_mm:
            return None
        return next((i for i in sorted(spare) if _spans(a + i, i + b, stand)), None)
    return next(iter(sorted(spare)), None)


def changes(train: Train, mounted: Train) -> int:
    """How many wheels of a train are not on the machine already, each in its place.

    >>> changes((40, 80), (40, 60)), changes((40, 80, 50, 60), (40, 80))
    (1, 3)
    """
    places, there = _places(train), _places(mounted)
    return sum(there.get(place) != teeth for place, teeth in places.items())


def _places(train: Train) -> dict[int, int]:
    """Wheels by place: 0 on the first shaft, 1 and 2 on the stud, 3 on the leadscrew."""
    return dict(zip((0, 3) if len(train) == 2 else range(4), train, strict=False))


def nearest_trains(ratio: float, gears: Sequence[int], compound: bool, stand: Stand, count: int) -> list[Found]:
    """Every train that could be among the COUNT best, best first; exact ones all, since they tie.

    ratio     leadscrew turns over spindle turns, above 0
    gears     teeth of the wheels in the drawer, a wheel twice when there are two of it
    compound  whether four wheels may be used

    The products of all pairs are sorted once. For each pair of drivers the fitting driven pairs then lie next to one
    place in that list, and the walk outwards ends where the error passes the worst of the best COUNT so far.
    """
    found: list[Found] = []
    best: list[float] = []

    def keep(one: Found) -> None:
        found.append(one)
        if one.fits:
            insort(best, abs(one.error))
            del best[count:]

    def worst() -> float:
        return best[-1] if len(best) == count else inf

    _walk_simple(ratio, gears, stand, keep, worst)
    if compound:
        _walk_pairs(ratio, gears, stand, keep, worst)
    limit = worst()
    return sorted((one for one in found if abs(one.error) <= limit), key=Found.rank)


def _error(top: int, bottom: int, ratio: float) -> float:
    error = top / bottom / ratio - 1
    return 0.0 if abs(error) < EXACT else error


def _walk_simple(
    ratio: float, gears: Sequence[int], stand: Stand, keep: Callable[[Found], None], worst: Callable[[], float]
) -> None:
    """Hand every simple train that may count to KEEP."""
    many = Counter(gears)
    for a, b in product(sorted(many), repeat=2):
        error = _error(a, b, ratio)
        if (a != b or many[a] > 1) and abs(error) <= worst():
            idler = idler_for((a, b), gears, stand)
            fits = idler is not None or stand.centres_mm is None
            keep(Found((a, b), error, fits, idler, changes((a, b), stand.mounted)))


def _walk_pairs(
    ratio: float, gears: Sequence[int], stand: Stand, keep: Callable[[Found], None], worst: Callable[[], float]
) -> None:
    """Hand every compound train that may count to KEEP, nearest first for each pair of drivers."""
    pairs = sorted({(p * q, p, q) for p, q in combinations(sorted(gears), 2)})
    products = [pair[0] for pair in pairs]
    for top, a, c in pairs:
        start = bisect_left(products, top / ratio)
        for way, n in ((1, start), (-1, start - 1)):
            while 0 <= n < len(pairs):
                bottom, b, d = pairs[n]
                error = _error(top, bottom, ratio)
                if abs(error) > worst():
                    break
                if a not in (b, d) and c not in (b, d):
                    keep(_best_order(a, c, b, d, error, stand))
                n += way


def _best_order(a: int, c: int, b: int, d: int, error: float, stand: Stand) -> Found:
    """Of the four ways to hang two drivers and two driven wheels, the one that fits with the fewest changes."""
    orders = {(a, b, c, d), (a, d, c, b), (c, b, a, d), (c, d, a, b)}
    ranked = min((not compound_fits(order, stand), changes(order, stand.mounted), order) for order in orders)
    return Found(ranked[2], error, not ranked[0], None, ranked[1])
