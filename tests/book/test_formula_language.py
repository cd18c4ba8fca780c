"""Formulas: what is read, what is refused and in which words, what they measure, and that plain numbers agree with units.

Dimensions and factors are held against pint, an independent library of units.
"""

import math

import pint
import pytest

from fettlebook.book.formula_units import YES_OR_NO, factor, measured
from fettlebook.book.formula_values import NoAnswer, value
from fettlebook.book.formula_writing import line
from fettlebook.book.formulas import CONSTANTS, FormulaFault, formula
from fettlebook.book.units import measure
from fettlebook.tables.quantities import Unreadable

REFUSED = [
    ("", "nothing is written here"),
    ("a^2", "^ is not a power here"),
    ("2×a", "× is not read"),
    ('__import__("os").system("x")', "only the listed functions can be used, with plain arguments"),
    ("open(1)", '"open" is not a function of formulas'),
    ("a.b.c", "a name of a name is not ordinary arithmetic"),
    ("x[1]", "picking with [ ] is not ordinary arithmetic"),
    ("9**99", "a power takes a whole number from -9 to 9"),
    ("a**b", "a power takes a whole number from -9 to 9"),
    ("sin", "sin is a function and wants brackets"),
    ("(1+2", 'there are more "(" than ")"'),
    ("min(1)", "min takes 2 to 9 values, here it has 1"),
    ("lambda: 1", "a function is not ordinary arithmetic"),
    ("[i for i in x]", "a loop is not ordinary arithmetic"),
    ("'x'", "text is not ordinary arithmetic"),
    ("True", "yes and no are given by an input, not written in a formula"),
    ("1e400", "this number is out of all proportion"),
    ("(" * 60 + "1" + ")" * 60, "more than 30 brackets stand inside each other"),
    ("1+" * 400 + "1", "the formula is longer than 500 characters"),
    ("(x := 3)", "setting a name is not ordinary arithmetic"),
    ("mean(1)", "mean takes the name of one repeated reading"),
    ("round(a, b)", "round takes a whole number of decimals from 0 to 6"),
    ("1" * 400, "this number is out of all proportion"),
    ("-" * 300 + "a", "too many operations stand inside each other"),
    ("not " * 100 + "a", "too many operations stand inside each other"),
    ("a # b", '"#" is not read in a formula'),
    ("0x1F + 1", '"0x" is not read in a formula'),
    ("1_000", '"1_" is not read in a formula'),
    ("2j", '"2j" is not read in a formula'),
    ("\uff41 + 1", '"\uff41" is not read in a formula'),
    ("\u0430 + 1", '"\u0430" is not read in a formula'),
    ("a if b", 'this is not arithmetic near "a if b"'),
]


@pytest.mark.parametrize("written, words", REFUSED, ids=[w[:20] or "empty" for w, _ in REFUSED])
def test_what_is_not_arithmetic_is_refused_in_words(written, words):
    with pytest.raises(FormulaFault) as fault:
        formula(written)
    assert fault.value.what == words


# By the rules of arithmetic; the right-hand side is Python's own.
WORKED = [
    ("2 + 3*4", 14.0), ("(2 + 3)*4", 20.0), ("-3**2", -9.0), ("(-3)**2", 9.0), ("2**-2", 0.25), ("7/2/2", 1.75), ("10 - 4 - 3", 3.0),
    ("sqrt(2)", math.sqrt(2)), ("sin(30)", math.sin(math.radians(30))), ("atan(1)", 45.0), ("round(2.345, 2)", 2.35), ("round(-0.5)", -1.0),
    ("min(3, 1, 2)", 1.0), ("5 if 2 > 1 else 6", 5.0), ("5 if 2 > 1 and not 1 == 1 else 6", 6.0), ("pi", math.pi), ("ln(2)", math.log(2)), ("exp(1)", math.e), ("exp(ln(7))", 7.0), ("mm_per_in\n  *2", 50.8), ("0.0000001*2", 2e-7), ("mm3_per_l/1000000", 1.0), ("oil2j*thread.v40_mm2_s", 6.0), ("abs(2 - 5)", 3.0),
    ("mean(dial)", 2.0), ("spread(dial)", 2.0), ("largest(dial) - dial.left", 2.0), ("count(dial)", 3.0), ("thread.pitch_mm*2", 3.0),
]  # fmt: skip
KNOWN = {
    "dial": {"left": 1.0, "middle": 2.0, "right": 3.0},
    "thread": {"pitch_mm": 1.5, "v40_mm2_s": 2.0},
    "oil2j": 3.0,
}


@pytest.mark.parametrize("written, right", WORKED)
def test_a_formula_is_worked_as_on_a_calculator(written, right):
    assert value(formula(written), KNOWN) == pytest.approx(right, rel=1e-12)


