"""Classes, engagement and refusals of thread-limits."""

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.designations import thread_named
from fettlebook.tables.thread_limits import limits_of
from fettlebook.tables.threads import all_threads

TABLE = table_named("thread-limits")


def classes(thread, **given):
    return [row["class"] for row in TABLE.table({"thread": thread, **given}).rows]


@pytest.mark.parametrize("thread, grade, pair", [
    ("M10", "", ["6g", "6H"]), ("M10", "6g", ["6g", "6H"]), ("M10", "6H", ["6g", "6H"]), ("M10", "6H/6g", ["6g", "6H"]), ("M10", "5g6g", ["5g6g", "6H"]),
    ("M10", "4h", ["4h", "5H"]), ("M10", "8g", ["8g", "7H"]), ("M10", "7H", ["8g", "7H"]), ("M1", "", ["6h", "5H"]), ("M1.6x0.2", "", ["6g", "4H"]),
    ("M10-6G", "", ["6g", "6G"]), ("M10", "4H5H/4h6h", ["4h6h", "4H5H"]),
    ("1/2-13", "", ["2A", "2B"]), ("1/2-13", "3B", ["3A", "3B"]), ("1/2-13", "1a", ["1A", "1B"]), ("1/2-13", "2A/3B", ["2A", "3B"]), ("1/2-13 UNC-3A", "", ["3A", "3B"]),
    ("1/2 BSW", "", ["medium", "normal"]), ("1/2 BSW", "close", ["close", "medium"]), ("1/2 BSW", "free", ["free", "normal"]),
    ("G 1/2", "", ["A", "single"]), ("G1/2B", "", ["B", "single"]), ("2BA", "", ["normal", "normal"]), ("2BA", "close", ["close", "normal"]),
    ("R 1/2", "", ["R", "Rc"]), ("Rp 1/2", "", ["R", "Rp"]), ("1/2 NPT", "", ["NPT", "NPT"]),
])  # fmt: skip
def test_the_side_left_out_gets_its_usual_class(thread, grade, pair):
    assert classes(thread, **({"class": grade} if grade else {})) == pair


REFUSED = [
    ({"thread": "M10", "class": "2A"}, 'class: M has no class "2A"; it has grades 3 to 9 with e, f, g or h outside (6g, 5g6g, 4h) and grades 4 to 8 with G or H inside (6H, 6G, 4H5H)'),
    ({"thread": "1/2-13", "class": "6g"}, 'class: UN has no class "6g"; it has 1A, 2A, 3A outside and 1B, 2B, 3B inside'),
    ({"thread": "1/2 BSW", "class": "2A"}, 'class: BSW has no class "2A"; it has close, medium and free outside, medium and normal inside'),
    ({"thread": "G 1/2", "class": "C"}, 'class: G has no class "C"; it has A and B outside, and one class inside'),
    ({"thread": "R 1/2", "class": "A"}, 'class: R has no class "A"; it has no classes; leave it out'),
    ({"thread": "12BA", "class": "close"}, 'class: 12BA has no class "close"; it has normal; the close class ends at 10 BA'),
    ({"thread": "M10", "class": "7g"}, 'class: ISO 965-1 gives no grade for class "7g" at a pitch of 1.5 mm and M10; it has grades 4, 6, 8 with e, f, g, h there'),
    ({"thread": "M10-6g", "class": "6h"}, 'class: "6h" differs from "6g", which stands behind the thread; write one of them'),
    ({"thread": "M10", "class": "6g/5g"}, 'class: "6g/5g" names two classes for one side; write one external and one internal, like 6g/6H'),
    ({"thread": "M10", "engagement": "900 mm"}, "engagement: 900 mm is no length of engagement for M10x1.5; between half a pitch and 20 diameters; usual is about 10 mm"),
    ({"thread": "M10", "engagement": "0"}, "engagement: 0 is below the smallest value that holds here, 0.1 mm; for example 20 mm"),
    ({"thread": "M10", "engagement": "-5"}, "engagement: -5 is below the smallest value that holds here, 0.1 mm; for example 20 mm"),
]  # fmt: skip


@pytest.mark.parametrize("given, message", REFUSED)
def test_bad_input_gets_one_line(given, message):
    with pytest.raises(BadValues) as fault:
        TABLE.table(given)
    assert str(fault.value).split("; for example")[0] == message.split("; for example")[0]
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize("thread", all_threads(), ids=lambda t: t.designation)
def test_every_thread_has_limits_that_go_together(thread):
    pair = limits_of(thread)
    for side in (pair.external, pair.internal):
        for low, high in (side.major, side.pitch, side.minor):
            assert low is None or high is None or low < high
    if not thread.taper:
        assert pair.external.pitch[1] <= pair.internal.pitch[0] + 1e-9
        assert pair.external.major[1] <= pair.internal.major[0] + 0.0001 * 25.4
        assert pair.external.major[0] > pair.external.pitch[1]
        assert pair.internal.minor[1] < pair.external.major[0]


def test_a_longer_engagement_widens_a_unified_thread():
    # ASME B1.1: Td2 grows with the root of the engagement; here 0.0015 (sqrt(1.0) - sqrt(0.5)) in = 0.000439 in
    usual, long = (limits_of(thread_named("1/2-13"), "2A", mm).external.pitch for mm in (None, 25.4))
    assert long[0] < usual[0]
    assert asme_width(1.0) - asme_width(0.5) == pytest.approx(0.000439, abs=1e-6)


def asme_width(engagement_in):
    from fettlebook.tables.thread_limits_asme_b1_1 import pitch_tolerance_in

    return pitch_tolerance_in(0.5, 13, engagement_in, "2A")


def test_a_short_or_long_engagement_is_named_for_a_metric_thread():
    said = [" ".join(TABLE.table({"thread": "M10", "engagement": f"{mm} mm"}).notes) for mm in (3, 10, 30)]
    assert "short engagement" in said[0] and "long engagement" in said[2]
    assert "short" not in said[1] and "long engagement" not in said[1]


def test_bs_84_leaves_room_for_plating_only_up_to_three_quarters():
    assert limits_of(thread_named("3/4 BSW"), "medium").external.major[1] < 19.05
    assert limits_of(thread_named("7/8 BSW"), "medium").external.major[1] == pytest.approx(22.225, abs=1e-6)
    assert limits_of(thread_named("1/2 BSW"), "close").external.major[1] == pytest.approx(12.7, abs=1e-6)


def test_the_length_that_the_standard_itself_takes_is_not_warned_of():
    """2-8 UN: 16 pitches, over the 15 that the formula is meant for, but ASME B1.1 prints this size so."""
    table = table_named("thread-limits")
    assert table.table({"thread": "2-8 UN"}).warnings == ()
    assert "5 to 15 pitches" in table.table({"thread": "2-8 UN", "engagement": "3 in"}).warnings[0]
