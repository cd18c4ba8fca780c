"""Each example in a docstring of tables/ gives what stands there."""

import doctest
import importlib
from pathlib import Path

import pytest

import fettlebook.tables
from fettlebook.tables import figures, hardness
from fettlebook.tables.gear_trains import changes

MODULES = sorted(path.stem for path in Path(fettlebook.tables.__file__).parent.glob("*.py") if path.stem != "__init__")


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_hold(name):
    failed, tried = doctest.testmod(importlib.import_module(f"fettlebook.tables.{name}"))
    assert not failed, f"{failed} of {tried}"


def test_there_are_examples():
    modules = [importlib.import_module(f"fettlebook.tables.{name}") for name in MODULES]
    finder = doctest.DocTestFinder()
    assert sum(len(one.examples) for module in modules for one in finder.find(module)) > 60


@pytest.mark.parametrize(("unit", "decimals", "value", "words"), [
    ("mm", 0, 25.4, ("1.00", "in")), ("mm", 1, 25.4, ("1.000", "in")), ("mm", 2, 25.4, ("1.0000", "in")),
    ("mm", 3, 25.4, ("1.00000", "in")), ("mm", 4, 25.4, ("1.000000", "in")), ("mm/m", 0, 1000, ("12.000", "in/ft")),
    ("mm/m", 1, 1000, ("12.000", "in/ft")), ("mm/m", 2, 1000, ("12.0000", "in/ft")), ("mm/m", 3, 1000, ("12.00000", "in/ft")),
    ("mm/m", 4, 1000, ("12.000000", "in/ft")), ("kN", 0, 10, ("2248", "lbf")), ("kN", 1, 10, ("2248", "lbf")),
    ("kN", 2, 10, ("2248", "lbf")), ("kN", 3, 10, ("2248", "lbf")), ("degC", 0, 100, ("212", "°F")), ("degC", 1, 100, ("212.0", "°F")),
    ("m/min", 0, 30.48, ("100", "ft/min")), ("m/min", 1, 30.48, ("100", "ft/min")),
])  # fmt: skip
def test_the_inch_side_is_as_fine_as_the_metric_one_or_finer(unit, decimals, value, words):
    """By the units' definitions: 25.4 mm an inch, 12 inches a foot, 4.448222 N a pound-force."""
    assert figures.in_other_unit(value, unit, decimals) == words


# Krause's regression at HV 200, 300 and 400, by hand: 3.412 HV - 64.3.
@pytest.mark.parametrize(("vickers", "mpa"), [(200, 618.1), (300, 959.3), (400, 1300.5)])
def test_strength_by_the_straight_line(vickers, mpa):
    assert hardness.tensile_by_regression_mpa(vickers) == pytest.approx(mpa, abs=1e-9)


def test_a_pound_a_square_inch_by_its_definition():
    """0.45359237 kg x 9.80665 m/s2 on (25.4 mm)2."""
    psi = 0.45359237 * 9.80665 / 25.4**2
    assert {"psi": pytest.approx(psi, rel=1e-14), "ksi": pytest.approx(1000 * psi, rel=1e-14)} == hardness.STRENGTHS


def test_a_leadscrew_wheel_that_stays_is_no_change():
    assert changes((40, 80), (30, 50, 60, 80)) == 1
