"""Limits of size of ISO metric threads, from the printed tolerances and deviations of ISO 965-1."""

from __future__ import annotations

import re

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite
from fettlebook.tables.thread_forms import H60
from fettlebook.tables.thread_limits_rows import Limits, Pair, lacks, printed
from fettlebook.tables.threads import Thread

GRADES = {"TD1": (4, 5, 6, 7, 8), "TD2": (4, 5, 6, 7, 8), "Td": (4, 6, 8), "Td2": (3, 4, 5, 6, 7, 8, 9)}
"""Tolerance grades of each diameter. Source: iso-965-1."""

HAS = "grades 3 to 9 with e, f, g or h outside (6g, 5g6g, 4h) and grades 4 to 8 with G or H inside (6H, 6G, 4H5H)"
EXTERNAL_ROOT = H60 - 0.25
"""Smallest root below the smallest pitch diameter, over the pitch: H - 2 x 0.125 P, from the smallest root radius 0.125 P.
Sources: iso-965-1; asme-b1-13m (its printed minima follow from it)"""


def tolerance_um(kind: str, thread: Thread, grade: int) -> int | None:
    """A printed tolerance in micrometres, None where ISO 965-1 has none for this pitch and grade.

    kind    TD1, TD2 (internal minor, pitch diameter), Td, Td2 (external major, pitch diameter)

    >>> from fettlebook.tables.designations import thread_named
    >>> tolerance_um("Td2", thread_named("M12"), 6), tolerance_um("TD1", thread_named("M10"), 6)
    (150, 300)
    """
    for row in data.rows("threads-iso965", kind):
        if row["pitch"] == thread.pitch_mm and ("over" not in row or row["over"] < thread.major_mm <= row["to"]):
            return dict(zip(GRADES[kind], row["tolerances"], strict=False)).get(grade)
    return None


def deviation_um(pitch_mm: float, position: str) -> int | None:
    """Fundamental deviation in micrometres: below basic for e, f, g; above it for G; none for h and H."""
    if position in "hH":
        return 0
    row = next((row for row in data.rows("threads-iso965", "deviations") if row["pitch"] == pitch_mm), None)
    if row is None or row[position.lower()] is None:
        return None
    return row[position.lower()] * (1 if position == "G" else -1)


def read_class(grade: str) -> tuple[str, str]:
    """The external and the internal class in GRADE ("" for a side not named). Small letters are external.

    >>> read_class("6H/5g6g"), read_class("6g")
    (('5g6g', '6H'), ('6g', ''))
    """
    sides = ["", ""]
    for part in grade.replace(" ", "").split("/"):
        if not re.fullmatch(r"(?:[3-9][efgh]){1,2}|(?:[4-8][GH]){1,2}", part):
            raise lacks(grade, "M", HAS)
        side = 1 if part[1].isupper() else 0
        if sides[side]:
            raise BadValue(
                "class", f'"{grade}" names two classes for one side', "write one external and one internal, like 6g/6H"
            )
        sides[side] = part
    return sides[0], sides[1]


def paired(outer: str, inner: str, thread: Thread) -> tuple[str, str]:
    """Both classes, the missing one by the usual pairing: medium 6H with 6g, fine 5H with 4h, coarse 7H with 8g.

    Up to M1.4 the medium classes are 5H and 6h. Where the standard lacks the grade for a very fine pitch, the next finer is taken.

    Source: iso-965-1 (recommended classes); small sizes from iso-965-2
    """
    small = thread.major_mm <= 1.4
    if not outer and not inner:
        outer = "6h" if small else "6g"
    if not inner:
        grade = int(outer[0])
        wanted = (4 if small else 5) if grade <= 4 else 5 if small else 6 if grade <= 7 else 7
        return outer, f"{_at_most(wanted, thread)}H"
    if not outer:
        grade = int(inner[0])
        return "6h" if small else "4h" if grade <= 5 else "6g" if grade == 6 else "8g", inner
    return outer, inner


def _at_most(wanted: int, thread: Thread) -> int:
    """The coarsest internal grade up to WANTED that the standard has for this thread: very fine pitches lack some."""
    return max(
        g for g in range(4, wanted + 1) if None not in (tolerance_um("TD1", thread, g), tolerance_um("TD2", thread, g))
    )


def _parts(grade: str) -> tuple[str, str]:
    """Class of the pitch diameter and of the crest: 5g6g is 5g and 6g, 6g is 6g twice."""
    return grade[:2], grade[2:] or grade[:2]