@pytest.mark.parametrize(
    "written, words",
    [
        ("1/0", "it would divide by nothing"), ("2/(a - a)", "it would divide by nothing"), ("sqrt(0 - 1)", "it would take the root of less than nothing"),
        ("asin(2)", "no angle has such a sine or cosine"), ("ln(0)", "it would take the logarithm of nothing or less"),
        ("ln(a - 2)", "it would take the logarithm of nothing or less"), ("exp(35)", "the result is too large to be written"), ("b + 1", "waits for b"), ("c.x", "waits for c.x"), ("mean(d)", "waits for d"),
        ("1000000000000**9*1000000000000**9*1000000000000**9", "the result is too large to be written"),
        ("a*1000000000000000*10", "the result is too large to be written"), ("round(a*1000000000000000*10, 6)", "the result is too large to be written"),
    ],
)  # fmt: skip
def test_what_has_no_answer_says_why(written, words):
    with pytest.raises(NoAnswer) as fault:
        value(formula(written), {"a": 1.0, "b": None, "c": {}, "d": {"left": 1.0, "right": None}})
    assert str(fault.value) == words


@pytest.mark.parametrize(
    "written", [w for w, _ in WORKED if "dial" not in w and "thread" not in w and "mm3" not in w and "round" not in w]
)
def test_the_printed_line_read_back_gives_the_same(written):
    """The line's signs are turned into Python's own and worked by Python: brackets stand where they must."""
    shown = line(formula(written), lambda name: name.id)
    if "else" in shown:
        yes, rest = shown.split(" if ", 1)
        condition, no = rest.rsplit(", else ", 1)
        shown = f"({yes}) if ({condition}) else ({no})"
    for sign, word in {
        "×": "*",
        "÷": "/",
        "−": "-",
        " = ": " == ",
        "√": "sqrt",
        "²": "**2",
        "⁻**2": "**-2",
        "tan⁻¹": "atan",
    }.items():
        shown = shown.replace(sign, word)
    functions = {
        "sqrt": math.sqrt,
        "sin": lambda x: math.sin(math.radians(x)),
        "atan": lambda x: math.degrees(math.atan(x)),
        "min": min,
        "abs": abs,
        "pi": math.pi,
        "ln": math.log,
        "exp": math.exp,
        "mm_per_in": 25.4,
    }
    assert eval(shown, {"__builtins__": {}}, functions) == pytest.approx(value(formula(written), {}), rel=1e-12)


PINT = pint.UnitRegistry()
NAMES = {"rpm": "1/min", "degC": "delta_degC", "K": "kelvin", "mm2/s": "mm**2/s", "tpi": "1/inch", "percent": "percent", "Nm": "newton*meter", "t": "tonne", "l": "liter",
         "ml": "milliliter", "gal_us": "gallon", "gal_uk": "imperial_gallon", "lbf ft": "lbf*foot", "deg": "deg", "mm/rev": "mm", "in/rev": "inch", "mm/m": "mm/m", "in/ft": "in/ft",
         "thou": "thou", "in": "inch", "hp": "hp", "s": "s", "degF": "delta_degF", "m/s2": "m/s**2", "um/(m K)": "um/(m*kelvin)", "N/mm2": "N/mm**2", "mm3/l": "mm**3/l"}  # fmt: skip
CHECKED = ["mm", "in", "thou", "ft", "m", "um", "s", "min", "h", "kg", "t", "lb", "N", "kN", "lbf", "l", "ml", "gal_us", "gal_uk", "mm2/s", "rpm", "Hz", "V", "A", "W", "kW",
           "hp", "m/min", "ft/min", "mm/rev", "in/rev", "mm/m", "in/ft", "tpi", "percent", "MPa", "bar", "Nm", "lbf ft", "degF", "K", "um/(m K)", "N/mm2", "mm3/l", "m/s2"]  # fmt: skip


@pytest.mark.parametrize("unit", CHECKED)
def test_a_unit_has_the_size_and_dimension_that_pint_gives_it(unit):
    ours = measure(unit)
    theirs = PINT.Quantity(1, NAMES.get(unit, unit)).to_base_units()
    assert ours.size == pytest.approx(theirs.magnitude, rel=1e-9)
    bases = ("[length]", "[time]", "[mass]", "[temperature]", "[current]")
    assert [theirs.dimensionality.get(base, 0) for base in bases] == list(ours.exponents[:5])


@pytest.mark.parametrize("unit", ["furlong/x", "mm/", "qq", "mm**2**2", "1/1/1", "(", "mm mm mm q"])
def test_what_is_no_unit_is_refused(unit):
    with pytest.raises(Unreadable):
        measure(unit)


