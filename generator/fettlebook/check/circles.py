"""Circles: what must be done before a procedure does not need that procedure first.

`ready: first:` is followed from procedure to procedure; a way that comes back to where it started could never be begun.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known

RULES = {"circle": "procedures required first do not require one another in a circle"}


def book_faults(known: Known) -> Iterator[Finding]:
    """One finding for each circle, at the first procedure by name."""
    said: set[frozenset[str]] = set()
    done: set[str] = set()
    for start in sorted(known.procedures):
        circle = _circle(start, known.procedures, done)
        if circle and frozenset(circle) not in said:
            said.add(frozenset(circle))
            n = circle.index(min(circle))
            circle = [*circle[n:], *circle[:n]]
            yield _finding(circle, known.procedures[circle[0]])


def _circle(start: str, procedures: Mapping[str, Procedure], done: set[str]) -> list[str]:
    """A circle that can be reached from START, [] for none. Procedures from which none can be reached go into DONE."""
    way: list[str] = []
    turns = [iter([start])]
    while turns:
        id = next(turns[-1], None)
        if id is None:
            turns.pop()
            if way:
                done.add(way.pop())
        elif id in way:
            return way[way.index(id) :]
        elif id not in done and id in procedures:
            way.append(id)
            turns.append(iter(procedures[id].first))
    return []


def _finding(circle: list[str], procedure: Procedure) -> Finding:
    following = circle[1] if len(circle) > 1 else circle[0]
    place = next(
        (r.place for r in procedure.references if r.kind == "first" and r.target == following), procedure.place
    )
    way = " needs ".join([*circle, circle[0]])
    return Finding(
        place, f"{way}: a circle", "circle", "none of them could ever be begun", "take one of them out of first:"
    )
