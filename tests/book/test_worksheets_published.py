"""Runs the published cases of tests/published/worksheets.yml: what is typed in, what comes out, what is out of limits."""

from pathlib import Path

import pytest
import yaml

from fettlebook.book.formula_values import NoAnswer, value
from fettlebook.book.load import load
from fettlebook.tables.quantities import UNITS, read_quantity

ROOT = Path(__file__).parent.parent.parent
CASES = yaml.safe_load((ROOT / "tests" / "published" / "worksheets.yml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def worksheets():
    return load(ROOT)[0].worksheets


def known_from(sheet, typed):
    """Values by name, from what a reader would type; what is left out takes its default."""
    known = {c.id: c.value for c in sheet.constants}
    for one in sheet.inputs:
        given = typed.get(one.id, one.default)
        unit = one.unit if one.unit in UNITS else ""
        if one.kind == "choice":
            known[one.id] = next(dict(option.values) for option in one.options if option.label == str(given))
        elif one.kind == "flag":
            known[one.id] = given in {"yes", True}
        elif one.at:
            assert len(given) == len(one.at), one.id
            known[one.id] = dict(zip(one.at, (read_quantity(g, unit) for g in given), strict=True))
        else:
            known[one.id] = read_quantity(given, unit)
        numbers = [known[one.id]] if isinstance(known[one.id], float) else known[one.id].values() if one.at else []
        assert all((one.low is None or n >= one.low) and (one.high is None or n <= one.high) for n in numbers), one.id
    return known


def worked(sheet, known):
    found = {}
    for result in sheet.results:
        try:
            found[result.id] = value(result.formula, {**known, **found})
        except NoAnswer as fault:
            found[result.id] = str(fault)
    return found


def outside(sheet, found):
    """Results out of their limits, by id; as on the page, what lies four places beyond what is shown does not count."""
    return [
        r.id
        for r in sheet.results
        if (r.low is not None and round(found[r.id], r.decimals + 4) < r.low)
        or (r.high is not None and round(found[r.id], r.decimals + 4) > r.high)
    ]


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_a_published_case_comes_out(worksheets, case):
    sheet = worksheets[case["worksheet"]]
    assert set(case["with"]) <= {one.id for one in sheet.inputs}
    found = worked(sheet, known_from(sheet, case["with"]))
    for id, wanted in case["expect"].items():
        assert found[id] == pytest.approx(wanted, abs=case.get("abs", 1e-9), rel=case.get("rel", 0)), id
    assert outside(sheet, found) == case.get("out", [])
    assert case["source"] and case["how_known"] in {"read", "computed", "memory", "secondary"}


def test_every_worksheet_has_a_case_and_says_what_to_do_outside_its_limits(worksheets):
    assert set(worksheets) == {case["worksheet"] for case in CASES}
    for sheet in worksheets.values():
        assert any(r.low is not None or r.high is not None for r in sheet.results), sheet.id
        for r in sheet.results:
            assert (r.outside is not None) == (r.low is not None or r.high is not None), f"{sheet.id}: {r.id}"
        assert sheet.sources


def test_every_worksheet_is_filled_in_at_a_step_of_a_procedure(worksheets):
    used = {step.worksheet for p in load(ROOT)[0].procedures.values() for step in p.steps if step.worksheet}
    assert set(worksheets) <= used
