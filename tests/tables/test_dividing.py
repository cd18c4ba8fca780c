"""Indexing: every setting against the arithmetic it must satisfy, and what is refused."""

from fractions import Fraction

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.differential import gear_trains
from fettlebook.tables.dividing import SETS, USUAL_CIRCLES, USUAL_GEARS, thousandths_of_second


def table(**given):
    return table_named("indexing").table(given)


@pytest.mark.parametrize("divisions", [*range(2, 130), 161, 271, 319, 360, 1440])
def test_every_setting_gives_the_divisions(divisions):
    """turns x divisions + gear ratio = 40, exactly, for plain and differential; gears make the ratio they claim."""
    for row in table(divisions=divisions).rows:
        if row["method"] not in ("plain", "differential"):
            continue
        moved = row["turns"] + (Fraction(row["holes"], row["circle"]) if row["circle"] else 0)
        geared = Fraction(0)
        if row["method"] == "differential":
            stud = row["stud_gears"] or (1, 1)
            geared = Fraction(row["gear_on_spindle"] * stud[1], stud[0] * row["gear_on_worm"]) * (
                1 if row["gear_ratio"] > 0 else -1
            )
        assert divisions * moved + geared == 40


def test_differential_gears_come_from_the_set_no_oftener_than_they_are_there():
    for row in table(divisions=127).rows:
        if row["method"] == "differential":
            used = [row["gear_on_spindle"], *(row["stud_gears"] or ()), row["gear_on_worm"]]
            assert all(used.count(gear) <= USUAL_GEARS.count(gear) for gear in used)


def test_the_nearest_setting_is_the_nearest_hole_of_any_circle():
    row = next(row for row in table(divisions=127, differential="false").rows if row["method"] == "nearest")
    wanted = Fraction(40, 127)
    best = min(abs(Fraction(holes, circle) - wanted) for circle in USUAL_CIRCLES for holes in range(circle))
    assert abs(Fraction(row["holes"], row["circle"]) - wanted) == best
    assert row["error_total_deg"] == pytest.approx(127 * row["error_deg"])


def test_the_error_on_the_rim_is_the_arc():
    row = table(divisions=127, differential="false", diameter="80 mm").rows[0]
    assert row["rim_error_mm"] == pytest.approx(row["error_deg"] * 3.141592653589793 / 180 * 40)


def test_an_inexact_division_says_so_plainly():
    (warning,) = table(divisions=127, differential="false", diameter="80 mm").warnings
    assert warning == (
        "Plain indexing is not exact here: the nearest setting is out by 0.00746° or 0.0052 mm on a rim of 80.0 mm at each move, and the "
        "last space by 0.9474° or 0.661 mm. Counted from the first hole each time, to the nearest hole, no place is out by more than half a hole."
    )


def test_direct_indexing_uses_the_notches():
    found = [row for row in table(divisions=6).rows if row["method"] == "direct"]
    assert [(row["holes"], row["circle"]) for row in found] == [(4, 24)]


def test_the_sector_arms_show_one_hole_more():
    assert all(row["sector_count"] == row["holes"] + 1 for row in table(divisions=6).rows if row["method"] == "plain")


def test_a_rotary_table_of_90_to_1():
    assert [
        (r["turns"], r["holes"], r["circle"])
        for r in table(divisions=7, ratio=90, direct="24").rows
        if r["circle"] == 21
    ] == [(12, 18, 21)]


@pytest.mark.parametrize(
    "text, seconds",
    [
        ("35", 126000),
        ("48 deg 40 min", 175200),
        ("48° 40'", 175200),
        ("48°40′", 175200),
        ("54 min", 3240),
        ("12 30 15", 45015),
        ("7,5", 27000),
        ("30 s", 30),
    ],
)
def test_angles_are_read_as_people_write_them(text, seconds):
    assert thousandths_of_second(text) == seconds * 1000


def test_the_sets_of_plates_are_whole():
    """Practical Treatise on Milling, p. 52, and subcourse OD1644: 18 circles on three plates, 22 on the two-sided one."""
    assert [len(circles) for circles in SETS.values()] == [18, 22]


def test_simple_trains_are_preferred():
    assert gear_trains(USUAL_GEARS)[Fraction(2)].stud == ()


@pytest.mark.parametrize(
    "given, message",
    [
        ({}, "divisions: the divisions or the angle must be given; for example divisions 6, or angle 35"),
        ({"divisions": 6, "angle": "35"}, "divisions: give divisions or an angle, not both; for example divisions 6, or angle 35"),
        ({"divisions": 0}, "divisions: 0 is below the smallest value that holds here, 2"),
        ({"divisions": "1e9"}, "divisions: 1e9 is above the largest value that holds here, 21600"),
        ({"divisions": "six"}, 'divisions: "six" does not start with a number; write one like 12.7; for example 6'),
        ({"angle": "0"}, 'angle: 0 must lie above 0 and within a turn of 360°; for example "35", "48 deg 40 min" or "54 min"'),
        ({"angle": "half"}, 'angle: "half" is not an angle; for example "35", "48 deg 40 min" or "54 min"'),
        ({"divisions": 21600}, "circles: one move is 0.00185 turns, less than half a hole of any circle; use an angle that the head can set, or a head of another ratio"),
        ({"angle": "10,000"}, 'angle: "10,000" could be a thousand or a decimal comma; write it with a point; for example "35", "48 deg 40 min" or "54 min"'),
        ({"divisions": "1e400"}, 'divisions: "1e400" is not a finite number; for example 6'),
        ({"divisions": 6, "ratio": "40:1"}, 'ratio: "40:1" is not a number; write one like 12.7 or 1/2; for example 40'),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        table(**given)
    assert str(caught.value) == message
