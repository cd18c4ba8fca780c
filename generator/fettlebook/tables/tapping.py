"""Tapping drills: the hole for a percentage of thread, and which of the shop's drills comes nearest to it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.designations import Thread, thread_named
from fettlebook.tables.drills import MM_PER_INCH, SERIES, Drill, drills_named
from fettlebook.tables.figures import written
from fettlebook.tables.tapping_taper import taper_drills
from fettlebook.tables.thread_limits import limits_of

BASES = {"1.299": 1.299038105676658, "1.083": 1.0825317547305484}
"""What counts as a full thread at 60 degrees, as diameter over pitch: twice 0.6495 P, the depth of the former American National
external thread, on which handbook percentages rest, or twice 0.5413 P, the height of the basic profile of ISO 68-1."""


def full_thread(thread: Thread, basis: str) -> float:
    """Difference of major diameter and hole at 100 percent of thread, over the pitch.

    60 degree threads take the basis named; Whitworth and BA have one depth for both, 2 x 0.6403 and 2 x 0.6.

    Sources: machinerys-handbook-31; iso-68-1; bs-84; bs-93
    """
    return BASES[basis] if thread.angle_deg == 60 else 2 * thread.form.depth


def hole_mm(major_mm: float, pitch_mm: float, percent: float, full: float) -> float:
    """Hole for a percentage of thread.

        hole = major - percent / 100 x full x pitch

    major_mm, pitch_mm   of the thread [mm]
    percent              of thread wanted
    full                 see full_thread
    gives                [mm], unrounded

    Source: machinerys-handbook-31

    >>> round(hole_mm(0.25 * 25.4, 25.4 / 20, 75, BASES["1.299"]) / 25.4, 4)
    0.2013
    """
    return major_mm - percent / 100 * full * pitch_mm


def engagement_percent(major_mm: float, pitch_mm: float, drill_mm: float, full: float) -> float:
    """Percentage of thread that a hole leaves, the reverse of hole_mm.

    >>> round(engagement_percent(10, 1.5, 8.5, BASES["1.299"]), 1), round(engagement_percent(10, 1.5, 8.5, BASES["1.083"]), 1)
    (77.0, 92.4)
    """
    return 100 * (major_mm - drill_mm) / (full * pitch_mm)


HOME = {"M": ("metric",), "G": ("metric",), "UN": ("inch", "number-letter")}
"""The drills in which the published tables of a family count."""

NEAR_POINTS = 5.0
"""Drills that close together in thread [percent] are as good as each other: the published one comes first, one of another system last."""


def published_drill_mm(thread: Thread) -> tuple[float, str] | None:
    """A published tapping drill [mm] and the source's key; None where none is on record.

    Fine metric threads have no list of their own: ISO 2306 takes diameter minus pitch.
    """
    if thread.series == "fine" and thread.family == "M":
        return thread.major_mm - thread.pitch_mm, "iso-2306"
    group = data.read("drills")["published"].get({"Rp": "G"}.get(thread.series, thread.series))
    drill = group and group["drills"].get(thread.size)
    return (drill, group["cite"]) if drill else None


def tapping_drills(
    thread: str,
    engagement_percent: float = 75.0,
    drills: tuple[str, ...] = SERIES,
    basis: str = "1.299",
    low_percent: float | None = None,
    high_percent: float | None = None,
    count: int = 8,
) -> Table:
    """The shop's drills for a thread, nearest to the wanted percentage first.

    thread                      designation
    engagement_percent          wanted, on the basis named
    drills                      series or single sizes at hand
    low_percent, high_percent   beyond these a drill is not shown; 15 below and 10 above what is wanted if not given

    Drills within the minor diameter's limits (usual internal class) come first; of some that leave almost the same
    thread, the published one, and those of the thread's own system before others.
    """
    found = thread_named(thread)
    if found.taper:
        return taper_drills(found, drills, count)
    low = engagement_percent - 15 if low_percent is None else low_percent
    high = engagement_percent + 10 if high_percent is None else high_percent
    if not low <= engagement_percent <= high:
        raise BadValue("engagement", f"{engagement_percent:g} percent lies outside low and high, {low:g} to {high:g}")
    full = full_thread(found, basis)
    wanted = hole_mm(found.major_mm, found.pitch_mm, engagement_percent, full)
    near = sorted(drills_named(drills), key=lambda drill: (abs(drill.mm - wanted), drill.mm))
    rows = [_row(found, drill, full, basis) for drill in near]
    closest = rows[0]
    rows.sort(key=lambda row: (row["within_minor_limits"] is False, _points_off(found, row, engagement_percent)))
    shown = [row for row in rows if low <= row["engagement_percent"] <= high][:count]
    warnings = [] if shown else [f"No drill at hand gives {low:g} to {high:g} percent; these come nearest."]
    if shown and closest["within_minor_limits"] is False:
        limits = " to ".join(written(each or 0.0, 3) for each in limits_of(found).internal.minor)
        inside = shown[0]["within_minor_limits"]
        rest = "those inside come first" if inside else "so do all that are shown: ask for more thread, and set high"
        warnings.append(
            f"The nearest drill, {closest['drill']}, leaves the minor diameter outside its class, {limits} mm; {rest}."
        )
    published = published_drill_mm(found)
    cites = (Cite(published[1], found.designation, "secondary"),) if published else ()
    return Table(tuple(shown or rows[:3]), _notes(found, wanted, full, basis, published), tuple(warnings), cites)


def _points_off(thread: Thread, row: Mapping[str, Any], wanted: float) -> float:
    """How far a drill is from the thread wanted [percent], the published drill moved up and another system's back by NEAR_POINTS."""
    off = abs(row["engagement_percent"] - wanted)
    if row["series"] not in (*HOME.get(thread.family, SERIES), "own"):
        return off + NEAR_POINTS
    published = published_drill_mm(thread)
    return off - NEAR_POINTS if published and abs(row["drill_mm"] - published[0]) < 1e-6 else off


