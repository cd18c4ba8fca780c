"""Comparing what the page computes with what the program computes, row by row."""

import pytest

from fettlebook.tables.definition import BadValues


def with_defaults(definition, given):
    return {p.name: None if p.required else p.default for p in definition.parameters} | given


def in_python(definition, given):
    """The program's answer, or its refusal, in the shape in which the browser gives it."""
    try:
        table = definition.table(given)
    except BadValues as faults:
        fault = faults.faults[0]
        return {"refused": {"parameter": fault.parameter, "what": fault.what, "hint": fault.hint}}
    return {"rows": list(table.rows), "notes": list(table.notes), "warnings": list(table.warnings)}


def assert_same(here, there, given):
    """Same words, same rows; figures within a billionth."""
    if "refused" in here or "refused" in there:
        assert there == here, given
        return
    assert there["notes"] == here["notes"] and there["warnings"] == here["warnings"], given
    assert len(there["rows"]) == len(here["rows"]), given
    for mine, theirs in zip(here["rows"], there["rows"], strict=True):
        assert set(mine) == set(theirs), given
        for name, value in mine.items():
            got = tuple(theirs[name]) if isinstance(value, tuple) else theirs[name]
            expected = pytest.approx(value, rel=1e-9, abs=1e-12) if isinstance(value, float) else value
            assert got == expected, (name, given)
