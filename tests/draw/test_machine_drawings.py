"""The drawings of oil, gland, twist and dew point say what the tables say, and refuse what they cannot show."""

from xml.etree import ElementTree

import pytest

from fettlebook.draw.catalogue import drawing_named
from fettlebook.draw.oil_axes import across, up
from fettlebook.draw.taper import LEAN_DEG, _leant
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.viscosity import line_through

SVG = "{http://www.w3.org/2000/svg}"


def words_of(name, given=None):
    return [e.text for e in ElementTree.fromstring(drawing_named(name).svg(given)).iter(f"{SVG}text")]


def refusal(name, given):
    with pytest.raises(BadValues) as told:
        drawing_named(name).svg(given)
    return str(told.value)


def test_an_oil_is_a_straight_line_on_these_axes():
    """ASTM D341: that is what the axes are for."""
    line = line_through(32, 40, 5.4, 100)
    points = [(across(t), up(line.at(t))) for t in (-10, 20, 45, 70, 100)]
    (x0, y0), (x1, y1) = points[0], points[-1]
    for x, y in points[1:-1]:
        assert y == pytest.approx(y0 + (y1 - y0) * (x - x0) / (x1 - x0), abs=1e-4)


def test_the_maker_s_oil_is_carried_across_with_the_table_s_figure():
    given = {"maker": "ISO VG 32", "designed_for": 20, "here": [30, 40]}
    found = table_named("oil-for-climate").table({"grade": "ISO VG 32", "designed_for": 20, "here": 35}).rows[0]
    assert "87.8 mm²/s" in words_of("oil-axes", given)
    assert found["designed_viscosity_mm2_s"] == pytest.approx(87.8, abs=0.05)
    assert "ISO VG 68 88.2" in drawing_named("oil-axes").words(given)


def test_a_gland_shows_the_squeeze_and_fill_of_the_table():
    row = table_named("o-ring-fit").table({"section": 2.62, "depth": 2, "width": 3.6}).rows[0]
    assert f"squeeze {row['squeeze_percent']:.1f} %, fill {row['fill_percent']:.1f} %" in words_of("o-ring-gland")


def test_the_rear_higher_leans_the_tool_to_the_front():
    level, leant = _leant((0, 46), 0), _leant((0, 46), LEAN_DEG)
    assert leant[0] < level[0]  # the operator stands on the left
    assert _leant((30, 0), LEAN_DEG)[1] < _leant((30, 0), 0)[1]  # the rear way has risen
    assert "away from the work by 0.0033 mm" in words_of("bed-taper")[-2]
    assert "towards the work" in words_of("bed-taper", {"twist": -0.02})[-2]


def test_the_dew_chart_marks_the_table_s_dew_point():
    row = table_named("dew-point").table({"air": 15, "humidity": 70, "iron": 8}).rows[0]
    assert f"dew point {row['dew_point_c']:.1f} °C" in words_of("dew-chart")
    assert "Iron of 8 °C: sweats" in drawing_named("dew-chart").words()


@pytest.mark.parametrize("name, given, words", [
    ("oil-axes", {"maker": "ISO VG 32"}, "go together"),
    ("oil-axes", {"grades": "SAE 46"}, "SAE has no grade 46"),
    ("oil-axes", {"maker": "ISO VG 3200", "designed_for": -10}, "lies off the chart"),
    ("o-ring-gland", {"depth": 3}, "does not squeeze a ring"),
    ("o-ring-gland", {"width": 2}, "does not go into a gland"),
    ("o-ring-gland", {"depth": 1.5, "width": 2.7}, "more rubber than the gland has room"),
    ("dew-chart", {"humidity": 0.5}, "write 50 if you mean 50 percent"),
    ("dew-chart", {"air": 60, "humidity": 90}, "lies off the chart"),
])  # fmt: skip
def test_what_cannot_be_drawn_is_refused_in_words(name, given, words):
    assert words in refusal(name, given)
