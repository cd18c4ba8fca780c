"""Limits of size of Unified threads: the formulas of ASME B1.1 and the rounding that gives the printed figures."""

from __future__ import annotations

from math import sqrt

from fettlebook import data
from fettlebook.tables.definition import Cite
from fettlebook.tables.thread_limits_rows import Limits, Pair, both_sides, lacks, printed
from fettlebook.tables.threads import MM_PER_INCH, Thread

EXTERNAL, INTERNAL = ("1A", "2A", "3A"), ("1B", "2B", "3B")
FACTOR = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}
"""Pitch diameter tolerance of each class over that of class 2A. Source: asme-b1-1, as bosl2-screws has it."""

PITCH_OFFSET = 0.75 * sqrt(3) / 2
MINOR_OFFSET = 1.25 * sqrt(3) / 2


def usual_engagement_in(major_in: float, tpi: float, series: str) -> float:
    """Length of engagement on which the printed tolerances rest [in].

    The diameter for UNC, UNF and the 4, 6 and 8 threads per inch series; nine pitches for UNEF, UNS and finer series.

    Source: asme-b1-1, found by comparing the formula with the printed limits
    """
    by_diameter = series in {"UNC", "UNF"} or (series == "UN" and tpi <= 8)
    return major_in if by_diameter else 9 / tpi


def pitch_tolerance_in(major_in: float, tpi: float, engagement_in: float, grade: str) -> float:
    """Pitch diameter tolerance of a class, unrounded [in].

        Td2(2A) = 0.0015 D^(1/3) + 0.0015 sqrt(LE) + 0.015 P^(2/3), times the factor of the class

    Source: asme-b1-1, as bosl2-screws has it

    >>> round(pitch_tolerance_in(0.5, 13, 0.5, "2A"), 6), round(pitch_tolerance_in(0.5, 13, 0.5, "2B"), 6)
    (0.004964, 0.006454)
    """
    return FACTOR[grade] * (0.0015 * major_in ** (1 / 3) + 0.0015 * sqrt(engagement_in) + 0.015 * tpi ** (-2 / 3))


def allowance_in(thread: Thread, tolerance_2a_in: float, grade: str) -> float:
    """Allowance of an external class, 0.3 Td2(2A), as printed to 0.0001 in; none for class 3A.

    Source: asme-b1-1; the one size at which the print differs from the rounded formula is in data

    >>> from fettlebook.tables.designations import thread_named
    >>> allowance_in(thread_named("1/2-13"), 0.004964, "2A")
    0.0015
    """
    if grade == "3A":
        return 0.0
    for row in data.rows("threads-unified-exceptions", "allowance"):
        if row["thread"] == thread.designation:
            return row["printed"]
    return printed(0.3 * tolerance_2a_in, 4)


def major_tolerance_in(tpi: float, grade: str) -> float:
    """Tolerance of the external major diameter: 0.060 P^(2/3); 0.090 P^(2/3) for class 1A [in].

    Source: asme-b1-1

    >>> round(major_tolerance_in(13, "2A"), 6)
    0.010852
    """
    return (0.09 if grade == "1A" else 0.06) * tpi ** (-2 / 3)


def minor_tolerance_in(major_in: float, tpi: float, grade: str) -> float:
    """Tolerance of the internal minor diameter, unrounded [in].

        1B, 2B from 1/4 in   0.25 P - 0.4 P^2, or 0.15 P when coarser than 4 threads per inch
        1B, 2B below 1/4 in  0.05 P^(2/3) + 0.03 P/D - 0.002, kept between 0.25 P - 0.4 P^2 and 0.394 P
        3B                   the same sum, kept between 0.23 P - 1.5 P^2 (0.12 P from 12 threads per inch) and 0.394 P

    Sources: asme-b1-1 as bosl2-screws has it; class 3B from memory, it gives the printed 0.4284, 0.2067 and 0.6545 in

    >>> round(minor_tolerance_in(0.5, 13, "2B"), 6)
    0.016864
    """
    pitch = 1 / tpi
    summed = 0.05 * pitch ** (2 / 3) + 0.03 * pitch / major_in - 0.002
    if grade == "3B":
        least = 0.12 * pitch if tpi <= 12 else 0.23 * pitch - 1.5 * pitch**2
    elif major_in >= 0.25:
        return 0.15 * pitch if tpi < 4 else 0.25 * pitch - 0.4 * pitch**2
    else:
        least = 0.25 * pitch - 0.4 * pitch**2
    return min(max(summed, least), 0.394 * pitch)


