"""Typed figures: a number that a table computes is picked from it, not typed by hand (advice).

Looks for temperatures from 100 °C, speeds, viscosities and hardnesses, and drills named with a size, where a table
has a column in that unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known
from fettlebook.tables.catalogue import tables

RULES = {"typed-figure": "a figure that a table computes is picked from it (advice)"}
FIGURE = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)\s?(°C|°F|rpm|m/min|mm²/s|cSt|HRC|HV)(?!\w)")
UNIT = {
    "°C": "degC",
    "°F": "degC",
    "rpm": "rpm",
    "m/min": "m/min",
    "mm²/s": "mm2/s",
    "cSt": "mm2/s",
    "HRC": "HRC",
    "HV": "HV",
}
LOWEST_C = 100
"""Below this a temperature is that of a room, of oil, or of a hand, and no table of ours gives it."""


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """The first typed figure of each step."""
    for step in procedure.steps:
        for match in FIGURE.finditer(step.do.written):
            names = _tables_with(UNIT[match[2]])
            if not names or (match[2] in {"°C", "°F"} and float(match[1]) < LOWEST_C):
                continue
            yield Finding(step.place, f'step {step.number} has "{match[0]}" typed by hand', "typed-figure",
                          f"tables give such figures: {', '.join(names[:4])}", "pick it under numbers: values: and write its {name}", mild=True)  # fmt: skip
            break


@cache
def _tables_with(unit: str) -> tuple[str, ...]:
    """Names of the tables that have a column in UNIT."""
    return tuple(
        name for name, definition in tables().items() if any(column.unit == unit for column in definition.columns)
    )
