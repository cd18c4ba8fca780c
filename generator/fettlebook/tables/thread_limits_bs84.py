"""Limits of size of Whitworth threads, BSW and BSF, by the formulas of BS 84."""

from __future__ import annotations

from math import sqrt

from fettlebook.tables.definition import Cite
from fettlebook.tables.thread_limits_rows import Limits, Pair, both_sides, lacks, printed
from fettlebook.tables.threads import MM_PER_INCH, Thread

EXTERNAL, INTERNAL = ("close", "medium", "free"), ("medium", "normal")
SHARE = {"close": 2 / 3, "medium": 1.0, "free": 1.5, "normal": 1.5}
"""Effective diameter tolerance of each class over that of the medium class. Read in a diagram of BS 84's zones."""

ROOT_TERM = {"close": 0.013, "medium": 0.02, "free": 0.02}
"""Factor of sqrt(P) in the minor diameter tolerance of bolts, in inches. From memory."""

USUAL = {"close": "medium", "medium": "normal", "free": "normal"}
"""Internal class that goes with each external one: close with medium, medium and free with normal. From memory."""


def effective_tolerance_in(major_in: float, tpi: float, engagement_in: float, grade: str) -> float:
    """Tolerance of the effective diameter, unrounded [in].

        T = 0.002 D^(1/3) + 0.003 sqrt(L) + 0.005 sqrt(P), times 2/3 close, 1 medium, 3/2 free and normal

    Source: bs-84, annex on the bases of tolerances (from memory)

    >>> round(effective_tolerance_in(0.5, 12, 0.5, "medium"), 5)
    0.00515
    """
    return SHARE[grade] * (0.002 * major_in ** (1 / 3) + 0.003 * sqrt(engagement_in) + 0.005 * sqrt(1 / tpi))


def minor_tolerance_in(tpi: float) -> float:
    """Tolerance of the internal minor diameter: 0.2 P + 0.004 (26 threads per inch and finer), 0.005 (24 and 22),
    0.007 (20 and coarser) [in]. Source: bs-84, from memory.

    >>> round(minor_tolerance_in(20), 4)
    0.017
    """
    return 0.2 / tpi + (0.004 if tpi >= 26 else 0.005 if tpi >= 22 else 0.007)


def external(thread: Thread, grade: str, engagement_in: float) -> Limits:
    """External limits. Up to 3/4 in the medium and free classes lie 0.3 T below basic, to leave room for plating."""
    tpi, root = thread.tpi, sqrt(1 / thread.tpi)
    medium = effective_tolerance_in(thread.major_mm / MM_PER_INCH, tpi, engagement_in, "medium")
    allowance = printed(0.3 * medium, 4) if has_allowance(thread, grade) else 0.0
    tolerance = SHARE[grade] * medium
    tolerances = (tolerance + 0.01 * root, tolerance, tolerance + ROOT_TERM[grade] * root)
    basic = (thread.major_mm, thread.pitch_diameter_mm, thread.minor_mm)
    pairs = []
    for diameter, width in zip(basic, tolerances, strict=True):
        high = printed(diameter / MM_PER_INCH, 4) - allowance
        pairs.append(((high - printed(width, 4)) * MM_PER_INCH, high * MM_PER_INCH))
    return Limits("external", grade, *pairs)


def has_allowance(thread: Thread, grade: str) -> bool:
    """Whether the external class lies below basic: medium and free, up to 3/4 in."""
    return grade != "close" and thread.major_mm <= 0.75 * MM_PER_INCH + 1e-9


def internal(thread: Thread, grade: str, engagement_in: float) -> Limits:
    """Internal limits; BS 84 gives the major diameter no maximum."""
    width = printed(effective_tolerance_in(thread.major_mm / MM_PER_INCH, thread.tpi, engagement_in, grade), 4)
    low, minor = printed(thread.pitch_diameter_mm / MM_PER_INCH, 4), printed(thread.minor_mm / MM_PER_INCH, 4)
    minor_max = minor + printed(minor_tolerance_in(thread.tpi), 4)
    return Limits("internal", grade, (thread.major_mm, None), (low * MM_PER_INCH, (low + width) * MM_PER_INCH),
                  (minor * MM_PER_INCH, minor_max * MM_PER_INCH))  # fmt: skip


def limits(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of a BSW or BSF thread.

    grade          close, medium, free outside; medium, normal inside; "free/normal" for both; "" for medium/normal
    engagement_mm  length of engagement; None for the nominal diameter
    """
    try:
        outer, inner = both_sides(grade or "medium/normal", EXTERNAL, INTERNAL)
    except ValueError:
        raise lacks(grade, thread.family, "close, medium and free outside, medium and normal inside") from None
    outer, inner = outer or "medium", inner or USUAL[outer]
    length = (thread.major_mm if engagement_mm is None else engagement_mm) / MM_PER_INCH
    notes = [f"Length of engagement taken: {length * MM_PER_INCH:.1f} mm, the nominal diameter unless you give another.",
             "BS 84's printed limits may differ by 0.0001 in where a tolerance ends near half of it; basic sizes are rounded to 0.0001 in."]  # fmt: skip
    if has_allowance(thread, outer):
        notes.append(
            "The external limits are for the bare thread: up to 3/4 in the medium and free classes lie below basic; plating may fill that."
        )
    warning = (
        "The tolerance formulas of BS 84 are from memory. A second source confirms their use and the term 0.01 sqrt(P) of the major diameter, "
        "not the other factors; have the standard's table before you make a gauge by them."
    )
    return Pair(external(thread, outer, length), internal(thread, inner, length), tuple(notes), (warning,), SOURCES)


SOURCES = (
    Cite("bs-84", "bases of tolerances", "memory"),
    Cite("whitworth-tolerance-question", "major tolerance: effective tolerance and 0.01 sqrt(P); printed to 0.0001 in"),
    Cite("whitworth-zones", "figure 6, shares of the classes and the 3/4 in limit"),
)
