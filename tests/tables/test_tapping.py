"""Tapping drills and drills by name: order, limits, both bases, and what is refused."""

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.drills import SERIES, drills_named, series
from fettlebook.tables.tapping import BASES
from fettlebook.tables.thread_limits import limits_of
from fettlebook.tables.threads import threads_of


def table(**given):
    return table_named("tapping-drills").table(given)


def names(*words):
    return [drill.name for drill in drills_named(words)]


def test_the_two_bases_are_twice_the_old_depth_and_twice_the_basic_height():
    assert BASES["1.299"] == pytest.approx(2 * 0.6495190528) and BASES["1.083"] == pytest.approx(2 * 0.5412658774)
    assert BASES["1.299"] / BASES["1.083"] == pytest.approx(1.2)


def test_a_full_thread_on_the_basic_height_is_the_minor_diameter():
    row = table(thread="M10", basis="1.083", engagement=100, drills="8.376 mm", high=101).rows[0]
    assert row["engagement_percent"] == pytest.approx(100, abs=0.02)


def test_the_gauge_is_whole():
    """80 numbers and 26 letters; the gaps of the gauge are never wider than 0.017 in."""
    gauge = series("number-letter")
    assert len(gauge) == 106
    assert all(0 < b.mm - a.mm < 0.017 * 25.4 for a, b in zip(gauge, gauge[1:], strict=False))


@pytest.mark.parametrize(
    "words, found",
    [(("8.5 mm",), ["8.5 mm"]), (("8.5", "mm"), ["8.5 mm"]), (("#7",), ["No. 7"]), (("No.", "7", "Q"), ["No. 7", "Q"]), (("5/16",), ["5/16"]),
     (("1 5/32 in",), ["1 5/32 in"]), (("6.8",), ["6.8 mm"]), (("letter",), [chr(65 + n) for n in range(26)])],
)  # fmt: skip
def test_drills_are_read_as_people_write_them(words, found):
    assert names(*words) == found


@pytest.mark.parametrize("family", ["M", "UN", "BSW", "BSF", "G", "BA"])
def test_the_first_drill_lies_within_the_minor_limits_wherever_one_does(family):
    for thread in threads_of(family)[::7]:
        low, high = limits_of(thread).internal.minor
        at_hand = [d for s in SERIES for d in series(s) if low <= d.mm <= high]
        shown = table(thread=thread.designation, low=40, high=110).rows[0]
        if at_hand:
            assert shown["within_minor_limits"], thread.designation


def test_only_the_shops_own_drills_are_offered():
    own = table_named("tapping-drills").table({"thread": "M8"}, {"drills": ["6.8 mm", "7 mm"]})
    assert {row["drill"] for row in own.rows} == {"6.8 mm", "7 mm"}


def test_the_basis_and_the_other_one_are_named():
    notes = " ".join(table(thread="M8").notes)
    assert "count 1.299 P as a full thread" in notes and "1.083 P, gives 20 percent more" in notes


def test_a_taper_pipe_thread_has_a_published_drill_and_no_percentage():
    row = table(thread="3/8 NPT").rows[0]
    assert (row["drill"], row["engagement_percent"]) == ("37/64", None)


def test_when_nothing_fits_the_nearest_are_shown_with_a_warning():
    found = table(thread="M8", drills="10 mm, 11 mm")
    assert found.warnings[0] == "No drill at hand gives 60 to 85 percent; these come nearest." and len(found.rows) == 2


@pytest.mark.parametrize(
    "given, message",
    [
        ({"thread": "M8", "drills": "blunt"}, 'drills: "blunt" is neither a series of drills nor a size; write metric, inch, number-letter, or sizes like "8.5 mm", "5/16 in", "No. 7", "Q"'),
        ({"thread": "M8", "drills": "0 mm"}, 'drills: "0 mm" is no drill; they run from 0.1 to 100 mm; write metric, inch, number-letter, or sizes like "8.5 mm", "5/16 in", "No. 7", "Q"'),
        ({"thread": "M8", "engagement": "0"}, "engagement: 0 is below the smallest value that holds here, 20 %"),
        ({"thread": "M8", "engagement": "1e9"}, "engagement: 1e9 is above the largest value that holds here, 100 %"),
        ({"thread": "M8", "low": "80"}, "engagement: 75 percent lies outside low and high, 80 to 85"),
        ({}, "thread: must be given; for example M10x1.5"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        table(**given)
    assert str(caught.value) == message


def test_a_percentage_on_a_basis_of_sixty_degrees_is_not_given_for_other_threads():
    row = table_named("tapping-drills").table({"thread": "2BA", "drills": "metric"}).rows[0]
    assert row["engagement_percent"] > 60
    assert (row["engagement_1_299_percent"], row["engagement_1_083_percent"]) == (None, None)
