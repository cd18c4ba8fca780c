"""Steels, heat treatment, tempering, hardness and hardening depth against the figures of tests/published/heat.yml.

compositions  limits or typical figures of a steel, as printed; `around`: the typical figures lie inside
operations    a range that a source prints for a steel stands among its operations, and the table's row spans it
rows, calls   a row of a table, a function of tables/
formulas      a formula as printed, worked out here from its text, against the function
tempering     hardness after a time at temperatures: as shown, or inside the span of the sources
refused       what a table must not answer
words         what a table must say
"""

import re
from importlib import import_module
from math import sqrt
from pathlib import Path

import pytest
import yaml

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.hardness import convert
from fettlebook.tables.steel_data import one
from fettlebook.tables.tempering import curve_of
from fettlebook.tables.tempering_curves import curves

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "heat.yml").read_text(encoding="utf-8"))
by_id = {"ids": lambda case: case["id"]}
SAMPLES = (
    {"C": 0.3, "Mn": 0.7, "Si": 0.2, "Ni": 0.5, "Cr": 0.9, "Mo": 0.2, "V": 0.1, "W": 0.3, "Cu": 0.2, "As": 0.01, "P": 0.02, "Al": 0.03, "Ti": 0.01},
    {"C": 0.55, "Mn": 0.4, "Si": 1.1, "Ni": 1.4, "Cr": 0.2, "Mo": 0.05, "V": 0.02, "W": 0.0, "Cu": 0.35, "As": 0.0, "P": 0.01, "Al": 0.0, "Ti": 0.03},
)  # fmt: skip


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


def degrees(case):
    return case["c"] if "c" in case else [celsius(f) for f in case["f"]]


def function(call):
    module, name = call.split(".")
    return getattr(import_module(f"fettlebook.tables.{module}"), name)


def near(got, expected, width):
    return (
        got == expected
        if isinstance(expected, (str, bool)) or expected is None
        else got == pytest.approx(expected, abs=width + 1e-12)
    )


@pytest.mark.parametrize("case", CASES["compositions"], **by_id)
def test_a_composition_is_the_printed_one(case):
    steel, expected = one(case["steel"]), case["expect"]
    if case["printed"] == "limits":
        kept = steel.raw["limits"]
        assert {element: kept.get(element) for element in expected} == expected
    elif case["printed"] == "typical":
        for element, share in expected.items():
            assert steel.typical[element] == pytest.approx(share, abs=case["tolerance"]), element
    else:
        for element, limits in expected.items():
            low, high = limits if isinstance(limits, list) else (0, limits)
            assert low <= steel.typical.get(element.removesuffix("_max"), 0) <= high, element


@pytest.mark.parametrize("case", CASES["operations"], **by_id)
def test_a_printed_range_is_among_the_operations_and_inside_the_row(case):
    steel, wanted = one(case["steel"]), degrees(case)
    of_kind = [op for op in steel.operations if op.op == case["operation"] and op.way == case["way"]]
    found = [op for op in of_kind if (op.low_c, op.high_c) == pytest.approx((wanted[0], wanted[-1]), abs=0.6)]
    assert found, [(op.low_c, op.high_c) for op in of_kind]
    assert not case.get("hb") or any(op.hb_max == case["hb"] for op in found)
    assert any(case.get("hold", "") in op.hold and case.get("cool", "") in op.cool for op in found), found
    assert not case.get("largest_mm") or any(op.largest_mm == case["largest_mm"] for op in found)
    rows = table_named("heat-treatment").table({"steel": case["steel"]}).rows
    row = next(
        r for r in rows if r["grade"] == steel.name and r["operation"] == case["operation"] and r["way"] == case["way"]
    )
    assert row["low_c"] <= wanted[0] + 0.6
    assert row["high_c"] >= wanted[-1] - 0.6
    assert case.get("words", "") in row["note"]


@pytest.mark.parametrize("case", CASES["rows"], **by_id)
def test_a_row_agrees_with_what_is_published(case):
    rows = table_named(case["table"]).table(case["with"]).rows
    found = [row for row in rows if all(row.get(name) == value for name, value in case["where"].items())]
    assert found, rows
    width = case.get("tolerance", 0)
    for name, expected in case.get("expect", {}).items():
        assert near(found[0][name], expected, width[name] if isinstance(width, dict) else width), (name, found[0][name])
    if span := case.get("within"):
        assert found[0][span["low"]] - width <= min(span["values"])
        assert max(span["values"]) <= found[0][span["high"]] + width


