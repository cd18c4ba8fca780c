"""What a formula measures, worked out from the units of its names, and whether its plain numbers agree with its units.

Two checks. Dimensions: millimetres cannot be added to degrees Celsius, the sine takes an angle. Factor: a formula is worked
with the plain numbers in the units of its inputs, as on paper; worked with whole quantities it must give the same, or a
conversion is missing or wrong (30 m/min over 20 mm needs its 1000, said as the constant mm_per_m).
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from math import isclose
from typing import Any

from fettlebook.book.formula_values import NoAnswer, value
from fettlebook.book.formulas import (
    CONSTANTS,
    OVER_READINGS,
    Calc,
    Call,
    Choose,
    Compare,
    FormulaFault,
    Logic,
    Name,
    Node,
    Num,
    Power,
    Sign,
    names,
)
from fettlebook.book.units import BASES, NOTHING, PLAIN, YES_OR_NO, Measure, measure, product

ANGLE = tuple(int(base == "angle") for base in BASES)


def measured(node: Node, units: Mapping[str, Measure]) -> Measure:
    """What the formula measures, with UNITS of its names (`thread.pitch_mm` for a part). Raises FormulaFault."""
    match node:
        case Num():
            return PLAIN
        case Name():
            return _named(node, units)
        case Sign(inner):
            return _a_number(measured(inner, units), node)
        case Calc(op, left, right) if op in "+-":
            return _added(op, measured(left, units), measured(right, units), node)
        case Calc(op, left, right):
            return _multiplied(measured(left, units), measured(right, units), 1 if op == "*" else -1, node)
        case Power(base, exponent):
            return _power(measured(base, units), exponent, node)
        case Compare(_, left, right):
            _same(measured(left, units), measured(right, units), "compares", node)
            return YES_OR_NO
        case Logic(_, parts):
            for part in parts:
                _condition(part, units)
            return YES_OR_NO
        case Choose(condition, yes, no):
            _condition(condition, units)
            return _all_alike((yes, no), units, "chooses between", node)
        case Call():
            return _call(node, units)
    raise AssertionError(node)


def factor(node: Node, units: Mapping[str, Measure], result: Measure, shapes: Mapping[str, Any]) -> float | None:
    """How many times too large the plain numbers come out against the quantities: 1.0 when the formula is right.

    shapes  for each name the list of its parts (places or columns), [] for a plain one
    gives   None when no values could be found for which the formula gives an answer

    Each name is given the same quantity twice: as a plain number in its unit, and in coherent units.
    """
    chance = random.Random(20)
    used = {name.id for name in names(node)}
    mine = {id: parts for id, parts in shapes.items() if id in used}
    constants = {id: CONSTANTS[id][0] * measure(CONSTANTS[id][1]).size for id in used - set(mine) if id in CONSTANTS}
    for _ in range(60):
        plain = {id: _any(id, parts, units, chance) for id, parts in mine.items()}
        whole = {id: _scaled(id, given, units) for id, given in plain.items()}
        try:
            by_number, by_quantity = value(node, plain), value(node, {**whole, **constants})
        except NoAnswer:
            continue
        if isinstance(by_number, bool) or isinstance(by_quantity, bool):
            return 1.0
        if by_quantity:
            return by_number * result.size / by_quantity
    return None


def _any(id: str, parts: list[str], units: Mapping[str, Measure], chance: random.Random) -> Any:
    """Some value for a name: a number, a yes or no, or a number for each of its parts."""
    if parts:
        return {part: chance.uniform(0.5, 3) for part in parts}
    return chance.random() < 0.5 if units[id] is YES_OR_NO else chance.uniform(0.5, 3)


def _scaled(id: str, given: Any, units: Mapping[str, Measure]) -> Any:
    """The same value in coherent SI units."""
    if isinstance(given, dict):
        return {part: number * units[f"{id}.{part}"].size for part, number in given.items()}
    return given if isinstance(given, bool) else given * units[id].size


def _named(name: Name, units: Mapping[str, Measure]) -> Measure:
    full = f"{name.id}.{name.part}" if name.part else name.id
    parts = [key.partition(".")[2] for key in units if key.startswith(f"{name.id}.")]
    if not name.part and parts:
        hint = f"take one of them as {name.id}.{parts[0]}, or mean({name.id}), largest({name.id}) ..."
        raise FormulaFault(f'"{name.id}" has several values', name.at, hint)
    if full in units:
        return units[full]
    if name.id in CONSTANTS and not name.part:
        return measure(CONSTANTS[name.id][1])
    raise FormulaFault(f'"{full}" is not an input, a constant or an earlier result', name.at)


def _added(op: str, a: Measure, b: Measure, node: Calc) -> Measure:
    words = "adds" if op == "+" else "takes away"
    for one in (a, b):
        _a_number(one, node)
    same = _same(a, b, words, node)
    if op == "-" and b.point and not a.point:
        raise FormulaFault("a temperature on a scale is taken away from a difference", node.at, "turn the two round")
    if a.point and b.point:
        if op == "+":
            raise FormulaFault(
                "two temperatures on a scale are added",
                node.at,
                "take a difference first, or the mean as a + (b - a)/2",
            )
        return replace(same, point=False)
    return replace(same, point=a.point or b.point)


def _same(a: Measure, b: Measure, does: str, node: Node) -> Measure:
    left, right = _without_zero(a, b, node)
    if left.exponents != right.exponents:
        raise FormulaFault(f"this {does} {a.words} and {b.words}", node.at, "both must measure the same thing")
    if not isclose(left.size, right.size, rel_tol=1e-9):
        hint = "give both in one unit, or say the conversion by name, such as mm_per_in"
        raise FormulaFault(f"this {does} {a.words} and {b.words}, two different units", node.at, hint)
    return right if left is not a else a


def _without_zero(a: Measure, b: Measure, node: Node) -> tuple[Measure, Measure]:
    """Nothing is nothing in every unit: a bare 0 takes the measure of what it is compared with (a temperature excepted)."""
    match node:
        case Compare(_, Num(0), _) if not b.point:
            return b, b
        case Compare(_, _, Num(0)) if not a.point:
            return a, a
    return a, b


def _a_number(one: Measure, node: Node) -> Measure:
    if one is YES_OR_NO:
        raise FormulaFault("a yes or no is used as a number", node.at, "write A if CONDITION else B")
    return one


def _multiplied(a: Measure, b: Measure, sign: int, node: Node) -> Measure:
    for one in (a, b):
        if one is YES_OR_NO:
            raise FormulaFault("a yes or no is multiplied", node.at, "write A if CONDITION else B")
        if one.point:
            raise FormulaFault(
                "a temperature on a scale is multiplied or divided", node.at, "use a difference of two, or give it in K"
            )
    return product(a, b, sign)


def _power(base: Measure, exponent: int, node: Power) -> Measure:
    _a_number(base, node)
    if base.point:
        raise FormulaFault(
            "a temperature on a scale is multiplied", node.at, "use a difference of two, or give it in K"
        )
    return Measure(
        tuple(x * exponent for x in base.exponents),
        base.size**exponent,
        written=base.written and f"({base.written})^{exponent}",
    )


def _over_readings(node: Call, units: Mapping[str, Measure]) -> Measure:
    name = node.args[0]
    assert isinstance(name, Name)
    if name.id not in units:
        raise FormulaFault(f'"{name.id}" is not a reading', name.at, "name an input that is read at one or more places")
    found = _a_number(units[name.id], node)
    if found.point and node.function == "sum":
        raise FormulaFault("temperatures on a scale are added", node.at, "take their mean")
    return replace(found, point=False) if node.function == "spread" else found


def _condition(node: Node, units: Mapping[str, Measure]) -> None:
    if measured(node, units) is not YES_OR_NO:
        raise FormulaFault("a condition is wanted here", node.at, "compare with < or >, or use a yes/no input")


def _call(node: Call, units: Mapping[str, Measure]) -> Measure:
    if node.function == "count":
        return PLAIN
    if node.function in OVER_READINGS:
        return _over_readings(node, units)
    args = [_a_number(measured(arg, units), node) for arg in node.args]
    if node.function in {"sin", "cos", "tan"}:
        if args[0].exponents == ANGLE and args[0].size != 1:
            raise FormulaFault(f"{node.function} takes degrees", node.at, "give the input in deg")
        if args[0].exponents != ANGLE:
            raise FormulaFault(
                f"{node.function} takes an angle, here it has {args[0].words}", node.at, "give the input in deg"
            )
        return PLAIN
    if node.function in {"asin", "acos", "atan", "ln", "exp"}:
        if args[0].exponents != NOTHING:
            raise FormulaFault(
                f"{node.function} takes a plain number, here it has {args[0].words}",
                node.at,
                "divide the two lengths first" if node.function[0] == "a" else "divide it by one of its unit first",
            )
        return measure("deg") if node.function[0] == "a" else PLAIN
    if node.function == "sqrt":
        if any(x % 2 for x in args[0].exponents):
            raise FormulaFault(f"the root of {args[0].words} measures nothing known", node.at)
        return Measure(tuple(x // 2 for x in args[0].exponents), args[0].size ** 0.5)
    if node.function in {"min", "max"}:
        return _all_alike(node.args, units, "compares", node)
    return args[0]


def _all_alike(parts: tuple[Node, ...], units: Mapping[str, Measure], does: str, node: Node) -> Measure:
    """What PARTS measure, all the same thing in one unit; a bare 0 goes with any of them but a temperature."""
    found = [measured(part, units) for part in parts]
    with_unit = [one for one, part in zip(found, parts, strict=True) if not (isinstance(part, Num) and part.value == 0)]
    if not with_unit or any(one.point for one in with_unit):
        with_unit = found
    for one in with_unit[1:]:
        _same(with_unit[0], one, does, node)
    return with_unit[0]
