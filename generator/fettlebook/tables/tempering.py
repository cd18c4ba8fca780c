"""Tempering: hardness against temperature for a steel and a time, with the colour and the use at each temperature."""

from __future__ import annotations

from math import ceil, floor
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.hardenability import expected_surface_hrc
from fettlebook.tables.steel_data import Steel, cite_of, meanings, what_to_say
from fettlebook.tables.temper_colours import colour_at, colours_between
from fettlebook.tables.tempering_curves import Curve, curves, reach_c, temperature_for_c

STEP_C = 25
MEASURED_H = (10 / 3600, 24.0)
"""Shortest and longest holding time on which the exchange of time and temperature was measured (hollomon-jaffe-1945)."""

BLUE = (230.0, 370.0)
"""Where hardened steel is brittle for its hardness, and mild steel worked warm is brittle too [degC]. Common practice."""

SLOW = (375.0, 575.0)
"""Where alloy steel gets brittle if it is held in it or cooled slowly through it [degC]. Common practice."""

CHROMIUM_NOTE = "With much chromium the same colour needs more heat: the colours printed are those of plain steel."


def curve_of(steel: Steel) -> Curve:
    """The tempering curve of STEEL. Raises BadValue for one that does not harden or has none."""
    if steel.hardens == "no":
        raise BadValue(
            "steel",
            f"{steel.name} does not harden, so there is nothing to temper",
            "see heat-treatment for what can be done with it; a carburised skin is tempered like EN32",
        )
    if steel.hardens == "unknown":
        raise BadValue(
            "steel",
            "the tempering of an unknown steel cannot be told",
            "harden a trial piece, temper pieces of it at 200, 250 and 300 °C and try them",
        )
    if steel.curve is None:
        raise BadValue("steel", f"no tempering curve of {steel.name} is known here")
    return curves()[steel.curve]


def _use(steel: Steel, temperature_c: float) -> str:
    for band in data.read("temper-uses")["kinds"].get(steel.kind, ()):
        if band["low"] <= temperature_c < band["high"]:
            return str(band["use"])
    return ""


def brittle_ranges(steel: Steel) -> list[tuple[float, float, str]]:
    """Ranges of tempering temperature [degC] in which STEEL is brittle, with the words for it."""
    found: list[tuple[float, float, str]] = []
    for record in steel.published("brittle"):
        found.append((record["low"], record["high"], "avoid: brittle (printed for this steel)"))
    if steel.kind in {"carbon-structural", "alloy-structural", "spring"}:
        found.append((*BLUE, "blue brittleness: brittle for its hardness"))
    alloy = sum(steel.typical.get(element, 0) for element in ("Cr", "Ni", "Mn"))
    if steel.kind == "alloy-structural" or (steel.kind == "spring" and alloy > 1.2):
        found.append((*SLOW, "temper embrittlement: cool fast from here, do not hold for many hours"))
    return found


def _row(steel: Steel, curve: Curve, temperature_c: float, hours: float, wanted: bool = False) -> dict[str, Any]:
    spread = curve.spread(temperature_c, hours)
    cautions = [words for low, high, words in brittle_ranges(steel) if low <= temperature_c <= high]
    return {
        "grade": steel.name, "temperature_c": temperature_c, "hardness_hrc": curve.hrc(temperature_c, hours),
        "hardness_low_hrc": spread[0] if spread else None, "hardness_high_hrc": spread[1] if spread else None,
        "colour": colour_at(temperature_c, hours * 60), "colour_between": colours_between(temperature_c, hours * 60), "use": _use(steel, temperature_c), "caution": "; ".join(cautions), "wanted": wanted,
    }  # fmt: skip


def _grid(curve: Curve, hours: float) -> list[float]:
    low, high = reach_c(curve, hours)
    if not high:
        return []
    steps = range(ceil(low / STEP_C) * STEP_C, floor(high / STEP_C) * STEP_C + 1, STEP_C)
    return [float(t) for t in steps if t <= 700]


def _temperatures(
    curve: Curve, hours: float, asked: tuple[float, ...] | None, wanted: float | None
) -> list[tuple[float, bool]]:
    chosen = [(t, False) for t in (asked if asked is not None else _grid(curve, hours))]
    if wanted is not None and (found := temperature_for_c(curve, wanted, hours)) is not None:
        chosen = [(t, mark) for t, mark in chosen if t != found] + [(found, True)]
    return sorted(chosen)


