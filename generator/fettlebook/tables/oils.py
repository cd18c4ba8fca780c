"""How thick an oil is at a temperature, and how steeply kinds of oil thicken in the cold."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.definition import REQUIRED, BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import significant, written
from fettlebook.tables.oil_grades import iso_grade_of, line_of, measured_oil, nearest_iso, oil_figures, oil_named
from fettlebook.tables.oil_words import say
from fettlebook.tables.viscosity import (
    INDEX_FROM,
    INDEX_THINNEST,
    INDEX_TO,
    Line,
    OutOfRange,
    line_through,
    viscosity_index,
)

WAX_C = -10.0
"""Below this many mineral oils cloud and stop following the line; the pour point is on the data sheet. common practice"""

TEMPERATURES = (0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0)

INDEX_APART = 5.0
"""How far a data sheet's index may stand from the one its two rounded viscosities give. common practice"""


def oil_line(
    grade: str | None, v40: float | None, v100: float | None, index: float | None
) -> tuple[str, Line, float | None, bool]:
    """The oil as given: its name, its line, its index (None where it is not defined), and whether that was assumed."""
    if grade is not None and (v40 is not None or v100 is not None):
        raise BadValue("grade", say("either"))
    if v40 is not None and v100 is not None:
        return _line_of_two(v40, v100, index)
    if grade is None and v40 is None:
        raise BadValue("grade", say("needed"), say("needed_hint"))
    oil = oil_named(grade) if grade is not None else measured_oil(v40 or 0.0)
    line, taken = line_of(oil, index)
    return oil.name, line, taken, index is None


def _line_of_two(v40: float, v100: float, index: float | None) -> tuple[str, Line, float | None, bool]:
    both = {"v40": f"{v40:g}", "v100": f"{v100:g}"}
    if not v40 > v100:
        raise BadValue("v100", say("exchanged", **both), say("exchanged_hint"))
    found = viscosity_index(v40, v100) if v100 >= INDEX_THINNEST else None
    if index is not None and (found is None or abs(index - found) > INDEX_APART):
        gives = say("index_none") if found is None else written(found, 0)
        raise BadValue("index", say("index_apart", index=f"{index:g}", found=gives), say("index_apart_hint"))
    return say("two_points", **both), line_through(v40, 40, v100, 100), found, False


def oil_viscosity(
    grade: str | None = None,
    v40_mm2_s: float | None = None,
    v100_mm2_s: float | None = None,
    index: float | None = None,
    temperatures_c: tuple[float, ...] = TEMPERATURES,
) -> Table:
    """Kinematic viscosity of an oil at temperatures.

    grade            an oil's grade, or None with v40_mm2_s
    v40_mm2_s        at 40 degC [mm2/s], above 2
    v100_mm2_s       at 100 degC [mm2/s], in place of the index
    index            viscosity index, 0 to 300; 95 assumed where nothing is given
    temperatures_c   [degC], -40 to 200

    Sources: astm-d341, astm-d2270, iso-3448
    """
    name, line, taken, assumed = oil_line(grade, v40_mm2_s, v100_mm2_s, index)
    rows = tuple(
        {
            "temperature_c": t,
            "viscosity_mm2_s": (v := _at(line, t)),
            "times_40c": v / line.at(40),
            "viscosity_index": taken,
        }
        for t in temperatures_c
    )
    v40, v100 = line.at(40), _at(line, 100, "v100")
    notes = (
        say("is", name=name, v40=significant(v40), v100=significant(v100), index=_index_words(taken, assumed)),
        say("grade_is", grade=_grade_words(v40)),
        *_width_words(grade),
    )
    return Table(rows, notes, (say("wax"),) if min(temperatures_c) < WAX_C else ())


def _width_words(grade: str | None) -> tuple[str, ...]:
    """How far a drum of this grade may differ from its middle, since a grade is a band."""
    oil = oil_named(grade) if grade is not None else None
    if oil is None or oil.low is None or oil.high is None:
        return ()
    return (say("band", low=significant(oil.low), high=significant(oil.high), at=f"{oil.at_c:g}"),)


def _index_words(index: float | None, assumed: bool) -> str:
    if index is None:
        return say("index_not_defined")
    return say("assumed", index=written(index, 0)) if assumed else written(index, 0)


