"""Stages: what must be done before a stage stands before it on the page.

`after:` names stages of the same procedure that come earlier in the file. So nobody who works down the page meets a stage
that waits for a later one, and no circle is possible.
"""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known, nearest

RULES = {"stage-order": "a stage that must be done before another stands before it"}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Stages named under `after` that are not there, or come later."""
    named = iter(r.place for r in procedure.references if r.kind == "stage")
    earlier: list[str] = []
    every = {stage.id for stage in procedure.stages}
    for stage in procedure.stages:
        for id in stage.after or ():
            place = next(named)
            if id not in every:
                yield Finding(place, f'there is no stage "{id[:60]}"', "stage-order", hint=nearest(id, every))
            elif id not in earlier:
                yield Finding(place, f'stage "{stage.id}" waits for "{id}", which does not stand before it', "stage-order",
                              "the page is worked through from the top", f'move "{id}" up, or take it out of after:')  # fmt: skip
        earlier.append(stage.id)
