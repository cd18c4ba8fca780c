"""The oil that is as thick here as the maker's was there."""

from __future__ import annotations

from math import inf, log
from typing import Any

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import significant, written
from fettlebook.tables.oil_grades import Oil, iso_grades, line_of, oil_figures, oil_named
from fettlebook.tables.oil_words import say
from fettlebook.tables.oils import INDEX, WAX_C, grade_parameter
from fettlebook.tables.viscosity import Line, OutOfRange

STEP = 10 ** (1 / 6)
"""Ratio from one ISO grade to the next, six to a decade: about 1.47. Source: iso-3448, by its series 10, 15, 22, 32, 46, 68, 100."""

SAME, NEIGHBOUR = 0.5, 1.5
"""Steps up to which an oil counts as the maker's own thickness, and as one grade off. By rounding to the nearest grade."""


def place_among(logs: list[float], log_v: float) -> float:
    """Where a viscosity stands in a row of grades, counted in grades from the thinnest, and beyond the ends by their distance.

    logs    logarithm of each grade's viscosity at one temperature, rising; two at least
    log_v   logarithm of the viscosity asked about

    Cold spreads the grades and warmth draws them together, so they are counted where the oil works and not at 40 degC.

    >>> place_among([2.0, 3.0, 5.0], 4.0), place_among([2.0, 3.0, 5.0], 1.0)
    (1.5, -1.0)
    """
    n = min(max(sum(log <= log_v for log in logs), 1), len(logs) - 1)
    return n - 1 + (log_v - logs[n - 1]) / (logs[n] - logs[n - 1])


def verdict(steps: float) -> str:
    """How many grades an oil is thicker (above 0) or thinner than what is wanted, in words."""
    side = "thick" if steps > 0 else "thin"
    if abs(steps) <= SAME:
        return say("same")
    return say("one", side=side) if abs(steps) <= NEIGHBOUR else say("more", steps=written(abs(steps), 0), side=side)


def oil_for_climate(
    grade: str,
    designed_for_c: tuple[float, ...],
    here_c: tuple[float, ...],
    index: float | None = None,
    rise: float = 0.0,
    store: tuple[str, ...] | None = None,
) -> Table:
    """The ISO grade whose viscosity here is nearest to that of the maker's grade where it was designed for.

        ratio = viscosity of an oil here / viscosity of the maker's grade there

    grade            the maker's grade
    designed_for_c   oil temperature at work there [degC], or lowest and highest
    here_c           oil temperature at work here [degC], or lowest and highest
    index            viscosity index taken for every oil; 95 assumed
    rise             added to both where they are room temperatures [K]
    store            grades in the store

    Sources: astm-d341, astm-d2270, iso-3448
    """
    there, here = _ends("designed_for", designed_for_c, rise), _ends("here", here_c, rise)
    maker = oil_named(grade)
    maker_line, taken = line_of(maker, index)
    wanted = [_at(maker_line, t, "designed_for") for t in there]
    known = _grades_at(taken, here[1])
    logs = [log(v) for _, v in known]
    nearest = min(known, key=lambda one: abs(log(one[1] / wanted[1])))[0]
    rows = [_row("nearest ISO grade", nearest, taken, wanted, here, logs)]
    rows.append(_row("the maker's own grade", maker, index, wanted, here, logs))
    kept = [_store_row(text, index, wanted, here, logs) for text in store or ()]
    rows += sorted(kept, key=lambda row: abs(row["steps"]) if row["steps"] is not None else inf)
    return Table(tuple(rows), _notes(maker, taken, index is None, wanted, there, here, rows), _warnings(rows, here))


def _ends(parameter: str, given: tuple[float, ...], rise: float) -> tuple[float, float, float]:
    """Lowest, middle and highest oil temperature of one figure or of two."""
    if len(given) > 2:
        raise BadValue(parameter, say("ends", count=len(given)), say("ends_hint"))
    low, high = min(given) + rise, max(given) + rise
    return low, (low + high) / 2, high


def _at(line: Line, temperature_c: float, parameter: str) -> float:
    try:
        return line.at(temperature_c)
    except OutOfRange as fault:
        raise BadValue(parameter, str(fault)) from None


def _grades_at(index: float, here_c: float) -> list[tuple[Oil, float]]:
    """ISO grades with their viscosity here, thinnest first. Those for which the index is not defined (VG 5 and thinner) are left out."""
    found = []
    for oil in iso_grades():
        try:
            found.append((oil, oil.line(index).at(here_c)))
        except OutOfRange:
            continue
    if len(found) < 2:
        raise BadValue("index", say("no_iso", index=f"{index:g}", t=f"{here_c:g}"))
    return found


def _row(
    what: str,
    oil: Oil,
    index: float | None,
    wanted: list[float],
    here: tuple[float, float, float],
    logs: list[float],
    parameter: str = "index",
) -> dict[str, Any]:
    line = line_of(oil, index, parameter)[0]
    found = [_at(line, t, "here") for t in here]
    ratio = found[1] / wanted[1]
    steps = place_among(logs, log(found[1])) - place_among(logs, log(wanted[1]))
    return {
        "what": what,
        "grade": oil.name,
        "viscosity_mm2_s": found[1],
        "designed_viscosity_mm2_s": wanted[1],
        "ratio": ratio,
        "steps": steps,
        "coldest_ratio": found[0] / wanted[0],
        "hottest_ratio": found[2] / wanted[2],
        "verdict": verdict(steps),
        "does": "" if abs(steps) <= SAME else say("does_thick" if steps > 0 else "does_thin"),
    }


