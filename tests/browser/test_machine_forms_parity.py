"""The page and the program agree on levels, twist, collars, test bars, limits, weights and motors, refusals included."""

import random

import pytest
from parity import assert_same, in_python

from fettlebook.tables.catalogue import table_named


def some(chance, part, value):
    """The value in that part of all cases, else nothing."""
    return value() if chance.random() < part else None


def levels(chance):
    return {
        "division": chance.choice([0.02, 0.05, 0.0417, round(chance.uniform(0.001, 20), 4)]),
        "base": round(chance.uniform(1, 10000), 1),
        "reading": some(chance, 0.6, lambda: round(chance.uniform(-5, 5), 2)),
        "reversed": some(chance, 0.6, lambda: round(chance.uniform(-5, 5), 2)),
        "travel": chance.choice([2.0, 2.5, 0.5]),
    }


def twist(chance):
    return {
        "twist": some(chance, 0.6, lambda: round(chance.gauss(0, 0.1), 3)),
        "taper": some(chance, 0.5, lambda: round(chance.gauss(0, 0.05), 4)),
        "centre_height": round(chance.uniform(20, 1000), 1),
        "bed_width": some(chance, 0.5, lambda: round(chance.uniform(30, 2000), 1)),
        "length": some(chance, 0.5, lambda: round(chance.uniform(5, 3000), 1)),
    }


def collars(chance):
    head = round(chance.uniform(10, 120), 3)
    return {
        "headstock": head,
        "tailstock": round(head + chance.choice([0, 0.01, 0.1, 5]) * chance.uniform(-1, 1), 3),
        "distance": round(chance.uniform(50, 400), 1),
        "centre_height": 160.0,
        "across": some(chance, 0.7, lambda: 420.0),
        "along": some(chance, 0.7, lambda: 1300.5),
        "pitch": some(chance, 0.5, lambda: 1.75),
        "bar": some(chance, 0.5, lambda: round(chance.uniform(20, 60), 1)),
        "limit": chance.choice([0.02, 0.005]),
    }


def bars(chance):
    return {
        "horizontal": round(chance.gauss(0, 0.05), 3),
        "over": round(chance.uniform(20, 2000), 1),
        "length": some(chance, 0.5, lambda: round(chance.uniform(5, 5000), 1)),
        "vertical": chance.choice([0.0, 0.02, 4.9, round(chance.gauss(0, 0.5), 3)]),
        "diameter": chance.choice([30.0, 2.0, 100.0]),
    }


def limits(chance):
    return {
        "swing": chance.choice([50.0, 320.0, 500.0, 500.5, 800.0, 800.5, round(chance.uniform(50, 1600))]),
        "class": chance.choice(["precision", "other"]),
        "centres": chance.choice(
            [500.0, 501.0, 1000.0, 1000.5, 1500.0, 2000.0, 2001.0, round(chance.uniform(100, 9000), 1)]
        ),
    }


def feet(chance):
    count, both = chance.choice([1, 2, 2, 3, 4]), chance.random() < 0.4

    def weights():
        return [round(chance.choice([0, 1, 1, 1]) * chance.uniform(0, 900), 1) for _ in range(count)]

    return {
        "weights": some(chance, 0.8, weights),
        "spacing": [round(chance.uniform(50, 3000), 1) for _ in range(chance.choice([1, 1, count - 1 or 1, 3]))],
        "rear": some(chance, 0.9 if both else 0.1, weights),
        "across": some(chance, 0.9 if both else 0.1, lambda: 420.0),
        "mass": some(chance, 0.1, lambda: 1250.0),
        "centre": some(chance, 0.1, lambda: round(chance.uniform(0, 2000), 1)),
    }


def motors(chance):
    return {
        "poles": chance.choice([2, 4, 6, 3, 8]),
        "rated_hz": chance.choice([50.0, 60.0, 400.0]),
        "supply_hz": chance.choice([50.0, 60.0, 49.5, 62.5]),
        "rated_v": chance.choice([220.0, 230.0, 380.0, 400.0, 440.0, 460.0]),
        "supply_v": chance.choice([208.0, 230.0, 400.0, 415.0, 480.0, round(chance.uniform(12, 1000), 1)]),
    }


ASKED = {"levels": levels, "bed-twist": twist, "two-collars": collars, "test-bar": bars, "alignment-limits": limits,
         "foot-loads": feet, "motor-on-supply": motors}  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_the_page_gives_what_the_program_gives(run_in_browser, name):
    chance = random.Random(1708)
    givens = [{k: v for k, v in ASKED[name](chance).items() if v is not None} for _ in range(1000)]
    table = table_named(name)
    answers = [in_python(table, given) for given in givens]
    for given, mine, there in zip(givens, answers, run_in_browser(name, givens), strict=True):
        assert_same(mine, there, given)
    assert sum("rows" in answer for answer in answers) > 200
