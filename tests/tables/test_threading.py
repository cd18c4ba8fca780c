"""Single-point passes: equal chips, falling cuts, limits kept, the nose, and where to stop."""

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.designations import thread_named
from fettlebook.tables.infeed import depth_mm


def table(**given):
    return table_named("thread-passes").table(given)


def cuts(found):
    return [row for row in found.rows if not row["spring"]]


@pytest.mark.parametrize("thread", ["M6", "M20x2.5", "1/2-13", "1/2 BSW", "2BA", "G 1/2", "1/2 NPT"])
@pytest.mark.parametrize("side", ["external", "internal"])
def test_cuts_get_smaller_and_from_the_third_on_take_the_same_area(thread, side):
    rows = cuts(table(thread=thread, side=side))
    sizes = [row["cut_mm"] for row in rows]
    assert sizes == sorted(sizes, reverse=True) and sizes[-1] > 0
    assert [row["chip_area_mm2"] for row in rows[2:]] == pytest.approx([rows[-1]["chip_area_mm2"]] * (len(rows) - 2))
    assert rows[-1]["depth_mm"] == pytest.approx(sum(sizes))


def test_spring_passes_stand_last_and_cut_nothing_new():
    found = table(thread="M10", spring=3)
    assert [row["spring"] for row in found.rows[-4:]] == [False, True, True, True]
    assert {row["cut_mm"] for row in found.rows[-3:]} == {0}
    assert found.rows[-1]["slide_reading_mm"] == found.rows[-4]["slide_reading_mm"]


def test_limits_of_the_first_and_last_cut_are_kept():
    heavy, light = cuts(table(thread="M20x2.5", first_cut="0.15 mm")), cuts(table(thread="M20x2.5", last_cut="0.08 mm"))
    assert heavy[0]["cut_mm"] <= 0.15 and light[-1]["cut_mm"] >= 0.08 and len(light) < len(heavy)


def test_limits_that_cannot_both_be_kept_are_said():
    assert any(
        "below your limit of 0.1 mm" in w for w in table(thread="M10", first_cut="0.05 mm", last_cut="0.1 mm").warnings
    )
    assert any("above your limit of 0.05 mm" in w for w in table(thread="M10", first_cut="0.05 mm", passes=3).warnings)


def test_a_blunter_nose_needs_less_depth_and_past_the_root_is_warned_of():
    """A nose of radius r ends r short of its point at 60 degrees: 1/sin 30 - 1 = 1."""
    sharp, blunt = depth_mm(thread_named("M10"), radius_mm=0.1), depth_mm(thread_named("M10"), radius_mm=0.2)
    assert sharp - blunt == pytest.approx(0.1)
    assert any("blunter than the root" in w for w in table(thread="M10", nose_radius="0.35 mm").warnings)
    assert table(thread="M10", nose_radius="0.1 mm").warnings == ()


@pytest.mark.parametrize("angle, expected", [(29, 0.9202 / 0.8746), (29.5, 0.9202 / 0.8704), (30, 0.9202 / 0.8660)])
def test_the_top_slides_reading_grows_with_its_angle(angle, expected):
    row = table(thread="M10", infeed="flank", slide_angle=angle).rows[-1]
    assert row["slide_reading_mm"] == pytest.approx(expected, abs=2e-4)


def test_other_forms_get_half_a_degree_less_than_half_their_angle():
    assert "Top slide set 27°" in table(thread="1/2 BSW", infeed="flank").notes[1]


def test_a_dial_that_reads_diameter_shows_twice_the_depth():
    row = table(thread="M10", dial="diameter").rows[-1]
    assert row["slide_reading_mm"] == pytest.approx(2 * row["depth_mm"])


def test_the_root_of_an_internal_thread_comes_out_at_the_major_diameter():
    assert table(thread="M10", side="internal").rows[-1]["root_mm"] == pytest.approx(10)


def test_a_die_gets_something_to_do():
    tool, die = table(thread="M10").rows[-1], table(thread="M10", finish="die").rows[-1]
    assert tool["depth_mm"] - die["depth_mm"] == pytest.approx(0.15)


def test_without_an_undercut_it_says_where_to_stop():
    said = " ".join(table(thread="M10", undercut="false", rpm="120").warnings)
    assert "the tool runs on 1.5 mm while you take 0.5 s" in said and "slow down" not in said
    assert "That is 2.5 turns: slow down" in " ".join(table(thread="M10", undercut="false", rpm="300").warnings)


def test_a_pitch_outside_the_catalogue_is_flagged():
    assert any("0.5 to 3 mm" in warning for warning in table(thread="M64").warnings)


@pytest.mark.parametrize(
    "given, message",
    [
        ({"thread": "M10", "passes": "0"}, "passes: 0 is below the smallest value that holds here, 1"),
        ({"thread": "M10", "passes": "1e9"}, "passes: 1e9 is above the largest value that holds here, 200"),
        ({"thread": "M10", "infeed": "sideways"}, 'infeed: "sideways" is not one of radial, flank'),
        ({"thread": "M10", "infeed": "flank", "slide_angle": "31"}, "slide_angle: 31° does not clear the trailing flank of a 60° thread; between 20 and 30, usually 29.5"),
        ({"thread": "M10", "nose_radius": "0.8 mm"}, "nose_radius: 0.8 mm is too blunt for a pitch of 1.500 mm; grind a sharper tool"),
        ({"thread": "M10", "nose_radius": "0.1", "nose_flat": "0.1"}, "nose_radius: a nose has a radius or a flat, not both; give one of nose_radius and nose_flat"),
        ({"thread": "M10", "first_cut": "2 mm"}, "first_cut: 2 mm is not less than the whole depth, 0.920 mm; give a smaller cut"),
        ({"thread": "M10", "finish": "die", "leave": "1 mm"}, "leave: 1.000 mm is all of the thread's depth, 0.920 mm; leave less"),
        ({"thread": "M10", "depth": "5 mm"}, "depth: 5 mm is no depth for a pitch of 1.5 mm; it lies between 0.2 and 1.2 pitches"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        table(**given)
    assert str(caught.value) == message


def test_too_many_passes_are_said_to_rub():
    def said(**given):
        return " ".join(table_named("thread-passes").table({"thread": "M10", **given}).warnings)

    assert "0.002 mm: below about 0.01 mm a tool rubs" in said(passes=200)
    assert "rubs" not in said()


def test_a_taper_thread_has_no_undercut_and_its_own_gauge():
    notes = " ".join(table_named("thread-passes").table({"thread": "1/2 NPT"}).notes)
    assert "Undercut" not in notes
    assert "ring gauge" in notes
