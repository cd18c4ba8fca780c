"""Heating a part through: how long until it is at heat, and how long it then soaks.

A part whose inside follows its skin (Biot number up to 0.1) heats like one lump; a thicker one takes longer.
"""

from __future__ import annotations

from math import exp, log

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.steel_data import Steel, cite_of
from fettlebook.tables.writing import short_title

BIOT_LIMIT = 0.1
"""Largest Biot number up to which a part is one lump. Source: incropera, chapter 5."""

STEFAN_BOLTZMANN = 5.670374419e-8
"""[W/(m2 K4)]. Exact in the SI of 2019 (CODATA)."""

LENGTHS = {"ball": 6, "bar": 4, "plate": 2}
"""Section over characteristic length: D/6 for a ball, D/4 for a long bar, t/2 for a plate heated from both sides (incropera)."""

MIN_PER_INCH_AT_LEAST = 5.0
"""General least soak at heat [min/in]. Source: knights-furnace; far shorter than the sheets of tool steel."""

USUAL_MIN_PER_INCH = (20.0, 30.0)
"""Soak [min/in] where nothing is printed for the steel. Common practice, after the tool steel sheets."""

SMALLEST_SOAK_MIN = 5.0
"""No soak is shorter [min]. Common practice for thin parts on a hearth."""


def biot(section_mm: float, shape: str, h_w_m2k: float, k_w_mk: float) -> float:
    """Biot number h L / k with L from LENGTHS. Source: incropera."""
    return h_w_m2k * section_mm / 1000 / LENGTHS[shape] / k_w_mk


def time_constant_s(
    section_mm: float, shape: str, h_w_m2k: float, c_j_kgk: float = 650.0, rho_kg_m3: float = 7850.0
) -> float:
    """Time in which the difference to the furnace falls to 1/e: rho c L / h [s]. Source: incropera."""
    return rho_kg_m3 * c_j_kgk * section_mm / 1000 / LENGTHS[shape] / h_w_m2k


def heating_time_s(tau_s: float, start_c: float, furnace_c: float, wanted_c: float) -> float:
    """Time to reach a temperature: tau ln((T_f - T_i)/(T_f - T)) [s]. Raises BadValue when the furnace never gets it there.

    Source: incropera
    """
    if not min(start_c, furnace_c) < wanted_c < max(start_c, furnace_c):
        raise BadValue(
            "to",
            f"{wanted_c:g} °C is never reached between {start_c:g} °C and a furnace at {furnace_c:g} °C",
            "the furnace must be hotter than the part is to get",
        )
    return tau_s * log((furnace_c - start_c) / (furnace_c - wanted_c))


def temperature_after_c(tau_s: float, start_c: float, furnace_c: float, time_s: float) -> float:
    """Temperature of the lump after a time: T_f + (T_i - T_f) exp(-t/tau) [degC]. Source: incropera."""
    return furnace_c + (start_c - furnace_c) * exp(-time_s / tau_s)


def radiation_w_m2k(furnace_c: float, part_c: float, emissivity: float = 0.8) -> float:
    """Radiation as a surface coefficient: eps sigma (T1^2 + T2^2)(T1 + T2) [W/(m2 K)]. Source: incropera.

    >>> round(radiation_w_m2k(850, 526.85), 1)
    165.9
    """
    hot, cold = furnace_c + 273.15, part_c + 273.15
    return emissivity * STEFAN_BOLTZMANN * (hot**2 + cold**2) * (hot + cold)


def soak_min(steel: Steel, section_mm: float) -> tuple[float, float, str]:
    """Shortest and longest soak at hardening heat [min] by what is printed for the steel, and who says so."""
    inches = section_mm / 25.4
    records = steel.published("soak")
    if not records:
        low, high = (max(SMALLEST_SOAK_MIN, rate * inches) for rate in USUAL_MIN_PER_INCH)
        return low, high, "20 to 30 min for each 25 mm, common practice; a furnace maker's least is 5 min"
    times = [
        max(record.get("floor", SMALLEST_SOAK_MIN), rate * inches)
        for record in records
        for rate in record["min_per_in"]
    ]
    said = "; ".join(
        f"{' to '.join(f'{r:g}' for r in record['min_per_in'])} min for each 25 mm ({short_title(cite_of(record))})"
        for record in records
    )
    return min(times), max(times), said


