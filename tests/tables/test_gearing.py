"""Change wheels: the search against trying everything, ranking, fit, and what it refuses."""

import random
from itertools import permutations

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.gear_trains import Stand, changes, compound_fits, nearest_trains, train_ratio
from fettlebook.tables.gearing import USUAL_GEARS, leadscrew_lead_mm


def rows(**given):
    return table_named("change-gears").table(given).rows


def smallest_error(ratio, gears, stand):
    trains = [*permutations(gears, 2), *(t for t in permutations(gears, 4) if compound_fits(t, stand))]
    return min(abs(train_ratio(t) / ratio - 1) for t in trains)


@pytest.mark.parametrize("seed", range(25))
def test_the_search_finds_what_trying_every_train_finds(seed):
    chance = random.Random(seed)
    gears = tuple(chance.randint(18, 127) for _ in range(8))
    ratio, stand = chance.uniform(0.1, 4), Stand(clearance=chance.choice([0, 15, 25]))
    best = nearest_trains(ratio, gears, True, stand, 5)[0]
    assert abs(best.error) == pytest.approx(smallest_error(ratio, gears, stand), abs=1e-10)


def test_rows_come_in_order_of_error_then_of_wheels_to_put_on():
    found = rows(pitch="1.5 mm", leadscrew="6 mm", mounted="30, 100")
    keys = [(abs(row["error_percent"]), row["wheels_to_change"]) for row in found]
    assert keys == sorted(keys)
    assert found[0]["wheels_to_change"] == 1
    assert {30, 100} & {*found[0]["drivers"], *found[0]["driven"]}


def test_a_train_on_the_lathe_already_needs_no_wheel():
    found = rows(pitch="3 mm", leadscrew="6 tpi", mounted="90, 127")[0]
    assert (found["drivers"], found["driven"], found["wheels_to_change"]) == ((90,), (127,), 0)
    assert changes((30, 60, 40, 80), (30, 60, 40, 90)) == 1


def test_no_wheel_is_used_more_often_than_it_lies_in_the_drawer():
    for row in rows(pitch="1 mm", leadscrew="6 mm", gears="20, 40, 40, 60, 80", count="50"):
        used = [*row["drivers"], *row["driven"]]
        assert all(used.count(teeth) <= (2 if teeth == 40 else 1) for teeth in used)


def test_the_tooth_sum_test_holds_for_every_compound_train_that_is_said_to_fit():
    """Common practice: each pair outreaches the wheel that passes the next shaft by 15 teeth."""
    found = [row for row in rows(tpi="11.5", leadscrew="6 mm", count="50") if len(row["drivers"]) == 2]
    assert found
    for row in found:
        (a, c), (b, d) = row["drivers"], row["driven"]
        assert row["fits"] == (a + b >= c + 15 and c + d >= b + 15)


def test_a_train_that_fouls_a_shaft_is_shown_last_and_named():
    table = table_named("change-gears").table({"pitch": "0.2 mm", "leadscrew": "6 mm", "gears": "20, 24, 120, 127"})
    assert [row["fits"] for row in table.rows] == sorted((row["fits"] for row in table.rows), reverse=True)


def test_centres_and_module_rule_out_a_pair_that_cannot_reach():
    far = rows(pitch="1.5 mm", leadscrew="6 mm", gears="20, 80, 30", compound="false", centres="400 mm", module="1 mm")
    assert not far[0]["fits"] and far[0]["idler"] is None
    near = rows(pitch="1.5 mm", leadscrew="6 mm", gears="20, 80, 30", compound="false", centres="75 mm", module="1 mm")
    assert near[0]["fits"] and near[0]["idler"] == 30


def test_several_starts_ask_for_a_multiple_lead():
    double = rows(pitch="1.5 mm", leadscrew="6 mm", starts="2")[0]
    assert double["pitch_mm"] == pytest.approx(1.5)
    assert train_ratio(
        tuple(x for pair in zip(double["drivers"], double["driven"], strict=True) for x in pair)
    ) == pytest.approx(0.5)


