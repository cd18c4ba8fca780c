"""Limits of size of pipe threads: G by ISO 228-1, R, Rc and Rp by ISO 7-1, NPT by ASME B1.20.1."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.definition import Cite
from fettlebook.tables.thread_forms import PIPE_TAPER
from fettlebook.tables.thread_limits_rows import Limits, Pair, both_sides, lacks
from fettlebook.tables.threads import Thread, threads_of


def _row(group: str, size: str) -> dict[str, Any]:
    return next(row for row in data.rows("threads-pipe", group) if row["size"] == size)


def parallel(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of a G thread. Class A or B outside; one class inside.

    Class B outside has twice the pitch diameter tolerance of class A and the same major diameter. ISO 228-1 gives no
    limit for the external minor and the internal major diameter.
    """
    try:
        outer, _ = both_sides(grade or "A", ("A", "B"), ())
    except ValueError:
        raise lacks(grade, "G", "A and B outside, and one class inside") from None
    row = _row("G", thread.size)
    d, d2, d1 = row["major"], row["pitch_diameter"], row["minor"]
    width = row["td2"] * (2 if outer == "B" else 1)
    return Pair(
        Limits("external", outer, (d - row["td"], d), (d2 - width, d2), (None, None)),
        Limits("internal", "single", (d, None), (d2, d2 + row["td2"]), (d1, d1 + row["td1"])),
        ("A G thread does not seal on its threads: it needs a washer, an O-ring or a bonded seal on the face.",
         "Inside there is one class for all; the tolerance of the pitch diameter is that of class A."),
        (), (Cite("iso-228-1", "table 1", "secondary"), Cite("bd-warehouse", "data/iso_228_1.csv"), *_class_b(outer)),
    )  # fmt: skip


def _class_b(grade: str) -> tuple[Cite, ...]:
    return (Cite("from-memory", "class B has twice the tolerance of class A", "memory"),) if grade == "B" else ()


def taper(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of an R thread, at the basic gauge plane: the tolerance along the axis, times the taper.

    The internal row is for Rc; for a thread named Rp it is the parallel internal thread, with its own tolerance.
    """
    if grade:
        raise lacks(grade, "R", "no classes; leave it out")
    row, is_parallel = _row("R", thread.size), thread.designation.startswith("Rp")
    basic = next(t for t in threads_of("G") if t.size == thread.size)
    inside = row["rp"] if is_parallel else row["internal"] * PIPE_TAPER
    outer = _around(basic, row["tolerance"] * PIPE_TAPER)
    inner = _around(basic, inside)
    gauge, play = row["gauge_length"], row["tolerance"]
    return Pair(
        Limits("external", "R", *outer), Limits("internal", "Rp" if is_parallel else "Rc", *inner),
        (f"The diameters are those at the gauge plane, {gauge:g} mm ± {play:g} mm from the small end of the external thread; over the "
         f"first thread the major diameter is {thread_small_end(thread):.2f} mm.",
         f"The taper is 1 in 16 on the diameter. Useful thread at least {row['useful']:g} mm at the basic gauge length.",
         "An R thread seals on its flanks, with tape, hemp or paste."),
        (), (Cite("iso-7-1", "table 1", "memory"),),
    )  # fmt: skip


def thread_small_end(thread: Thread) -> float:
    """Major diameter over the first thread of the external taper thread of this size [mm]."""
    return next(t for t in threads_of("R") if t.size == thread.size).small_end_mm


def _around(thread: Thread, play_mm: float) -> tuple[tuple[float, float], ...]:
    sizes = (thread.major_mm, thread.pitch_diameter_mm, thread.minor_mm)
    return tuple((size - play_mm, size + play_mm) for size in sizes)


def american(thread: Thread, grade: str, engagement_mm: float | None) -> Pair:
    """Both sides of an NPT thread: one turn more or less on the gauge, as a pitch diameter.

    external at the small end   E0 ± P/16
    internal at its face        E1 ± P/16,   E1 = E0 + L1/16
    """
    if grade:
        raise lacks(grade, "NPT", "no classes; leave it out")
    turn = thread.pitch_mm * PIPE_TAPER
    e0 = thread.pitch_diameter_mm
    e1 = e0 + (thread.gauge_length_mm or 0) * PIPE_TAPER
    return Pair(
        Limits("external", "NPT", (None, None), (e0 - turn, e0 + turn), (None, None)),
        Limits("internal", "NPT", (None, None), (e1 - turn, e1 + turn), (None, None)),
        ("Outside, the pitch diameter is that at the small end (E0); inside, that at the face of the hole (E1). "
         "The tolerance is one turn of the gauge either way.",
         f"The first thread measures about {thread.small_end_mm:.2f} mm over the crests; {thread.major_mm:.2f} mm is the pipe.",
         "ASME B1.20.1 limits the truncation of crest and root, not the major and minor diameter."),
        (), (Cite("asme-b1-20-1", "table 2 and the gauging tolerance", "secondary"),),
    )  # fmt: skip
