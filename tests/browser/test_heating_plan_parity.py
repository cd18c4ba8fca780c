"""The page plans a batch as the program does: rows, words and refusals, on some thousands of batches."""

import random

from parity import assert_same, in_python, with_defaults

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.steel_data import steels

PLAN = table_named("heating-plan")
SPELLINGS = [name for steel in steels() for name in steel.spellings()]
ODD = ("1046", "EN88", "rusty bolt", "1.2842", "drill rod", "spring steel", "case-hardening steel", "AISI 4140 steel", "BS 970 080M40", "1.2510", "12510", "constructor",
       "unknown", "mild steel", "W.Nr. 1.7225 round bar", "  silver   steel ", "en8", "Ck45", "☃", "steel")  # fmt: skip
USES = (
    "scribes lines",
    "cold chisels for iron",
    "springs",
    "shaft key, tough",
    "",
    "punches and dies",
    "gauges",
    "gears, pins",
    "Taps & DIES",
    "wears",
)
SECTIONS = ("6 mm", "12", "1/4 in", "0,5", "25.4 mm", "80 mm", "2", "300", "8", "8.01 mm", "13 mm", "0.3125 in", "40")
FAULTS = ("0", "301", "-3 mm", "abc", "1e9", "5 kg", "", "3/0", "1e999")


def written(chance, fault):
    """A part as somebody may write it; now and then with something wrong in it."""
    part = {
        "name": f"part {chance.randrange(60)}",
        "steel": chance.choice(SPELLINGS if chance.random() < 0.97 else ODD),
        "section": chance.choice(SECTIONS),
    }
    if chance.random() < 0.7:
        part["does"] = chance.choice(USES)
    if chance.random() < 0.12:
        part["hardness"] = chance.choice(("58", "45", "30", "62.5", "52", "20", "60"))
    if chance.random() < 0.2:
        part["temper"] = chance.choice(("200 °C", "235", "400 °F", "580 degC", "300"))
    if chance.random() < 0.06:
        part["quench"] = chance.choice(("oil", "Water", "air", " oil "))
    if chance.random() < 0.3:
        part["thinnest"] = chance.choice(("2 mm", "4", "1/8 in", "12"))
    if chance.random() < 0.3:
        part["count"] = chance.choice(("2", "5", "1", "2.7"))
    if fault:
        part[chance.choice(("section", "hardness", "temper", "thinnest", "count"))] = chance.choice(FAULTS)
    return part  # fmt: skip


def batches():
    chance = random.Random(11)
    yield {"parts": [{"name": f"p{n}", "steel": "O1", "section": "6 mm"} for n in range(41)], "time": 1.0}
    yield {"parts": [{"name": "a", "steel": "O1"}], "time": 1.0}
    yield {"parts": [{"name": " ", "steel": "O1", "section": "6"}], "time": 1.0}
    for name in (*SPELLINGS, *ODD):
        yield {"parts": [{"name": "a", "steel": name, "section": "10 mm"}], "time": 1.0}
    for _ in range(3000):
        size = chance.choice((1, 1, 2, 3, 4, 6, 9))
        parts = [written(chance, chance.random() < 0.03) for _ in range(size)]
        yield {"parts": parts, "time": chance.choice((1.0, 1.0, 2.0, 0.5, 0.1, 4.0, 24.0))}


def test_page_and_program_plan_the_same(run_in_browser):
    given = list(batches())
    there = run_in_browser("heating-plan", [with_defaults(PLAN, each) for each in given])
    planned = refused = several = 0
    for each, theirs in zip(given, there, strict=True):
        here = in_python(PLAN, each)
        planned, refused = planned + ("rows" in here), refused + ("refused" in here)
        several += "rows" in here and len({row.get("heating") for row in here["rows"]} - {None}) > 1
        assert_same(here, theirs, each)
    assert planned > 1800 and refused > 300 and several > 500, (planned, refused, several)
