"""The shop's own files: no term of the glossary twice, no two procedures with one title, records of procedures that exist.

Shared cautions and steps that no procedure uses are said as advice.
"""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.book import Book
from fettlebook.book.places import Finding, Place
from fettlebook.check.known import Known, nearest

RULES = {
    "same-term": "a term stands once in the glossary", "same-title": "no two procedures have the same title",
    "record-procedure": "a record belongs to a procedure of the book (advice)",
    "unused-shared": "a shared caution or step is used somewhere (advice)",
}  # fmt: skip


def shop_faults(book: Book, known: Known) -> Iterator[Finding]:
    """What is wrong between the files of the shop and the procedures."""
    terms: dict[str, Place] = {}
    for term in book.glossary:
        if (first := terms.setdefault(term.term.casefold(), term.place)) != term.place:
            yield Finding(
                term.place,
                f'"{term.term}" stands twice',
                "same-term",
                f"it stands in line {first.line} already",
                "make one of the two",
            )
    titles: dict[str, Place] = {}
    for _, procedure in sorted(known.procedures.items()):
        first = titles.setdefault(procedure.title.casefold(), procedure.place)
        if procedure.title and first != procedure.place:
            place = procedure.place_of("title")
            yield Finding(
                place,
                f'another procedure is called "{procedure.title}" too',
                "same-title",
                f"it is {first.file}",
                "give one of them another title",
            )
    for record in book.records:
        id = str(record.content["procedure"])
        if id not in known.procedures:
            yield Finding(
                record.place,
                f'the record is of a procedure "{id}", which is not here',
                "record-procedure",
                hint=nearest(id, known.procedures),
                mild=True,
            )
    yield from _unused(book, known)


def _unused(book: Book, known: Known) -> Iterator[Finding]:
    used = {(r.kind, r.target) for procedure in known.procedures.values() for r in procedure.references}
    for kind, names, file in (("caution", book.cautions, "cautions.yml"), ("step", book.steps, "steps.yml")):
        for name in names:
            if (f"shared-{kind}", name) not in used:
                what = f'no procedure uses the shared {kind} "{name}"'
                yield Finding(
                    Place(f"procedures/shop/{file}"), what, "unused-shared", hint="use it or take it out", mild=True
                )
