"""Time and temperature exchanged in tempering, by the parameter of Hollomon and Jaffe."""

from __future__ import annotations

from math import log10

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table

LOW_ALLOY_CONSTANT = 20.0
"""The constant usual for low-alloy steel with the time in hours."""

KELVIN = 273.15
LONGEST_H = 1e6


def parameter(temperature_c: float, time_h: float, constant: float = LOW_ALLOY_CONSTANT) -> float:
    """The Hollomon-Jaffe parameter in thousands of kelvin.

        P = (T + 273.15) (C + log10 t) / 1000

    temperature_c   tempering temperature [degC]
    time_h          time at heat [h], above 0. One encyclopaedia says minutes: its own range of values, 15 to 21, fits
                    hours only
    constant        C, 20 for low-alloy steel
    gives           [1000 K]

    Source: hollomon-jaffe-1945

    >>> round(parameter(200, 4), 2)
    9.75
    """
    return (temperature_c + KELVIN) * (constant + log10(time_h)) / 1000


def constant_for_carbon(carbon_percent: float) -> float:
    """The constant for plain carbon steel, time in hours: 21.3 - 5.8 %C (in seconds: 17.7 - 5.8 %C).

    carbon_percent   0.3 to 1.2 [mass %], the steels of the paper
    Source: hollomon-jaffe-1945, from memory
    """
    return 21.3 - 5.8 * carbon_percent


def equal_time_h(temperature_c: float, time_h: float, other_c: float, constant: float = LOW_ALLOY_CONSTANT) -> float:
    """The time [h] at OTHER_C that tempers as much as TIME_H at TEMPERATURE_C. Source: hollomon-jaffe-1945.

    >>> round(equal_time_h(200, 1, 180), 2)
    7.63
    """
    exponent = (temperature_c + KELVIN) * (constant + log10(time_h)) / (other_c + KELVIN) - constant
    return float(10 ** min(exponent, 300.0))


def equal_temperature_c(
    temperature_c: float, time_h: float, other_h: float, constant: float = LOW_ALLOY_CONSTANT
) -> float:
    """The temperature [degC] that in OTHER_H tempers as much as TEMPERATURE_C in TIME_H. Source: hollomon-jaffe-1945."""
    return (temperature_c + KELVIN) * (constant + log10(time_h)) / (constant + log10(other_h)) - KELVIN


def exchange(
    temperature_c: float,
    time_h: float,
    at_c: tuple[float, ...] | None = None,
    constant: float | None = None,
    carbon_percent: float | None = None,
) -> Table:
    """Times that temper alike, around a temperature and time. Raises BadValue for a constant given twice."""
    if constant is not None and carbon_percent is not None:
        raise BadValue(
            "carbon",
            "give the constant or the carbon, not both",
            "carbon is for plain carbon steel, constant=20 for low-alloy steel",
        )
    c = (
        constant
        if constant is not None
        else constant_for_carbon(carbon_percent)
        if carbon_percent
        else LOW_ALLOY_CONSTANT
    )
    chosen = at_c or tuple(sorted({temperature_c + step for step in (-60, -40, -20, -10, 0, 10, 20, 40, 60)}))
    rows = []
    for other in chosen:
        time = equal_time_h(temperature_c, time_h, other, c)
        kept = time if 1 / 360 <= time <= LONGEST_H else None
        rows.append({"temperature_c": other, "time_h": kept, "time_min": kept * 60 if kept is not None else None, "parameter": parameter(temperature_c, time_h, c),
                     "constant": c, "note": "" if 1 / 360 <= time <= 24 else "outside the 10 s to 24 h that were measured"})  # fmt: skip
    return Table(tuple(rows), NOTES)


NOTES = (
    "Time is time at heat, in hours in the formula, with the temperature in kelvin. It shortens or lengthens a temper; it does not make up for a wrong temperature.",
    "Not for steels that harden again on tempering (A2, D2, high-speed steel) near 500 °C.",
    "The colour of the film follows another law: equal hardness is not equal colour.",
)

TABLES = (
    Definition(
        name="tempering-exchange",
        title="Longer and cooler, or shorter and hotter",
        about="Which time at another temperature tempers as much as the one you know. Useful when the oven holds only one temperature, or a thick part needs longer.",
        group="heat",
        parameters=(
            Parameter("temperature", "Temperature you know", unit="degC", low=50, high=760, example="200 degC"),
            Parameter("time", "Time at it", unit="h", low=1 / 360, high=1000, default=1.0, example="1 h"),
            Parameter("at", "Other temperatures", unit="degC", low=50, high=760, many=True, default=None, example="180, 220"),
            Parameter("constant", "Constant", kind="number", low=8, high=30, default=None, example="20", help="20 for low-alloy steel"),
            Parameter("carbon", "Carbon of a plain carbon steel", unit="percent", low=0.3, high=1.2, default=None, example="1.1"),
        ),
        columns=(
            Column("temperature_c", "Temperature", "degC", decimals=0),
            Column("time_h", "Time", "h", significant=3),
            Column("time_min", "Time", "min", significant=3),
            Column("parameter", "Parameter, 1000 K", decimals=3),
            Column("constant", "Constant", decimals=2),
            Column("note", "Note", kind="text"),
        ),
        compute=exchange,
        sources=(Cite("hollomon-jaffe-1945", "parameter and constants", "secondary"),),
        holds="carbon and low-alloy steel of 0.3 to 1.2 % carbon, 100 to 700 °C, 10 s to 24 h",
        also=("Hollomon-Jaffe", "Larson-Miller", "tempering parameter", "equivalent time"),
        examples=({"temperature": 200, "time": 1}, {"temperature": 550, "time": 2}),
    ),
)  # fmt: skip
