"""How many rounds each way of levelling takes on simulated beds; writes data/levelling-simulation.yml.

    python benchmarks/levelling.py [STARTS [PROCESSORS [WAY ...]]]

1,000 starts for each layout, way and condition by default. With ways named, only those are measured again; the other rows
stay as they were.

Ends with status 1 when the program's own advice misses what is asked of it.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from statistics import median
from typing import Any

from levelling_shop import BEDS, CAREFUL, COARSE, FIRM, SOFT, Shop
from levelling_ways import CAP, LIMIT, WAYS

from fettlebook import data

DATA = Path(__file__).parent.parent / "generator" / "fettlebook" / "data" / "levelling-simulation.yml"
FIRST_SEED = 100_000
CONDITIONS: dict[str, dict[str, Any]] = {
    "careful hands, firm floor": {"hands": CAREFUL, "floor": FIRM},
    "coarse hands, firm floor": {"hands": COARSE, "floor": FIRM},
    "careful hands, soft floor": {"hands": CAREFUL, "floor": SOFT},
    "coarse hands, soft floor": {"hands": COARSE, "floor": SOFT},
    "coarse hands, firm floor, a jack seized": {"hands": COARSE, "floor": FIRM, "seized": True},
}
OURS = "advice, to the bubble"
MOST_ROUNDS = {4: 2, 6: 2, 8: 3}
LEAST_FINISHED = 0.95
MOST_HANGING = 0.05
"""Rounds of the program's own advice that may end with a foot off the floor."""


def measured(feet: int, way: str, condition: str, starts: int) -> dict[str, Any]:
    """One row: rounds, level placements and jack settings over so many starts, the same starts for every way."""
    rounds, placements, settings, worked, hanging = [], [], [], 0, 0
    for seed in range(starts):
        shop = Shop(feet, FIRST_SEED + seed, **CONDITIONS[condition])
        rounds.append(WAYS[way](shop))
        placements.append(shop.placements)
        settings.append(shop.settings)
        worked, hanging = worked + shop.rounds, hanging + shop.hanging
    rounds.sort()
    done = [k for k in rounds if k <= CAP]
    half, most = rounds[(starts - 1) // 2], rounds[(9 * starts - 1) // 10]
    return {
        "feet": feet, "condition": condition, "way": way, "finished_percent": round(100 * len(done) / starts, 1),
        "rounds": half if half <= CAP else None, "rounds_of_nine_in_ten": most if most <= CAP else None,
        "in_three_percent": round(100 * sum(k <= 3 for k in rounds) / starts, 1),
        "level_placements": int(median(placements)), "jack_settings": int(median(settings)),
        "hanging_percent": round(100 * hanging / worked, 1) if worked else 0.0,
    }  # fmt: skip


def rows(starts: int, workers: int | None, ways: Sequence[str]) -> Iterator[dict[str, Any]]:
    """Every row, condition by condition, on as many processors as there are, or as are named."""
    asked = [(feet, way, condition, starts) for condition in CONDITIONS for way in ways for feet in BEDS]
    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(measured, *zip(*asked, strict=True))


def missed(found: list[dict[str, Any]]) -> list[str]:
    """What the program's own advice fell short of."""
    out = []
    for row in found:
        if row["way"] != OURS:
            continue
        if row["condition"] == "coarse hands, firm floor" and (
            row["rounds"] is None or row["rounds"] > MOST_ROUNDS[row["feet"]]
        ):
            out.append(
                f"{row['feet']} feet, coarse hands: median {row['rounds']} rounds, {MOST_ROUNDS[row['feet']]} asked"
            )
        if row["feet"] == 8 and "soft" in row["condition"] and row["finished_percent"] < 100 * LEAST_FINISHED:
            out.append(f"8 soft feet: only {row['finished_percent']} % finished")
        if (row.get("hanging_percent") or 0) > 100 * MOST_HANGING and "seized" not in row["condition"]:
            out.append(
                f"{row['feet']} feet, {row['condition']}: {row['hanging_percent']} % of rounds end with a foot hanging"
            )
    return out


ABOUT = f"""# Written by benchmarks/levelling.py; change that and run it again.
about: Rounds of levelling on simulated beds until every reading is within {LIMIT} mm/m, by way of working
sources: [{{cite: levelling-simulation, at: all, took: all}}]
how_known: computed
cap: {CAP}
"""


def main(starts: int = 1000, workers: int | None = None, *ways: str) -> int:
    found = (
        {(row["feet"], row["condition"], row["way"]): row for row in data.rows("levelling-simulation", "rows")}
        if ways
        else {}
    )
    for row in rows(starts, workers, ways or tuple(WAYS)):
        found[row["feet"], row["condition"], row["way"]] = row
        print(f"{row['feet']} feet  {row['condition']:42} {row['way']:38} median {row['rounds'] or f'over {CAP}'}, nine in ten "
              f"{row['rounds_of_nine_in_ten'] or f'over {CAP}'}, finished {row['finished_percent']} %, a foot hanging after {row['hanging_percent']} % of rounds", flush=True)  # fmt: skip
    lines = ["  - {" + ", ".join(f"{k}: {_yaml(v)}" for k, v in row.items()) + "}\n" for row in found.values()]
    DATA.write_text(f"{ABOUT}starts: {starts}\nrows:\n" + "".join(lines), encoding="utf-8")
    out = missed(list(found.values()))
    for line in out:
        print("missed:", line)
    return 1 if out else 0


def _yaml(value: Any) -> str:
    return "null" if value is None else f'"{value}"' if isinstance(value, str) else str(value)


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:3]), *sys.argv[3:]))