@pytest.mark.parametrize("case", CASES["calls"], **by_id)
def test_a_function_agrees_with_what_is_published(case):
    got = function(case["call"])(**case["with"])
    got = got[case["pick"]] if "pick" in case else list(got) if isinstance(got, tuple) else got
    assert got == pytest.approx(case["expect"], abs=case["tolerance"] + 1e-12)


def worked_out(text, composition):
    """A printed formula, worked out from its own text: `- 10.7 Mn`, `217C^2`, `71.5 C Mn`, `203 sqrt(C)`, `21 log10 V`."""
    body = text.replace("^", "**").replace("log10 V", "RATE")
    body = re.sub(r"sqrt\((\w+)\)", r"(sqrt(\1))", body)
    body = re.sub(r"([\d.)A-Za-z])\s+(?=[A-Z(])", r"\1*", body)
    body = re.sub(r"(?<![A-Za-z\d])([\d.]+)(?=[A-Z(])", r"\1*", body)
    names = {
        element: composition.get(element, 0.0) for element in re.findall(r"[A-Z][a-z]?", text) if element != "RATE"
    }
    return eval(body, {"__builtins__": {}}, {"sqrt": sqrt, "RATE": 4.0, **names})  # noqa: S307  text of our own file


@pytest.mark.parametrize("case", CASES["formulas"], **by_id)
@pytest.mark.parametrize("composition", SAMPLES, ids=["first", "second"])
def test_a_formula_is_the_printed_one(case, composition):
    call = function(case["call"])
    got = call(composition, 1e4) if case["call"].startswith("maynier") else call(composition)
    got = got[case["pick"]] if "pick" in case else got
    expected = worked_out(case["text"], composition)
    if case["unit"] == "F" and not case["call"].endswith("_f"):
        expected = celsius(expected)
    assert got == pytest.approx(expected, abs=1e-6)


def test_the_reader_of_printed_formulas_can_tell_a_wrong_coefficient():
    assert worked_out("723 - 10.7 Mn + 29.1Si", {"Mn": 1, "Si": 2}) == pytest.approx(770.5)
    assert worked_out("1 + 2 C Mn + 3C^2 - 4 sqrt(C)", {"C": 4, "Mn": 5}) == pytest.approx(1 + 40 + 48 - 8)
    assert worked_out("-323 + (89 + 53C - 55Si) log10 V", {"C": 1, "Si": 1}) == pytest.approx(-323 + 87 * 4)


def shown(case):
    """(lowest, shown, highest) at each temperature of a tempering case."""
    curve = curves()[case["curve"]] if "curve" in case else curve_of(one(case["steel"]))
    hours = case["hours"]
    return [(*(curve.spread(t, hours) or (None, None)), curve.hrc(t, hours)) for t in degrees(case)]


@pytest.mark.parametrize("case", CASES["tempering"], **by_id)
def test_a_tempered_hardness_is_the_published_one(case):
    wanted = case.get("hrc") or [convert(hb, "HB", "HRC") for hb in case["hb"]]
    for (low, high, value), expected in zip(shown(case), wanted, strict=True):
        if case["against"] == "shown":
            assert value == pytest.approx(expected, abs=case["tolerance"])
        else:
            assert low - case["tolerance"] <= expected <= high + case["tolerance"]


@pytest.mark.parametrize("case", CASES["refused"], **by_id)
def test_what_lies_outside_is_refused_with_the_range(case):
    with pytest.raises(BadValues, match=re.escape(case["says"])):
        table_named(case["table"]).table(case["with"])


@pytest.mark.parametrize("case", [case for case in CASES["words"] if "says" in case], **by_id)
def test_a_table_says_what_it_must(case):
    table = table_named(case["table"]).table(case["with"])
    text = " ".join([*table.notes, *table.warnings, *(str(row.get("note", "")) for row in table.rows)])
    assert [words for words in case["says"] if words not in text] == []


@pytest.mark.parametrize("case", [case for case in CASES["words"] if "curve" in case], **by_id)
def test_the_curve_holds_what_was_measured(case):
    curve = curves()[case["curve"]]
    measured = {round(s.hours * 3600) for s in curve.sets if s.main}
    assert measured <= set(case["seconds"])
    assert all(list(s.temperatures_c) == case["temperatures_c"] for s in curve.sets if s.main)
