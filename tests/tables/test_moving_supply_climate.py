"""Slings that are refused, weights that balance, motors that are judged, iron that sweats."""

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.climate import dew_point_c, humidity_at, vapour_pressure_pa
from fettlebook.tables.definition import BadValues


def rows(name, **written):
    return table_named(name).table(written).rows


def test_legs_hold_the_weight_between_them():
    for angle in (30, 41.5, 60, 90):
        row = rows("sling-loads", mass=1000, legs=2, angle=angle)[0]
        pull, push = row["tension_kn"], row["push_kn"]
        assert 2 * (pull**2 - push**2) ** 0.5 == pytest.approx(1000 * 9.80665 / 1000)


def test_of_four_legs_the_cautious_count_comes_first():
    assert [row["counted_legs"] for row in rows("sling-loads", mass=1000, legs=4, angle=60)] == [2, 3]


def test_the_two_conventions_are_told_apart():
    same = rows("sling-loads", mass=1000, angle=60)[0]
    other = rows("sling-loads", mass=1000, angle=30, measured_from="vertical")[0]
    assert other["tension_kn"] == pytest.approx(same["tension_kn"])
    assert "classic mistake" in table_named("sling-loads").table({"mass": 1000, "angle": 60}).notes[1]


@pytest.mark.parametrize("written, words", [
    ({"mass": 1000, "angle": 29.9}, "nothing is lifted so; use longer slings or a spreader beam"),
    ({"mass": 1000, "angle": 61, "measured_from": "vertical"}, "a leg at 29° from the horizontal"),
    ({"mass": 1000, "angle": 0}, "a leg at 0° from the horizontal"),
    ({"mass": 1000, "angle": 120}, "angle: 120 is above"),
    ({"mass": 1000}, "the angle of a leg, or its length"),
    ({"mass": 1000, "sling_length": 2000}, "go together"),
    ({"mass": 1000, "sling_length": 2000, "height": 2500}, "were the two exchanged?"),
    ({"mass": 1000, "legs": 1, "angle": 60}, "a single leg hangs plumb"),
    ({"mass": 1000, "legs": 2.5, "angle": 60}, "legs: 2.5 is not a whole number"),
    ({"mass": 1e9, "angle": 60}, "mass: 1000000000.0 is above"),
    ({"mass": "heavy", "angle": 60}, "mass: "),
])  # fmt: skip
def test_an_unsafe_or_senseless_lift_is_refused(written, words):
    with pytest.raises(BadValues) as caught:
        table_named("sling-loads").table(written)
    assert words in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize("name, written", [("sling-loads", {"mass": 500, "angle": 60}), ("sling-modes", {}), ("rolling", {"mass": 500}),
                                           ("foot-loads", {"weights": [1, 1], "spacing": 100})])  # fmt: skip
def test_every_lifting_table_names_the_competent_person_first(name, written):
    assert "competent person" in table_named(name).table(written).warnings[0]


def test_four_feet_give_the_centre_both_ways():
    row = rows("foot-loads", weights=[320, 180], rear=[440, 310], spacing=1500, across=420)[0]
    assert row["total_kg"] == 1250
    assert row["centre_from_first_mm"] == pytest.approx((180 + 310) * 1500 / 1250)
    assert row["centre_from_front_mm"] == pytest.approx(750 * 420 / 1250)


@given(st.lists(st.floats(1, 5000), min_size=2, max_size=6), st.floats(100, 3000))
def test_moments_about_the_centre_cancel(weights, gap):
    found = rows("foot-loads", weights=weights, spacing=gap)
    centre = found[0]["centre_from_first_mm"]
    assert sum(row["load_kg"] * (row["place_mm"] - centre) for row in found) == pytest.approx(
        0, abs=1e-4 * sum(weights) * gap
    )
    assert sum(row["share_percent"] for row in found) == pytest.approx(100)


@pytest.mark.parametrize("written, words", [
    ({"weights": [620], "spacing": 1500}, "one weighing finds no balance"),
    ({"weights": [0, 0], "spacing": 1500}, "nothing was weighed"),
    ({"weights": [1, 2, 3], "spacing": [100, 100, 100]}, "3 feet have 2 gaps; 3 are given"),
    ({"weights": [1, 2], "rear": [1], "spacing": 100, "across": 100}, "2 feet in front and 1 behind"),
    ({"weights": [1, 2], "rear": [1, 2], "spacing": 100}, "go together"),
    ({"mass": 1000, "centre": 1600, "spacing": 1500}, "the machine would tip"),
    ({"spacing": 1500}, "the weights at the feet, or the mass"),
])  # fmt: skip
def test_a_weighing_that_gives_nothing_is_refused(written, words):
    with pytest.raises(BadValues) as caught:
        table_named("foot-loads").table(written)
    assert words in str(caught.value)


