"""Spanner sizes: widths across flats of metric, Unified, Whitworth and BA hexagons, and which jaw goes over a given width."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from math import sqrt
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table

SYSTEMS = ("metric", "Unified", "Whitworth", "BA")

ON_THE_RACK = ("metric", "Unified", "Whitworth")
"""Systems whose spanners are proposed for flats to be cut; BA jaws are for instruments."""

KNOWN = {"read": "read", "memory": "from memory", "computed": "by rule"}
"""How a figure is known, as it is shown."""

GOES_ON_MM = 0.005
"""A jaw counts as going over a width that is larger than it by no more than this: the rounding of the figures."""


@dataclass(frozen=True)
class Jaw:
    """A spanner: its marking, the nominal width across flats, the threads whose heads have it, and the smallest head."""

    system: str
    marking: str
    mm: float
    fits: tuple[str, ...]
    smallest_mm: float | None
    smallest_corners_mm: float | None
    smallest_bolt_mm: float | None
    smallest_bolt_corners_mm: float | None
    known: str


@cache
def jaws() -> tuple[Jaw, ...]:
    """Every jaw of the data file, smallest first."""
    return tuple(sorted(map(_jaw, data.rows("spanner-sizes")), key=lambda jaw: jaw.mm))


def _jaw(row: dict[str, Any]) -> Jaw:
    scale = 25.4 if "inch" in row else 1.0
    least, corners, bolt, bolt_corners = (
        row[key] * scale if key in row else None for key in ("min", "corners_min", "bolt_min", "bolt_corners_min")
    )
    width = row["inch"] if "inch" in row else row["mm"]
    heads = tuple(row["fits"])
    return Jaw(
        row["system"], row["jaw"], width * scale, heads, least, corners, bolt, bolt_corners, row.get("how", "read")
    )


def jaw_for(across_flats_mm: float) -> Jaw | None:
    """The smallest jaw that goes over a width; None beyond the largest.

    >>> jaw_for(13.3).marking, jaw_for(18.0).marking
    ('1/4 W', '18 mm')
    """
    return next((jaw for jaw in rack() if jaw.mm >= across_flats_mm - GOES_ON_MM), None)


@cache
def rack() -> tuple[Jaw, ...]:
    """The jaws that are proposed for flats to be cut, smallest first."""
    return tuple(jaw for jaw in jaws() if jaw.system in ON_THE_RACK)


def spanner_sizes(thread: str | None = None, across_flats_mm: float | None = None, system: str = "all") -> Table:
    """Spanners, all of them, those for a thread, or the nearest to a measured width.

    thread            as on the list: M10, 3/8, 1/4 BSW
    across_flats_mm   measured across the flats [mm]
    system            all, metric, Unified, Whitworth or BA
    """
    found = [jaw for jaw in jaws() if system in ("all", jaw.system)]
    if thread is not None:
        found = [
            jaw for jaw in found if any(_plain(thread) == _plain(each) for each in jaw.fits for each in _names(each))
        ]
        if not found:
            raise BadValue("thread", f'no head for "{thread}" is on the list', "for example M10, 3/8 or 1/4 BSW")
    if across_flats_mm is not None:
        found = sorted(found, key=lambda jaw: abs(jaw.mm - across_flats_mm))[:6]
    rows = tuple(_row(jaw, across_flats_mm) for jaw in found)
    return Table(rows, _notes(found, across_flats_mm))


def _names(thread: str) -> tuple[str, ...]:
    """The spellings under which somebody may ask for a head: M10 also for M10 old DIN, 3/8 also as UNC and UNF."""
    bare = re.sub(r" \(nut\)| old DIN", "", thread)
    return (bare, f"{bare} UNC", f"{bare} UNF") if bare[0].isdigit() and "BS" not in bare else (bare,)


def _plain(text: str) -> str:
    """A designation without what does not bear on its head: spaces, inch signs, pitch."""
    folded = re.sub(r'["″”]| in\b', "", text.lower()).strip()
    folded = re.sub(r"^(m[\d.]+)\s*[x×].*", r"\1", folded)
    folded = re.sub(r"^((?:\d+ )?\d+(?:/\d+)?)-\d+", r"\1", folded)
    return re.sub(r"\s+", " ", folded)


def _row(jaw: Jaw, across_flats_mm: float | None) -> dict[str, object]:
    return {
        "system": jaw.system,
        "spanner": jaw.marking,
        "across_flats_mm": jaw.mm,
        "across_flats_in": jaw.mm / 25.4,
        "across_corners_mm": jaw.mm * 2 / sqrt(3),
        "smallest_across_flats_mm": jaw.smallest_mm,
        "smallest_across_corners_mm": jaw.smallest_corners_mm,
        "smallest_bolt_flats_mm": jaw.smallest_bolt_mm,
        "smallest_bolt_corners_mm": jaw.smallest_bolt_corners_mm,
        "fits": ", ".join(jaw.fits) or "no standard head",
        "gap_mm": None if across_flats_mm is None else jaw.mm - across_flats_mm,
        "known": KNOWN[jaw.known],
    }


def _notes(found: list[Jaw], across_flats_mm: float | None) -> tuple[str, ...]:
    notes = ["Widths are nominal; heads are made a little smaller, jaws a little larger."]
    if across_flats_mm is not None:
        notes.append(
            "A minus gap: the jaw does not go on. More than about 0.3 mm of gap on a small head rounds its corners."
        )
    if any("old DIN" in " ".join(jaw.fits) for jaw in found):
        notes.append("M10, M12, M14 and M22 have one width in ISO 4014 and another in the older DIN 931.")
    systems = {jaw.system for jaw in found}
    if "Unified" in systems:
        notes.append(
            "Smallest heads of inch sizes are those of hex cap screws; plain hex bolts may be smaller (1/4: 0.425 against 0.428 in)."
        )
    if "Whitworth" in systems:
        notes.append(
            "A Whitworth jaw is named by the thread of the older, larger head. Heads to BS 1083 are a size smaller: a 1/4 BSW bolt then "
            "takes the 3/16 W jaw (marked 1/4 BS), the width that 1/4 BSF always had. Measure before you pull."
        )
    if "BA" in systems:
        notes.append("BA heads by the rule 1.75 x outside diameter.")
    return tuple(notes)


TABLES = (
    Definition(
        name="spanner-sizes",
        title="Spanner sizes",
        about="Which spanner fits which head: metric by width across flats, Unified (AF) by width in inches, Whitworth, BSF and BA by "
        "the size of the thread. Give a measured width to see the nearest jaws of every system and their gaps.",
        group="Dividing and flats",
        parameters=(
            Parameter("thread", "Thread", kind="text", default=None, example="M10"),
            Parameter("across_flats", "Measured across flats", unit="mm", low=1, high=200, default=None, example="13 mm"),
            Parameter("system", "System", kind="choice", choices=("all", *SYSTEMS), default="all", example="Whitworth"),
        ),
        columns=(
            Column("spanner", "Spanner", kind="text"),
            Column("fits", "Heads of", kind="text"),
            Column("gap_mm", "Gap", "mm", decimals=3),
            Column("across_flats_mm", "Across flats", "mm", decimals=2),
            Column("across_flats_in", "Across flats", "in", decimals=4),
            Column("across_corners_mm", "Across sharp corners", "mm", decimals=2),
            Column("smallest_across_flats_mm", "Smallest head, flats", "mm", decimals=2),
            Column("smallest_across_corners_mm", "Smallest head, corners", "mm", decimals=2),
            Column("smallest_bolt_flats_mm", "Smallest hex bolt, flats", "mm", decimals=2, help="where it differs from a hex cap screw"),
            Column("smallest_bolt_corners_mm", "Smallest hex bolt, corners", "mm", decimals=2),
            Column("known", "Figure", kind="text"),
            Column("system", "System", kind="text"),
        ),
        compute=spanner_sizes,
        sources=(Cite("bd-warehouse", "hex_head_parameters.csv"), Cite("din-931", "heads", "secondary"), Cite("jaw-widths"),
                 Cite("asme-b18-2-1", "hex cap screws and hex bolts", "secondary"), Cite("bs-1083", "table 1", "secondary"),
                 Cite("ba-hexagon", "1.75 D", "computed")),
        holds="hexagon heads from M1.6 to M48, 1/4 to 1 in, 1/8 to 1 in Whitworth and 0 to 10 BA; not for flanged, heavy or small-hexagon heads",
        also=("wrench", "AF", "across flats", "Whitworth spanner", "jaw"),
        examples=({}, {"across_flats": "13.3 mm"}, {"thread": "M10"}),
    ),
)  # fmt: skip