def _store_row(
    text: str, index: float | None, wanted: list[float], here: tuple[float, float, float], logs: list[float]
) -> dict[str, Any]:
    """A row for an oil in the store. One that cannot be compared says why and does not spoil the others."""
    try:
        return _row("in the store", oil_named(text, "store"), index, wanted, here, logs, "store")
    except BadValue as fault:
        blank = dict.fromkeys(("viscosity_mm2_s", "ratio", "steps", "coldest_ratio", "hottest_ratio"))
        refused = {"what": "in the store", "grade": text, "verdict": say("not_compared", what=fault.what), "does": ""}
        return {**blank, **refused, "designed_viscosity_mm2_s": wanted[1]}


def _notes(
    maker: Oil, index: float, assumed: bool, wanted: list[float], there: tuple, here: tuple, rows: list[dict[str, Any]]
) -> tuple[str, ...]:
    first, own = rows[0], rows[1]
    figures = {"wanted": wanted[1], "found": first["viscosity_mm2_s"], "own": own["viscosity_mm2_s"]}
    names = {"maker": maker.name, "grade": first["grade"], "there": f"{there[1]:g}", "here": f"{here[1]:g}"}
    notes = [
        say("there_here", **names, **{key: significant(value) for key, value in figures.items()}),
        say("index_assumed" if assumed else "index_taken", index=f"{index:g}"),
        *(say(key) for key in ("oil_temperature", "kind", "manual")),
    ]
    stored = [row for row in rows if row["what"] == "in the store" and row["steps"] is not None]
    if stored and all(abs(row["steps"]) > SAME for row in stored):
        notes.append(_no_match(stored))
    return tuple(notes)


def _no_match(stored: list[dict[str, Any]]) -> str:
    thicker, thinner = ([row for row in stored if side * row["steps"] > 0] for side in (1, -1))
    if thicker and thinner:
        return say("between", thinner=thinner[0]["grade"], thicker=thicker[0]["grade"])
    return say("none_fits", grade=stored[0]["grade"], verdict=stored[0]["verdict"])


def _warnings(rows: list[dict[str, Any]], here: tuple[float, float, float]) -> tuple[str, ...]:
    warnings, first = [], rows[0]
    if abs(first["steps"]) > SAME:
        warnings.append(say("no_fit", grade=first["grade"], verdict=first["verdict"]))
    if here[0] < WAX_C:
        warnings.append(say("wax"))
    if here[0] != here[2] and first["coldest_ratio"] > STEP**NEIGHBOUR:
        times = significant(first["coldest_ratio"], 2)
        warnings.append(say("cold_start", t=f"{here[0]:g}", grade=first["grade"], times=times))
    return tuple(warnings)


TABLES = (
    Definition(
        name="oil-for-climate",
        title="The right oil for here",
        about="A machine's manual names an oil for the climate it was built for. This finds the grade that is as thick here as that one "
        "was there, and says how what you have in the store compares.",
        group="Oil",
        parameters=(
            grade_parameter("grade", "The maker's grade"),
            Parameter("designed_for", "Oil temperature there", unit="degC", many=True, low=-30, high=120, example="20 °C",
                      help="at work, where the manual was written; or lowest and highest, like 15, 30"),
            Parameter("here", "Oil temperature here", unit="degC", many=True, low=-30, high=120, example="35 °C",
                      help="at work, in your shop; or lowest and highest, like 5, 40"),
            INDEX,
            Parameter("rise", "Rise above the room, in K", kind="number", low=0, high=60, default=0.0, example="20",
                      help="0 when the temperatures are the oil's own; where they are the rooms', how much warmer the oil runs"),
            Parameter("store", "Oils in the store", kind="text", many=True, default=None, shop="oils", example="ISO VG 32, ISO VG 68"),
        ),
        columns=(
            Column("what", "Oil", kind="text"),
            Column("grade", "Grade", kind="text"),
            Column("verdict", "Verdict", kind="text"),
            Column("viscosity_mm2_s", "Here", "mm2/s", significant=3),
            Column("designed_viscosity_mm2_s", "The maker's there", "mm2/s", significant=3),
            Column("ratio", "Here over there", significant=3),
            Column("steps", "Grades off", decimals=1),
            Column("coldest_ratio", "At the coldest", significant=3),
            Column("hottest_ratio", "At the hottest", significant=3),
            Column("does", "What that does", kind="text"),
        ),
        compute=oil_for_climate,
        sources=(Cite("astm-d341", "the viscosity-temperature equation", "secondary"), Cite("astm-d2270", "table 1", "secondary"),
                 Cite("iso-3448", "table 1", "secondary"), Cite("common-practice", "what too thick and too thin do", "practice"),
                 Cite("from-memory", "the assumed index of 95", "memory")),
        holds="mineral oils from ISO VG 7 up, oil temperatures of -30 to 120 °C; one viscosity index for all",
        also=("oil grade", "hot climate", "cold shop", "substitute oil", "equivalent oil", "which oil", "headstock oil"),
        examples=({"grade": "ISO VG 32", "designed_for": [20], "here": [35]},
                  {"grade": "ISO VG 68", "designed_for": [15, 30], "here": [0, 20], "rise": 15}),
        browser="oils",
        browser_data=oil_figures,
    ),
)  # fmt: skip