@pytest.mark.parametrize("rated, supply, words", [
    ((60, 460), (50, 400), "flux as it should be (104 %); 17 % slower"),
    ((50, 400), (60, 480), "flux as it should be (100 %); 20 % faster"),
    ((60, 230), (50, 230), "too much flux (120 % of the plate's)"),
    ((60, 380), (50, 400), "too much flux (126 % of the plate's)"),
    ((50, 400), (60, 400), "weak (83 % flux)"),
    ((50, 380), (50, 400), "much flux (105 %)"),
    ((50, 400), (50, 400), "flux as it should be (100 %); speed as plated"),
])  # fmt: skip
def test_the_motor_is_judged_by_its_flux_and_speed(rated, supply, words):
    table = table_named("motor-on-supply").table(
        {"poles": 4, "rated_hz": rated[0], "rated_v": rated[1], "supply_hz": supply[0], "supply_v": supply[1]}
    )
    assert words in table.rows[1]["verdict"]
    assert table.warnings[0].startswith("A licensed electrician decides")


def test_odd_poles_are_refused():
    with pytest.raises(BadValues, match="poles in pairs"):
        table_named("motor-on-supply").table(
            {"poles": 3, "rated_hz": 50, "supply_hz": 50, "rated_v": 400, "supply_v": 400}
        )


@given(st.floats(-19, 60), st.floats(2, 100))
def test_air_cooled_to_its_dew_point_is_saturated(air, humidity):
    point = dew_point_c(air, humidity)
    assert point <= air + 1e-9
    # Ice and water differ by a hair at the triple point, where halving stops on the step.
    assert humidity_at(point, air, humidity) == pytest.approx(100, abs=0.02)


def test_vapour_pressure_rises_without_a_gap_at_freezing():
    assert vapour_pressure_pa(0.0101) == pytest.approx(vapour_pressure_pa(0.0099), rel=5e-4)
    pressures = [vapour_pressure_pa(t / 2) for t in range(-100, 200)]
    assert pressures == sorted(pressures)


@pytest.mark.parametrize(
    "iron, sweats, verdict", [(8, True, "sweats"), (11, False, "on the edge"), (13, False, "stays dry")]
)
def test_the_margin_decides(iron, sweats, verdict):
    row = rows("dew-point", air=15, humidity=70, iron=iron)[0]
    assert row["sweats"] is sweats and row["verdict"].startswith(verdict)


@pytest.mark.parametrize(
    "humidity, words",
    [
        (0.5, "write 50 if you mean 50 percent"),
        (0, "outside 1 to 100"),
        (130, "outside 1 to 100"),
        ("wet", "humidity: "),
    ],
)
def test_a_humidity_that_cannot_be_is_refused(humidity, words):
    with pytest.raises(BadValues) as caught:
        table_named("dew-point").table({"air": 15, "humidity": humidity})
    assert words in str(caught.value)


def test_after_the_warm_up_time_the_iron_is_at_its_target():
    row = rows("warm-up-time", air=15, humidity=60, iron=2, thickness=40)[0]
    for hours, tau in (
        (row["hours_low"], row["time_constant_low_h"]),
        (row["hours_high"], row["time_constant_high_h"]),
    ):
        assert 15 - (15 - 2) * exp(-hours / tau) == pytest.approx(row["target_c"])
    assert rows("warm-up-time", air=15, humidity=60, iron=2, thickness=80)[0]["hours_low"] == pytest.approx(
        2 * row["hours_low"]
    )


def test_air_too_damp_to_warm_safely_is_refused():
    with pytest.raises(BadValues, match="dry or heat the air first"):
        table_named("warm-up-time").table({"air": 15, "humidity": 90, "iron": 2})


def test_iron_that_is_warm_already_needs_no_time():
    table = table_named("warm-up-time").table({"air": 15, "humidity": 50, "iron": 14})
    assert all(row["hours_high"] == 0 for row in table.rows) and table.warnings == ("The iron is warm enough already.",)


@pytest.mark.parametrize("humidity, state", [(30, "dry"), (60, "safe when clean"), (61, "critical"), (100, "wet")])
def test_a_humidity_falls_into_one_band(humidity, state):
    assert [row["state"] for row in rows("rust-thresholds", humidity=humidity)] == [state]
