"""What two oils mixed give, and how a sump's level moves with the oil's temperature."""

from __future__ import annotations

from math import exp, log, log10

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.oil_grades import iso_grade_of, line_of, oil_named
from fettlebook.tables.oils import INDEX, grade_parameter

ASKED_C = (0.0, 20.0, 40.0, 60.0)
"""Temperatures at which a sump's level is worked out when none are given [degC]."""


def blend_number(v_mm2_s: float) -> float:
    """Viscosity blending number of an oil; the numbers of two oils mix in proportion.

        VBN = 14.534 ln(ln(v + 0.8)) + 10.975

    v_mm2_s   kinematic viscosity at the common temperature [mm2/s], above 0.3
    gives     [-]; natural logarithms: with base-10 ones the blend comes out wrong

    Source: maples-blending

    >>> round(blend_number(32), 3), round(blend_number(68), 3)
    (29.143, 31.94)
    """
    if not v_mm2_s > 0.3:
        raise ValueError(f"{v_mm2_s} mm2/s is too thin for the blending rule, which needs more than 0.3")
    return 14.534 * log(log(v_mm2_s + 0.8)) + 10.975


def blended_mm2_s(v1_mm2_s: float, v2_mm2_s: float, second: float) -> float:
    """Viscosity of a mixture by the blending number; `second` is the second oil's share, 0 to 1.

    Source: maples-blending

    >>> round(blended_mm2_s(32, 68, 0.5), 2)
    45.87
    """
    number = (1 - second) * blend_number(v1_mm2_s) + second * blend_number(v2_mm2_s)
    return exp(exp((number - 10.975) / 14.534)) - 0.8


def blended_by_chart_mm2_s(v1_mm2_s: float, v2_mm2_s: float, second: float) -> float:
    """The same on the D341 chart: log10 log10 (v + 0.7) mixes in proportion. For oils thicker than 2 mm2/s.

    Source: astm-d7152, from memory
    """
    y = (1 - second) * log10(log10(v1_mm2_s + 0.7)) + second * log10(log10(v2_mm2_s + 0.7))
    return 10 ** (10**y) - 0.7


def share_for(v1_mm2_s: float, v2_mm2_s: float, wanted_mm2_s: float) -> float:
    """Share of the second oil, 0 to 1, that gives a wanted viscosity. Raises BadValue when it lies outside the two."""
    if not min(v1_mm2_s, v2_mm2_s) <= wanted_mm2_s <= max(v1_mm2_s, v2_mm2_s):
        what = f"{wanted_mm2_s:.4g} mm²/s at 40 °C does not lie between the two oils, {v1_mm2_s:.4g} and {v2_mm2_s:.4g} mm²/s"
        raise BadValue("wanted", what, "no mixture of these two reaches it")
    if v1_mm2_s == v2_mm2_s:
        raise BadValue("second", "the two oils are equally thick, so no share changes anything")
    a, b = blend_number(v1_mm2_s), blend_number(v2_mm2_s)
    return (blend_number(wanted_mm2_s) - a) / (b - a)


def oil_mixture(
    first: str, second: str, share_percent: float | None = None, wanted: str | None = None, index: float | None = None
) -> Table:
    """What two oils mixed give at 40 degC, or the share that gives a wanted grade.

    first, second   grades, or measured viscosities such as "38 mm2/s"
    share_percent   of the second oil [%], 0 to 100; a series of tenths where neither it nor wanted is given
    wanted          the grade to be mixed
    index           for grades set at 100 degC

    Sources: maples-blending; astm-d7152 beside it
    """
    v1, v2 = (line_of(oil_named(text, name), index)[0].at(40) for text, name in ((first, "first"), (second, "second")))
    if wanted is not None and share_percent is not None:
        raise BadValue("share", "give either the share or the wanted grade, not both")
    if wanted is not None:
        shares = [share_for(v1, v2, line_of(oil_named(wanted, "wanted"), index)[0].at(40))]
    else:
        shares = [n / 10 for n in range(11)] if share_percent is None else [share_percent / 100]
    rows = tuple(_mixture_row(v1, v2, share) for share in shares)
    return Table(rows, MIXTURE_NOTES, MIXTURE_WARNINGS)


def _mixture_row(v1: float, v2: float, share: float) -> dict[str, object]:
    v = blended_mm2_s(v1, v2, share)
    return {
        "first_percent": 100 - 100 * share,
        "second_percent": 100 * share,
        "viscosity_mm2_s": v,
        "by_chart_mm2_s": blended_by_chart_mm2_s(v1, v2, share),
        "grade": held.name if (held := iso_grade_of(v)) else "none: between two grades",
    }


MIXTURE_WARNINGS = (
    "Mix only oils of the same kind and, better, of the same maker and name: additives of two oils can fight, foam, drop out "
    "or attack bronze. Try a jar of the mixture for a day, warm and cold: it must stay clear and throw nothing down.",
)
MIXTURE_NOTES = (
    "The thinner oil pulls harder than its share: half ISO VG 32 and half ISO VG 68 give 45.9 mm²/s, not the plain average of 50.",
    "Published sources weight the rule by mass or by volume; between two mineral oils the difference is far below the width of a grade.",
    "The second figure mixes on the chart of viscosity and temperature; two rules that agree are no proof, but a useful check.",
)


