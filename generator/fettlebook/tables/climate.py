"""When iron sweats: dew point, the iron's temperature, and how long to let it warm."""

from __future__ import annotations

from math import exp, log
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

SAFE_C = 3.0
"""Margin of the metal over the dew point that is wanted [degC]. Usual coating practice, from memory."""

MAGNUS_B, MAGNUS_C = 17.625, 243.04
"""Constants of the Magnus formula for -40 to 50 degC [-, degC]. Source: magnus."""

WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)
ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
"""Coefficients of Hyland and Wexler over water (0 to 200 degC) and ice (-100 to 0 degC), kelvin and pascal. Source: ashrae-2017."""

TRIPLE_C = 0.01
"""Where ice gives way to water [degC]. Exact by definition."""


def vapour_pressure_pa(temperature_c: float) -> float:
    """Pressure of water vapour that saturates air [Pa]; over ice below 0.01 degC.

    temperature_c   [degC], -60 to 100

    Source: ashrae-2017

    >>> round(vapour_pressure_pa(25), 1)
    3169.2
    """
    if not -60 <= temperature_c <= 100:
        raise BadValue(
            "air", f"{temperature_c:g} °C lies outside -60 to 100 °C, where the vapour pressure is worked out"
        )
    t = temperature_c + 273.15
    if temperature_c <= TRIPLE_C:
        a, b, c, d, e, f, g = ICE
        return exp(a / t + b + c * t + d * t**2 + e * t**3 + f * t**4 + g * log(t))
    a, b, c, d, e, g = WATER
    return exp(a / t + b + c * t + d * t**2 + e * t**3 + g * log(t))


def dew_point_c(air_c: float, humidity_percent: float) -> float:
    """Temperature at which the air's own moisture begins to settle [degC]; frost point below 0.

        pressure at the dew point = humidity x pressure at the air's temperature

    air_c              [degC], -20 to 60
    humidity_percent   relative [%], above 0 to 100

    Source: ashrae-2017, solved by halving
    """
    wanted = humidity_percent / 100 * vapour_pressure_pa(air_c)
    low, high = -60.0, air_c
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if vapour_pressure_pa(middle) < wanted else (low, middle)
    return (low + high) / 2


def dew_point_magnus_c(air_c: float, humidity_percent: float) -> float:
    """The same by the short Magnus formula, for comparison.

    Source: magnus

    >>> round(dew_point_magnus_c(20, 50), 2)
    9.26
    """
    g = log(humidity_percent / 100) + MAGNUS_B * air_c / (MAGNUS_C + air_c)
    return MAGNUS_C * g / (MAGNUS_B - g)


def humidity_at(surface_c: float, air_c: float, humidity_percent: float) -> float:
    """Relative humidity of the same air at another temperature [%]; 100 and more means that it sweats.

    >>> round(humidity_at(15, 5, 90), 0)
    46.0
    """
    return humidity_percent * vapour_pressure_pa(air_c) / vapour_pressure_pa(surface_c)


def keep_humidity(humidity_percent: float) -> None:
    """Refuse a humidity outside 1 to 100 percent, and 0.5 written for 50."""
    if 0 < humidity_percent <= 1:
        shown = f"{humidity_percent:g}"
        what = f"{shown} is read as {shown} percent, drier than any shop"
        raise BadValue(
            "humidity", what, f"write {100 * humidity_percent:g} if you mean {100 * humidity_percent:g} percent"
        )
    if not 1 < humidity_percent <= 100:
        raise BadValue("humidity", f"{humidity_percent:g} percent lies outside 1 to 100", "for example 70")


def dew_point(
    air_c: float, humidity_percent: float, iron_c: float | None = None, heat_to_c: float | None = None
) -> Table:
    """Dew point of the air, the iron's margin over it, and whether it sweats.

    air_c              [degC], -20 to 60
    humidity_percent   relative [%], 1 to 100
    iron_c             temperature of the coldest iron [degC]
    heat_to_c          the room heated to this without drying or wetting the air [degC]
    """
    keep_humidity(humidity_percent)
    point = dew_point_c(air_c, humidity_percent)
    margin = None if iron_c is None else iron_c - point
    row = {
        "dew_point_c": point,
        "margin_c": margin,
        "sweats": None if margin is None else margin <= 0,
        "humidity_at_iron_percent": None
        if iron_c is None
        else min(100.0, humidity_at(iron_c, air_c, humidity_percent)),
        "verdict": "" if margin is None else verdict(margin),
        "dew_point_magnus_c": dew_point_magnus_c(air_c, humidity_percent),
        "dew_point_rule_c": air_c - (100 - humidity_percent) / 5 if humidity_percent >= 50 else None,
        "humidity_after_percent": None
        if heat_to_c is None
        else min(100.0, humidity_at(heat_to_c, air_c, humidity_percent)),
    }
    warnings = (SWEATS,) if margin is not None and margin < SAFE_C else ()
    return Table((row,), NOTES, warnings)


