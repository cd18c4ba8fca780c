"""Passes for a single-point thread: cuts that get smaller, what the slide reads, spring passes, and where to stop."""

from __future__ import annotations

from math import radians, tan
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.designations import Thread, thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.infeed import (
    cumulative_depths_mm,
    depth_mm,
    last_cut_mm,
    passes_within,
    published_infeed,
    slide_reading_mm,
    usual_passes,
)
from fettlebook.tables.thread_finder import SIDES

INFEEDS = (
    ("straight", "radial"),
    ("straight in", "radial"),
    ("plunge", "radial"),
    ("compound", "flank"),
    ("angled", "flank"),
)
"""Other words for the two ways of feeding in."""

LEFT_FOR_DIE = 0.1
"""Depth left for a die or tap, over the pitch: common practice."""

RUBS_BELOW_MM = 0.01
"""A thinner cut than this rubs instead of cutting, with an ordinary HSS edge: common practice."""

UNDERCUT_PITCHES = 3
"""Width of an undercut over the pitch: common practice."""


def thread_passes(
    thread: str,
    passes: int | None = None,
    infeed: str = "radial",
    first_cut_mm: float | None = None,
    last_cut_mm: float | None = None,
    side: str = "external",
    spring: int = 2,
    slide_angle_deg: float | None = None,
    dial: str = "radius",
    nose_radius_mm: float | None = None,
    nose_flat_mm: float | None = None,
    depth: float | None = None,
    finish: str = "tool",
    leave_mm: float | None = None,
    undercut: bool = True,
    rpm: float | None = None,
    reaction_s: float = 0.5,
) -> Table:
    """One row for each pass, then the spring passes.

    passes                      with cut; by the pitch if not given, many as for HSS on a light lathe
    infeed                      radial, or flank with the top slide set to slide_angle_deg from the cross slide
    first_cut_mm, last_cut_mm   the heaviest first and the thinnest last cut allowed, on the radius
    nose_radius_mm, nose_flat_mm   of the tool, one of them; the form's own if not given
    depth                       whole depth by another table [mm]
    finish, leave_mm            die or tap: the tool stops that much short
    undercut                    whether there is a groove to run into
    rpm, reaction_s             spindle speed and the time it takes to withdraw, for where to stop
    """
    found = thread_named(thread)
    whole = _whole_depth(found, side, nose_radius_mm, nose_flat_mm, depth)
    left = 0.0 if finish == "tool" else LEFT_FOR_DIE * found.pitch_mm if leave_mm is None else leave_mm
    if not left < whole:
        raise BadValue(
            "leave", f"{written(left, 3)} mm is all of the thread's depth, {written(whole, 3)} mm", "leave less"
        )
    target = whole - left
    for name, value in (("first_cut", first_cut_mm), ("last_cut", last_cut_mm)):
        if value is not None and value >= target:
            raise BadValue(
                name, f"{value:g} mm is not less than the whole depth, {written(target, 3)} mm", "give a smaller cut"
            )
    count = passes or passes_within(target, usual_passes(found.pitch_mm)[1], first_cut_mm, last_cut_mm)
    angle = _slide_angle(found, infeed, slide_angle_deg)
    depths = cumulative_depths_mm(target, count)
    rows = [
        _row(found, side, n + 1, before, now, angle, infeed, dial)
        for n, (before, now) in enumerate(zip([0.0, *depths], depths, strict=False))
    ]
    total, published = published_infeed(found, side)
    if len(published) == count:
        rows = [row | {"published_depth_mm": depth} for row, depth in zip(rows, published, strict=True)]
    rows += [
        _row(found, side, count + n + 1, target, target, angle, infeed, dial) | {"spring": True} for n in range(spring)
    ]
    notes = _notes(found, side, whole, left, finish, undercut, angle, infeed) + _published(total, published, whole)
    warnings = _warnings(found, side, whole, depths, first_cut_mm, last_cut_mm, target)
    if not undercut:
        warnings += _stopping(found, rpm, reaction_s)
    columns = tuple(column for column in COLUMNS if column.name != "published_depth_mm" or len(published) == count)
    return Table(tuple(rows), notes, warnings, columns=columns)


def _whole_depth(thread: Thread, side: str, radius: float | None, flat: float | None, given: float | None) -> float:
    if radius is not None and flat is not None:
        raise BadValue(
            "nose_radius", "a nose has a radius or a flat, not both", "give one of nose_radius and nose_flat"
        )
    if given is not None:
        if not 0.2 * thread.pitch_mm <= given <= 1.2 * thread.pitch_mm:
            raise BadValue(
                "depth",
                f"{given:g} mm is no depth for a pitch of {thread.pitch_mm:g} mm",
                "it lies between 0.2 and 1.2 pitches",
            )
        return given
    whole = depth_mm(thread, side, radius, flat)
    if whole < 0.25 * thread.pitch_mm:
        name, nose = ("nose_radius", radius) if radius is not None else ("nose_flat", flat)
        raise BadValue(
            name, f"{nose:g} mm is too blunt for a pitch of {written(thread.pitch_mm, 3)} mm", "grind a sharper tool"
        )
    return whole


