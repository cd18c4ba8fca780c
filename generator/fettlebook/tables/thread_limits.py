"""The table of limits of size: one row for the external thread (two for G in both its classes), one for the internal."""

from __future__ import annotations

from collections.abc import Callable

from fettlebook import data
from fettlebook.tables import thread_limits_asme_b1_1 as asme_b1_1
from fettlebook.tables import thread_limits_bs84 as bs84
from fettlebook.tables import thread_limits_bs93 as bs93
from fettlebook.tables import thread_limits_iso965 as iso965
from fettlebook.tables import thread_limits_pipe as pipe
from fettlebook.tables.definition import BadValue, Column, Definition, Parameter, Table
from fettlebook.tables.designations import read_designation
from fettlebook.tables.thread_limits_rows import Pair
from fettlebook.tables.threads import Thread

STANDARD: dict[str, Callable[[Thread, str, float | None], Pair]] = {
    "M": iso965.limits,
    "UN": asme_b1_1.limits,
    "BSW": bs84.limits,
    "BSF": bs84.limits,
    "G": pipe.parallel,
    "R": pipe.taper,
    "NPT": pipe.american,
    "BA": bs93.limits,
}
"""What computes the limits of each family."""


def limits_of(thread: Thread, grade: str = "", engagement_mm: float | None = None) -> Pair:
    """Both sides of a thread by the standard of its family.

    thread         as thread_named gives it
    grade          class of one side or of both (6g, 2A/2B, B), or "" for the usual one
    engagement_mm  length of engagement, None for the usual one

    Raises BadValue for a class that the family does not have.

    >>> from fettlebook.tables.designations import thread_named
    >>> pair = limits_of(thread_named("M10"), "6g")
    >>> pair.external.major, pair.internal.pitch
    ((9.732, 9.968), (9.026, 9.206))
    """
    if engagement_mm is not None and not 0.5 * thread.pitch_mm <= engagement_mm <= 20 * thread.major_mm:
        raise BadValue("engagement", f"{engagement_mm:g} mm is no length of engagement for {thread.designation}",
                       f"between half a pitch and 20 diameters; usual is about {thread.major_mm:.3g} mm")  # fmt: skip
    return STANDARD[thread.family](thread, grade, engagement_mm)


def thread_limits(thread: str, thread_class: str = "", engagement_mm: float | None = None) -> Table:
    """Limits of size of a thread, one row outside, one inside.

    thread         designation, with or without a class behind it
    thread_class   class of one side or of both; the other gets its usual one
    engagement_mm  length of engagement [mm], or None
    """
    found, behind = read_designation(thread)
    if behind and thread_class and behind.lower() != thread_class.lower():
        raise BadValue(
            "class", f'"{thread_class}" differs from "{behind}", which stands behind the thread', "write one of them"
        )
    grade = thread_class or behind
    both = found.family == "G" and grade.replace(" ", "").upper() in ("A/B", "B/A")
    pair = limits_of(found, "A" if both else grade, engagement_mm)
    sides = (pair.external, *([limits_of(found, "B").external] if both else []), pair.internal)
    said = tuple(row["says"] for row in data.rows("threads-disagreements") if row["thread"] == found.designation)
    rows = tuple({"thread": found.designation, **side.row()} for side in sides)
    return Table(rows, (*pair.notes, *said), pair.warnings, pair.sources)


TABLES = (
    Definition(
        name="thread-limits",
        title="Limits of a thread",
        about="The largest and smallest sizes that a thread may have, outside and inside, so that it goes together with any other of its kind. "
        "Name the thread and, if you like, a class: the side that you leave out gets the class that usually goes with it.",
        group="Threads",
        parameters=(
            Parameter("thread", "Thread", kind="text", example="M10x1.5", help="as you would write it: M10, 1/2-13 UNC, 1/2 BSW, G 1/2, 2BA"),
            Parameter("class", "Tolerance class", kind="text", default="", argument="thread_class", example="6g/6H",
                      help="M: 6g, 6H, 5g6g; UN: 1A to 3B; BSW and BSF: close, medium, free, normal; G: A, B or both as A/B; BA: close, normal"),
            Parameter("engagement", "Length of engagement", unit="mm", low=0.1, high=2000, default=None, example="20 mm",
                      help="leave it out for the usual one"),
        ),
        columns=(
            Column("side", "Side", kind="text"),
            Column("class", "Class", kind="text"),
            Column("major_min_mm", "Major, least", "mm", decimals=3, inch_decimals=4),
            Column("major_max_mm", "Major, most", "mm", decimals=3, inch_decimals=4),
            Column("pitch_diameter_min_mm", "Pitch diameter, least", "mm", decimals=3, inch_decimals=4),
            Column("pitch_diameter_max_mm", "Pitch diameter, most", "mm", decimals=3, inch_decimals=4),
            Column("minor_min_mm", "Minor, least", "mm", decimals=3, inch_decimals=4),
            Column("minor_max_mm", "Minor, most", "mm", decimals=3, inch_decimals=4),
            Column("pitch_tolerance_mm", "Pitch diameter, tolerance", "mm", decimals=3, inch_decimals=4),
            Column("thread", "Thread", kind="text"),
        ),
        compute=thread_limits,
        sources=(),
        holds="the standard threads that this book lists; sizes before any plating unless a note says otherwise",
        also=("thread tolerance", "go and no-go sizes", "2A", "6g", "6H", "thread class", "fit of a thread"),
        examples=({"thread": "M10x1.5"}, {"thread": "1/2-13 UNC", "class": "2A"}, {"thread": "1/2 BSW"}, {"thread": "G 1/2", "class": "A"},
                  {"thread": "2BA"}, {"thread": "R 1/2"}, {"thread": "1/2 NPT"}),
    ),
)  # fmt: skip