def _row(thread: Thread, drill: Drill, full: float, basis: str) -> dict[str, Any]:
    low, high = limits_of(thread).internal.minor
    inside = None if low is None or high is None else low - 1e-9 <= drill.mm <= high + 1e-9
    percents = {
        name: engagement_percent(thread.major_mm, thread.pitch_mm, drill.mm, full_thread(thread, name))
        if thread.angle_deg == 60
        else None
        for name in BASES
    }
    return {
        "drill": drill.name,
        "drill_mm": drill.mm,
        "drill_in": drill.mm / MM_PER_INCH,
        "engagement_percent": engagement_percent(thread.major_mm, thread.pitch_mm, drill.mm, full),
        "basis": f"{basis} P" if thread.angle_deg == 60 else f"{written(full, 4)} P",
        "engagement_1_299_percent": percents["1.299"],
        "engagement_1_083_percent": percents["1.083"],
        "within_minor_limits": inside,
        "series": drill.series,
    }


def _notes(
    thread: Thread, wanted: float, full: float, basis: str, published: tuple[float, str] | None
) -> tuple[str, ...]:
    notes = [f"The hole for what you asked is {written(wanted, 3)} mm ({written(wanted / MM_PER_INCH, 4)} in)."]
    if thread.angle_deg == 60:
        other = "1.083" if basis == "1.299" else "1.299"
        notes.append(
            f"Percentages here count {basis} P as a full thread; the other basis in use, {other} P, gives "
            f"{'20 percent more' if basis == '1.299' else 'a sixth less'} for the same hole. A chart that does not say which is no guide."
        )
    if published:
        percent = engagement_percent(thread.major_mm, thread.pitch_mm, published[0], full)
        notes.append(f"A published table drills {published[0]:g} mm, which is {written(percent, 0)} percent here.")
    notes.append(
        "A drill cuts a few hundredths over its size, more when hand-ground. Tough steel, deep holes and small taps want 55 to 65 percent."
    )
    return tuple(notes)


COLUMNS = (
    Column("drill", "Drill", kind="text"),
    Column("drill_mm", "Diameter", "mm", decimals=2, inch_decimals=4),
    Column("drill_in", "Diameter", "in", decimals=4),
    Column("engagement_percent", "Thread", "percent", decimals=0),
    Column("basis", "Full thread is", kind="text"),
    Column("engagement_1_299_percent", "On 1.299 P", "percent", decimals=0, help="60° threads only"),
    Column("engagement_1_083_percent", "On 1.083 P", "percent", decimals=0, help="60° threads only"),
    Column("within_minor_limits", "Within the class's minor diameter", kind="flag"),
    Column("series", "Series", kind="text"),
)

TABLES = (
    Definition(
        name="tapping-drills",
        title="Tapping drills",
        about="Which of your drills leaves how much thread. 75 percent of the 1.299 basis is the usual aim; a full thread is hardly stronger "
        "and far harder to tap. Use cutting fluid, back the tap to break the chip, and clamp the work.",
        group="Threads and gearing",
        parameters=(
            Parameter("thread", "Thread", kind="text", example="M10x1.5"),
            Parameter("engagement", "Thread wanted", unit="percent", low=20, high=100, default=75.0, example="75"),
            Parameter("drills", "Drills at hand", kind="text", many=True, shop="drills", default=SERIES, example="metric",
                      help="metric, inch, number-letter, or sizes such as 8.5 mm, 5/16 in, No. 7, Q"),
            Parameter("basis", "Basis of the percentage", kind="choice", choices=tuple(BASES), default="1.299", example="1.299"),
            Parameter("low", "Least thread shown", unit="percent", low=1, high=100, default=None, example="60"),
            Parameter("high", "Most thread shown", unit="percent", low=1, high=120, default=None, example="85"),
            Parameter("count", "Drills to show", kind="whole", low=1, high=50, default=8, example="8"),
        ),
        columns=COLUMNS,
        compute=tapping_drills,
        sources=(Cite("machinerys-handbook-31", "p. 2155"), Cite("drill-gauge", "number and letter sizes", "secondary")),
        holds="cut threads; thread-forming taps need a larger hole",
        also=("tap drill", "core hole", "percent thread", "tapping size", "number drills", "letter drills"),
        examples=({"thread": "M10x1.5"}, {"thread": "1/4-20 UNC", "drills": "number-letter, inch"}, {"thread": "1/2 BSW", "drills": "metric"}),
    ),
)  # fmt: skip