def _slide_angle(thread: Thread, infeed: str, given: float | None) -> float:
    half = thread.angle_deg / 2
    if infeed == "radial":
        return 0.0
    angle = half - 0.5 if given is None else given
    if not half - 10 <= angle <= half:
        what = f"{angle:g}° does not clear the trailing flank of a {thread.angle_deg:g}° thread"
        raise BadValue("slide_angle", what, f"between {half - 10:g} and {half:g}, usually {half - 0.5:g}")
    return angle


def _row(
    thread: Thread, side: str, number: int, before: float, now: float, angle: float, infeed: str, dial: str
) -> dict[str, Any]:
    sign = -1 if side == "external" else 1
    start = thread.major_mm if side == "external" else thread.minor_mm
    reading = slide_reading_mm(now, angle) if infeed == "flank" else now * (2 if dial == "diameter" else 1)
    return {
        "pass": number,
        "spring": False,
        "cut_mm": now - before,
        "depth_mm": now,
        "slide_reading_mm": reading,
        "side_shift_mm": now * tan(radians(angle)) if infeed == "flank" else None,
        "chip_area_mm2": tan(radians(thread.angle_deg / 2)) * (now**2 - before**2),
        "root_mm": None if thread.taper else start + 2 * sign * now,
        "published_depth_mm": None,
    }


def _notes(
    thread: Thread, side: str, whole: float, left: float, finish: str, undercut: bool, angle: float, infeed: str
) -> tuple[str, ...]:
    gauge = "ring gauge or the fitting" if thread.taper else "wires or a nut"
    notes = [
        f"Depths are on the radius from the {'basic major' if side == 'external' else 'basic minor'} diameter; whole depth {written(whole, 3)} mm. "
        f"Near the end go by the {gauge if side == 'external' else 'plug gauge or a screw'}, not by the dial."
    ]
    if infeed == "flank":
        notes.append(
            f"Top slide set {angle:g}° from the cross slide; a lathe whose scale counts from the bed's line shows {90 - angle:g}°."
        )
    if finish != "tool":
        notes.append(
            f"{written(left, 3)} mm of depth is left for the {finish}, which follows the thread begun and finishes it: common practice."
        )
    if undercut and not thread.taper:
        wide = UNDERCUT_PITCHES * thread.pitch_mm
        notes.append(
            f"Undercut: {written(wide, 1)} mm wide ({UNDERCUT_PITCHES} pitches) and just deeper than the thread: common practice."
        )
    dead_end = data.read("thread-passes")["dead_end"].get(round(thread.pitch_mm, 4))
    if side == "internal" and dead_end:
        notes.append(
            f"In a blind hole without a groove DIN 76-1 leaves {dead_end:g} mm from the last full thread to the bottom."
        )
    return tuple(notes)


def _published(total: float | None, depths: list[float], whole: float) -> tuple[str, ...]:
    """What a catalogue gives for this pitch, beside what is worked out here."""
    if total is None:
        return ()
    said = f"A catalogue of inserts goes {written(total, 2)} mm deep for this pitch; worked out here {written(whole, 3)} mm, for the form's own root."
    if depths:
        cuts = ", ".join(written(b - a, 2) for a, b in zip([0.0, *depths], depths, strict=False))
        said += f" It takes {len(depths)} passes of {cuts} mm: a heavier first cut, for a stiff machine."
    return (said,)


def _warnings(
    thread: Thread, side: str, whole: float, depths: list[float], first: float | None, last: float | None, target: float
) -> tuple[str, ...]:
    said = []
    if thread.taper:
        said.append(
            "A taper thread: set the taper attachment or the tailstock over for 1:16 on the diameter, and the tool square to the axis."
        )
    if whole < thread.form.depth * thread.pitch_mm - 1e-9:
        said.append(
            "The tool's nose is blunter than the root of the form: flanks come to size, but the mating crest may foul the root."
        )
    if first is not None and depths[0] > first + 1e-12:
        said.append(f"The first cut is {written(depths[0], 3)} mm, above your limit of {first:g} mm: take more passes.")
    thinnest = last_cut_mm(target, len(depths))
    if last is not None and thinnest < last - 1e-12:
        said.append(f"The last cut is {written(thinnest, 3)} mm, below your limit of {last:g} mm: the tool may rub.")
    if last is None and thinnest < RUBS_BELOW_MM:
        said.append(
            f"The last cut is only {written(thinnest, 3)} mm: below about {RUBS_BELOW_MM:g} mm a tool rubs. Take fewer passes."
        )
    if not 0.5 <= thread.pitch_mm <= 3:
        said.append("Numbers of passes are on record for pitches of 0.5 to 3 mm; here they are carried on.")
    return tuple(said)