def verdict(margin_c: float) -> str:
    """What a margin of the iron over the dew point means."""
    if margin_c <= 0:
        return "sweats: keep it covered and the doors shut until it is warm"
    if margin_c < SAFE_C:
        return f"on the edge: {written(SAFE_C, 0)} °C over the dew point are wanted"
    return "stays dry"


SWEATS = (
    "Iron lags the air by hours or days. Leave the cover on until the coldest, thickest part is 3 °C above the dew point; the worst day is a mild one "
    "after frost."
)
NOTES = (
    "Measure the iron with a contact thermometer on the thickest part, not in the air beside it.",
    "Heating air without drying it lowers its relative humidity, not its dew point. An unflued gas heater adds water and spoils this.",
    "The quick rule, air less a fifth of what humidity lacks to 100, holds only above 50 %: at 35 °C and 30 % it is 6 °C too high.",
    "Below 0 °C the dew point is a frost point, over ice.",
)


def browser_data() -> dict[str, Any]:
    """What does not change, for the browser."""
    return {"water": WATER, "ice": ICE, "notes": NOTES, "sweats": SWEATS, "b": MAGNUS_B, "c": MAGNUS_C}


def warming_data() -> dict[str, Any]:
    """The same, and what warming needs, for the browser."""
    known = data.read("climate")
    film = list(data.rows("climate", "film"))
    return browser_data() | {"film": film, "iron": known["iron"], "safe": SAFE_C, "warm_notes": WARM_NOTES}


def warm_up_time(
    air_c: float, humidity_percent: float, iron_c: float, thickness_mm: float = 40.0, target_c: float | None = None
) -> Table:
    """How long iron takes to come within reach of the air, so that it does not sweat when it is uncovered.

        time = tau ln((air - iron) / (air - target)),   tau = density x heat x thickness/2 / film

    air_c, humidity_percent   of the shop
    iron_c                    now, at the coldest part [degC]
    thickness_mm              of the thickest iron, warmed from both sides [mm]
    target_c                  wanted [degC]; 3 above the dew point where it is left out

    Source: definition (one lump of iron); film coefficients are common practice
    """
    keep_humidity(humidity_percent)
    point = dew_point_c(air_c, humidity_percent)
    target = point + SAFE_C if target_c is None else target_c
    if target >= air_c:
        what = f"{written(target, 1)} °C is never reached in air of {air_c + 0.0:g} °C"
        hint = (
            f"dry or heat the air first: its dew point is {written(point, 1)} °C"
            if target_c is None
            else "give a target below the air"
        )
        raise BadValue("humidity" if target_c is None else "target", what, hint)
    rows = tuple(_film_row(row, air_c, iron_c, target, thickness_mm) for row in data.rows("climate", "film"))
    return Table(rows, WARM_NOTES, () if iron_c < point + SAFE_C else ("The iron is warm enough already.",))


def _film_row(film: dict[str, Any], air: float, iron: float, target: float, thickness: float) -> dict[str, Any]:
    slow, fast = (_time_constant_h(thickness, film[key]) for key in ("low", "high"))
    reach = max(0.0, log((air - iron) / (air - target))) if iron < target else 0.0
    return {
        "cover": film["cover"],
        "target_c": target,
        "hours_low": fast * reach,
        "hours_high": slow * reach,
        "time_constant_low_h": fast,
        "time_constant_high_h": slow,
    }


def _time_constant_h(thickness_mm: float, film_w_m2_k: float) -> float:
    iron = data.read("climate")["iron"]
    return iron["density"] * iron["heat"] * thickness_mm / 2000 / film_w_m2_k / 3600


WARM_NOTES = (
    "An estimate: it takes the thickest part alone, air that stays as it is, and both faces free. Oil in a sump and a closed bed take longer. "
    "The thermometer decides.",
    "Warm slowly under the cover with the doors shut; then uncover and wipe with oil at once.",
)


def rust_thresholds(humidity_percent: float | None = None) -> Table:
    """What humidity at the metal means for rust.

    humidity_percent   relative, at the metal [%]; only its band is given
    """
    if humidity_percent is not None:
        keep_humidity(humidity_percent)
    rows = tuple(
        {
            "from_percent": row["from"],
            "to_percent": row["to"],
            "state": row["state"],
            "does": row["does"],
            "known": "read" if row["how_known"] == "read" else "from memory",
        }
        for row in data.rows("climate", "rust")
        if humidity_percent is None or row["from"] < humidity_percent <= row["to"]
    )
    salts = "; ".join(f"{row['salt']} above {row['above']} %" for row in data.rows("climate", "salts"))
    notes = (
        "What counts is the humidity at the metal: cold iron has moister air on its skin than the room (see the dew point table).",
        f"Salts turn to brine and start rust in drier air: {salts} (from memory). Wash them off and oil.",
        "Published thresholds differ, near 60 % for clean iron in clean air and lower with dirt; the bands are no sharp lines.",
    )
    return Table(rows, notes)


