"""Oils over temperature on the axes of ASTM D341, where an oil is a straight line: what is as thick here as that was there."""

from __future__ import annotations

from math import log10

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Axes, Drawing, Scale
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.figures import significant
from fettlebook.tables.oil_grades import assumed_index, line_of, oil_named
from fettlebook.tables.viscosity import INDEX_FROM, INDEX_TO, Line

COLDEST_C, HOTTEST_C = -10.0, 100.0
THINNEST, THICKEST = 2.0, 20000.0
GRADES = tuple(f"ISO VG {number}" for number in (10, 15, 22, 32, 46, 68, 100, 150, 220, 320))
TEMPERATURES = (-10, 0, 10, 20, 30, 40, 50, 60, 80, 100)
VISCOSITIES = (2, 3, 5, 10, 20, 50, 100, 200, 500, 1000, 5000, 20000)

PAPER = (26.0, 10.0, 112.0, 124.0)
"""Frame of the chart on the sheet: left, top, width, height [mm]."""


def across(temperature_c: float) -> float:
    """Where a temperature lies on the chart's horizontal axis: log10 of kelvin. Source: astm-d341."""
    return log10(temperature_c + 273.15)


def up(viscosity_mm2_s: float) -> float:
    """Where a viscosity lies on the vertical one: log10 log10 (v + 0.7), above 2 mm2/s. Source: astm-d341."""
    return log10(log10(viscosity_mm2_s + 0.7))


def oil_axes(
    grades: tuple[str, ...],
    here_c: tuple[float, ...],
    index: float,
    maker: str | None,
    designed_for_c: float | None,
) -> str:
    """The grades as straight lines, the shop's range shaded, and the maker's oil carried across to it."""
    _both(maker, designed_for_c)
    given = {"grades": grades, "here": here_c, "index": index, "maker": maker, "there": designed_for_c}
    d = Drawing("oil-axes", "Oil grades over temperature", 170, 154, given)
    axes = d.axes(
        *PAPER,
        Scale(COLDEST_C, HOTTEST_C, "oil temperature [°C]", across, TEMPERATURES),
        Scale(THINNEST, THICKEST, "viscosity [mm²/s]", up, [(v, f"{v}") for v in VISCOSITIES]),
    )
    low, high = _shop(here_c)
    axes.band_across(low, high, "here")
    for text in grades:
        oil = oil_named(text, "grades")
        axes.curve(_points(line_of(oil, index)[0]), label=oil.name.replace("ISO VG ", "VG "))
    if maker is not None and designed_for_c is not None:
        _carry(axes, line_of(oil_named(maker, "maker"), index)[0], designed_for_c, high)
    return d.svg()


def _both(maker: str | None, designed_for: float | None) -> None:
    if (maker is None) != (designed_for is None):
        raise BadValue(
            "maker" if maker is None else "designed_for", "the maker's grade and its temperature go together"
        )


def _shop(here: tuple[float, ...]) -> tuple[float, float]:
    low, high = min(here), max(here)
    if high - low < 1:  # one temperature is shown as a narrow band
        low, high = low - 0.5, high + 0.5
    return max(low, COLDEST_C), min(high, HOTTEST_C)


def _points(line: Line) -> list[tuple[float, float]]:
    """Two points where the line lies in the frame; between them it is straight on these axes."""
    coldest = COLDEST_C
    while coldest < HOTTEST_C - 1 and line.at(coldest) > 1.2 * THICKEST:
        coldest += 1
    return [(t, line.at(t)) for t in (coldest, HOTTEST_C)]


def _carry(axes: Axes, line: Line, there: float, here: float) -> None:
    """From the maker's oil where it was designed for, level across the chart: what crosses here is as thick."""
    wanted = line.at(there)
    if not THINNEST <= wanted <= THICKEST:
        raise BadValue(
            "designed_for", f"{significant(wanted)} mm²/s lies off the chart, {THINNEST:g} to {THICKEST:g} mm²/s"
        )
    axes.line_across(wanted, "hidden", f"{significant(wanted)} mm²/s")
    axes.mark(there, wanted, "there", "start" if there > here else "end")


def _alt(
    grades: tuple[str, ...], here_c: tuple[float, ...], index: float, maker: str | None, designed_for_c: float | None
) -> str:
    _both(maker, designed_for_c)
    low, high = min(here_c), max(here_c)
    middle = (low + high) / 2
    said = [
        f"{oil_named(text, 'grades').name} {significant(line_of(oil_named(text, 'grades'), index)[0].at(middle))}"
        for text in grades
    ]
    words = (
        f"Viscosity over temperature for a viscosity index of {index:g}, each grade a straight line falling from cold to hot; the shop's range of "
        f"{low:g} to {high:g} °C is shaded. At {middle:g} °C in mm²/s: {', '.join(said)}."
    )
    if maker is not None and designed_for_c is not None:
        wanted = line_of(oil_named(maker, "maker"), index)[0].at(designed_for_c)
        words += f" {oil_named(maker, 'maker').name} at {designed_for_c:g} °C is {significant(wanted)} mm²/s, carried across as a dashed line."
    return words


FIGURES = (
    Drawn(
        "oil-axes",
        "Oil grades over temperature",
        (
            Parameter("grades", "Grades", kind="text", many=True, default=GRADES, example="ISO VG 32, ISO VG 68"),
            Parameter("here", "Oil temperatures here", unit="degC", many=True, low=COLDEST_C, high=HOTTEST_C, default=(10.0, 35.0), example="10, 35"),
            Parameter("index", "Viscosity index", kind="number", low=INDEX_FROM, high=INDEX_TO, default=assumed_index(), example="95"),
            Parameter("maker", "The maker's grade", kind="text", default=None, example="ISO VG 32"),
            Parameter("designed_for", "Its oil temperature there", unit="degC", low=COLDEST_C, high=HOTTEST_C, default=None, example="20 °C"),
        ),
        oil_axes,
        _alt,
        ("oil-for-climate", "oil-viscosity", "oil-names"),
    ),
)  # fmt: skip