def _stopping(thread: Thread, rpm: float | None, reaction_s: float) -> tuple[str, ...]:
    """What to do where there is no groove to run into."""
    said = [
        f"No undercut: stop at the same mark in every pass and wind the tool out while the spindle still turns, {written(thread.pitch_mm, 2)} mm "
        "of travel to each turn. Or turn the last turns by hand, supply off and chuck key out, or cut away from the shoulder in reverse.",
        f"The last 2 to 3 pitches ({written(3 * thread.pitch_mm, 1)} mm) stay shallow, with tool or die: relieve the mating part, or use a washer.",
    ]
    if rpm is not None:
        run_on = thread.pitch_mm * rpm / 60 * reaction_s
        said.append(
            f"At {rpm:g} rpm the tool runs on {written(run_on, 1)} mm while you take {reaction_s:g} s to withdraw it: begin that far before the mark."
        )
        if run_on > 2 * thread.pitch_mm:
            said.append(
                f"That is {written(run_on / thread.pitch_mm, 1)} turns: slow down before you thread towards a shoulder."
            )
    return tuple(said)


COLUMNS = (
    Column("pass", "Pass"),
    Column("spring", "Spring pass", kind="flag"),
    Column("cut_mm", "Cut", "mm", decimals=3),
    Column("depth_mm", "Depth so far", "mm", decimals=3),
    Column("slide_reading_mm", "Slide reads", "mm", decimals=3),
    Column("side_shift_mm", "Sideways", "mm", decimals=3, help="for a top slide set along the bed instead of over"),
    Column("chip_area_mm2", "Chip area", "mm²", decimals=3),
    Column("root_mm", "Diameter at the tool", "mm", decimals=3),
    Column("published_depth_mm", "A catalogue's depth", "mm", decimals=3, help="where it gives as many passes"),
)

TABLES = (
    Definition(
        name="thread-passes",
        title="Passes for a single-point thread",
        about="Cuts for a thread with a single-point tool. They get smaller so that each takes the same area of chip. Spring passes take no new "
        "cut and let the work come to size. Keep hands and sleeves away from the turning work, never feel the thread with the spindle on, "
        "and try the stop without a cut first.",
        group="Threads and gearing",
        parameters=(
            Parameter("thread", "Thread", kind="text", example="M20x2.5"),
            Parameter("passes", "Passes with cut", kind="whole", low=1, high=200, default=None, example="10", help="left empty: as many as HSS on a light lathe wants"),
            Parameter("infeed", "Infeed", kind="choice", choices=("radial", "flank"), spellings=INFEEDS, default="radial", example="flank"),
            Parameter("first_cut", "Heaviest first cut", unit="mm", low=0.005, high=5, default=None, example="0.2 mm"),
            Parameter("last_cut", "Thinnest last cut", unit="mm", low=0.001, high=5, default=None, example="0.03 mm"),
            Parameter("side", "Side", kind="choice", choices=("external", "internal"), spellings=SIDES, default="external", example="external"),
            Parameter("spring", "Spring passes", kind="whole", low=0, high=20, default=2, example="2"),
            Parameter("slide_angle", "Top slide from the cross slide", unit="deg", low=0, high=45, default=None, example="29.5", help="29, 29.5 or 30 for 60 degree threads"),
            Parameter("dial", "Cross slide's dial reads", kind="choice", choices=("radius", "diameter"), default="radius", shop="cross_slide_dial", example="radius"),
            Parameter("nose_radius", "Tool's nose radius", unit="mm", low=0, high=5, default=None, example="0.1 mm"),
            Parameter("nose_flat", "or its flat", unit="mm", low=0, high=5, default=None, example="0.15 mm"),
            Parameter("depth", "Depth by another table", unit="mm", low=0.02, high=30, default=None, argument="depth", example="1.6 mm"),
            Parameter("finish", "Finished with", kind="choice", choices=("tool", "die", "tap"), default="tool", example="die"),
            Parameter("leave", "Depth left for die or tap", unit="mm", low=0, high=10, default=None, example="0.15 mm"),
            Parameter("undercut", "There is an undercut", kind="flag", default=True, example="false"),
            Parameter("rpm", "Spindle speed", kind="number", low=1, high=5000, default=None, example="60"),
            Parameter("reaction", "Time to withdraw", unit="s", low=0.05, high=10, default=0.5, example="0.5 s"),
        ),
        columns=COLUMNS,
        compute=thread_passes,
        sources=(Cite("infeed-constant-area", "threading depth"), Cite("navy-14345", "depths by form"),
                 Cite("threading-passes-ingersoll", "number of passes"), Cite("threading-depth-sumitomo", "external metric"),
                 Cite("common-practice", "undercut, depth left for a die", "practice")),
        holds="pitches of 0.5 to 3 mm for the number of passes; depths for the basic size of the thread",
        also=("screwcutting", "threading", "infeed", "compound slide", "depth of thread", "spring pass", "undercut"),
        examples=({"thread": "M20x2.5"}, {"thread": "1/2-13 UNC", "infeed": "flank", "slide_angle": "29.5"},
                  {"thread": "M10", "undercut": "false", "finish": "die", "rpm": "60"}),
    ),
)  # fmt: skip