EXPANSION_K1 = 0.6278
"""Constant of lubricating oils in the volume correction, K0 being 0 [kg/(m3 K)]. Source: api-mpms-11, from memory."""


def volume_factor(density15_kg_m3: float, temperature_c: float) -> float:
    """Volume at 15 degC over the volume at a temperature; times the density at 15 degC it gives the density.

        factor = exp(-a dT (1 + 0.8 a dT)),   a = 0.6278 / density at 15 degC,   dT = temperature - 15

    density15_kg_m3   [kg/m3], 800 to 1000
    temperature_c     [degC], -20 to 100
    gives             [-]

    Source: api-mpms-11, from memory

    >>> round(volume_factor(880, 40), 5)
    0.98207
    """
    a = EXPANSION_K1 / density15_kg_m3 * (temperature_c - 15)
    return exp(-a * (1 + 0.8 * a))


def oil_volume(
    litres_l: float, filled_c: float = 15.0, at_c: tuple[float, ...] = ASKED_C, density: float = 880.0
) -> Table:
    """How much room a filling of oil takes when it is warmer or colder than it was filled.

    litres_l    the filling at filled_c [l]
    filled_c    temperature of the oil when it was filled [degC]
    at_c        temperatures asked about [degC]
    density     at 15 degC [kg/m3]

    Source: api-mpms-11, from memory
    """
    at_15 = litres_l * volume_factor(density, filled_c)
    rows = tuple(
        {
            "temperature_c": t,
            "volume_l": at_15 / (factor := volume_factor(density, t)),
            "rise_percent": 100 * (at_15 / factor / litres_l - 1),
            "density_kg_m3": density * factor,
            "factor": factor,
        }
        for t in at_c
    )
    notes = (
        "Oil grows by about 0.07 % for each degree: a sump filled cold to the line stands above it when it is warm.",
        "In a sump with straight sides the level over the floor rises by the same percentage.",
    )
    return Table(rows, notes)


TABLES = (
    Definition(
        name="oil-mixture",
        title="Mixing two oils",
        about="Tells how thick a mixture of two oils is, or the share of each that makes a wanted grade. "
        "A way to use up a drum or to fill a gap between two drums, not a cure for the wrong kind of oil.",
        group="Oil",
        parameters=(
            grade_parameter("first", "First oil", "ISO VG 32"),
            grade_parameter("second", "Second oil", "ISO VG 68"),
            Parameter("share", "Share of the second oil", unit="percent", low=0, high=100, default=None, example="50 %",
                      help="left out, the table goes in steps of ten"),
            grade_parameter("wanted", "Grade wanted", default=None),
            INDEX,
        ),
        columns=(
            Column("first_percent", "First oil", "percent", decimals=0),
            Column("second_percent", "Second oil", "percent", decimals=0),
            Column("viscosity_mm2_s", "Viscosity at 40 °C", "mm2/s", significant=3),
            Column("by_chart_mm2_s", "On the chart", "mm2/s", significant=3),
            Column("grade", "Grade", kind="text"),
        ),
        compute=oil_mixture,
        sources=(Cite("maples-blending", "viscosity blending number", "secondary"), Cite("astm-d7152", "mixing on the chart's scale", "memory")),
        holds="two mineral oils thicker than 2 mm²/s at 40 °C",
        also=("blend oil", "mix oils", "top up with another oil", "in-between grade"),
        examples=({"first": "ISO VG 32", "second": "ISO VG 68"}, {"first": "ISO VG 32", "second": "ISO VG 100", "wanted": "ISO VG 46"}),
    ),
    Definition(
        name="oil-volume",
        title="How a sump's level moves with temperature",
        about="Tells how much more room a filling takes when it is warm, so that a level read hot is not mistaken for "
        "an overfilled sump, nor a level read cold for a leak.",
        group="Oil",
        parameters=(
            Parameter("litres", "Filling", unit="l", low=0.01, high=10000, example="12 l"),
            Parameter("filled", "Temperature when it was filled", unit="degC", low=-20, high=100, default=15.0, example="15 °C"),
            Parameter("at", "Temperatures asked about", unit="degC", many=True, low=-20, high=100, default=ASKED_C, example="40, 60"),
            Parameter("density", "Density at 15 °C in kg/m³", kind="number", low=800, high=1000, default=880.0, example="880"),
        ),
        columns=(
            Column("temperature_c", "Temperature", "degC", decimals=0),
            Column("volume_l", "Volume", "l", decimals=2),
            Column("rise_percent", "More than filled", "percent", decimals=1),
            Column("density_kg_m3", "Density", "kg/m³", decimals=1),
            Column("factor", "Volume at 15 °C over this", decimals=5),
        ),
        compute=oil_volume,
        sources=(Cite("api-mpms-11", "lubricating oil constants K0 = 0, K1 = 0.6278", "memory"),),
        holds="mineral lubricating oils of 800 to 1000 kg/m³ at 15 °C, -20 to 100 °C",
        also=("oil level", "sight glass", "density of oil", "expansion", "overfilled"),
        examples=({"litres": 100, "at": [40]},),
    ),
)  # fmt: skip
