"""Levelling on jacks: the moves, the log, the verdict, and words for what cannot be."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.levelling_layout import Foot, Layout, Station, layout_from
from fettlebook.tables.levelling_learning import Change, Move, learned, lifts_mm
from fettlebook.tables.levelling_model import beam_matrix, foot_matrix
from fettlebook.tables.levelling_plan import screw
from fettlebook.tables.levelling_readings import Turned, turned_from

MOVES = table_named("jack-moves")
FOUR = "feet=4 length=1600 width=450 pitch=2"
SIX = "feet=6 length=2300 width=450 pitch=2"


def moves(readings, machine=FOUR, **more):
    return MOVES.table({"machine": machine, "readings": readings, "division": 0.02, **more})


def lifts(table):
    return {row["jack"]: row["move_mm"] for row in table.rows}


def shown(matrix, layout, lifted):
    """Readings in divisions that undo these lifts: what a bed shows that the lifts would make level."""
    values = [-sum(a * lifted[j] for j, a in enumerate(row)) / 0.02 for row in matrix]
    half = len(layout.stations)
    return [{"station": s.name, "long": values[m], "cross": values[m + half]} for m, s in enumerate(layout.stations)]


# Exact for any bed: lifting all feet alike changes nothing, tipping along or across by 1 mm/m changes every long or
# cross reading by just that (geometry).
@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(0, 40), st.sampled_from([-300, -225, 0, 180])), min_size=3, max_size=10, unique=True),
       st.lists(st.integers(-500, 4500), min_size=1, max_size=6, unique=True))  # fmt: skip
def test_both_matrices_keep_the_exact_facts(stands, places):
    feet = tuple(
        sorted((Foot(str(n), 100.0 * x, float(y)) for n, (x, y) in enumerate(stands)), key=lambda f: (f.x_mm, f.y_mm))
    )
    layout = Layout(feet, tuple(Station(str(x), float(x)) for x in sorted(places)))
    pairs = layout.groups
    if len(pairs) < 2 or all(len({feet[j].y_mm for j in pair}) < 2 for pair in pairs):
        return
    half = len(places)
    for matrix in (foot_matrix(layout), beam_matrix(layout, 0.1, 20)):
        for arms, along, across in (
            ([1.0] * len(feet), 0, 0),
            ([f.x_mm / 1000 for f in feet], 1, 0),
            ([f.y_mm / 1000 for f in feet], 0, 1),
        ):
            for i, row in enumerate(matrix):
                found = sum(a * v for a, v in zip(row, arms, strict=True))
                assert found == pytest.approx(along if i < half else across, abs=2e-6)


# A beam on two end pairs, its middle pair lifted by d: end slope = 3 d / 2 l with l from end to middle, from the
# handbook's central load (deflection P L^3 / 48 EI, end slope P L^2 / 16 EI, so slope = 3 d / L). From memory; exact.
def test_the_beam_agrees_with_the_handbook_beam():
    layout = Layout(layout_from("feet=6 length=2000 width=400").feet, (Station("end", 0.0), Station("middle", 1000.0)))
    matrix = beam_matrix(layout, 0.0, 20)
    lifted = [0.0, 0.0, 1.0, 1.0, 0.0, 0.0]
    assert sum(a * u for a, u in zip(matrix[0], lifted, strict=True)) == pytest.approx(3 / 2.0, rel=1e-9)
    assert sum(a * u for a, u in zip(matrix[1], lifted, strict=True)) == pytest.approx(0, abs=1e-9)


def test_springy_feet_share_a_twist_with_the_bed():
    """Two pairs, one jack lifted: the bed's own stiffness against the feet, c = GJ / l against k b^2 / 2 at each end."""
    layout = layout_from("feet=4 length=1000 width=500 stations=2")
    give, twist = 0.5, 20.0
    cross = [row[3] for row in beam_matrix(layout, give, twist)[2:]]
    spring, bar = 0.5**2 / 2 / give, 1 / twist  # both over EI, metres
    far = 2.0 * (bar + spring) / (2 * bar + spring)
    assert cross[1] == pytest.approx(far, rel=1e-9) and cross[0] == pytest.approx(2.0 - far, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(-0.1, 0.1), min_size=4, max_size=4))
