"""The page and the program cut the same flats, on three thousand bars."""

import random

from parity import assert_same, in_python, with_defaults

from fettlebook.tables.catalogue import table_named

FLATS = table_named("flats")


def somebodys_question(chance):
    given = {}
    if chance.random() < 0.8:
        given["diameter"] = chance.choice([25.0, 12.7, 40.0, chance.uniform(1, 300)])
    if chance.random() < 0.6:
        given["across_flats"] = chance.choice([13.0, 19.0, chance.uniform(1, 250)])
    if chance.random() < 0.5:
        given["flats"] = tuple(chance.randint(2, 24) for _ in range(chance.choice([1, 1, 3, 30])))
    if chance.random() < 0.4:
        given |= {"feeler": chance.choice([0.05, 0.1]), "cut": chance.uniform(0, 4), "measured": chance.uniform(1, 200)}
    return given


def test_page_and_program_cut_the_same_flats(run_in_browser):
    chance = random.Random(5)
    asked = [somebodys_question(chance) for _ in range(3000)]
    answers = [in_python(FLATS, given) for given in asked]
    there = run_in_browser("flats", [with_defaults(FLATS, given) for given in asked])
    for given, mine, theirs in zip(asked, answers, there, strict=True):
        assert_same(mine, theirs, given)
    assert 200 < sum("refused" in mine for mine in answers) < 1800
    assert any(mine.get("warnings") for mine in answers)
