"""A fault in a formula stands under its own sign, in whatever way YAML lets the formula be written; and what is printed shows it."""

import pytest

from fettlebook.book.computed import Shop
from fettlebook.book.strict_yaml import read_text
from fettlebook.book.worksheet_assembly import worksheet
from fettlebook.check.report import report_lines

HEAD = """title: T
inputs:
  - {id: bar, name: Bar, unit: mm, example: 20}
  - {id: heat, name: Heat, unit: degC, example: 20}
results:
"""
FORMULAS = {
    "plain": "  - id: rise\n    name: Rise\n    unit: mm\n    formula: bar/2 + sin(bar)*bar\n",
    "plain over two lines": "  - id: rise\n    name: Rise\n    unit: mm\n    formula: bar/2 +\n      sin(bar)*bar\n",
    "single quotes": "  - id: rise\n    name: Rise\n    unit: mm\n    formula: 'bar/2 + sin(bar)*bar'\n",
    "double quotes": '  - id: rise\n    name: Rise\n    unit: mm\n    formula: "  bar/2 + sin(bar)*bar"\n',
    "double quotes with a backslash": '  - id: rise\n    name: Rise\n    unit: mm\n    formula: "bar\\x2f2 + sin(bar)*bar"\n',
    "folded": "  - id: rise\n    name: Rise\n    unit: mm\n    formula: >-\n      bar/2 +\n      sin(bar)*bar\n",
    "literal": "  - id: rise\n    name: Rise\n    unit: mm\n    formula: |\n      bar/2 +\n        sin(bar)*bar\n",
    "in braces": '  - {id: rise, name: Rise, unit: mm, formula: "bar/2 + sin(bar)*bar", low: 0}\n',
}


def findings_of(text):
    tree, faults = read_text(text, "x.yml")
    assert not faults
    return worksheet(tree, "x", "x.yml", Shop({}, {}))[1]


@pytest.mark.parametrize("written", FORMULAS.values(), ids=FORMULAS)
def test_the_caret_stands_under_the_sign_that_is_wrong(tmp_path, written):
    text = HEAD + written
    (tmp_path / "x.yml").write_text(text, encoding="utf-8")
    (finding,) = findings_of(text)
    assert finding.what == "sin takes an angle, here it has a length (mm)"
    before = text[: text.index("sin(")]
    assert (finding.place.line, finding.place.column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))
    _, line, caret = report_lines([finding], tmp_path)
    start, end = caret.index("^"), caret.rindex("^") + 1
    assert line[start:end] == "sin(bar)*bar"


@pytest.mark.parametrize("written", FORMULAS.values(), ids=FORMULAS)
def test_a_fault_of_the_whole_formula_stands_at_its_first_sign(written):
    text = HEAD + written.replace("sin(bar)*bar", "bar*bar/bar").replace("unit: mm", "unit: kg")
    finding = next(one for one in findings_of(text) if one.rule == "units")
    before = text[: text.index("bar", len(HEAD))]
    assert (finding.place.line, finding.place.column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))
    assert finding.what == "the formula gives a length (mm), the result is written in kg, a mass (kg)"


def test_units_that_differ_are_both_named_at_their_line_and_column():
    (finding,) = findings_of(HEAD + "  - {id: rise, name: Rise, unit: mm, formula: bar + heat}\n")
    assert finding.what == "this adds a length (mm) and a temperature (°C)"
    assert (finding.place.line, finding.place.column) == (6, 47)