def test_what_the_moves_foretell_is_level(bent):
    layout = layout_from(FOUR)
    readings = shown(foot_matrix(layout), layout, bent)
    table = moves(readings)
    if any(row["move_mm"] for row in table.rows):
        last = max((row for row in table.rows if row["order"]), key=lambda row: row["order"])
        assert all(
            abs(float(v)) <= 0.5 for pair in last["expected"].split("; ") for v in pair.split(": ")[1].split("/")
        )


def test_a_tilt_is_taken_out_without_bending_the_bed():
    found = lifts(moves("1: 4/0; 2: 4/0; 3: 4/0; 4: 4/0; 5: 4/0"))
    assert (
        found["F1"]
        == pytest.approx(found["R1"])
        == pytest.approx(-found["F2"])
        == pytest.approx(0.5 * 0.08 * 1.6, rel=0.01)
    )


def test_untwisted_leaves_pitch_and_roll_alone():
    tilted = "1: 9/5; 2: 9/5; 3: 9/5; 4: 9/5; 5: 9/5"
    assert any(lifts(moves(tilted)).values())
    flat = moves(tilted, goal="untwisted")
    assert not any(lifts(flat).values()) and flat.notes[0].startswith("Done")
    twisted = moves("1: 9/5; 2: 9/6; 3: 9/7; 4: 9/8; 5: 9/9", goal="untwisted")
    assert sum(lifts(twisted).values()) == pytest.approx(0, abs=1e-6) and any(lifts(twisted).values())


def test_raise_only_lowers_nothing():
    found = lifts(moves("1: 2/-3; 2: 1/-2; 3: 0/0; 4: -1/1; 5: -2/3", prefer="raise"))
    assert min(found.values()) == 0 and max(found.values()) > 0


def test_few_jacks_are_fewer_than_small_moves():
    readings = "1: -/0; 5: -/3"
    small, few = (sum(1 for v in lifts(moves(readings, prefer=how)).values() if v) for how in ("small", "few"))
    assert few == 1 < small


def test_every_jack_keeps_its_travel_and_fixed_feet_stay():
    feet = [{"name": n, "x_mm": x, "y_mm": y, "jack": n != "a", "travel_up_mm": 0.05, "travel_down_mm": 0.02}
            for n, x, y in (("a", 0, -200), ("b", 0, 200), ("c", 1500, -200), ("d", 1500, 200))]  # fmt: skip
    machine = {"feet": feet, "stations": [{"name": "1", "x_mm": 0}, {"name": "2", "x_mm": 1500}]}
    found = lifts(moves("1: 20/15; 2: 20/-15", machine))
    assert "a" not in found and all(-0.02 - 1e-9 <= v <= 0.05 + 1e-9 for v in found.values())
    spent = moves("1: 20/15; 2: 20/-15", machine, log="1: 20/15; 2: 20/-15 > c -0.02 mm, d +0.05 mm")
    assert lifts(spent)["c"] >= -1e-9 and lifts(spent)["d"] <= 1e-9


def test_a_large_move_is_made_in_portions_and_the_last_by_the_bubble():
    table = moves("1: 60/-30; 2: 60/-30; 3: 60/-30; 4: 60/-30; 5: 60/-30")
    row = table.rows[0]
    assert row["portions"] == 3 and row["coarse"].startswith("2 x ") and row["bubble_way"] == "cross"
    assert "2 times round all jacks by the screw" in " ".join(table.notes)
    assert "10 readings lie beyond the 10 divisions" in table.warnings[-1]


