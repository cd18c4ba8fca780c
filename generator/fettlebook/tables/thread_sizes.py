"""The table of standard thread sizes, family by family."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.thread_forms import PIPE_TAPER
from fettlebook.tables.threads import FAMILIES, MM_PER_INCH, Thread, threads_of

SERIES = {"M": ("coarse", "fine"), "UN": ("UNC", "UNF", "UNEF", "UN", "UNS")}
"""Series within a family. The other families have one."""

ABOUT = {
    "M": "Minor diameter is the basic one of ISO 724 (d1 = D1); the rounded root of a bolt goes deeper (d3, in the column root).",
    "UN": "Minor diameter is the basic one, of the nut; the rounded UNR root of a screw goes deeper (in the column root).",
    "BSW": "Crest and root are rounded alike, so the minor diameter is that of bolt and nut.",
    "BSF": "Crest and root are rounded alike, so the minor diameter is that of bolt and nut.",
    "G": "Parallel pipe thread. The size in inches names the bore of an old iron pipe, not the thread. It seals on a face, not on the thread.",
    "R": "Taper pipe thread, 1 in 16 on the diameter. Diameters are those at the gauge plane; small_end_mm is what a caliper reads over the first thread.",
    "NPT": "Taper pipe thread, 1 in 16 on the diameter. Major diameter is the outside of the pipe; pitch and minor diameter are those at the small "
    "end (E0); small_end_mm is what a caliper reads over the first thread.",
    "BA": "Diameters follow the rule D - 0.6 p from the rounded size and pitch; BS 93 prints the effective and minor diameter up to 0.005 mm apart from it, "
    "shown beside.",
}

SOURCES = {
    "M": (Cite("iso-261", "general plan", "memory"), Cite("iso-68-1", "basic profile", "secondary"), Cite("freecad-hole", "metric lists")),
    "UN": (Cite("asme-b1-1", "series", "memory"), Cite("freecad-hole", "UNC, UNF and UNEF lists")),
    "BSW": (Cite("bs-84", "BSW", "memory"), Cite("freecad-hole", "BSW list"), Cite("whitworth-form")),
    "BSF": (Cite("bs-84", "BSF", "memory"), Cite("freecad-hole", "BSF list"), Cite("whitworth-form")),
    "G": (Cite("iso-228-1", "table 1", "secondary"), Cite("bd-warehouse", "data/iso_228_1.csv")),
    "R": (Cite("iso-7-1", "table 1, gauge lengths", "memory"), Cite("bd-warehouse", "data/iso_228_1.csv")),
    "NPT": (Cite("asme-b1-20-1", "table 2", "secondary"), Cite("machinerys-handbook-27-pipe")),
    "BA": (Cite("machinerys-handbook-31", "p. 2115"), Cite("bs-93", "basic sizes", "secondary")),
}  # fmt: skip


COLUMNS = (
    Column("designation", "Thread", kind="text"),
    Column("size", "Size", kind="text"),
    Column("series", "Series", kind="text"),
    Column("major_mm", "Major diameter", "mm", decimals=3, inch_decimals=4),
    Column("pitch_mm", "Pitch", "mm", decimals=3, inch_decimals=5),
    Column("tpi", "Threads per inch", decimals=2),
    Column("pitch_diameter_mm", "Pitch diameter", "mm", decimals=3, inch_decimals=4),
    Column("minor_mm", "Minor diameter", "mm", decimals=3, inch_decimals=4, help="basic"),
    Column("root_mm", "Root of a bolt", "mm", decimals=3, inch_decimals=4, help="over the rounded root"),
    Column("depth_mm", "Depth", "mm", decimals=3, inch_decimals=4, help="basic, from major to minor diameter"),
    Column("angle_deg", "Angle", "deg", decimals=1),
    Column("taper", "Taper", kind="text"),
    Column("small_end_mm", "First thread, over the crests", "mm", decimals=2, inch_decimals=3),
    Column("gauge_length_mm", "Gauge length", "mm", decimals=2, inch_decimals=3),
    Column("gauge_pitch_diameter_mm", "Pitch diameter at the gauge plane", "mm", decimals=3, inch_decimals=5),
    Column("thread_length_mm", "Useful thread", "mm", decimals=1, inch_decimals=4),
    Column("printed_pitch_diameter_mm", "Pitch diameter, as printed", "mm", decimals=3),
    Column("printed_minor_mm", "Minor diameter, as printed", "mm", decimals=3),
    Column("note", "Note", kind="text"),
)  # fmt: skip

SOMETIMES = {
    "small_end_mm",
    "gauge_length_mm",
    "gauge_pitch_diameter_mm",
    "thread_length_mm",
    "printed_pitch_diameter_mm",
    "printed_minor_mm",
    "note",
}
"""Columns shown only for a family that has something in them."""


OTHER_NAMES = (
    *((name, "M") for name in ("metric", "iso metric", "iso")), *((name, "UN") for name in ("unified", "inch", "american")),
    *((name.lower(), name) for name in ("UNC", "UNF", "UNEF", "UNS")), ("whitworth", "BSW"), ("british standard fine", "BSF"),
    ("bspp", "G"), ("bsp parallel", "G"), ("rp", "R"), ("rc", "R"), ("bspt", "R"), ("bsp taper", "R"), ("british association", "BA"), ("bsp", "G or R"), ("pipe", "G or R or NPT"),
)  # fmt: skip
"""Other names for the families; a series of Unified threads stands for itself."""


def thread_sizes(family: str, series: str = "") -> Table:
    """Standard sizes of a family, smallest first.

    family  M, UN, BSW, BSF, G, R, NPT or BA; UNC, UNF, UNEF or UNS for one series of UN
    series  coarse or fine (M); UNC, UNF, UNEF, UN or UNS (UN); "" for all
    """
    if family in SERIES["UN"] and family != "UN":  # the series was given as the family
        family, series = "UN", series or family
    known = SERIES.get(family, ())
    if series and series not in known:
        raise BadValue(
            "series", f'{family} has no series "{series}"', f"it has {', '.join(known) or 'one only; leave it out'}"
        )
    found = [thread for thread in threads_of(family) if not series or thread.series == series]
    names = {thread.designation for thread in found}
    said = tuple(row["says"] for row in data.rows("threads-disagreements") if row["thread"] in names)
    rows = tuple(size_row(thread) for thread in found)
    shown = tuple(c for c in COLUMNS if c.name not in SOMETIMES or any(row[c.name] for row in rows))
    return Table(rows, (ABOUT[family], *said), (), SOURCES[family], shown)


def size_row(thread: Thread) -> dict[str, Any]:
    """The row of one thread."""
    row: dict[str, Any] = {
        "designation": thread.designation,
        "size": thread.size,
        "series": thread.series,
        "major_mm": thread.major_mm,
        "pitch_mm": thread.pitch_mm,
        "tpi": thread.tpi,
        "pitch_diameter_mm": thread.pitch_diameter_mm,
        "minor_mm": thread.minor_mm,
        "root_mm": thread.root_mm,
        "depth_mm": thread.form.depth * thread.pitch_mm,
        "angle_deg": thread.angle_deg,
        "taper": thread.taper_written,
        "small_end_mm": thread.small_end_mm if thread.taper else None,
        "gauge_length_mm": thread.gauge_length_mm,
        "gauge_pitch_diameter_mm": gauge_pitch_diameter_mm(thread),
        "thread_length_mm": thread_length_mm(thread),
        "printed_pitch_diameter_mm": None,
        "printed_minor_mm": None,
        "note": thread.note,
    }
    if thread.family == "BA":
        printed = next(r for r in data.rows("threads-ba") if f"{r['number']}BA" == thread.designation)
        row["printed_pitch_diameter_mm"], row["printed_minor_mm"] = printed["effective"], printed["minor"]
    return row


def gauge_pitch_diameter_mm(thread: Thread) -> float | None:
    """Pitch diameter of a taper thread at the gauge plane, hand-tight: of NPT, E1 = E0 + L1/16 [mm].

    Source: asme-b1-20-1; L1 as the handbook prints it, unrounded, or E1 loses its fifth place

    >>> from fettlebook.tables.designations import thread_named
    >>> round(gauge_pitch_diameter_mm(thread_named("1/8 NPT")) / 25.4, 5)
    0.3736
    """
    if not thread.taper:
        return None
    if thread.family == "NPT":
        return thread.pitch_diameter_mm + (thread.gauge_length_mm or 0) * PIPE_TAPER
    return thread.pitch_diameter_mm


def thread_length_mm(thread: Thread) -> float | None:
    """Useful length of an external taper thread [mm].

        NPT  L2 = (0.8 D + 6.8) / n,  D and L2 in inches
        R    as ISO 7-1 prints it, at the basic gauge length

    Sources: asme-b1-20-1; iso-7-1 (from memory)
    """
    if thread.family == "NPT":
        return (0.8 * thread.major_mm / MM_PER_INCH + 6.8) / thread.tpi * MM_PER_INCH
    if thread.family == "R":
        return next(row["useful"] for row in data.rows("threads-pipe", "R") if row["size"] == thread.size)
    return None


TABLES = (
    Definition(
        name="thread-sizes",
        title="Thread sizes",
        about="The standard threads of one family with their basic sizes, as a bolt: outside diameter, pitch or threads per inch, pitch (effective) "
        "diameter and core. Choose the family; for metric and Unified threads you can choose one series.",
        group="Threads",
        parameters=(
            Parameter("family", "Family", kind="choice", choices=FAMILIES, spellings=OTHER_NAMES, example="M",
                      help="M metric; UN Unified; BSW and BSF Whitworth; G and R British pipe, parallel and taper; NPT American taper pipe; BA"),
            Parameter("series", "Series", kind="choice", choices=("coarse", "fine", "UNC", "UNF", "UNEF", "UN", "UNS"), default="", example="coarse",
                      help="coarse or fine for M; UNC, UNF, UNEF, UN or UNS for UN; leave it out for all"),
        ),
        columns=COLUMNS,
        compute=thread_sizes,
        sources=(),
        holds="M1 to M150, Unified No. 0 to 6 in, BSW 1/16 to 6 in, BSF 3/16 to 4 1/4 in, pipe threads 1/16 to 6 in (NPT to 12), 0 to 16 BA",
        also=("thread chart", "metric thread", "UNC", "UNF", "Whitworth", "BSP", "pipe thread", "BA", "threads per inch", "pitch", "core diameter", "tap size"),
        examples=({"family": "M", "series": "coarse"}, {"family": "M", "series": "fine"}, {"family": "UN", "series": "UNC"}, {"family": "UN", "series": "UNF"},
                  {"family": "BSW"}, {"family": "BSF"}, {"family": "G"}, {"family": "R"}, {"family": "NPT"}, {"family": "BA"}),
    ),
)  # fmt: skip
