"""Every standard thread that this book knows, as one kind of object, in millimetres.

Sizes come from data/threads-*.yml; diameters follow from the form of each family (thread_forms), or are the printed
ones where the standard prints them (G).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from fettlebook import data
from fettlebook.tables.thread_forms import FORMS, PIPE_TAPER, Form, minor_mm, pitch_diameter_mm, root_mm

FAMILIES = ("M", "UN", "BSW", "BSF", "G", "R", "NPT", "BA")
"""The families, in the order in which tables show them."""

MM_PER_INCH = 25.4


@dataclass(frozen=True)
class Thread:
    """A standard thread, its basic sizes in millimetres.

    family             M, UN, BSW, BSF, G, R, NPT or BA
    designation        as this book writes it: M10x1.5, 1/2-13 UNC, 1/2 BSW, G 1/2, R 1/2, 1/2 NPT, 2BA
    size               the nominal size alone: M10, 1/2, 2BA
    series             coarse or fine (M); UNC, UNF, UNEF, UN, UNS; the family elsewhere
    major_mm           basic major diameter; of R at the gauge plane, of NPT the outside diameter of the pipe
    pitch_mm           crest to crest along the axis
    tpi                threads per inch, 25.4 / pitch_mm
    angle_deg          between the flanks
    pitch_diameter_mm  basic; of R at the gauge plane, of NPT at the small end of the external thread (E0)
    minor_mm           basic minor diameter, in the same plane as the pitch diameter
    taper              on the diameter: 0, or 1/16
    gauge_length_mm    of a taper thread: from the small end to the gauge plane, by hand
    side               external or internal where the designation says it (R, Rc, Rp), else empty
    note               what else to know of it
    """

    family: str
    designation: str
    size: str
    series: str
    major_mm: float
    pitch_mm: float
    tpi: float
    angle_deg: float
    pitch_diameter_mm: float
    minor_mm: float
    taper: float = 0.0
    gauge_length_mm: float | None = None
    side: str = ""
    note: str = ""

    @property
    def form(self) -> Form:
        return FORMS[self.family]

    @property
    def inch(self) -> bool:
        """Whether the thread is counted in threads per inch."""
        return self.family not in {"M", "BA"}

    @property
    def root_mm(self) -> float:
        """Diameter over the rounded root of the external thread, in the plane of the pitch diameter."""
        top = self.pitch_diameter_mm + self.form.pitch_offset * self.pitch_mm
        return root_mm(top, self.pitch_mm, self.form)

    @property
    def small_end_mm(self) -> float:
        """Major diameter over the first thread of an external thread: less than nominal on a taper.

            R    major at the gauge plane - gauge length / 16
            NPT  E0 + 0.8 P

        Sources: iso-7-1; asme-b1-20-1
        """
        if self.family == "NPT":
            return self.pitch_diameter_mm + self.form.depth * self.pitch_mm
        return self.major_mm - self.taper * (self.gauge_length_mm or 0.0)

    @property
    def taper_written(self) -> str:
        return "1:16" if self.taper else "parallel"


@cache
def threads_of(family: str) -> tuple[Thread, ...]:
    """Every thread of a family (one of FAMILIES), smallest first, coarse before fine."""
    return tuple(
        {"M": _metric, "UN": _unified, "BSW": _whitworth, "BSF": _whitworth, "G": _parallel_pipe, "R": _taper_pipe,
         "NPT": _american_pipe, "BA": _british_association}[family](family)
    )  # fmt: skip


@cache
def all_threads() -> tuple[Thread, ...]:
    """Every thread of every family."""
    return tuple(thread for family in FAMILIES for thread in threads_of(family))


def plain(number: float) -> str:
    """A figure as it stands in a designation: 1.5, 10, 4.5.

    >>> plain(1.50), plain(10.0)
    ('1.5', '10')
    """
    return f"{number:.4f}".rstrip("0").rstrip(".")


def basic(family: str, designation: str, size: str, series: str, major: float, pitch: float, **more: Any) -> Thread:
    """A thread whose pitch and minor diameter follow from its form. Lengths in mm."""
    form = FORMS[family]
    more.setdefault("pitch_diameter_mm", pitch_diameter_mm(major, pitch, form))
    more.setdefault("minor_mm", minor_mm(major, pitch, form))
    more.setdefault("tpi", MM_PER_INCH / pitch)
    return Thread(family, designation, size, series, major, pitch, angle_deg=form.angle_deg, **more)


def _metric(family: str) -> list[Thread]:
    found = []
    for row in data.rows("threads-metric"):
        pitches = ([(row["coarse"], "coarse")] if row["coarse"] else []) + [(p, "fine") for p in row["fine"]]
        size = f"M{plain(row['d'])}"
        found += [
            basic("M", f"{size}x{plain(p)}", size, series, float(row["d"]), float(p), note=row.get("note", ""))
            for p, series in pitches
        ]
    return found


def _unified(family: str) -> list[Thread]:
    found = []
    for row in data.rows("threads-unified"):
        for series in ("UNC", "UNF", "UNEF", "UN", "UNS"):
            counts = row.get(series, [])
            for count in counts if isinstance(counts, list) else [counts]:
                found.append(unified(row["size"], row["d"], count, series, bool(row.get("number"))))
    return found


def unified(size: str, major_in: float, count: float, series: str, is_number: bool = False) -> Thread:
    """A Unified thread from its major diameter [in] and threads per inch. Number sizes are No. 0 to 12."""
    name = f"{size}-{plain(count)} {series}"
    spoken = f"No. {size}" if is_number else size
    return basic("UN", name, spoken, series, major_in * MM_PER_INCH, MM_PER_INCH / count, tpi=float(count))


def _whitworth(family: str) -> list[Thread]:
    return [
        basic(family, f"{row['size']} {family}", row["size"], family, row["d"] * MM_PER_INCH, MM_PER_INCH / row["tpi"],
              tpi=float(row["tpi"]), note="no longer a standard size" if row.get("standing") else "")
        for row in data.rows("threads-whitworth", family)
    ]  # fmt: skip


def _parallel_pipe(family: str) -> list[Thread]:
    return [
        basic("G", f"G {row['size']}", row["size"], "G", row["major"], MM_PER_INCH / row["tpi"], tpi=float(row["tpi"]),
              pitch_diameter_mm=row["pitch_diameter"], minor_mm=row["minor"])
        for row in data.rows("threads-pipe", "G")
    ]  # fmt: skip


def _taper_pipe(family: str, name: str = "R") -> list[Thread]:
    parallel = {thread.size: thread for thread in threads_of("G")}
    found = []
    for row in data.rows("threads-pipe", "R"):
        of = parallel[row["size"]]
        found.append(
            Thread("R", f"{name} {of.size}", of.size, name, of.major_mm, of.pitch_mm, of.tpi, of.angle_deg,
                   of.pitch_diameter_mm, of.minor_mm, taper=0.0 if name == "Rp" else PIPE_TAPER,
                   gauge_length_mm=None if name == "Rp" else row["gauge_length"],
                   side="external" if name == "R" else "internal",
                   note={"Rc": "taper internal", "Rp": "parallel internal"}.get(name, "taper external"))
        )  # fmt: skip
    return found


@cache
def internal_pipe_threads() -> tuple[Thread, ...]:
    """The internal threads of ISO 7-1: Rc (taper) and Rp (parallel)."""
    return tuple(_taper_pipe("R", "Rc") + _taper_pipe("R", "Rp"))


def npt_small_end_in(outside_in: float, tpi: float) -> float:
    """Pitch diameter E0 at the small end of an external NPT thread [in].

        E0 = D - (0.05 D + 1.1) / n

    Source: asme-b1-20-1

    >>> round(npt_small_end_in(0.405, 27), 5)
    0.36351
    """
    return outside_in - (0.05 * outside_in + 1.1) / tpi


def _american_pipe(family: str) -> list[Thread]:
    found = []
    for row in data.rows("threads-pipe", "NPT"):
        pitch, e0 = MM_PER_INCH / row["tpi"], npt_small_end_in(row["outside"], row["tpi"]) * MM_PER_INCH
        found.append(
            basic("NPT", f"{row['size']} NPT", row["size"], "NPT", row["outside"] * MM_PER_INCH, pitch, tpi=float(row["tpi"]),
                  pitch_diameter_mm=e0, minor_mm=e0 - FORMS["NPT"].depth * pitch, taper=PIPE_TAPER,
                  gauge_length_mm=row["l1"] * MM_PER_INCH)
        )  # fmt: skip
    return found


def _british_association(family: str) -> list[Thread]:
    return [
        basic("BA", f"{row['number']}BA", f"{row['number']}BA", "BA", row["major"], row["pitch"])
        for row in reversed(data.rows("threads-ba"))
    ]
