"""Unfinished: places of a new procedure in which "Write here:" still stands (advice)."""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.book.skeleton import WRITE_HERE
from fettlebook.book.text import Text
from fettlebook.check.known import Known

RULES = {"unfinished": "every place of a new procedure is filled in (advice)"}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """One piece of advice, with the number of such places."""
    texts = [
        procedure.summary,
        procedure.when,
        procedure.who.may,
        *(text for step in procedure.steps for text in (step.do, step.check, step.hold)),
    ]
    texts += [reading.name for step in procedure.steps for reading in step.readings]
    texts += [part for one in procedure.trouble for part in (one.seen, one.cause, one.do)]
    open_places = sum(1 for text in texts if isinstance(text, Text) and text.written.startswith(WRITE_HERE))
    if open_places:
        yield Finding(procedure.place, f'"{WRITE_HERE}" still stands in {open_places} places', "unfinished",
                      hint="fill them in before anybody works by it", mild=True)  # fmt: skip
