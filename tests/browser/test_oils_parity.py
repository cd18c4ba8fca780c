"""The page and the program give the same oils, the same words and the same refusals."""

import random

import pytest
from parity import assert_same, in_python

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.oil_grades import grades

ODD = ["46", "30", "15", "90", "7", "SAE 46", "SAE 68", "SAE 10", "SAE 10W", "SAE 30W-10", "SAE 250", "10W-40", "SAE 5W30", "ISO VG 30",
       "ISO VG 90", "AGMA 9", "AGMA 8A Comp", "vg46", "iso-vg 68 oil", "SAE 90 engine", "SAE 90 EP", "SAE 80W-90", "ISO VG 46 gear", "hydraulic",
       "38 mm2/s", "1.5 cSt", "31,5 mm²/s at 40 °C", "SAE 33", "4000000", "ISO VG 2", "ISO VG 5"]  # fmt: skip


def viscosity_inputs(chance, count):
    names = [*grades(), *ODD]
    for _ in range(count):
        given = {"index": chance.choice([None, None, round(chance.uniform(0, 300)), 100.0])}
        given["temperatures"] = [round(chance.uniform(-40, 200), 1) for _ in range(3)]
        shape = chance.random()
        if shape < 0.6:
            given["grade"] = chance.choice(names)
        elif shape < 0.8:
            given["v40"] = round(10 ** chance.uniform(0.31, 4), 2)
        else:
            given |= {"v40": round(10 ** chance.uniform(0.31, 3), 3), "v100": round(10 ** chance.uniform(-0.6, 2.5), 3)}
        yield given
    yield {"grade": "ISO VG 46", "v40": 46.0, "temperatures": [40]}
    yield {"temperatures": [40]}


def climate_inputs(chance, count):
    names = [*grades(), *ODD]
    for _ in range(count):
        yield {
            "grade": chance.choice(names),
            "designed_for": [round(chance.uniform(-30, 120), 1) for _ in range(chance.choice([1, 1, 2, 3] if chance.random() < 0.1 else [1, 2]))],
            "here": [round(chance.uniform(-30, 120), 1) for _ in range(chance.choice([1, 2]))],
            "index": chance.choice([None, round(chance.uniform(0, 300))]),
            "rise": chance.choice([0.0, 15.0]),
            "store": chance.choice([None, [chance.choice(names) for _ in range(4)]]),
        }  # fmt: skip


@pytest.mark.parametrize(
    "name, inputs",
    [("oil-viscosity", viscosity_inputs), ("oil-for-climate", climate_inputs)],
    ids=["viscosity", "climate"],
)
def test_the_page_works_out_the_same_as_the_program(run_in_browser, name, inputs):
    givens = [{k: v for k, v in given.items() if v is not None} for given in inputs(random.Random(3448), 2000)]
    for given, there in zip(givens, run_in_browser(name, givens), strict=True):
        assert_same(in_python(table_named(name), given), there, given)