def _steel_rows(
    steel: Steel, hours: float, asked: tuple[float, ...] | None, wanted: float | None
) -> list[dict[str, Any]]:
    curve = curve_of(steel)
    rows = [_row(steel, curve, t, hours, mark) for t, mark in _temperatures(curve, hours, asked, wanted)]
    if not rows:
        measured = ", ".join(f"{s.hours:g} h" for s in curve.sets)
        raise BadValue(
            "time",
            f"for {steel.name} no curve holds at {hours:g} h; measured at {measured}",
            "for this steel time is not exchanged against temperature",
        )
    if asked and all(row["hardness_hrc"] is None for row in rows):
        low, high = reach_c(curve, hours)
        raise BadValue(
            "temperature",
            f"the curve of {steel.name} reaches from {low:.0f} to {high:.0f} °C at {hours:g} h, not to {asked[0]:g} °C",
        )
    return rows


def tempering(
    steel: str, time_h: float = 1.0, temperature_c: tuple[float, ...] | None = None, wanted_hrc: float | None = None
) -> Table:
    """Hardness after tempering, colour and use, by temperature.

    steel           any name of it
    time_h          time at heat [h], 10 s to 100 h
    temperature_c   only these temperatures [degC]
    wanted_hrc      a hardness for which the temperature is wanted [HRC]
    """
    found = meanings(steel)
    rows = [row for s in found for row in _steel_rows(s, time_h, temperature_c, wanted_hrc)]
    shapes = [curve_of(s) for s in found]
    warnings = [what_to_say(steel), *_warnings(found, shapes, time_h), *_beyond(found, rows, time_h)]
    notes = [
        *_wanted_notes(found, wanted_hrc, time_h),
        *(c.note for c in dict.fromkeys(shapes)),
        *_notes(found, time_h),
    ]
    columns = COLUMNS if wanted_hrc is not None else COLUMNS[:-1]
    rows = [{column.name: row[column.name] for column in columns} for row in rows]
    return Table(tuple(rows), tuple(n for n in notes if n), tuple(w for w in warnings if w),
                 tuple(dict.fromkeys(cite for curve in shapes for cite in curve.cites())), columns)  # fmt: skip


def _wanted_notes(found: tuple[Steel, ...], wanted: float | None, hours: float) -> list[str]:
    if wanted is None:
        return []
    said = []
    for steel in found:
        at = temperature_for_c(curve_of(steel), wanted, hours)
        said.append(f"{steel.name}: {wanted:g} HRC after {_hours(hours)} at " + (f"{at:.0f} °C ({colours_between(at, hours * 60)})." if at else "no temperature of its curve."))  # fmt: skip
    return said


def _hours(hours: float) -> str:
    return f"{hours:g} h" if hours >= 1 else f"{hours * 60:.3g} min"


def _warnings(found: tuple[Steel, ...], shapes: list[Curve], hours: float) -> list[str]:
    said = []
    if not MEASURED_H[0] <= hours <= MEASURED_H[1]:
        said.append(
            f"{_hours(hours)} lies outside the 10 s to 24 h on which the exchange of time and temperature was measured."
        )
    said += [f"{steel.name}: the times of its curve are not printed in the source; 1 or 2 h is assumed."
             for steel, curve in zip(found, shapes, strict=True) if all(s.assumed for s in curve.sets if s.main)]  # fmt: skip
    said += [words for steel, curve in zip(found, shapes, strict=True) if (words := _starts_above(steel, curve, hours))]
    if any(steel.hardens == "case" for steel in found):
        said.append("This is the carburised skin. Without carburising the steel does not harden to these figures.")
    return said


def _starts_above(steel: Steel, curve: Curve, hours: float) -> str:
    """A curve whose cool end is harder than what is published as quenched, said out loud; empty where they agree."""
    published, (cool, _) = expected_surface_hrc(steel), reach_c(curve, hours)
    hard = curve.hrc(cool, hours)
    if published is None or hard is None or hard <= published[1] + 1.5:
        return ""
    span = " to ".join(dict.fromkeys(f"{value:g}" for value in published))
    return (
        f"{steel.name}: the curve begins at {hard:.0f} HRC at {cool:.0f} °C, above the {span} HRC published "
        "as quenched: it was measured on small pieces that hardened fully. Count on the lower figure."
    )