def external(thread: Thread, grade: str, engagement_in: float) -> Limits:
    """External limits as printed: the maximum from rounded terms, the minimum from it less the unrounded tolerance."""
    major, tpi = thread.major_mm / MM_PER_INCH, thread.tpi
    tolerance = pitch_tolerance_in(major, tpi, engagement_in, grade)
    allowance = allowance_in(thread, pitch_tolerance_in(major, tpi, engagement_in, "2A"), grade)
    d_max = printed(printed(major, 4) - allowance, 4)
    d2_max = printed(printed(major - PITCH_OFFSET / tpi, 4) - allowance, 4)
    d2_min = printed(d2_max - tolerance, 4)
    return _limits("external", grade,
                   (printed(d_max - major_tolerance_in(tpi, grade), 4), d_max),
                   (d2_min, d2_max),
                   (printed(d2_min - PITCH_OFFSET / tpi, 4), printed(d_max - MINOR_OFFSET / tpi, 4)))  # fmt: skip


def internal(thread: Thread, grade: str, engagement_in: float) -> Limits:
    """Internal limits as printed; minor diameters of classes 1B and 2B to three places from No. 6 up."""
    major, tpi = thread.major_mm / MM_PER_INCH, thread.tpi
    minor = major - MINOR_OFFSET / tpi
    places = 3 if major > 0.13 else 4
    d2_min = printed(major - PITCH_OFFSET / tpi, 4)
    d2_max = printed(d2_min + pitch_tolerance_in(major, tpi, engagement_in, grade), 4)
    minor_max = minor + minor_tolerance_in(major, tpi, grade)
    return _limits("internal", grade, (printed(major, 4), None), (d2_min, d2_max),
                   (printed(minor, places), printed(minor_max, 4 if grade == "3B" else places)))  # fmt: skip


def _limits(side: str, grade: str, *diameters: tuple[float | None, float | None]) -> Limits:
    """Limits in millimetres from limits in inches."""
    major, pitch, minor = (tuple(None if x is None else x * MM_PER_INCH for x in pair) for pair in diameters)
    return Limits(side, grade, (major[0], major[1]), (pitch[0], pitch[1]), (minor[0], minor[1]))


def limits(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of a Unified thread.

    thread         of the family UN
    grade          2A, 2B, 2A/2B ... or "" for 2A/2B; the missing side gets the class of the same number
    engagement_mm  length of engagement; None for the one on which the printed tables rest
    """
    try:
        outer, inner = both_sides(grade or "2A/2B", EXTERNAL, INTERNAL)
    except ValueError:
        raise lacks(grade, "UN", "1A, 2A, 3A outside and 1B, 2B, 3B inside") from None
    outer, inner = outer or inner.replace("B", "A"), inner or outer.replace("A", "B")
    usual = usual_engagement_in(thread.major_mm / MM_PER_INCH, thread.tpi, thread.series)
    length = usual if engagement_mm is None else engagement_mm / MM_PER_INCH
    return Pair(external(thread, outer, length), internal(thread, inner, length), tuple(_notes(thread, length, usual)),
                tuple(_warnings(thread, outer, inner, length, usual)), SOURCES)  # fmt: skip


def _notes(thread: Thread, length_in: float, usual_in: float) -> list[str]:
    basis = "the diameter" if usual_in == thread.major_mm / MM_PER_INCH else "nine pitches"
    found = [
        f"Length of engagement taken: {length_in * MM_PER_INCH:.1f} mm ({length_in:.3g} in); the printed tables rest on {basis}.",
        "Limits are rounded to 0.0001 in as the standard prints them. External minor diameter: largest with the flat UN root, "
        "smallest with the rounded UNR root.",
        "A plated class 2A thread may reach the basic size.",
    ]
    if any(row["thread"] == thread.designation for row in data.rows("threads-unified-exceptions", "allowance")):
        found.append("The allowance is the printed one, 0.0016 in; the rounded formula gives 0.0017 in.")
    return found


def _warnings(thread: Thread, outer: str, inner: str, length_in: float, usual_in: float) -> list[str]:
    found = []
    if (outer == "1A" or inner == "1B") and (thread.series not in {"UNC", "UNF"} or thread.major_mm < 6.3):
        found.append("ASME B1.1 lists class 1A and 1B only for UNC and UNF from 1/4 in; these are the formula's.")
    if length_in == usual_in:  # the standard's own table rests on it, whatever its pitches
        return found
    pitches = length_in * thread.tpi
    if not 5 <= pitches <= 15 and thread.series not in {"UNC", "UNF"}:
        found.append(
            f"The tolerance formula is meant for an engagement of 5 to 15 pitches; {pitches:.3g} are outside it."
        )
    elif length_in > 1.5 * thread.major_mm / MM_PER_INCH and pitches > 15:
        found.append("The tolerance formula is meant for an engagement up to 1.5 diameters; this one is longer.")
    return found


SOURCES = (
    Cite("asme-b1-1", "section 5.8, formulas", "secondary"),
    Cite("screw-thread-lib", "data/ASME.py, class 2A/2B"),
    Cite("bosl2-screws", "screws.scad", "read"),
)
