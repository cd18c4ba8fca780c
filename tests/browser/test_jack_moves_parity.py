"""The page and the program say the same about the same bed: moves, words, refusals."""

import random
import re

import pytest
from parity import assert_same, in_python, with_defaults

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.levelling_layout import layout_from
from fettlebook.tables.levelling_model import beam_matrix

MOVES = table_named("jack-moves")
LINES = ["feet=4 length=1600 width=450 pitch=2", "feet=6 length=2300 width=450 pitch=1.75 stations=5", "feet=8 length=3600 width=500 pitch=5/8-11",
         "feet=4 length = 55 in width=18in pitch=13 TPI fixed=F1", "feet=6 length=2m width=400 pitch=2 travel=0.15 fixed=F1,R3"]  # fmt: skip


def somebodys_machine(chance):
    if chance.random() < 0.6:
        return chance.choice(LINES)
    places = sorted(chance.sample(range(0, 4000, 100), chance.randint(2, 4)))
    feet = [{"name": f"{side}{x}", "x_mm": x + chance.choice([0, 0, 20]), "y_mm": y, "jack": chance.random() < 0.9,
             "screw_pitch_mm": chance.choice([2, "1.5 mm", "11 TPI", "M16x1.5", None]), "travel_up_mm": chance.choice([None, 0.3, 5])}
            for x in places for side, y in (("f", -200), ("r", 210)) if chance.random() < 0.95]  # fmt: skip
    return {
        "feet": feet,
        "stations": [{"name": f"S{n}", "x_mm": chance.randint(0, 4000)} for n in range(chance.randint(2, 7))],
    }


def somebodys_readings(chance, layout, size):
    def figure(scale=1.0):
        return None if chance.random() < 0.04 else round(scale * chance.gauss(0, size), chance.choice([0, 1, 2]))

    pitch, roll, twist = (chance.gauss(0, size) for _ in range(3))
    rows = []
    for n, station in enumerate(layout.stations):
        long, cross = figure(0.3), figure(0.3)
        rows.append({"station": station.name, "long": None if long is None else round(long + pitch, 2),
                     "cross": None if cross is None else round(cross + roll + twist * n, 2)})  # fmt: skip
    if chance.random() < 0.1:
        rows[-1]["cross"] = 30
    if chance.random() < 0.05:
        for row in rows[::2]:
            row["cross"] = None if row["cross"] is None else -row["cross"]
    return rows


def as_text(rows):
    return "; ".join(
        f"{r['station']}: {'-' if r['long'] is None else r['long']}/{'-' if r['cross'] is None else r['cross']}"
        for r in rows
    )


def next_round(chance, layout, rows, turned):
    """What a bed of some stiffness would show after these lifts, with a little noise and now and then a mishap."""
    matrix = beam_matrix(layout, chance.choice([0.01, 0.1, 1]), 20)
    factor = chance.choice([1, 1, 1, 0, -1])
    lifts = [turned.get(foot.name, 0) * (factor if n == 0 else 1) for n, foot in enumerate(layout.feet)]
    half = len(layout.stations)
    out = []
    for m, row in enumerate(rows):
        change = [
            sum(a * u for a, u in zip(matrix[i], lifts, strict=True)) / 0.02 + chance.gauss(0, 0.1)
            for i in (m, m + half)
        ]
        out.append({"station": row["station"], "long": None if row["long"] is None else round(row["long"] + change[0], 2),
                    "cross": None if row["cross"] is None else round(row["cross"] + change[1], 2)})  # fmt: skip
    return out


def somebodys_question(chance):
    machine = somebodys_machine(chance)
    given = {"machine": machine, "readings": "1: 1/2", "division": chance.choice([0.02, 0.02, 0.05])}
    try:
        layout = layout_from(machine)
    except ValueError:
        return given
    rows = somebodys_readings(chance, layout, chance.choice([0.3, 3, 12]))
    log = []
    for _ in range(chance.choice([0, 0, 0, 0, 1, 2])):
        turned = {foot.name: round(chance.gauss(0, 0.1), 3) for foot in layout.feet if chance.random() < 0.6}
        told = chance.choice([turned, turned, None])
        log.append(
            {"readings": rows, "turned": told} | ({"loose": [layout.feet[0].name]} if chance.random() < 0.05 else {})
        )
        if chance.random() < 0.3 and told and layout.feet[0].jack:
            log[-1]["turned"] = [*({"jack": j, "mm": mm} for j, mm in turned.items()),
                                 {"jack": layout.feet[0].name, "station": layout.stations[0].name, "way": "cross", "shows": 1.5}]  # fmt: skip
        rows = next_round(chance, layout, rows, turned)
    given["readings"] = (
        as_text(rows) if chance.random() < 0.4 and not any(";" in s.name for s in layout.stations) else rows
    )
    if log:
        given["log"] = log
    given |= {"goal": chance.choice(["horizontal", "horizontal", "untwisted"]), "prefer": chance.choice(["small", "small", "few", "raise"]),
              "zero": chance.choice([0.0, 0.0, 0.5]), "limit": chance.choice([0.02, 0.02, 0.005, 0.1])}  # fmt: skip
    if chance.random() < 0.1:
        given["stay"] = (chance.choice(layout.feet).name,)
    if chance.random() < 0.06:
        given["loose"] = (chance.choice(layout.feet).name,)
    if chance.random() < 0.05:
        given["reading-error"] = 0.5
    if chance.random() < 0.3:
        given["vial"] = chance.choice([3.0, 20.0, 500.0])
    return given


