"""Limits of size of British Association threads by BS 93."""

from __future__ import annotations

from fettlebook import data
from fettlebook.tables.definition import Cite
from fettlebook.tables.thread_limits_rows import Limits, Pair, both_sides, lacks
from fettlebook.tables.threads import Thread

EXTERNAL, INTERNAL = ("close", "normal"), ("normal",)
ALLOWANCE_MM = 0.025
"""How far a normal class bolt of 0 to 10 BA lies below basic. Source: machinerys-handbook-31, p. 2115."""


def printed_sizes(thread: Thread) -> tuple[float, float, float]:
    """Major, effective and minor diameter as BS 93 prints them [mm]; the rule D - 0.6 P gives up to 0.005 mm else."""
    row = next(row for row in data.rows("threads-ba") if f"{row['number']}BA" == thread.designation)
    return row["major"], row["effective"], row["minor"]


def tolerances_mm(thread: Thread, grade: str) -> tuple[float, float, float]:
    """External tolerances of the major, effective and minor diameter [mm].

        close, 0 to 10 BA     0.15 p   0.08 p + 0.02    0.16 p + 0.04
        normal, 0 to 10 BA    0.20 p   0.10 p + 0.025   0.20 p + 0.05
        normal, 11 to 16 BA   0.25 p   0.10 p + 0.025   0.20 p + 0.05

    Source: machinerys-handbook-31, p. 2115; bs-93, annex B

    >>> from fettlebook.tables.designations import thread_named
    >>> [round(x, 4) for x in tolerances_mm(thread_named("2BA"), "normal")]
    [0.162, 0.106, 0.212]
    """
    p = thread.pitch_mm
    if grade == "close":
        return 0.15 * p, 0.08 * p + 0.02, 0.16 * p + 0.04
    return (0.2 if number(thread) <= 10 else 0.25) * p, 0.1 * p + 0.025, 0.2 * p + 0.05


def number(thread: Thread) -> int:
    """The BA number."""
    return int(thread.designation.removesuffix("BA"))


def limits(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of a BA thread.

    grade          close or normal (outside); inside there is one class for all
    engagement_mm  makes no difference in BS 93
    """
    try:
        outer, _ = both_sides(grade or "normal", EXTERNAL, INTERNAL)
    except ValueError:
        raise lacks(grade, "BA", "close (0 to 10 BA) and normal outside, and one class inside") from None
    if outer == "close" and number(thread) > 10:
        raise lacks(grade, thread.designation, "normal; the close class ends at 10 BA")
    basic, p = printed_sizes(thread), thread.pitch_mm
    allowance = ALLOWANCE_MM if outer == "normal" and number(thread) <= 10 else 0.0
    outside = [
        (size - allowance - width, size - allowance)
        for size, width in zip(basic, tolerances_mm(thread, outer), strict=True)
    ]
    inside = Limits(
        "internal", "normal", (basic[0], None), (basic[1], basic[1] + 0.12 * p + 0.03), (basic[2], basic[2] + 0.375 * p)
    )
    note = (
        "Limits start from the diameters that BS 93 prints; the rules D - 0.6 p and D - 1.2 p give up to 0.005 mm else."
    )
    return Pair(Limits("external", outer, *outside), inside, (note, *_engagement(engagement_mm)), (), SOURCES)


def _engagement(engagement_mm: float | None) -> tuple[str, ...]:
    return () if engagement_mm is None else ("BS 93 has the same tolerances for every length of engagement.",)


SOURCES = (Cite("machinerys-handbook-31", "p. 2115"), Cite("bs-93", "annex B", "secondary"))
