"""Indexing on a dividing head: turns and holes for a number of divisions or for an angle, on the plates at hand."""

from __future__ import annotations

import re
from fractions import Fraction
from math import pi

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.differential import Setting, differential_settings
from fettlebook.tables.figures import written

SETS = {each["name"]: tuple(h for plate in each["plates"] for h in plate) for each in data.rows("index-plates", "sets")}
"""Circles of each set of plates, by the set's name in figures."""

USUAL_CIRCLES = next(iter(SETS.values()))
USUAL_GEARS = tuple(data.read("index-plates")["differential_gears"])
DIRECT_CIRCLES = tuple(data.read("index-plates")["direct_circles"])

ANGLE = re.compile(
    r"(?:(\d+(?:\.\d+)?)\s*(?:°|degrees?|deg|$|(?=\s+\d)))?\s*(?:(\d+(?:\.\d+)?)\s*(?:'|′|’|arcmin|minutes?|min|$|(?=\s+\d)))?"
    r"\s*(?:(\d+(?:\.\d+)?)\s*(?:\"|″|”|arcsec|seconds?|sec|s|$))?"
)
"""Degrees, minutes and seconds, each of them if it is there."""

FULL_CIRCLE = 360 * 3600 * 1000
"""A turn in thousandths of a second of arc: angles are kept as whole numbers of these, so that holes come out exactly."""


def thousandths_of_second(text: str) -> int:
    """An angle as written, `35`, `48° 40'`, `54 min`, `12 deg 30 min 15 s`, in thousandths of a second of arc.

    errors   BadValue for text, zero, or more than a turn

    >>> thousandths_of_second("48 deg 40 min") == (48 * 60 + 40) * 60000, thousandths_of_second("54'") == 54 * 60000
    (True, True)
    """
    hint = 'for example "35", "48 deg 40 min" or "54 min"'
    if re.search(r"(?<!\d)[1-9]\d{0,2},\d{3}(?!\d)", text):
        raise BadValue("angle", f'"{text}" could be a thousand or a decimal comma; write it with a point', hint)
    found = ANGLE.fullmatch(" ".join(text.replace(",", ".").split()))
    if not found or not any(found.groups()):
        raise BadValue("angle", f'"{text}" is not an angle', hint)
    degrees, minutes, seconds = (float(part) if part else 0.0 for part in found.groups())
    whole = int((degrees * 3600 + minutes * 60 + seconds) * 1000 + 0.5)
    if not 0 < whole <= FULL_CIRCLE:
        raise BadValue("angle", f"{text} must lie above 0 and within a turn of 360°", hint)
    return whole


def crank_turns(ratio: int, divisions: int | None = None, thousandths: int | None = None) -> Fraction:
    """Turns of the crank for one move.

        turns = ratio / divisions       or       turns = ratio x angle / 360 degrees

    ratio         turns of the crank for one turn of the work (40)
    divisions     of the whole circle
    thousandths   or the angle, in thousandths of a second of arc

    Source: army-od1644

    >>> crank_turns(40, 42), crank_turns(40, thousandths=35 * 3600000)
    (Fraction(20, 21), Fraction(35, 9))
    """
    if divisions is not None:
        return Fraction(ratio, divisions)
    return Fraction(ratio * (thousandths or 0), FULL_CIRCLE)