AIR = Parameter("air", "Air", unit="degC", low=-20, high=60, shop="air_c", example="15 °C")
HUMIDITY = Parameter("humidity", "Relative humidity", unit="percent", shop="humidity_percent", example="70 %")

TABLES = (
    Definition(
        name="dew-point",
        title="Will the iron sweat?",
        about="Cold iron in moist air gets wet, and wet bright iron rusts overnight. This gives the dew point of the shop's air and the iron's margin over it.",
        group="Climate",
        parameters=(
            AIR,
            HUMIDITY,
            Parameter("iron", "The coldest iron", unit="degC", low=-40, high=100, default=None, example="8 °C"),
            Parameter("heat_to", "Room heated to", unit="degC", low=-20, high=60, default=None, example="18 °C", help="without drying or wetting the air"),
        ),
        columns=(
            Column("dew_point_c", "Dew point", "degC", decimals=1),
            Column("margin_c", "Iron over it", "K", decimals=1),
            Column("sweats", "Sweats", kind="flag"),
            Column("humidity_at_iron_percent", "Humidity at the iron", "percent", decimals=0),
            Column("verdict", "Verdict", kind="text"),
            Column("dew_point_magnus_c", "By Magnus", "degC", decimals=1),
            Column("dew_point_rule_c", "By the quick rule", "degC", decimals=1),
            Column("humidity_after_percent", "Humidity when heated", "percent", decimals=0),
        ),
        compute=dew_point,
        sources=(Cite("ashrae-2017", "chapter 1, saturation pressure", "secondary"), Cite("magnus"), Cite("lawrence-2005", "quick rule", "memory"),
                 Cite("from-memory", "3 °C over the dew point", "memory")),
        holds="air of -20 to 60 °C at ordinary pressure",
        also=("condensation", "sweating", "humidity", "wet machine", "rust overnight", "thaw"),
        examples=({"air": 15, "humidity": 70, "iron": 8}, {"air": 5, "humidity": 90, "heat_to": 15}),
        browser="dew-point",
        browser_data=browser_data,
    ),
    Definition(
        name="warm-up-time",
        title="How long to let it warm",
        about="A machine from a cold yard must warm before it is uncovered. This estimates the hours until its thickest part is safely over the dew point.",
        group="Climate",
        parameters=(
            AIR,
            HUMIDITY,
            Parameter("iron", "The coldest iron now", unit="degC", low=-40, high=60, example="2 °C"),
            Parameter("thickness", "Thickest iron", unit="mm", low=2, high=500, default=40.0, example="40 mm"),
            Parameter("target", "Temperature wanted", unit="degC", low=-20, high=60, default=None, example="12 °C"),
        ),
        columns=(
            Column("cover", "How it stands", kind="text"),
            Column("target_c", "Wanted", "degC", decimals=1),
            Column("hours_low", "Hours from", decimals=1),
            Column("hours_high", "to", decimals=1),
            Column("time_constant_low_h", "Time constant from", "h", decimals=1),
            Column("time_constant_high_h", "to", "h", decimals=1),
        ),
        compute=warm_up_time,
        browser="dew-point",
        browser_data=warming_data,
        sources=(Cite("definition", "one lump of iron", "computed"), Cite("common-practice", "heat from air to iron", "practice"),
                 Cite("from-memory", "density and heat of cast iron", "memory"), Cite("ashrae-2017", "dew point", "secondary")),
        holds="solid iron of 2 to 500 mm in still or moving air",
        also=("warming up", "unwrap", "uncover", "cold machine", "acclimatise"),
        examples=({"air": 15, "humidity": 60, "iron": 2},),
    ),
    Definition(
        name="rust-thresholds",
        title="At what humidity iron rusts",
        about="Bands of relative humidity at the metal and what they do to bright iron.",
        group="Climate",
        parameters=(Parameter("humidity", "Humidity at the metal", unit="percent", default=None, example="75 %"),),
        columns=(
            Column("from_percent", "From", "percent", decimals=0),
            Column("to_percent", "to", "percent", decimals=0),
            Column("state", "State", kind="text"),
            Column("does", "What happens", kind="text"),
            Column("known", "How known", kind="text"),
        ),
        compute=rust_thresholds,
        sources=(Cite("critical-humidity", "near 60 %"), Cite("francis-humidity", "section 1"), Cite("iso-9223", "time of wetness above 80 %", "memory")),
        holds="indoor air without fumes of acid or chlorine",
        also=("critical humidity", "corrosion", "rust", "salt", "finger marks"),
        examples=({},),
    ),
)  # fmt: skip
