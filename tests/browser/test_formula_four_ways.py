"""One formula, five readings: Python, the page's script in Chromium, and MathML, Typst's and the one-line notation read back from what they print.

The printed ones are read by printed_reader.py, which knows only how people read formulas; Typst's text is first laid out by Typst itself.
"""

import json
import math
import random

import pytest
import typst
from printed_reader import from_line, from_mathml, meaning
from test_worksheet_parity import in_python, ready

from fettlebook.book.formula_writing import javascript, line, mathml
from fettlebook.book.formula_writing import typst as typst_text
from fettlebook.book.formulas import CONSTANTS, Calc, Call, Choose, Compare, Logic, Name, Num, Power, Sign, formula
from fettlebook.tables.figures import written

LAYOUT = """
#let walk(c) = {
  if type(c) == str { return c }
  if type(c) == array { return c.map(walk) }
  let (f, d) = (c.func(), c.fields())
  if repr(f) == "styled" { return walk(d.child) }
  if f == math.frac { return (f: "frac", a: (walk(d.num), walk(d.denom))) }
  if f == math.attach { return (f: "pow", a: (walk(d.base), walk(d.t))) }
  if f == math.root { return (f: "root", a: (walk(d.radicand),)) }
  if f == math.op { return (f: "op", a: (walk(d.text),)) }
  if "children" in d { return d.children.map(walk) }
  if "body" in d { return (f: repr(f), a: (walk(d.body),)) }
  if "text" in d { return d.text }
  if repr(f) == "space" { return " " }
  return (f: "unknown " + repr(f), a: ())
}
#metadata(json("formulas.json").map(x => walk(eval(x, mode: "math")))) <laid-out>
"""
SIGNS = {"a": "a", "b": "b", "c": "c", "t.pitch": "P", "dial": "dial", "dial.left": "L"} | {
    name: name for name in CONSTANTS
}
SIMPLE = ["a", "b", "c", "pi", "mm_per_in", "deg_per_rad"]


def by_sign(known):
    """The values under the signs that are printed."""
    printed = {"a": known["a"], "b": known["b"], "c": known["c"], "P": known["t"]["pitch"], "L": known["dial"]["left"]}
    return printed | {"dial": list(known["dial"].values())} | {name: size for name, (size, _) in CONSTANTS.items()}


def random_formula(chance, depth):
    inner = lambda: random_formula(chance, depth - 1)  # noqa: E731
    if depth == 0 or chance.random() < 0.12:
        number = chance.choice(["1", "2", "0.5", "3.25", "0.0004", str(round(chance.uniform(1, 50), 2))])
        return chance.choice([Num(float(number), number), *map(Name, SIMPLE), Name("t", "pitch"), Name("dial", "left")])
    kind = chance.randrange(12)
    if kind < 5:
        return Calc(chance.choice("+-*/"), inner(), inner())
    if kind == 5:
        return Sign(inner())
    if kind == 6:
        return Power(inner(), chance.choice([-2, -1, 0, 2, 3]))
    if kind == 7:
        return Choose(random_condition(chance, depth - 1), inner(), inner())
    if kind == 8:
        return Call(chance.choice(["mean", "largest", "smallest", "spread", "sum", "count"]), (Name("dial"),))
    if kind == 9:
        return Call(chance.choice(["min", "max"]), tuple(inner() for _ in range(chance.randint(2, 3))))
    if kind == 10:
        decimals = chance.randint(0, 3)
        return Call("round", (inner(), Num(float(decimals), str(decimals))))
    return Call(chance.choice(["sqrt", "abs", "sin", "cos", "tan", "asin", "acos", "atan", "ln", "exp"]), (inner(),))


def random_condition(chance, depth):
    inner = lambda: random_formula(chance, max(depth - 1, 0))  # noqa: E731
    kind = chance.randrange(6) if depth > 0 else 0
    if kind < 3:
        return Compare(chance.choice(["<", "<=", ">", ">="]), inner(), inner())
    if kind == 3:
        return Logic("not", (random_condition(chance, depth - 1),))
    return Logic(chance.choice(["and", "or"]), tuple(random_condition(chance, depth - 1) for _ in range(2)))


