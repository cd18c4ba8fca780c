"""Where formulas end and what they give at places that can be worked out by hand."""

import pytest

from fettlebook.tables import a255, cooling
from fettlebook.tables.alignment import TABLES as ALIGNMENT
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.climate import dew_point
from fettlebook.tables.composition import alloy_total, read_composition
from fettlebook.tables.critical_formulas import ANDREWS, FORMULAS
from fettlebook.tables.cutting import material_named, speeds_for
from fettlebook.tables.definition import BadValue
from fettlebook.tables.drills import drills_named

# ASTM A255, 1.3; copper and vanadium from memory.
A255_RANGE = {"C": (0.1, 0.7), "Mn": (0.5, 1.65), "Si": (0.15, 0.6), "Cr": (0, 1.35), "Ni": (0, 1.5), "Mo": (0, 0.55), "Cu": (0, 0.35), "V": (0, 0.2)}  # fmt: skip
# Andrews 1965, upper ends of his data as usually quoted, from memory.
ANDREWS_RANGE = {"C": (0, 0.6), "Mn": (0, 4.87), "Si": (0, 1.9), "Ni": (0, 5.04), "Cr": (0, 4.61), "Mo": (0, 5.4)}
# Steven and Haynes 1956, as quoted in textbooks.
STEVEN_RANGE = {"C": (0.1, 0.55), "Mn": (0.2, 1.7), "Si": (0, 0.5), "Ni": (0, 5.0), "Cr": (0, 3.5), "Mo": (0, 1.0)}
STEVEN = next(formula for formula in FORMULAS if formula.name == "Steven and Haynes")
MIDDLE = {"C": 0.4, "Mn": 0.8, "Si": 0.25}


@pytest.mark.parametrize(("outside", "ranges"), [(a255.outside, A255_RANGE), (ANDREWS.outside, ANDREWS_RANGE), (STEVEN.outside, STEVEN_RANGE)])  # fmt: skip
def test_a_composition_is_inside_up_to_the_ends_and_outside_beyond(outside, ranges):
    assert outside(MIDDLE) == ()
    for element, (low, high) in ranges.items():
        for end, beyond in ((low, low - 0.0001), (high, high + 0.0001)):
            assert outside(MIDDLE | {element: end}) == (), element
            if beyond >= 0:
                (words,) = outside(MIDDLE | {element: beyond})
                assert words.startswith(element)


def test_a_share_of_forty_percent_is_the_largest_that_is_read():
    assert read_composition("Cr 40") == {"Cr": 40}
    with pytest.raises(BadValue, match="from 0 to 40"):
        read_composition("Cr 40.01")


def test_what_is_left_over_is_not_passed_over_in_silence():
    assert read_composition("C 0.45 %, Mn: 0.7") == {"C": 0.45, "Mn": 0.7}
    with pytest.raises(BadValue, match="not read as elements"):
        read_composition("C 0.45 &")


def test_every_element_but_carbon_is_alloy():
    assert alloy_total({"Al": 1, "B": 2, "C": 100, "Cr": 4, "W": 8}) == 15


def test_growth_is_length_times_coefficient_times_rise():
    rows = table_named("heat-growth").table({"length": "2 m", "temperature": "25 °C"}).rows
    assert [row["growth_mm"] for row in rows] == [pytest.approx(row["coefficient_1e6_k"] / 100) for row in rows]


def test_a_drop_of_three_on_a_radius_of_four_makes_five():
    """Pythagoras: the tool 3 mm off centre height turns 5 mm instead of 4 mm in radius."""
    bar = next(one for one in ALIGNMENT if "vertical" in {p.name for p in one.parameters})
    row = bar.table({"horizontal": 0, "vertical": "3 mm", "over": "300 mm", "diameter": "8 mm"}).rows[0]
    assert row["taper_vertical_mm"] == pytest.approx(2)


def test_the_air_at_sweating_iron_is_full():
    (row,) = dew_point(20, 70, 5, -10).rows
    assert (row["humidity_at_iron_percent"], row["humidity_after_percent"]) == (100, 100)


def test_a_drill_is_from_a_tenth_to_a_hundred_millimetres():
    assert [drills_named((size,))[0].mm for size in ("0.1 mm", "100 mm")] == [0.1, 100]
    for size in ("0.09 mm", "100.1 mm"):
        with pytest.raises(BadValue, match=r"0\.1 to 100 mm"):
            drills_named((size,))


# Abramowitz and Stegun, table 9.5: the first zeros of J0 and J1.
@pytest.mark.parametrize(
    ("order", "zeros"), [(0, (2.404826, 5.520078, 8.653728)), (1, (3.831706, 7.015587, 10.173468))]
)
def test_the_zeros_of_the_bessel_functions(order, zeros):
    assert cooling._zeros(order)[:3] == pytest.approx(zeros, abs=6e-7)


# Yurioka's and Trzaska's formulas with one percent of each element: the sums of their printed coefficients, added up apart (from memory, as the tables say).
@pytest.mark.parametrize(("formula", "ac1", "ac3"), [("Yurioka", -146.2, 4282.7), ("Trzaska 2007", 684.9, 759.2)])
def test_one_percent_of_everything_adds_every_coefficient(formula, ac1, ac3):
    one = dict.fromkeys(("C", "Si", "Mn", "Cu", "Ni", "Cr", "Mo", "V", "Ti", "Nb", "Al", "B"), 1.0)
    found = next(each for each in FORMULAS if each.name == formula)
    assert (found.ac1(one), found.ac3(one)) == (pytest.approx(ac1), pytest.approx(ac3))


# TM 43-0106: 150 to 300 ft/min for carbide in austenitic stainless steel. Its drilling speed for high-speed steel is 30 to 55 ft/min.
def test_speeds_printed_for_carbide_are_for_turning_alone():
    austenitic = material_named("304")["conditions"][0]
    assert speeds_for(austenitic, "carbide", "turning")[0] == pytest.approx((150 * 0.3048, 300 * 0.3048))
    drilling, _ = speeds_for(austenitic, "carbide", "drilling")
    of_steel, _ = speeds_for(austenitic, "hss", "drilling")
    assert of_steel == pytest.approx((30 * 0.3048, 55 * 0.3048)) and drilling[0] / of_steel[0] > 1.5
