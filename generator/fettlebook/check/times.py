"""Times: how long a job takes and when it is due again can be read, and the dates of its edition exist.

A duration is a figure and s, min, h, days, weeks, months or years, also `1 h 30 min` or `2 to 3 h`. A date is
year-month-day, and a day that the calendar has. The one who checks an edition is not the one who wrote it.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from fettlebook.book.durations import HINT, UnreadableDuration, duration_range_s
from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known

RULES = {
    "duration": "a duration can be read",
    "date": "a revision's date is a day of the calendar",
    "own-check": "an edition is checked by somebody else than its writer (advice)",
}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Durations and dates that cannot be read."""
    for key, written in (("hands_on", procedure.hands_on), ("waiting", procedure.waiting), ("every", procedure.every)):
        try:
            if written:
                duration_range_s(written)
        except UnreadableDuration as fault:
            yield Finding(procedure.place_of(key), f"{key}: {fault}", "duration", hint=HINT)
    revision = procedure.revision
    try:
        if revision.date:
            date.fromisoformat(revision.date)
    except ValueError:
        yield Finding(
            procedure.place_of("date"),
            f'"{revision.date}" is not a day',
            "date",
            hint="write year-month-day, such as 2026-11-25",
        )
    if revision.by and revision.by == revision.checked_by:
        yield Finding(procedure.place_of("checked_by"), f"{revision.by} both wrote and checked it", "own-check",
                      "who wrote it reads what they meant", "let somebody else follow it at the machine", mild=True)  # fmt: skip