def _wanted(kind: str, thread: Thread, part: str, grade: str) -> tuple[float, float]:
    """Tolerance and deviation in mm. Raises BadValue where the standard has none."""
    tolerance, deviation = tolerance_um(kind, thread, int(part[0])), deviation_um(thread.pitch_mm, part[1])
    if tolerance is None or deviation is None:
        missing = "grade" if tolerance is None else "deviation"
        raise BadValue("class", f'ISO 965-1 gives no {missing} for class "{grade}" at a pitch of {thread.pitch_mm:g} mm and M{thread.major_mm:g}',
                       f"it has {_available(kind, thread)}")  # fmt: skip
    return tolerance / 1000, deviation / 1000


def _available(kind: str, thread: Thread) -> str:
    grades = [str(g) for g in GRADES[kind] if tolerance_um(kind, thread, g) is not None]
    letters = [p for p in ("GH" if kind[1] == "D" else "efgh") if deviation_um(thread.pitch_mm, p) is not None]
    return f"grades {', '.join(grades) or 'none'} with {', '.join(letters)} there"


def external(thread: Thread, grade: str) -> Limits:
    """External limits. Major and pitch diameter by ISO 965-1; the minor's maximum is basic less the deviation, its
    minimum (rounded root) by ASME B1.13M."""
    pitch_class, crest_class = _parts(grade)
    if pitch_class[1] != crest_class[1]:
        raise lacks(grade, "M", "one position for both diameters, like 5g6g")
    td2, es = _wanted("Td2", thread, pitch_class, grade)
    td, _ = _wanted("Td", thread, crest_class, grade)
    d2_max = printed(thread.pitch_diameter_mm, 3) + es
    d_max = thread.major_mm + es
    minor = (printed(d2_max - td2 - EXTERNAL_ROOT * thread.pitch_mm, 3), printed(thread.minor_mm, 3) + es)
    return Limits("external", grade, _rounded(d_max - td, d_max), _rounded(d2_max - td2, d2_max), _rounded(*minor))


def internal(thread: Thread, grade: str) -> Limits:
    """Internal limits by ISO 965-1, which gives the major diameter no maximum."""
    pitch_class, crest_class = _parts(grade)
    if pitch_class[1] != crest_class[1]:
        raise lacks(grade, "M", "one position for both diameters, like 4H5H")
    td2, ei = _wanted("TD2", thread, pitch_class, grade)
    td1, _ = _wanted("TD1", thread, crest_class, grade)
    d2, d1 = printed(thread.pitch_diameter_mm, 3) + ei, printed(thread.minor_mm, 3) + ei
    return Limits(
        "internal", grade, (printed(thread.major_mm + ei, 3), None), _rounded(d2, d2 + td2), _rounded(d1, d1 + td1)
    )


def _rounded(low: float, high: float) -> tuple[float, float]:
    return printed(low, 3), printed(high, 3)


def normal_engagement_mm(thread: Thread) -> tuple[float, float]:
    """Length of engagement of the group N (normal): below it S, above it L [mm].

        from 2.24 P d^0.2 to 6.7 P d^0.2

    Source: iso-965-1, annex (the table uses the smallest diameter of each range), from memory
    """
    unit = thread.pitch_mm * thread.major_mm**0.2
    return 2.24 * unit, 6.7 * unit


def limits(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of an ISO metric thread.

    grade          6g, 6H, 6g/6H, 5g6g ... or "" for the usual medium pair
    engagement_mm  only for a note: ISO 965-1 sets other classes for a short or long engagement, not other tolerances
    """
    outer, inner = paired(*(read_class(grade) if grade else ("", "")), thread)
    return Pair(external(thread, outer), internal(thread, inner), tuple(_notes(thread, engagement_mm)), (), SOURCES)


def _notes(thread: Thread, engagement_mm: float | None) -> list[str]:
    low, high = normal_engagement_mm(thread)
    found = [
        "External minor diameter: largest from ISO 965-1 (basic, less the deviation), smallest with the rounded root of ASME B1.13M. "
        "ISO 965-1 gives the internal major diameter no upper limit.",
        f"These classes are for a normal length of engagement, about {low:.1f} to {high:.1f} mm here.",
    ]
    if engagement_mm is not None and engagement_mm < low:
        found.append(
            f"{engagement_mm:g} mm is a short engagement (group S): medium quality is then 5g6g outside and 5H inside."
        )
    elif engagement_mm is not None and engagement_mm > high:
        found.append(
            f"{engagement_mm:g} mm is a long engagement (group L): medium quality is then 7g6g outside and 7H inside."
        )
    return found


SOURCES = (
    Cite("iso-965-1", "tables 1 to 5", "secondary"),
    Cite("machinerys-handbook-31", "p. 2025, tables 10 and 11", "read"),
    Cite("asme-b1-13m", "external minor minimum", "secondary"),
)
