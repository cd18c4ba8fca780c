"""What the thread finder compares with: every thread, what a caliper reads over its crests, and the words it uses."""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

from fettlebook import data
from fettlebook.tables.thread_forms import FORMS
from fettlebook.tables.thread_limits import limits_of
from fettlebook.tables.thread_sizes import gauge_pitch_diameter_mm, thread_length_mm
from fettlebook.tables.threads import Thread, all_threads, internal_pipe_threads, threads_of


class Known(NamedTuple):
    """A thread on one side. Lengths in mm.

    low, high   what a caliper reads over the crests of a new thread at basic size; two values on a taper, from its
                first thread to the end of the useful thread, else the same
    play        how far past basic a new one may be: below it outside, above it inside
    rare        0 common, 1 less common, 2 rare
    """

    designation: str
    family: str
    low: float
    high: float
    play: float
    pitch: float
    tpi: float
    angle: float
    taper: int
    rare: int


@cache
def known(side: str) -> tuple[Known, ...]:
    """Every thread as it is met on that side, external or internal."""
    if side == "external":
        return tuple(_external(thread) for thread in all_threads())
    inside = [t for t in all_threads() if t.family != "R"]
    at = next(n for n, thread in enumerate(inside) if thread.family == "NPT")
    return tuple(_internal(thread) for thread in (*inside[:at], *internal_pipe_threads(), *inside[at:]))


def _external(thread: Thread) -> Known:
    low = high = thread.small_end_mm
    if thread.taper:
        high += thread.taper * (thread_length_mm(thread) or 0)
        play = _turns_mm(thread, "external")
    else:
        play = thread.major_mm - (limits_of(thread).external.major[0] or thread.major_mm)
    return _known(thread, low, high, play)


def _internal(thread: Thread) -> Known:
    low = high = thread.minor_mm
    if thread.taper:
        high = (gauge_pitch_diameter_mm(thread) or 0) - thread.form.depth * thread.pitch_mm
        low = high - thread.taper * (thread_length_mm(_outer(thread)) or 0)
        play = _turns_mm(thread, "internal")
    else:
        play = (limits_of(thread).internal.minor[1] or thread.minor_mm) - thread.minor_mm
    return _known(thread, low, high, play)


def _outer(thread: Thread) -> Thread:
    """The external thread that goes into an internal taper thread."""
    return next(t for t in threads_of(thread.family) if t.size == thread.size)


def _turns_mm(thread: Thread, side: str) -> float:
    """Half the tolerance of a taper thread, as a diameter."""
    low, high = getattr(limits_of(thread), side).pitch
    return (high - low) / 2


def _known(thread: Thread, low: float, high: float, play: float) -> Known:
    """Crest diameters to a nanometre and play to a tenth of a micrometre, so that the page's list stays short."""
    return Known(thread.designation, thread.family, round(low, 6), round(high, 6), round(play, 4), thread.pitch_mm, thread.tpi,
                 thread.angle_deg, int(thread.taper > 0), rarity(thread))  # fmt: skip


def packed(thread: Known) -> list[Any]:
    """A thread as the page's script takes it; what follows from the rest is left out.

    Gives [designation, family, low or [low, high] on a taper, play, pitch (0: from tpi), tpi (0: from pitch), rarity].
    """
    metric = thread.family in {"M", "BA"}
    crest = [thread.low, thread.high] if thread.taper else thread.low
    return [
        thread.designation,
        thread.family,
        crest,
        thread.play,
        thread.pitch if metric else 0,
        0 if metric else thread.tpi,
        thread.rare,
    ]


def rarity(thread: Thread) -> int:
    """How seldom a thread is met: 0 common, 1 less common, 2 rare. Common practice, by series and choice.

    >>> from fettlebook.tables.designations import thread_named
    >>> [rarity(thread_named(name)) for name in ("M14x1.5", "M14x1", "M15x1", "1/2-13", "1/2-28", "1/2-12 UNS", "3BA")]
    [0, 1, 2, 0, 1, 2, 1]
    """
    if thread.family == "M":
        row = next(r for r in data.rows("threads-metric") if r["d"] == thread.major_mm)
        return (
            0 if thread.pitch_mm in row.get("bolts", ()) else 2 if row["choice"] == 3 else int(thread.series == "fine")
        )
    if thread.family == "UN":
        return {"UNC": 0, "UNF": 0, "UNEF": 1}.get(thread.series, 2)
    if thread.family == "BA":
        number = int(thread.designation.removesuffix("BA"))
        return 2 if number > 10 else number % 2
    return 2 if thread.family in {"BSW", "BSF"} and thread.note else 0


@cache
def browser_figures() -> dict[str, Any]:
    """What the page's script needs: the threads of both sides, what is allowed for, and the words."""
    held = data.read("threads-finder")
    return {
        "allow": held["allow"],
        "words": held["words"],
        "angles": {family: form.angle_deg for family, form in FORMS.items()},
        **{side: [packed(thread) for thread in known(side)] for side in ("external", "internal")},
    }
