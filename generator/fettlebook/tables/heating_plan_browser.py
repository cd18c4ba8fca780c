"""What the page of the heating plan must know to work the same plan out without the program: steels, curves, words."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.critical_temperatures import critical_of
from fettlebook.tables.definition import BadValue
from fettlebook.tables.film import GROWTH
from fettlebook.tables.heating_plan_parts import EXAMPLE, KEYS, MILDEST_FIRST, USUAL_TEMPER_C, limit_mm, ways_of
from fettlebook.tables.heating_up import SMALLEST_SOAK_MIN, USUAL_MIN_PER_INCH
from fettlebook.tables.hollomon_jaffe import KELVIN
from fettlebook.tables.steel_data import (
    UNMARKED,
    Steel,
    known_spellings,
    meanings,
    names_as_compared,
    one,
    relatives,
    steels,
    what_to_say,
)
from fettlebook.tables.steels import UNKNOWN
from fettlebook.tables.temper_colours import HIGHEST_C, LONGEST_MIN, LOWEST_C, SHORTEST_MIN, named_colours
from fettlebook.tables.tempering import BLUE, SLOW
from fettlebook.tables.tempering_curves import Curve, curves


def _steel(steel: Steel) -> dict[str, Any]:
    """A steel by what the plan asks of it; ways: [medium, low, high (degC), limit (mm or null)], as published."""
    critical = critical_of(steel)
    soaks = [[r.get("floor", SMALLEST_SOAK_MIN), rate] for r in steel.published("soak") for rate in r["min_per_in"]]
    ways = [
        [medium, min(op.low_c for op in ops), max(op.high_c for op in ops), limit_mm(steel, medium, ops)]
        for medium, ops in ways_of(steel).items()
    ]
    return {
        "name": steel.name, "kind": steel.kind, "hardens": steel.hardens, "how": steel.how_hardens, "carbon": steel.carbon or 0,
        "ac1": None if critical.warning else critical.ac1_c, "curve": steel.curve, "ways": ways,
        "soak": soaks or [[SMALLEST_SOAK_MIN, rate] for rate in USUAL_MIN_PER_INCH],
    }  # fmt: skip


def _curve(curve: Curve) -> dict[str, Any]:
    sets = [[s.hours, s.temperatures_c, s.hrc, s.main, s.extends] for s in curve.sets]
    return {"constant": curve.constant, "sets": sets}


def _meaning(key: str) -> list[Any]:
    """Of a name as compared: number of the steel or null, what must be said, and what refuses it."""
    found = meanings(key)
    said = what_to_say(key) if len(found) > 1 else ""
    try:
        chosen: int | None = steels().index(one(key))
        refused = ["", ""]
    except BadValue as fault:
        chosen, refused = None, [fault.what, fault.hint]
    return [chosen, *(words.replace(f'"{key}"', '"%s"') for words in (said, *refused))] if said else [chosen]


def known() -> dict[str, Any]:
    """Plain data for the page's script, but for the words of the plan itself."""
    return {
        "steels": [_steel(steel) for steel in steels()],
        "names": {key: _meaning(key) for key in names_as_compared()},
        "spellings": known_spellings(), "relatives": relatives(), "unmarked": UNMARKED, "unknown": UNKNOWN,
        "curves": {key: _curve(curve) for key, curve in curves().items()},
        "uses": {kind: [[b["low"], b["high"], b["use"]] for b in bands] for kind, bands in data.read("temper-uses")["kinds"].items()},
        "usual": USUAL_TEMPER_C, "keys": KEYS, "example": EXAMPLE, "mildest": MILDEST_FIRST, "blue": BLUE, "slow": SLOW,
        "growth": dict(GROWTH), "colours": [[row["from_nm"], row["colour"]] for row in named_colours()],
        "fitted": [LOWEST_C, HIGHEST_C, SHORTEST_MIN, LONGEST_MIN], "kelvin": KELVIN,
    }  # fmt: skip