def test_every_bubble_target_is_in_sight_on_the_vial():
    tilted = "1: 60/-30; 2: 60/-30; 3: 60/-30; 4: 60/-30; 5: 60/-30"
    for vial in (4, 10, 500):
        shown = [row["bubble_divisions"] for row in moves(tilted, vial=vial).rows if row["order"]]
        assert max(abs(v) for v in shown) <= vial * (1 + 1e-9)


def test_a_target_that_would_be_out_of_sight_is_made_by_the_screw():
    """A twist larger than one round may take out leaves readings beyond the vial: no bubble is named for them."""
    table = moves("1: 40/60; 2: 35/45; 3: 20/20; 4: 10/0; 5: 0/-25; 6: -5/-40; 7: -10/-60", SIX, vial=10)
    moved = [row for row in table.rows if row["order"]]
    unseen = [row for row in moved if row["bubble_station"] is None]
    assert unseen and all(abs(row["bubble_divisions"]) <= 10 + 1e-9 for row in moved if row not in unseen)
    for row in unseen:
        parts = [int(n) * float(deg) for n, deg in re.findall(r"(\d+) x (?:\d+ \w+ )*?(\d+) deg", row["coarse"])]
        assert "flat" in row["coarse"] or sum(parts) == pytest.approx(abs(row["move_mm"]) / 2 * 360, abs=2)
    assert "where no bubble is named" in " ".join(table.notes)


def test_screw_parts_make_up_the_move():
    assert screw(2.5, 2) == (1, 1, pytest.approx(30))
    for mm in (0.0, 0.005, 1 / 3, 1.9999999, 7.77):
        turns, flats, degrees = screw(mm, 2)
        assert (turns + flats / 6 + degrees / 360) * 2 == pytest.approx(mm, abs=1e-8)
        assert 0 <= flats < 6 and 0 <= degrees < 60


def test_the_level_s_own_error_is_taken_off_and_put_back_on_the_target():
    true = moves("1: 1/-3; 2: 1/-3; 3: 1/-3; 4: 1/-3; 5: 1/-3")
    off = moves("1: 1.5/-2.5; 2: 1.5/-2.5; 3: 1.5/-2.5; 4: 1.5/-2.5; 5: 1.5/-2.5", zero=0.5)
    for a, b in zip(true.rows, off.rows, strict=True):
        assert a["move_mm"] == pytest.approx(b["move_mm"])
        assert a.get("bubble_divisions") is None or b["bubble_divisions"] == pytest.approx(a["bubble_divisions"] + 0.5)


def test_it_stops_inside_the_limit_and_says_when_only_just():
    assert moves("1: 0.2/0; 2: 0/0.3; 3: 0/0; 4: 0/0; 5: 0.1/0").notes[0].startswith("Done, stop turning")
    assert moves("1: 0.95/0; 2: 0/0; 3: 0/0; 4: 0/0; 5: 0/0").notes[0].startswith("Inside the limit, but by less")
    assert "9 of 10 readings are missing" in moves("1: 0.2/-").notes[0]


def test_jacks_do_not_chase_what_they_cannot_mend():
    worn = moves("1: -0.4/0; 2: -0.4/0; 3: 1.6/0; 4: -0.4/0; 5: -0.4/0")
    assert worn.notes[0].startswith("Stop:") and not any(lifts(worn).values())


def test_a_reading_that_fits_nothing_is_doubted_and_left_out():
    table = moves("1: 1/2; 2: 1/2; 3: 1/14; 4: 1/2; 5: 1/2")
    assert "station 3 cross fits neither" in table.warnings[0]
    assert lifts(table) == pytest.approx(lifts(moves("1: 1/2; 2: 1/2; 3: 1/-; 4: 1/2; 5: 1/2")))


def test_readings_that_contradict_one_another_are_said_to_and_nothing_is_turned():
    turned_about = moves("1: 1/5; 2: 1/-4.5; 3: 1/4; 4: 1/-3.5; 5: 1/3")
    assert turned_about.notes[0].startswith(
        "Turn nothing yet: the readings contradict one another; station 1 cross is worst"
    )
    assert turned_about.warnings[0].startswith("The readings contradict one another: 90 percent of what they show")
    assert not any(lifts(turned_about).values())
    doubtful = moves("1: 2/4; 2: 2/0; 3: 2/4; 4: 2/0; 5: 2/4", goal="horizontal")
    assert doubtful.warnings[0].startswith("The readings contradict") and any(lifts(doubtful).values())