def indexing(
    divisions: int | None = None,
    angle: str | None = None,
    ratio: int = 40,
    circles: tuple[int, ...] = USUAL_CIRCLES,
    differential: bool = True,
    plates: str = "",
    gears: tuple[int, ...] = USUAL_GEARS,
    direct: tuple[int, ...] = DIRECT_CIRCLES,
    diameter_mm: float | None = None,
) -> Table:
    """Settings of the dividing head: plain on every circle that gives it, direct, differential, and the nearest.

    divisions or angle   one of the two
    ratio                turns of the crank for one turn of the work
    circles              holes of the circles at hand; PLATES names a set instead
    gears, direct        of the differential gearing; notches of the plate on the spindle nose
    diameter_mm          of the work, for the error on its rim; 100 where it is not given
    """
    if (divisions is None) == (angle is None):
        both = (
            "give divisions or an angle, not both" if angle is not None else "the divisions or the angle must be given"
        )
        raise BadValue("divisions", both, "for example divisions 6, or angle 35")
    if len(circles) > 200 or len(gears) > 16:
        raise BadValue(
            "circles" if len(circles) > 200 else "gears", "the list is too long", "200 circles or 16 gears at most"
        )
    thousandths = None if angle is None else thousandths_of_second(angle)
    turns = crank_turns(ratio, divisions, thousandths)
    used = sorted(set(SETS[plates] if plates else circles))
    rim = diameter_mm if diameter_mm is not None else 100.0
    rows = [_row("plain", turns * c, c) for c in used if (turns * c).denominator == 1]
    if turns.denominator == 1:
        rows = [_row("plain", turns, 1) | {"circle": None, "sector_count": None}]
    plain = bool(rows)
    rows += [_direct(turns / ratio, c) for c in sorted(set(direct)) if (turns / ratio * c).denominator == 1]
    settings = differential_settings(divisions, ratio, used, gears) if divisions and differential and not plain else []
    rows += [_differential(one) for one in settings]
    nearest = [] if plain else _nearest(turns, used, ratio, divisions, rim)
    rows += nearest
    if not rows:
        raise BadValue("circles", f"one move is {written(float(turns), 5)} turns, less than half a hole of any circle", "use an angle that "
                       "the head can set, or a head of another ratio")  # fmt: skip
    return Table(
        tuple(rows), _notes(rows, bool(settings)), _warnings(nearest, divisions, rim, len(rows) > len(nearest))
    )


def _row(method: str, holes: Fraction | int, circle: int) -> dict[str, object]:
    whole, rest = divmod(int(holes), circle)
    return {
        "method": method,
        "turns": whole,
        "holes": rest,
        "circle": circle,
        "sector_count": rest + 1,
        "error_deg": 0.0,
        "error_total_deg": 0.0,
        "rim_error_mm": 0.0,
        "rim_error_total_mm": 0.0,
        "gear_ratio": None,
        "gear_on_spindle": None,
        "stud_gears": None,
        "gear_on_worm": None,
        "idlers": None,
        "plate_turns": None,
    }


def _direct(turns_of_work: Fraction, notches: int) -> dict[str, object]:
    holes = turns_of_work * notches
    return _row("direct", 0, notches) | {"holes": int(holes), "sector_count": None}


def _differential(one: Setting) -> dict[str, object]:
    return _row("differential", one.holes, one.circle) | {
        "gear_ratio": float(one.ratio),
        "gear_on_spindle": one.gears.spindle,
        "stud_gears": one.gears.stud or None,
        "gear_on_worm": one.gears.worm,
        "idlers": one.idlers,
        "plate_turns": "with the crank" if one.ratio > 0 else "against the crank",
    }


def _nearest(
    turns: Fraction, circles: list[int], ratio: int, divisions: int | None, rim_mm: float
) -> list[dict[str, object]]:
    """The three nearest plain settings, each with its error at one move and, for divisions, after all of them."""
    found = []
    for circle in circles:
        holes = (2 * turns.numerator * circle + turns.denominator) // (2 * turns.denominator)
        top = holes * turns.denominator - turns.numerator * circle
        error = top / (turns.denominator * circle) * 360 / ratio
        if holes:
            found.append((abs(error), circle, holes, error))
    rows = []
    for _, circle, holes, error in sorted(found)[:3]:
        total = error * divisions if divisions else error
        rows.append(_row("nearest", holes, circle) | {
            "error_deg": error, "error_total_deg": total,
            "rim_error_mm": error * pi / 360 * rim_mm, "rim_error_total_mm": total * pi / 360 * rim_mm,
        })  # fmt: skip
    return rows


def _notes(rows: list[dict[str, object]], geared: bool) -> tuple[str, ...]:
    notes = []
    if len([row for row in rows if row["method"] == "plain"]) > 1:
        notes.append("Where several circles serve, take the largest: an error of a hole counts least there.")
    if geared:
        notes.append(
            "Idlers are for a head on which one idler in a simple train turns plate and crank the same way: "
            "turn the crank and look before the first cut. Draw the plate's stop pin; the spindle must lie level."
        )
    return tuple(notes)