def _at(line: Line, temperature_c: float, parameter: str = "temperatures") -> float:
    try:
        return line.at(temperature_c)
    except OutOfRange as fault:
        raise BadValue(parameter, str(fault)) from None


def _grade_words(v40: float) -> str:
    held = iso_grade_of(v40)
    return held.name if held else say("no_grade", name=nearest_iso(v40).name)


def oil_indexes() -> Table:
    """Viscosity index by kind of oil and by base oil group, as data sheets print it."""
    index = data.read("oils")["index"]
    rows = [
        {"oil": row["kind"], "index_low": row["low"], "index_high": row["high"], "known": "from memory"}
        for row in index["kinds"]
    ]
    rows += [
        {"oil": f"base oil group {row['group']}", "index_low": row["low"], "index_high": row["below"], "known": "read"}
        for row in index["groups"]
    ]
    return Table(tuple(rows), notes=("A group's upper figure is not included in it; group IV is about 130 and more.",))


def grade_parameter(name: str, label: str, example: str = "ISO VG 46", default: Any = REQUIRED) -> Parameter:
    """A parameter that takes an oil's grade."""
    words = "with its system: ISO VG, SAE, SAE … gear or AGMA; or a viscosity at 40 °C, like 38 mm2/s"
    return Parameter(name, label, kind="text", example=example, default=default, help=words)


INDEX = Parameter("index", "Viscosity index", kind="number", low=INDEX_FROM, high=INDEX_TO, default=None, example="95",
                  help="on the data sheet; 95 is assumed where it is left out")  # fmt: skip

TABLES = (
    Definition(
        name="oil-viscosity",
        title="How thick an oil is at a temperature",
        about="Gives the viscosity of an oil over temperature from its grade, or from the figures on its data sheet. "
        "An oil's temperature is that in the sump at work, not the room's.",
        group="Oil",
        parameters=(
            grade_parameter("grade", "Grade", default=None),
            Parameter("v40", "Viscosity at 40 °C, in place of the grade", unit="mm2/s", low=2.001, high=10000, default=None, example="46"),
            Parameter("v100", "Viscosity at 100 °C, in place of the index", unit="mm2/s", low=0.21, high=1000, default=None, example="6.8"),
            INDEX,
            Parameter("temperatures", "Temperatures", unit="degC", many=True, low=-40, high=200, default=TEMPERATURES, example="5, 20, 35, 60"),
        ),
        columns=(
            Column("temperature_c", "Temperature", "degC", decimals=0),
            Column("viscosity_mm2_s", "Viscosity", "mm2/s", significant=3),
            Column("times_40c", "Times that at 40 °C", significant=3),
            Column("viscosity_index", "Viscosity index", decimals=0),
        ),
        compute=oil_viscosity,
        sources=(Cite("astm-d341", "the viscosity-temperature equation", "secondary"), Cite("astm-d2270", "procedures A and B, table 1", "secondary"),
                 Cite("iso-3448", "table 1", "secondary"), Cite("from-memory", "the assumed index of 95", "memory")),
        holds="oils of 2 to 10 000 mm²/s at 40 °C between -40 and 200 °C; by grade from ISO VG 7 up, since the viscosity index is "
        "not defined below 2 mm²/s at 100 °C",
        also=("viscosity", "thickness of oil", "viscosity index", "VI", "centistokes", "cSt", "cold oil"),
        examples=({"grade": "ISO VG 46"}, {"grade": "SAE 30"}, {"v40": 32, "v100": 5.4}),
        browser="oils",
        browser_data=oil_figures,
    ),
    Definition(
        name="oil-indexes",
        title="Viscosity index by kind of oil",
        about="How steeply an oil thickens in the cold and thins in the heat: the higher its index, the less. "
        "Look for the index on the data sheet first; these are for an oil without one.",
        group="Oil",
        parameters=(),
        columns=(
            Column("oil", "Oil", kind="text"),
            Column("index_low", "From", decimals=0),
            Column("index_high", "To", decimals=0),
            Column("known", "How known", kind="text"),
        ),
        compute=oil_indexes,
        sources=(Cite("api-base-oils", "viscosity index by group", "secondary"), Cite("from-memory", "kinds of shop oil", "memory")),
        holds="mineral oils and polyalphaolefins",
        also=("VI", "base oil group", "hydraulic oil", "way oil", "gear oil"),
    ),
)  # fmt: skip
