"""Ids: each names one thing.

Within a procedure two cautions, numbers, stages, steps, readings or named figures may not share a name. A step may not be
called like a section of the page (`cautions`, `ready`, `steps` ...), since a link (`#id`) leads to both. The file's name is
the procedure's id: small letters, digits, and hyphens between them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import PurePosixPath

from fettlebook.book.places import Finding, Place
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known

ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
SECTIONS = frozenset(
    [
        "top",
        "cautions",
        "when",
        "ready",
        "ready-first",
        "numbers",
        "numbers-used",
        "order",
        "steps",
        "afterwards",
        "trouble",
        "questions",
        "sources",
        "revision",
    ]
)
"""Ids of the sections of a procedure's page."""
RULES = {
    "same-id": "two things of one kind have different ids",
    "file-name": "a file's name is an id",
    "reserved-id": "a step is not called like a section of the page",
}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Ids that stand twice, and a file name that is none."""
    name = PurePosixPath(procedure.place.file).name
    if not ID.fullmatch(procedure.id):
        plain = re.sub(r"[^a-z0-9]+", "-", procedure.id.lower()).strip("-")
        hint = f"call it {plain}.yml" if plain else "give it a name of letters and digits"
        yield Finding(Place(procedure.place.file), f'"{name}" is not an id', "file-name",
                      "the file's name is the address of the page: small letters, digits, hyphens", hint)  # fmt: skip
    yield from _twice("caution", ((one.id, one.place) for one in procedure.cautions))
    yield from _twice("table of numbers", ((one.id, one.place) for one in procedure.numbers))
    yield from _twice("named figure", ((value.name, one.place) for one in procedure.numbers for value in one.values))
    yield from _twice("reading", ((one.id, one.place) for step in procedure.steps for one in step.readings))
    yield from _twice("stage", ((one.id, one.place) for one in procedure.stages))
    yield from _twice("step", ((one.id, one.place) for one in procedure.steps))
    yield from _reserved(procedure)


def _reserved(procedure: Procedure) -> Iterator[Finding]:
    taken = (
        SECTIONS | {f"stage-{one.id}" for one in procedure.stages} | {f"numbers-{one.id}" for one in procedure.numbers}
    )
    taken |= {f"trouble-{n}" for n in range(1, len(procedure.trouble) + 1)}
    for step in procedure.steps:
        if step.id in taken:
            yield Finding(
                step.place,
                f'a step may not be called "{step.id}"',
                "reserved-id",
                "the page has a section of that name",
                "give the step another id",
            )


def _twice(kind: str, named: Iterable[tuple[str, Place]]) -> Iterator[Finding]:
    first: dict[str, Place] = {}
    for id, place in named:
        if id and id in first:
            why = f"it names another one in line {first[id].line}"
            yield Finding(
                place, f'there are two of a kind ({kind}) called "{id}"', "same-id", why, "give one of them another id"
            )
        first.setdefault(id, place)