def test_what_a_soft_or_stiff_bed_really_shows_is_never_called_a_contradiction():
    layout = layout_from(SIX)
    for give in (0.01, 0.3, 3):
        readings = shown(beam_matrix(layout, give, 20), layout, [0.2, -0.1, 0.15, -0.15, 0, 0.3])
        assert not any("contradict" in words for words in moves(readings, SIX).warnings)


def test_a_round_that_changed_nothing_is_asked_about():
    table = moves(START, log=START)
    assert "Nothing changed at all: were the old readings written again" in table.warnings[0]


def test_a_jack_that_no_reading_shows_is_named():
    assert "what jack F3 and R3 does" in " ".join(moves("1: 4/4", SIX + " stations=3").warnings)
    assert not moves(START).warnings


def test_a_loose_foot_comes_first():
    table = moves("1: 5/5; 5: 5/5", loose="R2")
    assert table.notes[0].startswith("First seat foot R2") and not any(v for v in lifts(table).values() if v)
    again = moves("1: 5/5; 5: 5/5", loose="R2", log=[{"readings": "1: 6/6", "loose": ["F1"], "turned": {}}])
    assert "second round running" in again.warnings[0]


START = "1: 2/-6; 2: 2/-4; 3: 1/-1; 4: 0/2; 5: 0/4"


def after(true_matrix, turned, layout, start):
    """Readings after some lifts [divisions], in the form of the log."""
    half = len(layout.stations)
    found = [s + sum(row[j] * mm for j, mm in turned.items()) / 0.02 for s, row in zip(start, true_matrix, strict=True)]
    return [{"station": s.name, "long": found[m], "cross": found[m + half]} for m, s in enumerate(layout.stations)]


@pytest.mark.parametrize("mishap, words", [
    ({0: 0.0}, "as if jack F1 did nothing"), ({0: -1.0}, "as if jack F1 went the other way"),
])  # fmt: skip
def test_a_jack_that_does_nothing_or_goes_the_wrong_way_is_named(mishap, words):
    layout = layout_from(FOUR)
    turned = {0: 0.20, 1: -0.03, 2: 0.03}
    really = {j: mm * mishap.get(j, 1.0) for j, mm in turned.items()}
    start = [2, 2, 1, 0, 0, -6, -4, -1, 2, 4]
    now = after(foot_matrix(layout), really, layout, start)
    table = moves(now, log=[{"readings": START, "turned": {layout.feet[j].name: mm for j, mm in turned.items()}}])
    assert any(words in warning for warning in table.warnings), table.warnings


def test_a_level_turned_end_for_end_is_noticed():
    layout = layout_from(FOUR)
    matrix = [[-v if i >= 5 else v for v in row] for i, row in enumerate(foot_matrix(layout))]
    now = after(matrix, {0: 0.2, 3: -0.1}, layout, [2, 2, 1, 0, 0, -6, -4, -1, 2, 4])
    table = moves(now, log=[{"readings": START, "turned": {"F1": 0.2, "R2": -0.1}}])
    assert any("All cross readings went the other way" in warning for warning in table.warnings), table.warnings


def test_a_single_wrong_reading_after_a_round_is_named():
    layout = layout_from(FOUR)
    now = after(foot_matrix(layout), {0: 0.1}, layout, [2, 2, 1, 0, 0, -6, -4, -1, 2, 4])
    now[1]["cross"] += 9
    table = moves(now, log=[{"readings": START, "turned": {"F1": 0.1}}])
    assert any("Only station 2 cross disagrees" in warning for warning in table.warnings), table.warnings