UNITS = {
    "v": "m/min",
    "d": "mm",
    "a": "deg",
    "r": "mm",
    "t1": "degC",
    "t2": "degC",
    "alpha": "um/(m K)",
    "m": "kg",
    "n": "rpm",
    "k": "K",
    "f": "N",
    "area": "mm2/s",
}


def units_of(*names):
    return {name: measure(UNITS[name]) for name in names}


MORE = {
    **{name: measure(unit) for name, unit in UNITS.items()},
    "inch": measure("in"), "rad": measure("rad"), "flag": YES_OR_NO, "dial": measure("mm"), "dial.left": measure("mm"), "dial.right": measure("mm"),
    "heat": measure("degC"), "heat.front": measure("degC"), "heat.rear": measure("degC"),
}  # fmt: skip
"""Names of every kind: lengths in two units, a yes or no, and readings at two places."""


# (formula, unit of the result, its names, plain numbers over quantities): by dimension analysis, checked by hand.
FACTORS = [
    ("mm_per_m*v/(pi*d)", "rpm", ["v", "d"], 1), ("v/(pi*d)", "rpm", ["v", "d"], 1e-3), ("1000*v/(pi*d)", "rpm", ["v", "d"], 1e-3),
    ("r*sin(a)", "mm", ["r", "a"], 1), ("r*a/deg_per_rad", "mm", ["r", "a"], 1), ("alpha*r*(t2 - t1)", "um", ["alpha", "r", "t1", "t2"], 1000),
    ("m*g", "N", ["m"], 1), ("m*g", "kN", ["m"], 1000), ("(t1 - t2)/2", "K", ["t1", "t2"], 1),
]  # fmt: skip


@pytest.mark.parametrize("written, unit, names, right", FACTORS)
def test_a_missing_or_wrong_conversion_shows_as_a_factor(written, unit, names, right):
    node, units = formula(written), units_of(*names)
    assert measured(node, units).exponents == measure(unit).exponents
    assert factor(node, units, measure(unit), {name: [] for name in names}) == pytest.approx(right, rel=1e-9)


@pytest.mark.parametrize(
    "written, words",
    [
        ("r + t1", "this adds a length (mm) and a temperature (°C)"), ("sin(r)", "sin takes an angle, here it has a length (mm)"), ("t1 + t2", "two temperatures on a scale are added"),
        ("t1*2", "a temperature on a scale is multiplied or divided"), ("r > m", "this compares a length (mm) and a mass (kg)"), ("sqrt(r)", "the root of a length (mm) measures nothing known"),
        ("r if m else d", "a condition is wanted here"), ("q + 1", '"q" is not an input, a constant or an earlier result'), ("atan(r)", "atan takes a plain number, here it has a length (mm)"),
        ("dial + r", '"dial" has several values'), ("r < inch", "this compares a length (mm) and a length (in), two different units"), ("max(r, inch)", "this compares a length (mm) and a length (in), two different units"),
        ("r if r > 0 else inch", "this chooses between a length (mm) and a length (in), two different units"), ("sin(rad)", "sin takes degrees"), ("-flag", "a yes or no is used as a number"),
        ("flag + flag", "a yes or no is used as a number"), ("flag**2", "a yes or no is used as a number"), ("sqrt(flag)", "a yes or no is used as a number"),
        ("flag*r", "a yes or no is multiplied"), ("(t1 - t2) - t1", "a temperature on a scale is taken away from a difference"), ("sum(heat)", "temperatures on a scale are added"),
        ("t1 > 0", "this compares a temperature (°C) and a plain number"), ("flag > r", "this compares a yes or no and a length (mm)"), ("ln(area)", "ln takes a plain number, here it has a viscosity (mm²/s)"),
        ("d*r + d", "this adds length^2 (mm·mm) and a length (mm)"), ("v/d + n*r", "this adds a rotation (m/min/mm) and a speed (rpm·mm)"), ("r + a", "this adds a length (mm) and an angle (°)"), ("max(r, m)", "this compares a length (mm) and a mass (kg)"),
    ],
)  # fmt: skip
def test_what_cannot_be_measured_together_is_said(written, words):
    with pytest.raises(FormulaFault) as fault:
        measured(formula(written), MORE)
    assert fault.value.what == words


@pytest.mark.parametrize(
    "written",
    [
        "max(0, r)",
        "r > 0",
        "r if r > 0 else 0",
        "mean(dial) + r",
        "dial.left - r",
        "r if flag else inch*mm_per_in",
        "spread(heat) + (t1 - t2)",
    ],
)
def test_what_can_be_measured_together_is_let_through(written):
    assert measured(formula(written), MORE)


def test_named_constants_are_what_their_units_say():
    for name, (number, unit) in CONSTANTS.items():
        if unit and name != "g":
            assert number * measure(unit).size == pytest.approx(
                measure("deg").size * number if name == "deg_per_rad" else 1, rel=1e-12
            ), name