def _warnings(nearest: list[dict[str, object]], divisions: int | None, rim_mm: float, others: bool) -> tuple[str, ...]:
    if not nearest:
        return ()
    best = nearest[0]
    each = f"{written(abs(best['error_deg']), 5)}° or {written(abs(best['rim_error_mm']), 4)} mm on a rim of {written(rim_mm, 1)} mm"  # type: ignore[arg-type]
    start = "Plain indexing is not exact here" + ("; use a differential setting" if others else "")
    if not divisions:
        return (f"{start}: the nearest setting is out by {each}.",)
    total = f"{written(abs(best['error_total_deg']), 4)}° or {written(abs(best['rim_error_total_mm']), 3)} mm"  # type: ignore[arg-type]
    return (
        f"{start}: the nearest setting is out by {each} at each move, and the last space by {total}. "
        "Counted from the first hole each time, to the nearest hole, no place is out by more than half a hole.",
    )


TABLES = (
    Definition(
        name="indexing",
        title="Indexing on the dividing head",
        about="Turns and holes for a number of divisions or for an angle. Set the sector arms so that they show one hole more than "
        "you move (the hole the pin stands in counts). Always turn the crank the same way, and go back a good half turn if you "
        "overshoot. Clamp the spindle for each cut and free it before you turn.",
        group="Dividing and flats",
        parameters=(
            Parameter("divisions", "Divisions", kind="whole", low=2, high=21600, default=None, example="6"),
            Parameter("angle", "or an angle", kind="text", default=None, example="48 deg 40 min"),
            Parameter("ratio", "Turns of the crank for one turn of the work", kind="whole", low=1, high=720, shop="dividing_ratio",
                      default=40, example="40"),
            Parameter("circles", "Circles of holes", kind="whole", many=True, low=2, high=1000, shop="circles", default=USUAL_CIRCLES,
                      example="15, 16, 17, 18, 19, 20", help="holes of every circle on your plates"),
            Parameter("plates", "or a set of plates", kind="choice", choices=tuple(SETS), default="", example=next(iter(SETS))),
            Parameter("differential", "Differential indexing too", kind="flag", default=True, example="true"),
            Parameter("gears", "Gears for differential indexing", kind="whole", many=True, low=12, high=200, shop="dividing_gears",
                      default=USUAL_GEARS, example="24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100"),
            Parameter("direct", "Notches for direct indexing", kind="whole", many=True, low=2, high=360, shop="direct_circles",
                      default=DIRECT_CIRCLES, example="24", help="of the plate on the spindle nose"),
            Parameter("diameter", "Diameter of the work", unit="mm", low=0.5, high=5000, default=None, example="60 mm"),
        ),
        columns=(
            Column("method", "Method", kind="text"),
            Column("turns", "Whole turns"),
            Column("holes", "and holes"),
            Column("circle", "of circle", help="empty: any circle"),
            Column("sector_count", "Holes between the arms", help="counted with the hole the pin stands in"),
            Column("error_deg", "Error of a move", "deg", decimals=5),
            Column("error_total_deg", "Error of the last", "deg", decimals=4),
            Column("rim_error_mm", "Error on the rim", "mm", decimals=4),
            Column("rim_error_total_mm", "Last, on the rim", "mm", decimals=3),
            Column("gear_ratio", "Gear ratio", decimals=4, help="spindle over worm shaft; minus: the plate turns against the crank"),
            Column("gear_on_spindle", "Gear on spindle"),
            Column("stud_gears", "Gears on stud", kind="list", help="driven by the spindle, then the one that drives the worm"),
            Column("gear_on_worm", "Gear on worm"),
            Column("idlers", "Idlers"),
            Column("plate_turns", "Plate turns", kind="text"),
        ),
        compute=indexing,
        sources=(Cite("army-od1644", "plain and angular indexing"), Cite("milling-treatise", "pages 52 and 57")),
        holds="heads with a worm of 1 to 720 turns and the circles given; the way idlers turn the plate differs from head to head",
        also=("dividing head", "index plate", "sector arms", "rotary table", "divisions", "differential indexing", "angular indexing"),
        examples=({"divisions": 6}, {"divisions": 127, "diameter": "80 mm"}, {"angle": "48 deg 40 min"}),
        browser="indexing",
        browser_data=lambda: {"sets": {name: list(circles) for name, circles in SETS.items()}},
    ),
)  # fmt: skip
