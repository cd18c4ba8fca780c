"""Cutting speeds: the pick of a spindle speed, conditions apart, operations, and what is refused."""

import pytest

from fettlebook import data
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.cutting import MATERIALS, OPERATIONS, pick_spindle_rpm
from fettlebook.tables.definition import BadValues

SPEEDS = [60, 100, 170, 280, 460, 760]


def table(**given):
    return table_named("cutting-speeds").table(given)


@pytest.mark.parametrize(
    "low, high, picked, why",
    [
        (200, 600, 280, "in the lower third of the range"),
        (300, 900, 460, "none in the lower third: the slowest inside"),
        (300, 400, 280, "none inside: the fastest below"),
        (20, 40, 60, "all too fast: the slowest"),
        (1000, 5000, 760, "all too slow: the fastest"),
    ],
)
def test_the_spindle_speed_to_begin_with(low, high, picked, why):
    assert pick_spindle_rpm(low, high, SPEEDS) == picked, why


def test_no_list_of_speeds_gives_no_pick():
    assert pick_spindle_rpm(100, 200, []) is None


def test_a_speed_above_the_range_is_warned_of():
    (warning, *_) = table(material="cast iron", diameter="400 mm", spindle="280, 460").warnings
    assert "even the slowest speed of the machine, 280 rpm, is above the range" in warning


def test_tool_steel_has_a_row_for_each_condition():
    rows = table(material="silver steel", diameter="10 mm").rows
    assert [row["condition"] for row in rows] == [
        "annealed, as delivered",
        "re-annealed in the shop",
        "hardened, over 45 HRC",
    ]
    annealed, again, hard = rows
    assert again["speed_high_m_min"] <= annealed["speed_low_m_min"] * 1.001
    assert hard["rpm_low"] is None and hard["hint"].startswith("Not with HSS")


def test_hardened_steel_has_a_carbide_speed():
    hard = table(material="tool steel", diameter="10 mm", tool="carbide").rows[-1]
    assert (hard["speed_low_m_min"], hard["speed_high_m_min"]) == pytest.approx((65 * 0.3048, 150 * 0.3048))


@pytest.mark.parametrize("material", ["stainless steel", "manganese steel", "titanium"])
def test_work_hardening_is_said_and_the_feed_kept_up(material):
    row = table(material=material, diameter="20 mm").rows[0]
    assert "work-hardening" in row["condition"] and "Hardens where it is rubbed" in row["hint"]


def test_carbide_runs_at_twice_hss_where_it_has_no_figure():
    hss, carbide = (table(material="mild steel", diameter="25 mm", tool=tool).rows[0] for tool in ("HSS", "carbide"))
    assert carbide["speed_low_m_min"] == pytest.approx(2 * hss["speed_low_m_min"])


def test_a_drills_feed_grows_with_its_diameter():
    feeds = [
        table(material="mild steel", diameter=f"{d} mm", operation="drilling").rows[0]["feed_low_mm"]
        for d in (2, 5, 10, 20, 30)
    ]
    assert feeds == sorted(set(feeds))


@pytest.mark.parametrize("material", MATERIALS)
def test_every_material_can_be_turned_and_its_figures_make_sense(material):
    for row in table(material=material, diameter="25 mm").rows:
        if row["speed_low_m_min"] is not None:
            assert 5 < row["speed_low_m_min"] <= row["speed_high_m_min"] < 250
            assert 0 < row["feed_low_mm"] <= row["feed_high_mm"] < 1


@pytest.mark.parametrize("operation", OPERATIONS)
def test_every_operation_has_a_speed_for_mild_steel(operation):
    assert table(material="mild steel", diameter="10 mm", operation=operation).rows[0]["rpm_low"] > 0


def test_every_published_line_has_a_source():
    for entry in data.rows("cutting-speeds", "materials"):
        for condition in entry["conditions"]:
            for name in ("turning", "milling", "drilling", "reaming", "carbide_turning"):
                for line in condition.get(name, ()):
                    assert line["cite"] in data.sources() and line["low"] <= line["high"], (entry["material"], name)


@pytest.mark.parametrize(
    "given, message",
    [
        ({"material": "mild steal", "diameter": "25"}, 'material: "mild steal" is not a material known here; did you mean "mild steel"?'),
        ({"material": "mild steel"}, "diameter: must be given; for example 25 mm"),
        ({"material": "mild steel", "diameter": "0"}, "diameter: 0 is below the smallest value that holds here, 0.1 mm"),
        ({"material": "mild steel", "diameter": "25", "tool": "diamond"}, 'tool: "diamond" is not one of HSS, carbide'),
        ({"material": "mild steel", "diameter": "25", "spindle": "0"}, "spindle: 0 is below the smallest value that holds here, 1"),
        ({"material": "cast steel", "diameter": "25 s"}, "diameter: s measures time, mm measures length; for example 25 mm"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        table(**given)
    assert str(caught.value) == message
