"""Levelling a machine bed on jacks: from readings of the level to what to turn, and when to stop."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written
from fettlebook.tables.levelling_advice import Advice, Wish, advise
from fettlebook.tables.levelling_layout import Layout, layout_from
from fettlebook.tables.levelling_plan import Step, screw
from fettlebook.tables.levelling_readings import Round, log_from, readings_from
from fettlebook.tables.levelling_shape import shape
from fettlebook.tables.levelling_words import in_divisions, notes, warnings


def _asked(machine: Any, readings: Any, division_mm_per_m: float, limit_mm_per_m: float, goal: str, log: Any,
           loose: tuple[str, ...], stay: tuple[str, ...], prefer: str, zero: float, reading_error: float, vial: float,
           ) -> tuple[Layout, Wish, tuple[Round, ...], Round, Advice]:  # fmt: skip
    """Everything that was given, read, and the advice for it. Raises BadValue in words."""
    layout = layout_from(machine)
    now = Round(readings_from(readings, layout), None, tuple(layout.foot(name, "loose") for name in loose))
    rounds = log_from(log, layout)
    held = tuple(layout.foot(name, "stay") for name in stay)
    if all(j in held or not foot.jack for j, foot in enumerate(layout.feet)):
        raise BadValue("stay", "no jack is left that may move", "name only the jacks that must not move")
    wish = Wish(division_mm_per_m, limit_mm_per_m, reading_error * division_mm_per_m, zero * division_mm_per_m,
                goal, prefer, held, vial)  # fmt: skip
    return layout, wish, rounds, now, advise(layout, wish, rounds, now)


def jack_moves(machine: Any, readings: Any, division_mm_per_m: float, limit_mm_per_m: float, goal: str, log: Any,
               loose: tuple[str, ...], stay: tuple[str, ...], prefer: str, zero: float, reading_error: float, vial: float = 10.0) -> Table:  # fmt: skip
    """What to turn: a row for each jack in the order of the work, then those that stay.

        least of |r + A d|^2 + 0.002 |d - mean d|^2  over the lifts d [mm], r the readings [mm/m]

    A is the matrix of levelling_model.foot_matrix, after recorded rounds that of levelling_learning.learned.

    machine             feet and stations: the machine file's mapping, or a line of text
    readings            divisions of every station, long and cross
    division_mm_per_m   [mm/m] for one division, above 0
    limit_mm_per_m      [mm/m] that every reading must keep
    goal                horizontal, or untwisted (pitch and roll of the whole do not matter)
    log                 earlier rounds
    loose               feet found loose before these readings
    stay                jacks that must not move
    prefer              small, few or raise
    zero                the level's own error [divisions], as the reversal gives it
    reading_error       how well a reading is known [divisions]
    vial                what the level shows to either side [divisions]

    Source: common practice
    """
    layout, wish, rounds, now, advice = _asked(machine, readings, division_mm_per_m, limit_mm_per_m, goal, log, loose,
                                               stay, prefer, zero, reading_error, vial)  # fmt: skip
    rows = [_step_row(layout, wish, n, step) for n, step in enumerate(advice.steps)]
    moved = {step.foot for step in advice.steps}
    rows += [_still_row(layout, j, now) for j, foot in enumerate(layout.feet) if foot.jack and j not in moved]
    before = bool(rounds and rounds[-1].loose)
    return Table(
        tuple(rows),
        notes(layout, advice, wish, now.loose),
        warnings(layout, advice, wish, before, now.loose),
    )


def _step_row(layout: Layout, wish: Wish, n: int, step: Step) -> Mapping[str, Any]:
    foot, half = layout.feet[step.foot], len(layout.stations)
    turns, flats, degrees = screw(step.mm, foot.pitch_mm) if foot.pitch_mm else (None, None, None)
    fine = step.row >= 0
    return {
        "order": n + 1,
        "jack": foot.name,
        "direction": "raise" if step.mm > 0 else "lower",
        "turns": turns,
        "flats": flats,
        "degrees": degrees,
        "move_mm": step.mm,
        "portions": step.by_screw + 1,
        "coarse": _coarse(step, foot.pitch_mm),
        "bubble_station": layout.stations[step.row % half].name if fine else None,
        "bubble_way": ("long" if step.row < half else "cross") if fine else None,
        "bubble_before_divisions": (step.before + wish.zero) / wish.division if fine else None,
        "bubble_divisions": (step.after + wish.zero) / wish.division if fine else None,
        "expected": in_divisions(layout, list(step.expected), wish),
    }


def _coarse(step: Step, pitch_mm: float | None) -> str:
    """The part of a move that is made by the screw, in words: so many portions, each as turns, flats and degrees."""
    portions = [(step.by_screw, step.screw_mm)] if step.by_screw else []
    if step.row < 0:
        portions.append((1, step.last_mm))
    words = [f"{count} x {_one_turn(each, pitch_mm)}" for count, each in portions]
    return " + ".join(words) or "none, by the bubble"


def _one_turn(mm: float, pitch_mm: float | None) -> str:
    if not pitch_mm:
        return f"{written(abs(mm), 2)} mm"
    turns, flats, degrees = screw(mm, pitch_mm)
    named = ((turns, f"{turns} turn"), (flats, f"{flats} flat"), (degrees >= 0.5, f"{written(degrees, 0)} deg"))
    return " ".join(words for there, words in named if there) or "0 deg"


def _still_row(layout: Layout, j: int, now: Round) -> Mapping[str, Any]:
    seat = j in now.loose
    return {
        "order": 1 if seat else None,
        "jack": layout.feet[j].name,
        "direction": "raise until it bears" if seat else "leave",
        "turns": None if seat else 0,
        "flats": None if seat else 0,
        "degrees": None if seat else 0.0,
        "move_mm": None if seat else 0.0,
    }


def bed_shape(machine: Any, readings: Any, division_mm_per_m: float) -> Table:
    """The readings split into pitch, roll, twist, bend and what stands out, each with its size and in words."""
    layout = layout_from(machine)
    rows = readings_from(readings, layout)
    parts = shape(layout, [None if v is None else v * division_mm_per_m for v in rows], division_mm_per_m)
    return Table(
        tuple(
            {"part": p.name, "divisions": p.mm_per_m / division_mm_per_m, "mm_per_m": p.mm_per_m,
             "height_mm": p.height_mm, "words": p.words}
            for p in parts
        )
    )  # fmt: skip


LONG_CROSS = "long + is tailstock end high, cross + is rear high"

MACHINE = Parameter("machine", "Machine", kind="mapping", example="feet=4 length=1600 width=450 pitch=2",
                    help="a machine of the shop with feet and stations, or a line: feet in pairs F1, R1, F2, R2 from the headstock end")  # fmt: skip
READINGS = Parameter("readings", "Readings, long/cross in divisions", kind="mapping", example="1: +0.5/-1; 2: 0/-0.5",
                     help=f"station: long/cross; {LONG_CROSS}; - where nothing was read")  # fmt: skip
DIVISION = Parameter("division", "One division of the level", unit="mm/m", low=0.001, high=20, default=0.02,
                     shop="level_mm_per_m", example="0.02 mm/m")  # fmt: skip

EXAMPLE = {
    "machine": "feet=6 length=2300 width=450 pitch=2",
    "readings": "1: +3/-6; 2: +3/-5; 3: +2.5/-4; 4: +1/-3; 5: 0/-1; 6: -0.5/+1; 7: -1/+2.5",
    "division": "0.02 mm/m",
}

TABLES = (
    Definition(
        name="jack-moves",
        title="Levelling on jacks: what to turn",
        about="Read the level at every station, once along the bed and once across, and write the divisions with their signs "
        f"({LONG_CROSS}). Out comes the move of every jack, in order: by the screw for the coarse part, then until the "
        "bubble at the station named shows the figure given. Try every foot before you read: none may be loose. "
        "What counts is a bed without twist and bend that carries on every foot; horizontal comes after that. "
        "The traditional way, pair after pair along the bed with the bubble watched, is a match for it on few and firm feet: "
        "see the rounds of levelling.",
        group="Levelling and alignment",
        parameters=(
            MACHINE,
            READINGS,
            DIVISION,
            Parameter("limit", "Every reading within", unit="mm/m", low=0.001, high=5, default=0.02, example="0.02 mm/m"),
            Parameter("goal", "What is wanted", kind="choice", choices=("horizontal", "untwisted"), default="horizontal",
                      help="untwisted: pitch and roll of the whole bed do not matter"),
            Parameter("log", "Earlier rounds", kind="mapping", default=None,
                      example="1: 3/-6; 2: 0/2 > F1 +0.12 mm, R2 2 cross -1.5",
                      help="oldest first, parted by |; after > what was turned, if it was not what was advised"),
            Parameter("loose", "Feet found loose", kind="text", many=True, default=(), example="F2"),
            Parameter("stay", "Jacks that must not move", kind="text", many=True, default=(), example="F1"),
            Parameter("prefer", "Prefer", kind="choice", choices=("small", "few", "raise"), default="small",
                      help="small moves, few jacks, or raising only"),
            Parameter("zero", "The level's own error in divisions", kind="number", low=-50, high=50, default=0.0, example="0.5",
                      help="half the sum of the two readings when the level is turned end for end on one spot"),
            Parameter("reading-error", "A reading is good to, in divisions", kind="number", low=0.01, high=5, default=0.1,
                      argument="reading_error", example="0.25"),
            Parameter("vial", "The vial shows to either side, in divisions", kind="number", low=2, high=500, default=10.0, example="10"),
        ),
        columns=(
            Column("order", "Order"),
            Column("jack", "Jack", kind="text"),
            Column("direction", "Direction", kind="text"),
            Column("bubble_station", "Watch station", kind="text"),
            Column("bubble_way", "Level lies", kind="text"),
            Column("bubble_divisions", "Turn until it shows", "div", decimals=1),
            Column("move_mm", "Height", "mm", decimals=3),
            Column("coarse", "By the screw first", kind="text", help="every jack once, then again; the last portion is by the bubble"),
            Column("turns", "Turns"),
            Column("flats", "Flats", help="sixths of a turn"),
            Column("degrees", "and degrees", "deg", decimals=0),
            Column("portions", "In portions", help="jack after jack, and then again; the last one by the bubble"),
            Column("bubble_before_divisions", "Bubble should show before", "div", decimals=1),
            Column("expected", "Readings expected after this jack", kind="text"),
        ),
        compute=jack_moves,
        sources=(Cite("common-practice", how="practice"), Cite("definition", "geometry of the feet", "computed")),
        holds="three feet or more at two places along the bed; readings within 20 mm/m; feet that carry and screws that turn",
        also=("level the lathe", "twist", "levelling screws", "jacking bolts", "machine mounts", "feet"),
        browser="jack-moves",
        examples=(EXAMPLE,),
    ),
    Definition(
        name="bed-shape",
        title="What the readings say about the bed",
        about="Splits a set of readings into pitch, roll, twist, bend, and what stands out at a single station and no jack can mend. "
        "Heights: pitch over the length between the end feet, roll and twist over the width, bend as the sagitta.",
        group="Levelling and alignment",
        parameters=(MACHINE, READINGS, DIVISION),
        columns=(
            Column("part", "Part", kind="text"),
            Column("divisions", "Size", "div", decimals=2),
            Column("mm_per_m", "Size", "mm/m", decimals=4),
            Column("height_mm", "Height over the feet", "mm", decimals=3),
            Column("words", "In words", kind="text"),
        ),
        compute=bed_shape,
        sources=(Cite("definition", how="computed"),),
        holds="small slopes, where angle and slope are the same",
        also=("pitch", "roll", "wind", "sag", "hump"),
        examples=(EXAMPLE,),
    ),
)  # fmt: skip
