"""What a formula measures, worked out from the units of its names, and whether its plain numbers agree with its units.

Two checks. Dimensions: millimetres cannot be added to degrees Celsius, the sine takes an angle. Factor: a formula is worked
with the plain numbers in the units of its inputs, as on paper; worked with whole quantities it must give the same, or a
conversion is missing or wrong (30 m/min over 20 mm needs its 1000, said as the constant mm_per_m).
"""

from __future__ import annotations

import random
from collections.abc import Mapping
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
from fettlebook.book.units import BASES, NOTHING, PLAIN, Measure, measure

ANGLE = tuple(int(base == "angle") for base in BASES)
YES_OR_NO = Measure((9,) * len(BASES))
"""What a comparison gives; it measures nothing."""


def measured(node: Node, units: Mapping[str, Measure]) -> Measure:
    """What the formula measures, with UNITS of its names (`thread.pitch_mm` for a part). Raises FormulaFault."""
    match node:
        case Num():
            return PLAIN
        case Name():
            return _named(node, units)
        case Sign(inner):
            return measured(inner, units)
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
            return _same(measured(yes, units), measured(no, units), "chooses between", node)
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
    if full in units:
        return units[full]
    if name.id in CONSTANTS and not name.part:
        return measure(CONSTANTS[name.id][1])
    raise FormulaFault(f'"{full}" is not an input, a constant or an earlier result', name.at)


def _added(op: str, a: Measure, b: Measure, node: Calc) -> Measure:
    words = "adds" if op == "+" else "takes away"
    same = _same(a, b, words, node)
    if a.point and b.point:
        if op == "+":
            raise FormulaFault(
                "two temperatures on a scale are added",
                node.at,
                "take a difference first, or the mean as a + (b - a)/2",
            )
        return Measure(same.exponents, same.size)
    return Measure(same.exponents, same.size, a.point or b.point)


def _same(a: Measure, b: Measure, does: str, node: Node) -> Measure:
    if a.exponents != b.exponents:
        raise FormulaFault(f"this {does} {a.words} and {b.words}", node.at, "both must measure the same thing")
    return a


def _multiplied(a: Measure, b: Measure, sign: int, node: Node) -> Measure:
    for one in (a, b):
        if one is YES_OR_NO:
            raise FormulaFault("a yes or no is multiplied", node.at, "write A if CONDITION else B")
        if one.point:
            raise FormulaFault(
                "a temperature on a scale is multiplied or divided", node.at, "use a difference of two, or give it in K"
            )
    return Measure(tuple(x + sign * y for x, y in zip(a.exponents, b.exponents, strict=True)), a.size * b.size**sign)


def _power(base: Measure, exponent: int, node: Power) -> Measure:
    if base.point:
        raise FormulaFault(
            "a temperature on a scale is multiplied", node.at, "use a difference of two, or give it in K"
        )
    return Measure(tuple(x * exponent for x in base.exponents), base.size**exponent)


def _condition(node: Node, units: Mapping[str, Measure]) -> None:
    if measured(node, units) is not YES_OR_NO:
        raise FormulaFault("a condition is wanted here", node.at, "compare with < or >, or use a yes/no input")


def _call(node: Call, units: Mapping[str, Measure]) -> Measure:
    if node.function == "count":
        return PLAIN
    if node.function in OVER_READINGS:
        found = measured(node.args[0], units)
        if node.function in {"spread"}:
            return Measure(found.exponents, found.size)
        return found
    args = [measured(arg, units) for arg in node.args]
    if node.function in {"sin", "cos", "tan"}:
        if args[0].exponents != ANGLE:
            raise FormulaFault(
                f"{node.function} takes an angle, here it has {args[0].words}", node.at, "give the input in deg"
            )
        return PLAIN
    if node.function in {"asin", "acos", "atan"}:
        if args[0].exponents != NOTHING:
            raise FormulaFault(
                f"{node.function} takes a plain number, here it has {args[0].words}",
                node.at,
                "divide the two lengths first",
            )
        return measure("deg")
    if node.function == "sqrt":
        if any(x % 2 for x in args[0].exponents):
            raise FormulaFault(f"the root of {args[0].words} measures nothing known", node.at)
        return Measure(tuple(x // 2 for x in args[0].exponents), args[0].size ** 0.5)
    if node.function in {"min", "max"}:
        for one in args[1:]:
            _same(args[0], one, "compares", node)
    return args[0]