@pytest.mark.parametrize("give", [0.3, 1.0])
def test_moves_on_a_soft_floor_teach_the_matrix(give):
    layout = layout_from(SIX)
    true, known = beam_matrix(layout, give, 30), foot_matrix(layout)
    changes = []
    for lifted in ([0.2, -0.1, 0, 0.1, 0, 0], [0, 0.1, 0.1, -0.1, 0, 0.2]):
        found = [sum(a * u for a, u in zip(row, lifted, strict=True)) for row in true]
        changes.append(Change((0.0,) * len(found), tuple(Move(j, u) for j, u in enumerate(lifted) if u), tuple(found)))
    wrong = [off(matrix, true) for matrix in (known, learned(layout, changes, 0.002))]
    assert wrong[1] < 0.4 * wrong[0]


def off(matrix, true):
    return sum((a - b) ** 2 for x, y in zip(matrix, true, strict=True) for a, b in zip(x, y, strict=True)) ** 0.5


def test_a_jack_set_by_a_bubble_went_as_far_as_the_bubble_asked():
    layout = layout_from(FOUR)
    matrix = foot_matrix(layout)
    change = Change((0.0,) * 10, (Move(1, 0.1), Move(0, 0.0, 5, 0.05)), (0.0,) * 10)
    lifted = lifts_mm(matrix, change)
    assert lifted[1] == 0.1 and sum(a * u for a, u in zip(matrix[5], lifted, strict=True)) == pytest.approx(0.05)


def test_a_log_without_moves_takes_it_that_the_advice_was_followed():
    first = moves(START)
    told = [{"jack": row["jack"], "station": row["bubble_station"], "way": row["bubble_way"], "shows": row["bubble_divisions"]}
            for row in first.rows if row["order"]]  # fmt: skip
    now = "1: 0.5/1.5; 2: 0.4/0; 3: 0/0; 4: 0/-0.5; 5: 0.2/-1"
    assert first.rows[0]["portions"] == 1
    assert lifts(moves(now, log=START)) == pytest.approx(lifts(moves(now, log=[{"readings": START, "turned": told}])))


# What is impossible or not understood is answered in one line (letter by letter).
REFUSED = [
    ({"machine": FOUR + " fixed=F1,R1,F2,R2"}, "machine: every foot is fixed, so there is nothing to turn; mark the feet that "
     "stand on a screw with jack: true; a fixed foot is set by packing"),
    ({"machine": "feet=5 length=1600 width=450"}, "machine: 5 feet do not stand in pairs; write an odd number of feet as a machine file"),
    ({"machine": "feet=4 length=1600"}, "machine: width= is missing; for example feet=4 length=1600 width=450 pitch=2"),
    ({"machine": FOUR.replace("pitch=2", "pitch=13")}, "machine: foot F1: a pitch of 13 mm is not one of an adjusting screw; if that is "
     'threads per inch write "13 TPI"'),
    ({"machine": {"feet": [], "stations": []}}, "machine: it lists no feet; write them in the machine file, or a line like "
     "feet=4 length=1600 width=450 pitch=2"),
    ({"machine": "lathe"}, 'machine: "lathe" is not one of feet=, length=, width=, stations=, pitch=, travel=, fixed=; for example '
     "feet=4 length=1600 width=450 pitch=2"),
    ({"readings": "1: 3/4; 1: 3/5"}, "readings: station 1 cross is given twice, as 4 and as 5; the two contradict one another; read it "
     "again and write it once"),
    ({"readings": "9: 3/4"}, 'readings: there is no station "9"; this machine has 1, 2, 3, 4, 5'),
    ({"readings": "1 3/4"}, 'readings: "1 3/4" has no ":" after the station; for example 1: +0.5/-1; 2: 0/-0.5'),
    ({"readings": "1: much/4"}, 'readings: station 1 long: "much" does not start with a number; write one like 12.7; write divisions '
     "with a sign; - where nothing was read"),
    ({"readings": "1: 1e9/4"}, "readings: station 1 long: 1e9 divisions is more than any level shows; write divisions, not mm/m"),
    ({"readings": "1: -/-"}, "readings: there is no reading in it; for example 1: +0.5/-1; 2: 0/-0.5"),
    ({"readings": "[1"}, "readings: [1 ... is not valid JSON; or write it as text, without braces and brackets"),
    ({"log": "1: 3/4 > X9 0.1"}, 'log: there is no foot "X9"; this machine has F1, R1, F2, R2'),
    ({"stay": "F1, R1, F2, R2"}, "stay: no jack is left that may move; name only the jacks that must not move"),
    ({"loose": "F7"}, 'loose: there is no foot "F7"; this machine has F1, R1, F2, R2'),
    ({"goal": "level"}, 'goal: "level" is not one of horizontal, untwisted'),
]  # fmt: skip


