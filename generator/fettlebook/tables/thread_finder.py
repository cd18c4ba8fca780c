"""Finding out what a measured thread is: every standard thread that it can be, and how to tell them apart.

pages/assets/tables/thread-finder.js does the same in the browser, from the same figures and words.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, hypot
from typing import Any, NamedTuple

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written
from fettlebook.tables.thread_finder_figures import Known, browser_figures, known
from fettlebook.tables.threads import MM_PER_INCH, plain

SIDES = (("outside", "external"), ("bolt", "external"), ("screw", "external"), ("male", "external"), ("plug", "external"),
         ("inside", "internal"), ("hole", "internal"), ("nut", "internal"), ("female", "internal"), ("port", "internal"))  # fmt: skip
"""Other words for the two sides of a thread."""

ORDER = ("fits", "possible", "look_alike")
TIE = 1e-9
"""What counts as just at a limit, so that 16.3 - 16 is no more than 0.3."""


class Measured(NamedTuple):
    """What was measured, in mm; pitch_mm None when it is not known. wear is a part of the pitch, pitch_error in percent."""

    diameter_mm: float
    pitch_mm: float | None
    external: bool
    wear: float
    error_mm: float
    pitch_error_percent: float


class Candidate(NamedTuple):
    """A thread with how far it is off, its verdict (of ORDER) and its distance from what was measured."""

    thread: Known
    off_diameter_mm: float
    off_pitch_percent: float | None
    verdict: str
    distance: float


def off_diameter_mm(measured: Measured, thread: Known) -> float:
    """Measured diameter less what a new thread at basic size measures; on a taper less the nearest place of it.

    >>> known_thread = next(t for t in known("external") if t.designation == "G 1/4")
    >>> round(off_diameter_mm(Measured(13.1, None, True, 0, 0.1, 2.5), known_thread), 3)
    -0.057
    """
    if measured.diameter_mm < thread.low:
        return measured.diameter_mm - thread.low
    return max(0.0, measured.diameter_mm - thread.high)


def allowed_mm(measured: Measured, off_mm: float, thread: Known, times: int) -> float:
    """How far off the diameter may be [mm]; measuring error and wear taken TIMES over.

    Towards less metal (a thinner bolt, a wider hole) play, wear and measuring error count together; towards more metal
    only the measuring error.
    """
    less_metal = off_mm < 0 if measured.external else off_mm > 0
    metal = thread.play + times * measured.wear * thread.pitch if less_metal else 0.0
    return times * measured.error_mm + metal


def judged(measured: Measured, thread: Known) -> Candidate | None:
    """The thread as a candidate, or None when it is not even a look-alike.

    It fits when diameter and pitch are off by no more than is allowed for, and may fit with error and wear taken twice.
    """
    allow = data.read("threads-finder")["allow"]
    off = off_diameter_mm(measured, thread)
    off_pitch = None if measured.pitch_mm is None else (measured.pitch_mm / thread.pitch - 1) * 100
    used_pitch = 0.0 if off_pitch is None else abs(off_pitch) / measured.pitch_error_percent
    back = allow["rare"] * thread.rare + allow["taper"] * thread.taper
    if abs(off) <= allowed_mm(measured, off, thread, 2) + TIE and used_pitch <= 2 + TIE:
        used = abs(off) / allowed_mm(measured, off, thread, 1)
        verdict = "fits" if max(used, used_pitch) <= 1 + TIE else "possible"
        return Candidate(thread, off, off_pitch, verdict, hypot(used, used_pitch) + back)
    far = abs(off) / thread.high / allow["near_diameter"]
    far_pitch = 0.0 if off_pitch is None else abs(off_pitch) / 100 / allow["near_pitch"]
    if far > 1 or far_pitch > 1:
        return None
    return Candidate(thread, off, off_pitch, "look_alike", hypot(far, far_pitch) + back)


def candidates(measured: Measured) -> list[Candidate]:
    """Every candidate, best first; look-alikes at the end. Not more of each than the data file says."""
    allow = data.read("threads-finder")["allow"]
    found = [judged(measured, thread) for thread in known("external" if measured.external else "internal")]
    ranked = sorted((c for c in found if c), key=lambda c: (ORDER.index(c.verdict), floor(c.distance * 1e9 + 0.5)))
    best = [c for c in ranked if c.verdict != "look_alike"][: allow["fits"]]
    return best + [c for c in ranked if c.verdict == "look_alike"][: allow["look_alikes"]]


def say(key: str, **given: Any) -> str:
    """The words of that key, filled in."""
    return data.read("threads-finder")["words"][key].format(**given)


def telling_apart(a: Known, b: Known) -> str:
    """How to tell thread A from thread B, by what differs: pitch, angle, taper, diameter; else how they seal."""
    parts = []
    if abs(a.pitch / b.pitch - 1) > 0.002:
        parts.append(say("pitch", a=written(10 * a.pitch, 2), b=written(10 * b.pitch, 2)))
    if a.angle != b.angle:
        parts.append(say("angle", a=plain(a.angle), b=plain(b.angle)))
    if a.taper != b.taper:
        parts.append(say("tapers" if a.taper else "parallel", other=b.designation))
    if abs(a.low - b.low) > 0.15 and not (a.family in "GR" and b.family in "GR" and a.pitch == b.pitch):
        parts.append(say("diameter", a=written(a.low, 2), b=written(b.low, 2)))
    if parts:
        return "; ".join(parts)
    if {a.family, b.family} == {"G", "R"}:
        seals = {"G": say("on_face"), "R": say("on_thread")}
        return say("same_form", a=a.designation, other=b.designation, seal=seals[a.family], other_seal=seals[b.family])
    return say("nothing", other=b.designation)


def thread_finder(
    diameter_mm: float,
    pitch_mm: float | None = None,
    tpi: float | None = None,
    side: str = "external",
    age: str = "worn",
    error_mm: float = 0.15,
    pitch_error_percent: float = 2.5,
) -> Table:
    """Which standard threads a measured one can be.

    diameter_mm          over the crests: the outside of a bolt, the smallest bore of a hole [mm]
    pitch_mm, tpi        one of them, or neither
    side                 external or internal
    age                  worn or new
    error_mm             how far the diameter may be measured wrong, either way [mm]
    pitch_error_percent  the same for the pitch [percent]

    Raises BadValue when pitch and tpi contradict each other.
    """
    wear = data.read("threads-finder")["allow"]["wear"] if age == "worn" else 0.0
    pitch = _one_pitch_mm(pitch_mm, tpi)
    measured = Measured(diameter_mm, pitch, side == "external", wear, error_mm, pitch_error_percent)
    found = candidates(measured)
    rows = tuple(_row(n, candidate, found) for n, candidate in enumerate(found))
    return Table(rows, tuple(_notes(measured, found)), tuple(_warnings(measured, found)))


def _one_pitch_mm(pitch_mm: float | None, tpi: float | None) -> float | None:
    if pitch_mm is None:
        return None if tpi is None else MM_PER_INCH / tpi
    if tpi is not None and abs(pitch_mm * tpi / MM_PER_INCH - 1) > 0.005:
        count = written(MM_PER_INCH / pitch_mm, 2)
        raise BadValue(
            "tpi", say("two_pitches", pitch=plain(pitch_mm), count=count, tpi=plain(tpi)), say("two_pitches_hint")
        )
    return pitch_mm


def _row(n: int, candidate: Candidate, found: Sequence[Candidate]) -> dict[str, Any]:
    thread = candidate.thread
    other = found[1 if n == 0 else 0].thread if len(found) > 1 else None
    return {
        "rank": n + 1,
        "designation": thread.designation,
        "family": thread.family,
        "verdict": say(candidate.verdict),
        "off_diameter_mm": candidate.off_diameter_mm,
        "off_pitch_percent": candidate.off_pitch_percent,
        "taper": "1:16" if thread.taper else "parallel",
        "angle_deg": thread.angle,
        "pitch_mm": thread.pitch,
        "tpi": thread.tpi,
        "ten_threads_mm": 10 * thread.pitch,
        "crest_mm": thread.low,
        "tell": telling_apart(thread, other) if other else "",
    }


def _notes(measured: Measured, found: Sequence[Candidate]) -> list[str]:
    near = [c.thread for c in found if c.verdict != "look_alike"]
    notes = [say("taken", error=written(measured.error_mm, 2), wear=say("worn" if measured.wear else "unworn"),
                 pitch=written(measured.pitch_error_percent, 1)), say("measure")]  # fmt: skip
    shown = [c.thread for c in found]
    if {55, 60} <= {thread.angle for thread in shown}:
        notes.append(say("angle_note"))
    if any(thread.taper for thread in shown):
        notes.append(say("taper_note"))
    notes += [say("bsw_unc", a=a.designation, b=b.designation) for a in near for b in near if _screw_together(a, b)]
    if len(shown) > 1:
        notes.append(say("by_hand"))
    if not measured.external:
        notes.append(say("inside"))
    return notes


def _screw_together(a: Known, b: Known) -> bool:
    """A Whitworth and a Unified thread of the same size and count."""
    sides = a.family in {"BSW", "BSF"} and b.family == "UN"
    return sides and abs(a.tpi - b.tpi) < 0.01 and a.designation.split()[0] == b.designation.split("-")[0]


def _warnings(measured: Measured, found: Sequence[Candidate]) -> list[str]:
    fits, may = ([c.thread.designation for c in found if c.verdict == verdict] for verdict in ORDER[:2])
    if measured.pitch_mm is None and fits:
        return [say("no_pitch")]
    if len(fits) > 1:
        return [say("several", count=len(fits), names=", ".join(fits))]
    if may:
        return [say("may" if fits else "only_may", names=", ".join(may))]
    return [say("one" if fits else "none")]


TABLES = (
    Definition(
        name="thread-finder",
        title="What thread is this?",
        about="Measure an unknown bolt, plug or tapped hole over its crests, and its pitch over ten threads. The table ranks every standard thread "
        "that it can be, with wear and measuring error taken into account, and says how to tell the look-alikes apart. It never settles on one "
        "where two fit.",
        group="Threads",
        parameters=(
            Parameter("diameter", "Measured diameter", unit="mm", low=0.5, high=350, example="13.1 mm",
                      help="over the crests: the outside of a bolt or plug, the smallest bore of a hole"),
            Parameter("pitch", "Measured pitch", unit="mm", low=0.1, high=13, default=None, example="1.34 mm", help="measured over ten threads and divided by ten"),
            Parameter("tpi", "or threads per inch", unit="tpi", argument="tpi", low=2, high=150, default=None, example="19", help="counted over 25.4 mm; give this or the pitch"),
            Parameter("side", "Side", kind="choice", choices=("external", "internal"), spellings=SIDES, default="external", example="external",
                      help="bolt or plug, or hole"),
            Parameter("age", "Condition", kind="choice", choices=("worn", "new"), default="worn", example="worn"),
            Parameter("error", "Error in the diameter, either way", unit="mm", low=0.005, high=2, default=0.15, example="0.15 mm",
                      help="0.02 mm for a micrometer on clean crests, 0.15 mm for a caliper on a worn, dirty thread"),
            Parameter("pitch-error", "Error in the pitch, either way", unit="percent", low=0.1, high=20, default=2.5, example="2.5 %",
                      help="1 % for a gauge that shows no light, 2.5 % for a rule over ten threads, 5 % for a count over a short thread"),
        ),
        columns=(
            Column("rank", "Rank"),
            Column("designation", "Thread", kind="text"),
            Column("family", "Family", kind="text"),
            Column("verdict", "Verdict", kind="text"),
            Column("off_diameter_mm", "Off in diameter", "mm", decimals=2, inch_decimals=3, help="measured less basic"),
            Column("off_pitch_percent", "Off in pitch", "percent", decimals=1, help="measured against standard"),
            Column("taper", "Taper", kind="text"),
            Column("angle_deg", "Angle", "deg", decimals=1),
            Column("pitch_mm", "Pitch", "mm", decimals=3),
            Column("tpi", "Threads per inch", decimals=2),
            Column("ten_threads_mm", "Over 10 threads", "mm", decimals=2, inch_decimals=3),
            Column("crest_mm", "New, over the crests", "mm", decimals=2, inch_decimals=3, help="of a taper, at its smallest"),
            Column("tell", "Tell it apart", kind="text", help="from the first; the first from the second"),
        ),
        compute=thread_finder,
        sources=(Cite("hose-chart"), Cite("common-practice", "wear and look-alikes", "practice"), Cite("iso-228-1", "table 1", "secondary"),
                 Cite("asme-b1-20-1", "table 2", "secondary"), Cite("iso-261", "", "memory"), Cite("asme-b1-1", "", "secondary"), Cite("bs-84", "", "secondary")),
        holds="the families M, UN, BSW, BSF, G, R, NPT and BA as thread-sizes lists them; single-start threads",
        also=("identify a thread", "unknown bolt", "drain plug thread", "BSP or NPT", "Whitworth or UNC", "what tap", "look-alike"),
        examples=({"diameter": "13.1 mm", "tpi": 19}, {"diameter": "20.8 mm", "tpi": 14}, {"diameter": "12.6 mm", "tpi": 12}, {"diameter": "9.7 mm", "tpi": 28},
                  {"diameter": "11.6 mm", "tpi": 19, "side": "internal"}),
        browser="thread-finder",
        browser_data=browser_figures,
    ),
)  # fmt: skip
