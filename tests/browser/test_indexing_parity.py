"""The page finds the same settings of the dividing head as the program, on three thousand questions."""

import random

from parity import assert_same, in_python, with_defaults

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.dividing import SETS

INDEXING = table_named("indexing")
ANGLES = [
    "35",
    "48 deg 40 min",
    "54 min",
    "48°40'",
    "12 30 15",
    "0.2353",
    "360",
    "361",
    "0",
    "abc",
    "7,5",
    "10,000",
    "10 s",
    "",
    "1 deg 2",
]


def somebodys_question(chance):
    given = (
        {"divisions": chance.randint(2, 450)}
        if chance.random() < 0.7
        else {"angle": chance.choice(ANGLES[:-2] + [f"{chance.uniform(0.1, 200):.4f}"] * 6)}
    )
    if chance.random() < 0.03:
        given |= {"divisions": 6, "angle": "35"}
    if chance.random() < 0.3:
        given["circles"] = tuple(chance.randint(10, 70) for _ in range(chance.randint(1, 12)))
    if chance.random() < 0.2:
        given["plates"] = chance.choice(list(SETS))
    if chance.random() < 0.3:
        given["ratio"] = chance.choice([1, 5, 60, 72, 90, 120])
    if chance.random() < 0.2:
        given["gears"] = tuple(chance.randint(20, 100) for _ in range(chance.randint(2, 6)))
    if chance.random() < 0.4:
        given |= {"diameter": chance.choice([12.7, 60.0, 250.0]), "differential": chance.random() < 0.6}
    return given


def test_page_and_program_find_the_same_settings(run_in_browser):
    chance = random.Random(11)
    asked = [with_defaults(INDEXING, somebodys_question(chance)) for _ in range(3000)]
    answers = [in_python(INDEXING, {k: v for k, v in given.items() if v not in (None, "")}) for given in asked]
    for given, here, there in zip(asked, answers, run_in_browser("indexing", asked), strict=True):
        assert_same(here, there, given)
    methods = {row["method"] for here in answers for row in here.get("rows", ())}
    assert methods == {"plain", "direct", "differential", "nearest"}
    assert 50 < sum("refused" in here for here in answers) < 1500
