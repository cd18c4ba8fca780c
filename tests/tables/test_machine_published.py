"""Runs the published figures of tests/published/machine.yml: oil, seals, alignment, moving, supply, climate."""

import importlib
from pathlib import Path

import pytest
import yaml

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.climate import MAGNUS_B, MAGNUS_C
from fettlebook.tables.definition import BadValues
from fettlebook.tables.designations import thread_named
from fettlebook.tables.oil_mixing import volume_factor
from fettlebook.tables.viscosity import line_through

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "machine.yml").read_text(encoding="utf-8"))
CHECKS = [pytest.param(check, id=f"{case['id']}-{n}") for case in CASES for n, check in enumerate(case["checks"])]


def dynamic_between(eta1, t1, eta2, t2, t):
    """Dynamic viscosity [mPa s] at t from two points, for an oil of 880 kg/m3 at 15 degC: the line holds kinematic ones."""
    density = {x: 0.88 * volume_factor(880, x) for x in (t1, t2, t)}
    return line_through(eta1 / density[t1], t1, eta2 / density[t2], t2).at(t) * density[t]


def thread_size(text):
    thread = thread_named(text)
    return thread.major_mm, thread.tpi


def magnus_constants():
    return MAGNUS_B, MAGNUS_C


def agrees(value, expected, check):
    if isinstance(expected, (int, float)) and not isinstance(expected, bool):
        return value == pytest.approx(expected, abs=check.get("abs", 0), rel=check.get("rel", 1e-12))
    return value == (tuple(expected) if isinstance(value, tuple) else expected)


def function_named(name):
    if name.startswith("tests.machine."):
        return globals()[name.rpartition(".")[2]]
    module, _, plain = name.rpartition(".")
    return getattr(importlib.import_module(module), plain)


def run_function(check):
    found, expected = function_named(check["function"])(*check["args"]), check["expect"]
    pairs = zip(found, expected, strict=True) if isinstance(expected, list) else [(found, expected)]
    for value, wanted in pairs:
        assert agrees(value, wanted, check), (value, wanted)


def run_table(check):
    definition = table_named(check["table"])
    if "refused" in check:
        with pytest.raises(BadValues) as caught:
            definition.table(check.get("with"))
        assert check["refused"] in [fault.parameter for fault in caught.value.faults]
        return
    table = definition.table(check.get("with"))
    rows = [row for row in table.rows if all(row.get(k) == v for k, v in check.get("where", {}).items())]
    if "count" in check:
        assert len(rows) == check["count"]
    if "expect" in check:
        assert len(rows) == 1, rows
        for column, wanted in check["expect"].items():
            assert agrees(rows[0].get(column), wanted, check), (column, rows[0].get(column), wanted)
    if "expect_column" in check:
        values = [row[check["column"]] for row in rows]
        assert len(values) == len(check["expect_column"])
        for value, wanted in zip(values, check["expect_column"], strict=True):
            assert agrees(value, wanted, check), (value, wanted)
    said = "\n".join((*table.notes, *table.warnings))
    for words in check.get("says", ()):
        assert words in said, said


@pytest.mark.parametrize("check", CHECKS)
def test_agrees_with_the_published_figure(check):
    assert set(check) & {"expect", "expect_column", "refused", "says", "count"}, "a check that asserts nothing"
    run_function(check) if "function" in check else run_table(check)


def test_every_case_names_its_source():
    assert all(case["source"] and case["how_known"] in {"read", "computed", "memory", "practice"} for case in CASES)
    assert len({case["id"] for case in CASES}) == len(CASES)
