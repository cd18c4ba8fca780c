"""Dew point over humidity for several airs, with the shop's air and its iron marked."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Scale
from fettlebook.tables.climate import dew_point_c, keep_humidity, verdict
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.figures import written

AIRS = (0, 5, 10, 15, 20, 25, 30)
DRIEST, COLDEST, WARMEST = 20.0, -20.0, 30.0
"""Driest air [%] and the range of dew points [degC] on the chart."""


def dew_chart(air_c: float | None, humidity_percent: float | None, iron_c: float | None) -> str:
    """A curve for each air; iron below the marked point sweats."""
    _keep(air_c, humidity_percent, iron_c)
    given = {"air": air_c, "humidity": humidity_percent, "iron": iron_c}
    d = Drawing("dew-chart", "Dew point over humidity", 170, 154, given)
    axes = d.axes(
        26, 10, 118, 110,
        Scale(DRIEST, 100, "relative humidity of the air [%]", ticks=(20, 30, 40, 50, 60, 70, 80, 90, 100)),
        Scale(COLDEST, WARMEST, "dew point [°C]", ticks=(-20, -10, 0, 10, 20, 30)),
    )  # fmt: skip
    if iron_c is not None:
        axes.band_up(COLDEST, iron_c)
        axes.line_across(iron_c, "chain")
        d.text(
            (85, 150),
            f"Chain line: the iron, {written(iron_c, 0)} °C. At dew points in the shaded part it stays dry.",
            "middle",
        )
    for air in AIRS:
        axes.curve(
            [(h, dew_point_c(air, h)) for h in range(20, 101, 2)], "narrow" if air % 10 else "wide", f"air {air} °C"
        )
    if air_c is not None and humidity_percent is not None:
        point = dew_point_c(air_c, humidity_percent)
        axes.curve([(humidity_percent, COLDEST), (humidity_percent, point)], "hidden")
        axes.mark(humidity_percent, point, f"dew point {written(point, 1)} °C", "end")
    return d.svg()


def _keep(air: float | None, humidity: float | None, iron: float | None) -> None:
    if (air is None) != (humidity is None):
        raise BadValue("air" if air is None else "humidity", "the air's temperature and its humidity go together")
    if air is None or humidity is None:
        return
    keep_humidity(humidity)
    if humidity < DRIEST or not COLDEST <= dew_point_c(air, humidity) <= WARMEST:
        what = f"a dew point of {written(dew_point_c(air, humidity), 1)} °C at {humidity:g} % lies off the chart"
        raise BadValue("air", what, "the chart goes from 20 to 100 % and from -20 to 30 °C")


def _alt(air_c: float | None, humidity_percent: float | None, iron_c: float | None) -> str:
    _keep(air_c, humidity_percent, iron_c)
    said = ", ".join(f"{air} °C {written(dew_point_c(air, 70), 1)}" for air in AIRS)
    words = f"Dew point over relative humidity from 20 to 100 %, a rising curve for each air. At 70 %: {said}."
    if air_c is not None and humidity_percent is not None:
        point = dew_point_c(air_c, humidity_percent)
        words += f" Marked: air of {air_c:g} °C and {humidity_percent:g} %, dew point {written(point, 1)} °C."
        if iron_c is not None:
            words += f" Iron of {iron_c:g} °C: {verdict(iron_c - point)}."
    return words


FIGURES = (
    Drawn(
        "dew-chart",
        "Dew point over humidity",
        (
            Parameter("air", "Air", unit="degC", low=-20, high=60, default=15.0, example="15 °C"),
            Parameter("humidity", "Relative humidity", unit="percent", default=70.0, example="70 %"),
            Parameter("iron", "The coldest iron", unit="degC", low=COLDEST, high=WARMEST, default=8.0, example="8 °C"),
        ),
        dew_chart,
        _alt,
        ("dew-point", "rust-thresholds"),
    ),
)  # fmt: skip
