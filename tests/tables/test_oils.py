"""Oils: the grade that fits here, names that are not mixed up, and equations kept within their range."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValue, BadValues
from fettlebook.tables.oil_climate import STEP, verdict
from fettlebook.tables.oil_grades import grades, iso_grade_of, iso_grades, oil_named
from fettlebook.tables.oil_mixing import blended_by_chart_mm2_s, blended_mm2_s, share_for
from fettlebook.tables.viscosity import OutOfRange, line_through, v40_from_index, v100_from_index, viscosity_index

CLIMATE = table_named("oil-for-climate")


def climate(**written):
    return CLIMATE.table(written)


def test_a_hotter_shop_wants_a_thicker_grade():
    table = climate(grade="ISO VG 32", designed_for=20, here=35)
    first = table.rows[0]
    assert first["grade"] == "ISO VG 68"
    assert first["ratio"] == pytest.approx(first["viscosity_mm2_s"] / first["designed_viscosity_mm2_s"])
    assert table.rows[1]["verdict"] == "2 grades too thin"


def test_the_same_climate_wants_the_same_grade():
    for oil in iso_grades()[3:]:
        row = climate(grade=oil.name, designed_for=25, here=25).rows[0]
        assert row["grade"] == oil.name and row["ratio"] == pytest.approx(1)


def test_no_other_iso_grade_is_nearer():
    wanted = table_named("oil-viscosity").table({"grade": "SAE 20", "temperatures": 30}).rows[0]["viscosity_mm2_s"]
    best = climate(grade="SAE 20", designed_for=30, here=12).rows[0]
    for oil in iso_grades()[3:]:
        found = oil.line(95).at(12) / wanted
        assert max(found, 1 / found) >= max(best["ratio"], 1 / best["ratio"]) - 1e-9


def test_a_rise_moves_both_temperatures():
    assert (
        climate(grade="ISO VG 46", designed_for=20, here=10, rise=20).rows
        == climate(grade="ISO VG 46", designed_for=40, here=30).rows
    )


def test_the_store_is_compared_nearest_first_and_a_slip_there_is_explained():
    rows = climate(grade="ISO VG 32", designed_for=20, here=35, store="ISO VG 32, SAE 46, ISO VG 100").rows[2:]
    assert [row["grade"] for row in rows] == ["ISO VG 100", "ISO VG 32", "SAE 46"]
    assert rows[-1]["verdict"].startswith('not compared: "SAE 46": SAE has no grade 46. 46 is an ISO viscosity grade')


def test_the_shop_s_own_oils_are_the_default_store():
    table = CLIMATE.table({"grade": "ISO VG 32", "designed_for": 20, "here": 20}, {"oils": ["ISO VG 22", "ISO VG 32"]})
    assert [row["grade"] for row in table.rows[2:]] == ["ISO VG 32", "ISO VG 22"]


@pytest.mark.parametrize(
    "steps, words", [(0, "as thick as the maker meant"), (1.2, "one grade too thick"), (-1.9, "2 grades too thin")]
)
def test_the_verdict_counts_grades(steps, words):
    assert verdict(steps) == words


@pytest.mark.parametrize("there, here", [(20, 20), (45, 20), (20, 45)])
def test_grades_are_counted_as_they_stand_in_the_series_in_the_cold_and_in_the_warm(there, here):
    names = [oil.name for oil in iso_grades()[4:14]]
    rows = climate(grade="ISO VG 68", designed_for=there, here=here, store=", ".join(names)).rows[2:]
    by_name = {row["grade"]: row["steps"] for row in rows}
    steps = [by_name[name] for name in names]
    assert [b - a for a, b in zip(steps, steps[1:], strict=False)] == pytest.approx([1] * 9)
    assert by_name["ISO VG 68"] == pytest.approx(0, abs=1e-9) if there == here else abs(by_name["ISO VG 68"]) > 2


def test_a_step_is_the_ratio_of_the_series():
    numbers = [oil.v_mm2_s for oil in iso_grades()]
    for thin, thick in zip(numbers, numbers[1:], strict=False):
        assert thick / thin == pytest.approx(STEP, rel=0.05)


@pytest.mark.parametrize("text, name", [
    ("iso vg 46", "ISO VG 46"), ("VG68 oil", "ISO VG 68"), ("SAE 30", "SAE 30 engine"), ("SAE 90", "SAE 90 gear"), ("SAE 80W-90", "SAE 80W-90 gear"),
    ("10W-40", "SAE 10W-40 engine"), ("AGMA No. 5", "AGMA 5"), ("38 cSt", "38 mm²/s at 40 °C"),
])  # fmt: skip
def test_a_grade_is_read_as_people_write_it(text, name):
    assert oil_named(text).name == name


@pytest.mark.parametrize("text, words", [
    ("46", '"46" is a number without its system: is ISO VG 46 meant?'),
    ("15", "it could be ISO VG 15 or SAE 15W (engine oil), which are different oils"),
    ("SAE 46", "SAE numbers are set at 100 °C and mean something else, so an SAE number is never an ISO VG number"),
    ("SAE 10W", "a winter number alone"),
    ("ISO VG 30", "ISO VG has no grade 30. It is a number of another system: SAE 30 (engine oil)."),
    ("ISO VG 90", "SAE 90 gear"),
    ("ISO VG 46 gear", "mixes two number systems"),
    ("SAE 33", "SAE has no grade 33; it has engine oils 8, 12"),
    ("grease", '"grease" is not an oil grade known here'),
    ("-5", "is a number without its system"),
])  # fmt: skip
def test_a_wrong_name_is_explained(text, words):
    with pytest.raises(BadValue) as caught:
        oil_named(text)
    assert words in str(caught.value)


def test_a_multigrade_needs_its_index():
    with pytest.raises(BadValues, match="SAE 10W-40 engine is a multigrade: its viscosity index must be given"):
        table_named("oil-viscosity").table({"grade": "SAE 10W-40"})
    assert table_named("oil-viscosity").table({"grade": "SAE 10W-40", "index": 150}).rows


@pytest.mark.parametrize("written, words", [
    ({}, "grade: a grade, or the viscosity at 40 °C as v40, must be given"),
    ({"grade": "ISO VG 46", "v40": 46}, "not both"),
    ({"v40": 3, "v100": 5}, "an oil is thinner at 100 °C than at 40 °C"),
    ({"v40": 32, "v100": 5.4, "index": 150}, "they give 102"),
    ({"v40": 0}, "v40: 0 is below"),
    ({"v40": 1e9}, "v40: 1000000000.0 is above"),
    ({"grade": "ISO VG 46", "temperatures": "hot"}, "temperatures: "),
    ({"grade": "ISO VG 46", "temperatures": 500}, "temperatures: 500 is above"),
    ({"grade": "ISO VG 3200", "temperatures": -40}, "the oil would be thicker than"),
    ({"grade": "ISO VG 46", "index": 900}, "index: 900 is above"),
])  # fmt: skip
def test_what_cannot_be_computed_is_refused_in_one_line(written, words):
    with pytest.raises(BadValues) as caught:
        table_named("oil-viscosity").table(written)
    assert words in str(caught.value) and "\n" not in str(caught.value)


def test_cold_oil_is_flagged():
    assert "wax" in table_named("oil-viscosity").table({"grade": "ISO VG 46", "temperatures": -20}).warnings[0]


def test_grades_have_gaps():
    assert (
        iso_grade_of(38) is None and iso_grade_of(41.4).name == "ISO VG 46" and iso_grade_of(50.6).name == "ISO VG 46"
    )


@given(st.floats(7, 5000), st.floats(20, 250))
def test_index_and_the_viscosity_at_100_are_inverse(v40, index):
    try:
        v100 = v100_from_index(v40, index)
    except OutOfRange:
        return
    assert viscosity_index(v40, v100) == pytest.approx(index, abs=1e-6)
    assert v40_from_index(v100, index) == pytest.approx(v40, rel=1e-6)


@given(st.floats(2.5, 3000), st.floats(0.2, 0.95), st.floats(-30, 150))
def test_the_line_goes_through_its_points_and_falls_with_heat(v40, part, t):
    v100 = max(v40 * part**3, 0.3)
    line = line_through(v40, 40, v100, 100)
    # D341's inverse is exact above 2 mm2/s and within a fifth of a percent below.
    assert line.at(40) == pytest.approx(v40, rel=3e-4)
    assert line.at(100) == pytest.approx(v100, rel=3e-3)


@given(st.floats(5, 1000), st.floats(5, 1000), st.floats(0.01, 0.99))
def test_a_mixture_lies_between_its_oils_and_two_rules_agree(v1, v2, share):
    mixed = blended_mm2_s(v1, v2, share)
    assert min(v1, v2) * (1 - 1e-9) <= mixed <= max(v1, v2) * (1 + 1e-9)
    # The two rules part most between very unlike oils: by 1.5 % between 5 and 1000 mm2/s.
    assert blended_by_chart_mm2_s(v1, v2, share) == pytest.approx(mixed, rel=0.03)
    if abs(v1 - v2) > 1e-3 * v1:
        assert share_for(v1, v2, mixed) == pytest.approx(share, abs=1e-6)


def test_a_wanted_grade_outside_both_oils_is_refused():
    with pytest.raises(BadValues, match="does not lie between the two oils"):
        table_named("oil-mixture").table({"first": "ISO VG 32", "second": "ISO VG 68", "wanted": "ISO VG 100"})
    share = (
        table_named("oil-mixture").table({"first": "ISO VG 32", "second": "ISO VG 68", "wanted": "ISO VG 46"}).rows[0]
    )
    assert share["viscosity_mm2_s"] == pytest.approx(46) and 45 < share["second_percent"] < 55


def test_every_grade_has_its_limits_round_its_middle():
    assert all(oil.low < oil.v_mm2_s < oil.high for oil in grades().values())
