"""The page and the program agree on slings and on the dew point, refusals included."""

import random

import pytest
from parity import assert_same, in_python

from fettlebook.tables.catalogue import table_named


def slings(chance):
    given = {"mass": round(chance.uniform(1, 20000), 1), "legs": chance.randint(1, 4)}
    if chance.random() < 0.8:
        given["angle"] = chance.choice([0.0, 30.0, 45.0, 60.0, 90.0, round(chance.uniform(0, 90), 1)])
    if chance.random() < 0.4:
        given["measured_from"] = "vertical"
    if chance.random() < 0.3:
        given["sling_length"] = float(chance.randint(200, 9000))
    if chance.random() < 0.3:
        given["height"] = float(chance.randint(100, 6000))
    return given


def air(chance):
    given = {
        "air": round(chance.uniform(-20, 60), 1),
        "humidity": chance.choice([0.5, 0.0, 101.0, 100.0, *[round(chance.uniform(1.1, 100), 1)] * 8]),
    }
    if chance.random() < 0.7:
        given["iron"] = round(chance.uniform(-40, 70), 1)
    if chance.random() < 0.3:
        given["heat_to"] = round(chance.uniform(-20, 60), 1)
    return given


def warming(chance):
    given = air(chance) | {"iron": round(chance.uniform(-30, 30), 1), "thickness": round(chance.uniform(2, 500), 1)}
    given.pop("heat_to", None)
    if chance.random() < 0.3:
        given["target"] = round(chance.uniform(-10, 40), 1)
    return given


@pytest.mark.parametrize("name, ask", [("sling-loads", slings), ("dew-point", air), ("warm-up-time", warming)])
def test_the_page_gives_what_the_program_gives(run_in_browser, name, ask):
    chance = random.Random(7)
    givens = [ask(chance) for _ in range(3000)]
    table = table_named(name)
    for given, there in zip(givens, run_in_browser(name, givens), strict=True):
        assert_same(in_python(table, given), there, given)