@pytest.mark.parametrize("given, words", REFUSED)
def test_what_cannot_be_is_answered_in_a_line(given, words):
    with pytest.raises(BadValues) as refused:
        MOVES.table({"machine": FOUR, "readings": "1: 1/1", **given})
    assert str(refused.value).startswith(words)


anything = st.recursive(st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
                        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(
                            st.sampled_from(["feet", "stations", "name", "x_mm", "y_mm", "jack", "station", "long", "cross", "readings", "turned", "mm"]),
                            inner, max_size=4), max_leaves=12)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(["machine", "readings", "log", "loose", "stay"]), anything)
def test_nothing_that_can_be_written_ends_in_a_traceback(name, value):
    try:
        MOVES.table({"machine": FOUR, "readings": "1: 1/1; 5: 2/-3", name: value})
    except BadValues as refused:
        assert str(refused)


def test_what_was_turned_is_read_from_words():
    layout = Layout(tuple(Foot(n, x, y, pitch_mm=2.0) for n, x, y in (("Front", 0, -1), ("Front tail", 9, -1), ("R", 0, 1), ("S", 9, 1))),
                    (Station("Near end", 0),))  # fmt: skip
    said = turned_from("Front tail near end cross -1 1/2, Front +1 flat, R -0.5 turns; S 3 deg", layout)
    assert said == (
        Turned(1, 0.0, 1, -1.5),
        Turned(0, pytest.approx(1 / 3)),
        Turned(2, -1.0),
        Turned(3, pytest.approx(2 * 3 / 360)),
    )


def test_fractions_and_signs_are_read_as_people_write_them():
    a = moves("1: 1 1/2 / -1/4; 2: +½/–; 5: 0/2")
    b = moves(
        [
            {"station": "1", "long": 1.5, "cross": -0.25},
            {"station": 2, "long": 0.5},
            {"station": "5", "long": 0, "cross": 2},
        ]
    )
    assert lifts(a) == lifts(b)


def test_the_shape_is_told_in_plain_words():
    parts = {row["part"]: row for row in table_named("bed-shape").table({"machine": SIX, "division": 0.02,
             "readings": "1: 4/1; 2: 3/1; 3: 2/1; 4: 1/1; 5: 0/1; 6: -1/1; 7: -2/1"}).rows}  # fmt: skip
    assert parts["bend"]["words"] == "humped, the middle is high by 6.0 divisions"
    assert (
        parts["roll"]["words"] == "rear high by 1.0 divisions" and parts["twist"]["words"] == "none worth speaking of"
    )
    assert parts["pitch"]["divisions"] == pytest.approx(1) and parts["bend"]["height_mm"] == pytest.approx(
        -0.12 * 2.3 / 8
    )


def test_a_trifle_is_not_turned():
    """A reading a little off on a bed that wants one real move: only what brings it well inside the limit is turned."""
    turned = [row for row in moves("1: 0/0.1; 2: 0/0; 3: 0/0.1; 4: 0.1/1; 5: 0/1.5").rows if row["order"]]
    assert 1 <= len(turned) <= 2 and all(row["jack"] in {"F2", "R2"} for row in turned)