def heating(
    section_mm: float, furnace_c: float, shape: str = "bar", to_c: float = 780.0, from_c: float = 20.0, h_w_m2k: float = 60.0, conductivity: float = 30.0,
    specific_heat: float = 650.0, density: float = 7850.0,
) -> Table:  # fmt: skip
    """How long a part takes to come to heat in a furnace, as one lump, and its temperature on the way."""
    bi = biot(section_mm, shape, h_w_m2k, conductivity)
    tau = time_constant_s(section_mm, shape, h_w_m2k, specific_heat, density)
    total = heating_time_s(tau, from_c, furnace_c, to_c)
    rows = tuple({"share": share, "time_min": total * share / 60, "temperature_c": temperature_after_c(tau, from_c, furnace_c, total * share), "biot": bi, "tau_s": tau}
                 for share in (0.25, 0.5, 0.75, 1.0))  # fmt: skip
    warnings = (
        ()
        if bi <= BIOT_LIMIT
        else (
            f"Biot number {bi:.2f} is over {BIOT_LIMIT:g}: the inside lags behind the skin. Count these times as the least, and add to them.",
        )
    )
    notes = (f"At {to_c:g} °C after {total / 60:.0f} min; the soak is counted from there. By eye: the part has no darker core or corner and matches the furnace wall.",
             f"Radiation alone is worth about {radiation_w_m2k(furnace_c, (from_c + to_c) / 2):.0f} W/(m² K) half way in a black muffle; a bright part or a crowded hearth gets half or less.")  # fmt: skip
    return Table(rows, notes, warnings)


TABLES = (
    Definition(
        name="heating-up",
        title="How long until it is at heat",
        about="The time a part needs in a hot furnace before the soak begins.",
        group="heat",
        parameters=(
            Parameter("section", "Diameter or thickness", unit="mm", low=0.1, high=500, example="10 mm"),
            Parameter("furnace", "Furnace", unit="degC", low=50, high=1400, argument="furnace_c", example="850 degC"),
            Parameter("shape", "Shape", kind="choice", choices=tuple(LENGTHS), default="bar", example="bar"),
            Parameter("to", "Temperature wanted", unit="degC", low=20, high=1350, default=780.0, argument="to_c", example="780 degC"),
            Parameter("from", "At the start", unit="degC", low=-30, high=1300, default=20.0, argument="from_c", example="20 degC"),
            Parameter("coefficient", "Surface coefficient, W/(m² K)", kind="number", low=1, high=10000, default=60.0, argument="h_w_m2k", example="60", help="50 to 100 in a muffle"),
            Parameter("conductivity", "Conductivity, W/(m K)", kind="number", low=1, high=500, default=30.0, example="30"),
            Parameter("specific-heat", "Specific heat, J/(kg K)", kind="number", low=50, high=5000, default=650.0, example="650", help="a mean over the way up, with the change at Ac1"),
            Parameter("density", "Density, kg/m³", kind="number", low=500, high=20000, default=7850.0, example="7850"),
        ),
        columns=(
            Column("share", "Share of the time", decimals=2),
            Column("time_min", "Time", "min", decimals=1),
            Column("temperature_c", "Temperature", "degC", decimals=0),
            Column("biot", "Biot number", decimals=3),
            Column("tau_s", "Time constant", "s", decimals=0),
        ),
        compute=heating,
        sources=(Cite("incropera", "lumped capacity", "memory"),),
        holds="parts with a Biot number up to 0.1, about 100 mm of bar at 60 W/(m² K); the surface coefficient is an assumption",
        also=("soak", "heat through", "lumped capacity", "Biot", "furnace time"),
        examples=({"section": 10, "furnace": 850},),
    ),
)  # fmt: skip
