"""How much faster the search for change wheels is than trying every train, as a ratio that holds on any machine.

    python benchmarks/change_gears.py

Tries an exact thread and one that no train cuts exactly, on a drawer of twenty wheels, checks that both ways find the same best
error, and prints the times and their ratio.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from itertools import permutations

from fettlebook.tables.gear_trains import EXACT, Stand, compound_fits, nearest_trains
from fettlebook.tables.gearing import USUAL_GEARS

LONGEST_S, LEAST_RATIO = 0.3, 5.0
"""A search longer than this, or hardly faster than trying everything, is a fault."""

CASES = {"3 mm on 6 TPI (exact)": 3 / (25.4 / 6), "11.5 TPI on 6 mm (no exact train)": 25.4 / 11.5 / 6}


def by_enumeration(ratio: float, gears: tuple[int, ...], stand: Stand) -> float:
    """The smallest error of any train that fits, by trying every order of two and of four wheels."""
    best = min(abs(a / b / ratio - 1) for a, b in permutations(gears, 2))
    for train in permutations(gears, 4):
        a, b, c, d = train
        if compound_fits(train, stand):
            best = min(best, abs(a * c / (b * d) / ratio - 1))
    return best if best >= EXACT else 0.0


def shortest_s(work: Callable[[], object], times: int) -> float:
    """The shortest of several runs [s]; the others were disturbed."""
    runs = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        runs.append(time.perf_counter() - start)
    return min(runs)


def main() -> int:
    """Print a line for each case; 1 when an answer differs or the search is too slow."""
    faults = 0
    for name, ratio in CASES.items():
        stand = Stand()
        ours = abs(nearest_trains(ratio, USUAL_GEARS, True, stand, 10)[0].error)
        theirs = by_enumeration(ratio, USUAL_GEARS, stand)
        searched = shortest_s(lambda ratio=ratio: nearest_trains(ratio, USUAL_GEARS, True, Stand(), 10), 5)  # type: ignore[misc]
        tried = shortest_s(lambda ratio=ratio: by_enumeration(ratio, USUAL_GEARS, Stand()), 2)  # type: ignore[misc]
        same = abs(ours - theirs) < 1e-12
        print(f"change gears, {name}: search {searched * 1000:.1f} ms, every train {tried * 1000:.0f} ms, "
              f"ratio {tried / searched:.0f}, best error {'the same' if same else 'DIFFERENT'}")  # fmt: skip
        faults += not same or searched > LONGEST_S or tried / searched < LEAST_RATIO
    return int(faults > 0)


if __name__ == "__main__":
    sys.exit(main())
