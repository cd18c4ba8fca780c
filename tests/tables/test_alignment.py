"""Which way to move, and limits that belong to the right machine."""

import pytest

from fettlebook.tables.alignment import radial_shift_mm, twist_for_taper
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues

COLLARS = table_named("two-collars")
BASE = {"headstock": 40, "distance": 200, "centre_height": 160, "across": 420, "along": 1300, "pitch": 2}


def feet(tailstock, **more):
    return COLLARS.table(BASE | {"tailstock": tailstock} | more).rows[0]


def test_work_larger_at_the_tailstock_end_wants_the_front_foot_raised():
    # The tool in front has leaned away: the bed is low in front at that end. Geometry, no page to cite.
    assert feet(40.012)["move"].startswith("raise the front foot at the tailstock end, or lower the rear one")
    assert feet(39.988)["move"].startswith("raise the rear foot at the tailstock end, or lower the front one")
    assert feet(40)["move"] == "nothing" and feet(40)["move_mm"] == 0


def test_the_move_takes_the_taper_out():
    """Put the move back through the twist: slope over the feet's width, share of the length, tool shift, diameter."""
    row = feet(40.012)
    twist_between_feet = row["move_mm"] / 420 * 1000
    over_collars = twist_between_feet * 200 / 1300
    assert 2 * radial_shift_mm(over_collars, 160) == pytest.approx(0.012)
    assert row["turns"] == pytest.approx(row["move_mm"] / 2) and row["degrees"] == pytest.approx(row["turns"] * 360)


def test_taper_and_twist_are_inverse():
    assert twist_for_taper(2 * radial_shift_mm(0.037, 165), 165) == pytest.approx(0.037)


def test_a_springy_bar_is_warned_of():
    assert "springs from the tool" in COLLARS.table(BASE | {"tailstock": 40.01, "bar": 30}).warnings[0]
    assert COLLARS.table(BASE | {"tailstock": 40.01, "bar": 40}).warnings == ()


def test_the_verdict_scales_the_limit_to_300_mm():
    assert feet(40.012)["verdict"] == "larger at the tailstock end, 0.0180 mm over 300 mm: inside 0.02 mm"
    assert "outside 0.02 mm" in feet(40.02)["verdict"]


@pytest.mark.parametrize("name, written, words", [
    ("two-collars", BASE | {"tailstock": 60}, "differ by far too much"),
    ("two-collars", {"headstock": 40, "tailstock": 40, "distance": 200, "centre_height": 160, "along": 1300}, "only one is given"),
    ("bed-twist", {"centre_height": 165}, "either the twist or the taper must be given"),
    ("bed-twist", {"centre_height": 165, "twist": 0.02, "taper": 0.01}, "and not both"),
    ("test-bar", {"horizontal": 0.01, "vertical": 4, "over": 100, "length": 400, "diameter": 20}, "would leave the tool"),
    ("alignment-limits", {"swing": 800, "class": "precision"}, "the precision class ends at 500 mm swing"),
    ("alignment-limits", {"swing": 0}, "swing: 0 is below"),
])  # fmt: skip
def test_what_makes_no_sense_is_refused(name, written, words):
    with pytest.raises(BadValues) as caught:
        table_named(name).table(written)
    assert words in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize("class_, swing", [("precision", 320), ("other", 320), ("other", 1000)])
@pytest.mark.parametrize("centres", [300, 500, 750, 1000, 1500])
def test_each_test_stands_once_for_a_machine(class_, swing, centres):
    rows = table_named("alignment-limits").table({"swing": swing, "class": class_, "centres": centres}).rows
    tests = [row["test"] for row in rows if row["standard"] == "ISO 1708:1989"]
    assert len(tests) == len(set(tests)) and "G1b" in tests


def test_a_precision_lathe_is_never_allowed_more():
    def limits(class_):
        rows = table_named("alignment-limits").table({"swing": 320, "class": class_}).rows
        return {
            row["test"]: row["limit_um_per_m"] or row["limit_mm"] for row in rows if row["standard"] == "ISO 1708:1989"
        }

    precise, other = limits("precision"), limits("other")
    assert set(precise) == set(other) and all(precise[test] <= other[test] for test in precise)


def test_a_long_bed_is_allowed_more():
    def along(centres):
        rows = table_named("alignment-limits").table({"swing": 320, "centres": centres}).rows
        return next(row["limit_mm"] for row in rows if row["test"] == "G1a")

    assert [along(c) for c in (500, 1000, 2000, 2001)] == pytest.approx([0.01, 0.02, 0.03, 0.04])