def assert_alike(mine, theirs, given):
    """Same words and same rows; figures within a billionth, or within 1e-8 mm, 1e-6 degrees or divisions: the best lift of all
    feet alike hangs on a very small weight, so the last digits of two computers' sums show in small moves, and a reading to
    expect that lies between two tenths of a division may be shown as either."""
    if "refused" not in mine and "refused" not in theirs:
        for row, other in zip(mine["rows"], theirs["rows"], strict=True):
            for name, value in row.items():
                if isinstance(value, float) and other[name] == pytest.approx(
                    value, rel=1e-9, abs=1e-8 if name == "move_mm" else 1e-6
                ):
                    other[name] = value
            if tenths_alike(row.get("expected", ""), other.get("expected", "")):
                other["expected"] = row["expected"]
    assert_same(mine, without_extras(theirs), given)


def tenths_alike(mine, theirs):
    """Whether two lists of readings are the same but for a tenth here and there."""
    if not mine or not theirs:
        return False
    figures, others = (re.findall(r"[+-]\d+\.\d", words) for words in (mine, theirs))
    return re.sub(r"[+-]\d+\.\d", "", mine) == re.sub(r"[+-]\d+\.\d", "", theirs) and all(
        abs(float(a) - float(b)) < 0.11 for a, b in zip(figures, others, strict=False)
    )


def without_extras(answer):
    return {key: value for key, value in answer.items() if key in {"rows", "notes", "warnings", "refused"}}


@pytest.mark.parametrize("seed", range(4))
def test_page_and_program_turn_the_same_jacks(run_in_browser, seed):
    chance = random.Random(seed)
    asked = [somebodys_question(chance) for _ in range(550)]
    answers = [in_python(MOVES, given) for given in asked]
    there = run_in_browser("jack-moves", [with_defaults(MOVES, given) for given in asked])
    for given, mine, theirs in zip(asked, answers, there, strict=True):
        assert_alike(mine, theirs, given)
    verdicts = [answer["notes"][0].split(":")[0].split(",")[0] for answer in answers if "notes" in answer]
    assert {"Go on", "Done", "Stop", "Turn nothing yet"} <= set(verdicts)
    assert sum("refused" in answer for answer in answers) < 150 and sum(bool(a.get("warnings")) for a in answers) > 20


REFUSED = [
    {"machine": "feet=5 length=1600 width=450"}, {"machine": "feet=4 length=1600"}, {"machine": "lathe"}, {"machine": LINES[0] + " fixed=F9"},
    {"machine": LINES[0].replace("pitch=2", "pitch=13")}, {"machine": LINES[0] + " fixed=F1,R1,F2,R2"}, {"machine": {"feet": []}}, {"machine": "{"},
    {"machine": {"feet": [{"name": "a", "y_mm": 0}], "stations": []}}, {"readings": "1: 3/4; 1: 3/5"}, {"readings": "9: 3/4"}, {"readings": "1 3/4"},
    {"readings": "1: 3"}, {"readings": "1: much/4"}, {"readings": "1: 1e9/4"}, {"readings": "1: -/-"}, {"readings": "[1"}, {"readings": 4},
    {"log": "1: 3/4 > X9 0.1"}, {"log": "1: 3/4 > F1"}, {"log": "1: 3/4 > f1 2 cross 1 1/2; R2 0.5 turn"}, {"log": "1: 3/4 > F1 9 cross 1"}, {"log": "1: 3/4 > F1 1 cross -"}, {"log": 7}, {"log": [3]}, {"stay": ("F1", "R1", "F2", "R2")},
    {"loose": ("F7",)}, {"readings": "1: 1 1/2 / -1/4; 2: ½/–"}, {"log": "1: 3/4 > F1 1 flat, R1 2 cross -1.5|1: 2/2"},
]  # fmt: skip


def test_page_and_program_refuse_in_the_same_words(run_in_browser):
    asked = [{"machine": LINES[0], "readings": "1: 1/1", "division": 0.02, **given} for given in REFUSED]
    there = run_in_browser("jack-moves", [with_defaults(MOVES, given) for given in asked])
    for given, theirs in zip(asked, there, strict=True):
        assert_same(in_python(MOVES, given), without_extras(theirs), given)
