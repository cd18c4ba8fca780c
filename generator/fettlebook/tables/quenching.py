"""Quenching: the severity of a quench, and how warm a bath gets from the work put into it."""

from __future__ import annotations

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table

MEDIA = ("water", "oil", "brine", "air")
AGITATION = ("none", "mild", "moderate", "good", "strong", "violent")
INCH_MM = 25.4

SPECIFIC_HEAT = {"steel": 0.17, "aluminium": 0.23, "oil": 0.45, "polymer": 0.95, "water": 1.0, "brine": 0.9}
"""Specific heat [cal/(g K)]. Source: quench-oil-rule; brine from memory. The steel's is a mean from hardening heat down."""

DENSITY = {"oil": 0.88, "water": 1.0, "brine": 1.07, "polymer": 1.03}
"""Density [kg/l], from memory. The article counts oil as 8.3 lb/US gal, which is water; oil is about 7.3."""

HOT_OIL_C = 80.0
"""Warmest oil that is still well below its flash point and still quenches [degC]. Common practice; the oil's sheet decides."""


def severity_per_in(medium: str, agitation: str = "none") -> tuple[float, float]:
    """Lowest and highest severity H [1/in] of a medium moved so. Raises BadValue where the table prints none.

    Source: grossmann-1952, from memory
    """
    rows = data.rows("quench-severity")
    for row in rows:
        if row["medium"] == medium and row["agitation"] == agitation:
            return row["low"], row["high"]
    known = ", ".join(row["agitation"] for row in rows if row["medium"] == medium)
    raise BadValue(
        "agitation",
        f"no severity is tabulated for {medium} with {agitation} agitation",
        f"one of {known}" if known else "",
    )


def heat_transfer_w_m2k(severity: float, conductivity_w_mk: float = 30.0) -> float:
    """The surface coefficient that a severity H [1/in] stands for: h = 2 k H. Source: totten-h-factors.

    >>> round(heat_transfer_w_m2k(1.0))
    2362
    """
    return 2 * conductivity_w_mk * severity / (INCH_MM / 1000)


def severities() -> Table:
    """Every medium and agitation with its severity."""
    rows = tuple(
        {"medium": r["medium"], "agitation": r["agitation"], "low_per_in": r["low"], "high_per_in": r["high"], "low_per_mm": r["low"] / INCH_MM,
         "high_per_mm": r["high"] / INCH_MM, "low_w_m2k": heat_transfer_w_m2k(r["low"]), "high_w_m2k": heat_transfer_w_m2k(r["high"])}
        for r in data.rows("quench-severity")
    )  # fmt: skip
    return Table(rows, ("Severity is hard to reproduce: the words for agitation are not measured, and two shops' `moderate` differ. Take it as a guide.",
                        "Moving the work up and down in the bath counts as mild to moderate; water that steams against the work is worse than still water."))  # fmt: skip


def specific_heat(stuff: str) -> float:
    """Specific heat of a work metal or a bath [cal/(g K)]. Source: quench-oil-rule."""
    return SPECIFIC_HEAT[stuff]


def bath_rise_c(work_kg: float, from_c: float, bath_l: float, medium: str, bath_c: float) -> float:
    """How much warmer the bath gets [K] when all the heat of the work goes into it.

        m_w c_w (T_w - T) = m_b c_b (T - T_b)

    work_kg, from_c        the work [kg] and its hardening heat [degC]
    bath_l, medium, bath_c the bath [l], what it is, and its start [degC]

    Source: quench-oil-rule for the specific heats
    """
    work = work_kg * specific_heat("steel")
    bath = bath_l * DENSITY[medium] * specific_heat(medium)
    return work * (from_c - bath_c) / (work + bath)


def bath(work_kg: float, bath_l: float, medium: str = "oil", from_c: float = 800.0, bath_c: float = 20.0) -> Table:
    """How warm a bath gets, and how much of it would be enough."""
    rise = bath_rise_c(work_kg, from_c, bath_l, medium, bath_c)
    rule_l = work_kg * 8.345
    row = {"rise_c": rise, "end_c": bath_c + rise, "rule_l": rule_l, "times_rule": bath_l / rule_l}
    warnings = []
    if medium == "oil" and bath_c + rise > HOT_OIL_C:
        warnings.append(
            f"The oil gets to {bath_c + rise:.0f} °C: too hot, it may catch fire. Use more oil, or quench fewer parts at a time and let it cool between."
        )
    if medium in {"water", "brine"} and bath_c + rise > 40:
        warnings.append("Water above about 40 °C quenches slowly and in patches: use more, or change it.")
    if medium == "oil":
        warnings.append(
            "Metal tin with a lid beside the hearth, never under it; no water anywhere in it (it boils up and throws burning oil); stand aside, put the part in at once and all the way."
        )
    notes = ("The rule of the trade is one gallon of oil for each pound of work (8.3 l/kg), for a rise of about 38 °C (70 °F).",
             "A small part in a small tin: move it, or vapour shields it and it stays soft in patches.")  # fmt: skip
    return Table((row,), notes, tuple(warnings))


TABLES = (
    Definition(
        name="quench-severity",
        title="How hard a quench bites",
        about="The severity of quench by medium and how the work is moved in it; the hardenability table uses it.",
        group="heat",
        parameters=(),
        columns=(
            Column("medium", "Medium", kind="text"),
            Column("agitation", "Agitation", kind="text"),
            Column("low_per_in", "H from, 1/in", decimals=2),
            Column("high_per_in", "H to, 1/in", decimals=2),
            Column("low_per_mm", "H from, 1/mm", decimals=4),
            Column("high_per_mm", "H to, 1/mm", decimals=4),
            Column("low_w_m2k", "Surface coefficient from, W/(m² K)", decimals=0),
            Column("high_w_m2k", "Surface coefficient to, W/(m² K)", decimals=0),
        ),
        compute=severities,
        sources=(Cite("grossmann-1952", "severity of quench table", "memory"), Cite("totten-h-factors", "definition of H")),
        holds="steel from hardening heat; the coefficients with a conductivity of 30 W/(m K)",
        also=("H value", "Grossmann", "quench severity", "agitation"),
    ),
    Definition(
        name="quench-bath",
        title="How warm the quench gets",
        about="Whether there is enough oil or water for the parts that go into it.",
        group="heat",
        parameters=(
            Parameter("work", "Mass of the parts", unit="kg", low=0.001, high=1000, example="0.4 kg"),
            Parameter("bath", "Bath", unit="l", low=0.01, high=100000, example="5 l"),
            Parameter("medium", "Medium", kind="choice", choices=("oil", "water", "brine", "polymer"), default="oil", example="oil"),
            Parameter("from", "Hardening temperature", unit="degC", low=100, high=1300, default=800.0, argument="from_c", example="800 degC"),
            Parameter("start", "Bath at the start", unit="degC", low=-10, high=150, default=20.0, argument="bath_c", example="20 degC"),
        ),
        columns=(
            Column("rise_c", "Rise, K", decimals=0),
            Column("end_c", "Bath at the end", "degC", decimals=0),
            Column("rule_l", "By the rule of the trade", "l", decimals=1),
            Column("times_rule", "Your bath over that", decimals=2),
        ),
        compute=bath,
        sources=(Cite("quench-oil-rule", "rule and specific heats"), Cite("from-memory", "densities", "memory")),
        holds="all the heat of the work goes into the bath, and the bath is stirred",
        also=("quench oil", "quench tank", "oil volume", "fire"),
        examples=({"work": 0.4, "bath": 5},),
    ),
)  # fmt: skip
