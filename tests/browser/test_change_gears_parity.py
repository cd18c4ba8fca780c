"""The page finds the same trains as the program, on two thousand drawers and threads."""

import random

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues

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


def in_python(given):
    values = {p.name: None if p.required else p.default for p in CHANGE_GEARS.parameters} | given
    try:
        table = CHANGE_GEARS.table(given)
    except BadValues as faults:
        fault = faults.faults[0]
        return {"refused": {"parameter": fault.parameter, "what": fault.what, "hint": fault.hint}}, values
    return {"rows": list(table.rows), "notes": list(table.notes), "warnings": list(table.warnings)}, values


def test_page_and_program_find_the_same_trains(run_in_browser):
    chance = random.Random(3)
    asked = [somebodys_question(chance) for _ in range(2000)]
    answers = [in_python(given) for given in asked]
    refused = 0
    for (here, given), there in zip(
        answers, run_in_browser("change-gears", [given for _, given in answers]), strict=True
    ):
        if "refused" in here:
            refused += 1
            assert there == here, given
            continue
        assert there["notes"] == here["notes"] and there["warnings"] == here["warnings"], given
        assert len(there["rows"]) == len(here["rows"]), given
        for mine, theirs in zip(here["rows"], there["rows"], strict=True):
            for name, value in mine.items():
                got = tuple(theirs[name]) if isinstance(value, tuple) else theirs[name]
                assert got == (pytest.approx(value, rel=1e-9, abs=1e-12) if isinstance(value, float) else value), (
                    name,
                    given,
                )
    assert 100 < refused < 1200
