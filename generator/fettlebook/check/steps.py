"""Steps: after each one somebody can know that it is right.

Every step has a `check`, or readings with limits, or a hold point that a second person signs. A reading of kind number
that has limits says what to do outside of them.
"""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure, Reading, Step
from fettlebook.check.known import Known

RULES = {
    "no-check": "a step says how to know that it is right",
    "reading-limits": "only a number has limits",
    "no-outside": "a reading with limits says what to do outside of them (advice)",
}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Steps without a way to know, readings whose limits make no sense."""
    for step in procedure.steps:
        if step.check is None and step.hold is None and not step.readings:
            yield _no_check(step)
        for reading in step.readings:
            yield from _limits(reading)


def _no_check(step: Step) -> Finding:
    words = step.do.plain
    short = words if len(words) <= 50 else words[:49].rsplit(" ", 1)[0] + " …"
    return Finding(step.place, f'step {step.number} "{short}" has no check', "no-check", "nobody can know whether it is right",
                   "write check: and what is then seen, heard, felt or measured; or readings: or hold:")  # fmt: skip


def _limits(reading: Reading) -> Iterator[Finding]:
    limited = reading.low is not None or reading.high is not None
    if limited and reading.kind != "number":
        yield Finding(reading.place, f'reading "{reading.id}" is a {reading.kind} and has limits', "reading-limits",
                      "only a number can be too low or too high", "take low and high out, or write kind: number")  # fmt: skip
    elif limited and reading.outside is None:
        yield Finding(reading.place, f'reading "{reading.id}" does not say what to do outside its limits', "no-outside",
                      hint="write outside: and the next thing to do", mild=True)  # fmt: skip
