"""Differential indexing: the plate itself is geared to the spindle and turns a little while the crank is turned."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import permutations

WIDEST = 6
"""Gear ratios beyond this are not looked for: the usual gears give at most 100/24 in a simple train, and compound trains
that step the plate up further run stiffly."""


@dataclass(frozen=True)
class Gears:
    """Gears between spindle and worm shaft. `stud` is empty for a simple train, else (driven by the spindle, driving the worm)."""

    spindle: int
    stud: tuple[int, ...]
    worm: int


@dataclass(frozen=True)
class Setting:
    """A differential setting: so many holes of a circle at each move, the signed gear ratio, gears and idlers."""

    holes: int
    circle: int
    ratio: Fraction
    gears: Gears
    idlers: int


def gear_ratio(divisions: int, ratio: int, holes: int, circle: int) -> Fraction:
    """Gear ratio, spindle over worm shaft, that corrects a move of the crank to the divisions wanted.

        x = ratio - divisions x holes / circle

    divisions   wanted, whole
    ratio       turns of the crank for one turn of the spindle (40)
    holes       in all, for one move
    gives       positive: the plate must turn with the crank; negative: against it; zero: plain indexing

    Source: milling-treatise, page 57

    >>> gear_ratio(271, 40, 3, 21), gear_ratio(319, 40, 4, 29)
    (Fraction(9, 7), Fraction(-4, 1))
    """
    return ratio - divisions * Fraction(holes, circle)


def idler_count(ratio: Fraction, compound: bool) -> int:
    """Idlers that give the plate its direction, on a head where a simple train with one idler turns plate and crank alike.

        simple: 1 with the crank, 2 against it;   compound: 0 and 1

    Source: milling-treatise, page 57

    >>> idler_count(Fraction(9, 7), False), idler_count(Fraction(-40, 11), True)
    (1, 1)
    """
    return (0 if compound else 1) + (1 if ratio < 0 else 0)


@cache
def gear_trains(gears: tuple[int, ...]) -> dict[Fraction, Gears]:
    """The train to use for every ratio that these gears give: simple before compound, then the smallest sum of teeth."""
    found: dict[Fraction, tuple[tuple[int, ...], Gears]] = {}
    for spindle, worm in permutations(gears, 2):
        _prefer(found, Fraction(spindle, worm), Gears(spindle, (), worm))
    for spindle, driven, driver, worm in set(permutations(gears, 4)):
        if spindle not in (driven, worm) and driver not in (driven, worm):
            _prefer(found, Fraction(spindle * driver, driven * worm), Gears(spindle, (driven, driver), worm))
    return {ratio: train for ratio, (_, train) in found.items()}


def _prefer(found: dict[Fraction, tuple[tuple[int, ...], Gears]], ratio: Fraction, train: Gears) -> None:
    key = (len(train.stud), train.spindle + sum(train.stud) + train.worm, -train.spindle, *train.stud, train.worm)
    if ratio not in found or key < found[ratio][0]:
        found[ratio] = (key, train)


def differential_settings(
    divisions: int, ratio: int, circles: Iterable[int], gears: Sequence[int], moves: int = 8
) -> list[Setting]:
    """Settings for a number of divisions that no circle gives plainly: simple trains first, then the smallest gear ratio.

    moves   so many different moves of the crank are shown, each on every circle that has it
    """
    trains = gear_trains(tuple(gears))
    found = [
        Setting(holes, circle, x, trains[abs(x)], idler_count(x, bool(trains[abs(x)].stud)))
        for circle in sorted(set(circles))
        for holes in _near_holes(divisions, ratio, circle)
        if (x := gear_ratio(divisions, ratio, holes, circle)) and abs(x) in trains
    ]
    found.sort(key=lambda one: (len(one.gears.stud), abs(one.ratio), -one.ratio, one.circle))
    kept = list(dict.fromkeys(one.ratio for one in found))[:moves]
    return [one for one in found if one.ratio in kept]


def _near_holes(divisions: int, ratio: int, circle: int) -> range:
    """Counts of holes for one move whose gear ratio is not beyond the widest."""
    low = -(-(ratio - WIDEST) * circle // divisions)
    return range(max(1, low), (ratio + WIDEST) * circle // divisions + 1)
