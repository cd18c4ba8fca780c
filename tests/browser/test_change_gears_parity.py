"""The page finds the same trains as the program, on two thousand drawers and threads."""

import random

from parity import assert_same, in_python, with_defaults

from fettlebook.tables.catalogue import table_named

CHANGE_GEARS = table_named("change-gears")
LEADSCREWS = [
    "6 mm",
    "8 tpi",
    "4 TPI",
    "2 mm",
    "1/8 in",
    "12 threads per inch",
    "5 mm",
    "10 per inch",
    "6",
    "0 tpi",
    "99 mm",
    "x",
    '1/4"',
]
PITCHES = [0.35, 0.5, 0.7, 0.75, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 6]


def somebodys_question(chance):
    drawer = tuple(chance.choice(range(15, 130)) for _ in range(chance.choice([1, 2, 4, 7, 10, 14])))
    given = {"leadscrew": chance.choice(LEADSCREWS), "gears": drawer, "compound": chance.random() < 0.8}
    given |= {"pitch": chance.choice(PITCHES)} if chance.random() < 0.5 else {"tpi": float(chance.choice(range(4, 60)))}
    if chance.random() < 0.03:
        given |= {"pitch": 1.0, "tpi": 20.0}
    if chance.random() < 0.5:
        given["mounted"] = tuple(chance.choice(drawer) for _ in range(chance.choice([2, 2, 4, 3])))
    if chance.random() < 0.3:
        given |= {"centres": chance.uniform(60, 250), "module": chance.choice([1.0, 1.25, 1.5])}
    if chance.random() < 0.02:
        given |= {"centres": 100.0}
    if chance.random() < 0.3:
        given |= {
            "count": chance.choice([1, 3, 25]),
            "starts": chance.choice([1, 2, 3]),
            "clearance": chance.choice([0, 15, 25]),
        }
    return given


def test_page_and_program_find_the_same_trains(run_in_browser):
    chance = random.Random(3)
    asked = [somebodys_question(chance) for _ in range(2000)]
    answers = [in_python(CHANGE_GEARS, given) for given in asked]
    there = run_in_browser("change-gears", [with_defaults(CHANGE_GEARS, given) for given in asked])
    for given, mine, theirs in zip(asked, answers, there, strict=True):
        assert_same(mine, theirs, given)
    assert 100 < sum("refused" in mine for mine in answers) < 1200
