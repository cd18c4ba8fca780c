"""Flats on a bar and spanners: geometry that must close, and what is refused."""

from math import cos, hypot, pi

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.spanners import jaw_for


def table(**given):
    return table_named("flats").table(given)


def row(**given):
    return table(**given).rows[0]


@pytest.mark.parametrize("flats", range(2, 13))
@pytest.mark.parametrize("share", [0.5, 0.75, 0.9, 0.98])
def test_the_edge_of_a_flat_lies_on_the_circle_through_the_corners(flats, share):
    """Pythagoras: half a width across flats and half a flat's width reach the corner, sharp or round."""
    got = row(diameter="40 mm", across_flats=f"{40 * share} mm", flats=flats)
    assert hypot(got["across_flats_mm"], got["flat_width_mm"]) == pytest.approx(got["corner_circle_mm"])
    assert got["corner_circle_mm"] <= 40 * (1 + 1e-12)


@pytest.mark.parametrize("flats", range(3, 13))
def test_the_largest_polygon_has_sharp_corners_on_the_bar(flats):
    got = row(diameter="30 mm", flats=flats)
    assert got["corners"] == "sharp" and got["corner_circle_mm"] == pytest.approx(30)
    assert got["across_flats_mm"] == got["largest_across_flats_mm"] == pytest.approx(30 * cos(pi / flats))


def test_an_odd_number_has_no_width_across_corners_but_a_measure_to_the_corner():
    got = row(diameter="20 mm", flats=3)
    assert got["across_corners_mm"] is None and got["spanner"] is None
    assert got["flat_to_corner_mm"] == pytest.approx(15)
    assert "no caliper goes across flats" in " ".join(table(diameter="20 mm", flats=3).notes)


def test_touch_off_with_a_feeler_and_part_of_the_way_gone():
    got = row(diameter="22 mm", across_flats="19 mm", flats=6, feeler="0.05 mm", cut="1 mm", measured="21 mm")
    assert (got["depth_per_flat_mm"], got["table_move_mm"], got["left_mm"]) == pytest.approx((1.5, 1.55, 0.55))
    assert (got["over_flat_mm"], got["left_by_measurement_mm"]) == pytest.approx((20.5, 0.5))


def test_too_deep_is_said():
    assert table(diameter="22 mm", across_flats="19 mm", flats=2, cut="2 mm").warnings == (
        "The table has already gone 0.500 mm too far for this flat.",
    )


def test_two_flats_on_a_shaft_keep_the_bar_across_the_rounds():
    got = row(diameter="25 mm", across_flats="19 mm", flats=2)
    assert (got["corners"], got["across_corners_mm"], got["largest_across_flats_mm"], got["spanner"]) == (
        "none",
        25,
        25,
        "19 mm",
    )


def test_without_a_bar_the_smallest_one_is_named():
    assert row(across_flats="13 mm", flats=6)["smallest_bar_mm"] == pytest.approx(13 / cos(pi / 6))


def test_a_jaw_must_go_on():
    assert jaw_for(13.0).marking == "13 mm" and jaw_for(13.01).marking == "1/4 W" and jaw_for(500) is None


def test_a_thread_without_a_head_on_the_list_is_refused():
    with pytest.raises(BadValues, match='thread: no head for "M5.5" is on the list; for example M10, 3/8 or 1/4 BSW'):
        table_named("spanner-sizes").table({"thread": "M5.5"})


@pytest.mark.parametrize("thread", ["1/2-13", "1/2 UNC", '1/2"', "1/2 UNF", "1/2-20"])
def test_a_unified_head_goes_by_its_size_alone(thread):
    assert [r["spanner"] for r in table_named("spanner-sizes").table({"thread": thread}).rows] == ["3/4 AF"]


@pytest.mark.parametrize(
    "given, message",
    [
        ({}, "diameter: the bar's diameter or the width across flats must be given; for example 25 mm"),
        ({"diameter": "20", "across_flats": "20"}, "across_flats: 20 mm across flats leaves no flat on a bar of 20 mm; take a larger bar or a smaller width"),
        ({"diameter": "0"}, "diameter: 0 is below the smallest value that holds here, 0.5 mm"),
        ({"diameter": "-5"}, "diameter: -5 is below the smallest value that holds here, 0.5 mm"),
        ({"diameter": "1e9"}, "diameter: 1e9 is above the largest value that holds here, 2000 mm"),
        ({"diameter": "25", "flats": "1"}, "flats: 1 is below the smallest value that holds here, 2"),
        ({"diameter": "25 kg"}, "diameter: kg measures mass, mm measures length; for example 25 mm"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        table(**given)
    assert str(caught.value) == message