def _beyond(found: tuple[Steel, ...], rows: list[dict[str, Any]], hours: float) -> list[str]:
    """For each steel whose curve does not reach a temperature that was asked for."""
    short = {row["grade"] for row in rows if row["hardness_hrc"] is None}
    spans = {s.name: reach_c(curve_of(s), hours) for s in found if s.name in short}
    return [
        f"{name}: at {_hours(hours)} its curve holds from {low:.0f} to {high:.0f} °C; no hardness is given beyond."
        for name, (low, high) in spans.items()
    ]


def _notes(found: tuple[Steel, ...], hours: float) -> list[str]:
    said = [
        "Hardness is that of a part that hardened right through; one that did not is softer from the start. Lowest and highest are the sources' own, brought to this time.",
        "Temper at once, when the quenched part can just be held in the hand (about 65 °C); a hard part left overnight may crack on the bench.",
        f"The time counts from when the whole part is at heat. Colours are those of bright plain steel after {_hours(hours)}; two names are the ends between which it was seen, so in an oven go by its thermometer.",
    ]
    twice = [steel.name for steel in found if any(op.twice for op in steel.operations) or steel.id == "o1"]
    if twice:
        said.append(f"Temper twice, cooling to room temperature between: {', '.join(twice)}.")
    if any(steel.typical.get("Cr", 0) > 2 for steel in found):
        said.append(CHROMIUM_NOTE)
    holds = {
        f"{steel.name}: hold {_hold_words(record)}" for steel in found for record in steel.published("temper_hold")
    }
    return said + [f"{words}." for words in sorted(holds)]


def _hold_words(record: dict[str, Any]) -> str:
    if "h_per_mm" in record:
        words = f"{record['h_per_mm'] * 20:g} h for each 20 mm"
    else:
        per = record["h_per_in"]
        words = f"{per[0]:g}" + (f" to {per[-1]:g}" if len(per) > 1 else "") + " h for each 25 mm"
    return words + (f", at least {record['min_h']:g} h" if "min_h" in record else "") + f" ({cite_of(record).at})"


COLUMNS = (
    Column("grade", "Steel", kind="text"),
    Column("temperature_c", "Temperature", "degC", decimals=0),
    Column("hardness_hrc", "Hardness, HRC", decimals=1),
    Column("hardness_low_hrc", "Lowest of the sources", decimals=1),
    Column("hardness_high_hrc", "Highest of the sources", decimals=1),
    Column(
        "colour_between",
        "Colour then, from palest",
        kind="text",
        help="what slow and fast growth of the film allow; see temper-colours",
    ),
    Column("colour", "Colour by fast growth", kind="text"),
    Column("use", "Use", kind="text"),
    Column("caution", "Take care", kind="text"),
    Column("wanted", "The hardness you want", kind="flag"),
)

TABLES = (
    Definition(
        name="tempering",
        title="Tempering",
        about="What hardness a temperature leaves, which colour bright steel shows there after that time, and what is tempered so. "
        "Published curves; another time than the measured one is exchanged against temperature.",
        group="heat",
        parameters=(
            Parameter("steel", "Steel", kind="text", example="silver steel", help="any of its names"),
            Parameter("time", "Time at heat", unit="h", low=1 / 360, high=100, default=1.0, example="1 h"),
            Parameter("temperature", "Only these temperatures", unit="degC", low=60, high=760, many=True, default=None, example="200, 250"),
            Parameter("hardness", "Hardness wanted", kind="number", low=5, high=68, default=None, argument="wanted_hrc", example="58", help="in HRC"),
        ),
        columns=COLUMNS,
        compute=tempering,
        sources=(Cite("hollomon-jaffe-1945", "exchange of time and temperature", "secondary"), Cite("common-practice", "uses and brittle ranges", "practice")),
        holds="parts hardened through, within the measured temperatures of each curve and 10 s to 24 h; measured points scatter by 1 HRC, between them allow 2",
        also=("drawing", "letting down", "temper", "blue brittleness", "temper embrittlement", "hardness after tempering"),
        examples=({"steel": "silver steel", "time": "1 h"}, {"steel": "O1", "time": "2 h"}, {"steel": "42CrMo4", "hardness": 30}),
    ),
)  # fmt: skip