def laid_out(tmp_path, nodes):
    """What Typst makes of each formula's text."""
    (tmp_path / "m.typ").write_text(LAYOUT, encoding="utf-8")
    (tmp_path / "formulas.json").write_text(json.dumps([typst_text(node, SIGNS) for node in nodes]), encoding="utf-8")
    return json.loads(typst.query(str(tmp_path / "m.typ"), "<laid-out>", field="value", one=True))


def worked(read, known):
    """The value of a printed formula, None where arithmetic gives none that can be written."""
    try:
        found = read(known)
    except (ArithmeticError, ValueError):
        return None
    return found if isinstance(found, bool) or abs(found) <= 1e15 else None


def in_page(page, nodes, readings):
    ready(page)
    functions = ",".join(f"function(v,F){{return {javascript(node)}}}" for node in nodes)
    page.add_script_tag(content=f"window.formulas=[{functions}]")
    return page.evaluate("rs => formulas.map(f => rs.map(v => fettlebook.worksheetValue(f, v)))", readings)


def agree(here, there):
    """Equal to the digits that are shown; a number so large that its thousandths are noise, to twelve digits."""
    if isinstance(here, bool) or isinstance(there, bool):
        return here is there
    return written(here, 3) == written(there, 3) if abs(here) < 1e6 else math.isclose(here, there, rel_tol=1e-9)


@pytest.mark.parametrize("seed", [3, 29])
def test_random_formulas_agree_in_every_way_in_which_they_are_written(page, tmp_path, seed):
    chance = random.Random(seed)
    nodes = [random_formula(chance, 4) for _ in range(700)]
    readings = [
        {"a": round(chance.uniform(-20, 200), 3), "b": round(chance.uniform(0.01, 5), 4), "c": chance.choice([1.0, 0.25, 12.7]), "t": {"pitch": 1.75},
         "dial": {"left": round(chance.uniform(0, 1), 3), "right": 0.25, "rear": 0.5}}
        for _ in range(5)
    ]  # fmt: skip
    pages, papers = in_page(page, nodes, readings), laid_out(tmp_path, nodes)
    answers = 0
    for node, row, paper in zip(nodes, pages, papers, strict=True):
        one_line = line(node, lambda name: SIGNS[f"{name.id}.{name.part}" if name.part else name.id])
        read = {
            "MathML": meaning(from_mathml(mathml(node, SIGNS))),
            "Typst": meaning(paper),
            "line": meaning(from_line(one_line)),
        }
        for known, there in zip(readings, row, strict=True):
            here = in_python(node, known)
            if isinstance(here, dict):
                assert there == here, one_line
                continue
            answers += 1
            assert agree(here, there), (one_line, known, here, there)
            for way, function in read.items():
                found = worked(function, by_sign(known))
                assert found is not None and agree(here, found), (way, one_line, known, here, found)
    assert answers > 1500


WHOLE = ["a == b", "a != b and not b <= c", "a < b < c", "(a if a > b else b) < c", "a if a == c else b if b > 1 else c", "-a**2", "(-a)**2", "a - -b", "a/(b/c)", "(a/b)**2", "2**-3*a",
         "a*(b/c)", "a - (b - c)", "a/b*c", "-(a + b)", "not (a > b or b > c)", "(a**2)**3", "sqrt(a*a)**2", "(not a > b) and c > b", "0.0000001*a", "round(a/b, 2)"]  # fmt: skip


@pytest.mark.parametrize("text", WHOLE)
def test_what_is_easily_misread_is_read_back_as_it_was_meant(tmp_path, text):
    node, known = formula(text), {"a": 7.0, "b": 2.0, "c": 7.0, "t": {"pitch": 1.0}, "dial": {"left": 1.0}}
    here = in_python(node, known)
    one_line = line(node, lambda name: SIGNS[name.id])
    for tree in (from_mathml(mathml(node, SIGNS)), *laid_out(tmp_path, [node]), from_line(one_line)):
        assert agree(here, worked(meaning(tree), by_sign(known))), one_line