def test_without_a_127_the_table_says_what_is_missing():
    table = table_named("change-gears").table(
        {"pitch": "1 mm", "leadscrew": "8 tpi", "gears": "20, 30, 40, 50, 60, 63, 80"}
    )
    assert any("127 teeth" in note for note in table.notes)
    assert table.rows[0]["error_percent"] != 0


def test_a_ratio_out_of_reach_is_called_no_thread():
    table = table_named("change-gears").table({"pitch": "100 mm", "leadscrew": "3 mm", "gears": "20, 30"})
    assert "no thread" in table.warnings[0]


@pytest.mark.parametrize(
    "text, lead",
    [
        ("6 mm", 6),
        ("8 TPI", 3.175),
        ("8 threads per inch", 3.175),
        ("8 per inch", 3.175),
        ("1/4 in", 6.35),
        ('1/4"', 6.35),
    ],
)
def test_a_leadscrew_is_read_as_people_write_it(text, lead):
    assert leadscrew_lead_mm(text) == pytest.approx(lead)


@pytest.mark.parametrize(
    "given, message",
    [
        ({"pitch": "1", "leadscrew": "6"}, 'leadscrew: "6" could be millimetres or threads per inch; for example "6 mm" or "8 tpi"'),
        ({"pitch": "1", "leadscrew": "0 tpi"}, "leadscrew: 0 tpi is no leadscrew's lead; it lies between 0.5 and 51 mm; for example \"6 mm\" or \"8 tpi\""),
        ({"pitch": "1", "leadscrew": "soft"}, 'leadscrew: "soft" does not start with a number; write one like 12.7 mm; for example "6 mm" or "8 tpi"'),
        ({"pitch": "1", "tpi": "20", "leadscrew": "6 mm"}, 'pitch: give pitch or tpi, not both; for example pitch "1.5 mm", or tpi 12'),
        ({"leadscrew": "6 mm"}, 'pitch: the pitch or the threads per inch must be given; for example pitch "1.5 mm", or tpi 12'),
        ({"pitch": "0", "leadscrew": "6 mm"}, "pitch: 0 is below the smallest value that holds here, 0.05 mm"),
        ({"pitch": "-1", "leadscrew": "6 mm"}, "pitch: -1 is below the smallest value that holds here, 0.05 mm"),
        ({"pitch": "1e9", "leadscrew": "6 mm"}, "pitch: 1e9 is above the largest value that holds here, 200 mm"),
        ({"pitch": "1", "leadscrew": "6 mm", "gears": "40"}, "gears: 1 wheels are given; from 2 to 40 can be searched; list the wheels you have"),
        ({"pitch": "1", "leadscrew": "6 mm", "gears": "40.5, 60"}, "gears: 40.5 is not a whole number"),
        ({"pitch": "1", "leadscrew": "6 mm", "mounted": "40, 50, 60"}, "mounted: 3 wheels are no train; write 2 or 4 wheels from the spindle on, like 40, 80"),
        ({"pitch": "1", "leadscrew": "6 mm", "module": "1 mm"}, "centres: centres and module are needed together; give both, or neither"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        rows(**given)
    assert str(caught.value) == message


def test_the_usual_drawer_has_twenty_wheels_and_the_127():
    assert len(USUAL_GEARS) == 20 and 127 in USUAL_GEARS


def test_trains_that_no_nut_would_take_are_not_shown_beside_better_ones():
    table = table_named("change-gears")
    few = {"tpi": 12, "leadscrew": "2 mm", "gears": "50, 60, 100, 127"}
    assert [row["error_percent"] for row in table.table(few).rows] == [0.0]
    (only,) = table.table(few | {"gears": "20, 90"}).rows
    assert only["error_percent"] < -50
