"""Sources: a source that is cited is in the list of sources, and says what was taken from it."""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known, nearest

RULES = {
    "no-source": "a source that is cited has an entry in the list of sources",
    "source-place": "a cited standard or book says where, and what was taken (advice)",
}
GENERAL = {"common-practice", "from-memory", "definition"}
"""Sources that have no pages."""


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Unknown keys, citations without a place."""
    for reference in procedure.references:
        if reference.kind == "source" and reference.target not in known.sources:
            hint = nearest(reference.target, known.sources, "for the shop's own practice write text: in place of cite:")
            yield Finding(reference.place, f'there is no source "{reference.target}"', "no-source", hint=hint)
    for source in procedure.sources:
        if source.key and source.key not in GENERAL and not (source.at and source.took):
            yield Finding(source.place, f"{source.key} is cited without {'at' if not source.at else 'took'}", "source-place",
                          "somebody will want to look it up", "write at: and the clause, table or page, took: and what", mild=True)  # fmt: skip
