"""What a formula gives for given values, and the words for when it gives nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import acos, asin, atan, cos, exp, log, pi, sin, sqrt, tan
from typing import Any

from fettlebook.book.formulas import (
    CONSTANTS,
    LARGEST,
    Calc,
    Call,
    Choose,
    Compare,
    Logic,
    Name,
    Node,
    Num,
    Power,
    Sign,
)
from fettlebook.tables.figures import written

TURN = pi / 180
LARGEST_POWER = log(LARGEST)
"""Above it e to that power is too large to be written."""
TOO_LARGE = "the result is too large to be written"


class NoAnswer(ArithmeticError):
    """The formula gives nothing for these values; the message says why, in words."""


def value(node: Node, known: Mapping[str, Any]) -> float | bool:
    """The formula for KNOWN values: numbers, yes or no, lists for repeated readings, mappings for what was chosen.

    Raises NoAnswer for a missing value, a division by nothing, a root of less than nothing, or what is too large.
    """
    found = _value(node, known)
    if not isinstance(found, bool) and not abs(found) <= LARGEST:
        raise NoAnswer(TOO_LARGE)
    return found


def _value(node: Node, known: Mapping[str, Any]) -> Any:
    match node:
        case Num(number):
            return number
        case Name():
            return _named(node, known)
        case Sign(inner):
            return -_value(inner, known)
        case Calc(op, left, right):
            return _calc(op, _value(left, known), _value(right, known))
        case Power(base, exponent):
            return _power(_value(base, known), exponent)
        case Compare(op, left, right):
            return _compare(op, _value(left, known), _value(right, known))
        case Logic(op, parts):
            return _logic(op, parts, known)
        case Choose(condition, yes, no):
            return _value(yes if _value(condition, known) else no, known)
        case Call(function, args):
            return _call(function, args, known)
    raise AssertionError(node)


def _named(name: Name, known: Mapping[str, Any]) -> Any:
    if name.id not in known:
        if name.id in CONSTANTS:
            return CONSTANTS[name.id][0]
        raise NoAnswer(f"waits for {name.id}")
    found = known[name.id]
    if name.part:
        found = found.get(name.part) if isinstance(found, Mapping) else None
    if found is None:
        raise NoAnswer(f"waits for {name.id}{'.' + name.part if name.part else ''}")
    if isinstance(found, Mapping):
        raise NoAnswer(f"{name.id} has several values")
    return found


def _calc(op: str, a: float, b: float) -> float:
    if op == "+":
        return a + b
    if op == "-":
        return a - b
    if op == "*":
        return a * b
    if b == 0:
        raise NoAnswer("it would divide by nothing")
    return a / b


def _power(base: float, exponent: int) -> float:
    """Repeated products, as the browser does them, so that both give the same last digit."""
    out = 1.0
    for _ in range(abs(exponent)):
        out *= base
    if exponent < 0:
        return _calc("/", 1.0, out)
    return out


def _compare(op: str, a: float, b: float) -> bool:
    return {"<": a < b, "<=": a <= b, ">": a > b, ">=": a >= b, "==": a == b, "!=": a != b}[op]


def _logic(op: str, parts: Sequence[Node], known: Mapping[str, Any]) -> bool:
    if op == "not":
        return not _value(parts[0], known)
    if op == "and":
        return all(_value(part, known) for part in parts)
    return any(_value(part, known) for part in parts)


def _call(function: str, args: Sequence[Node], known: Mapping[str, Any]) -> float:
    if function in OVER:
        readings = _readings(args[0], known)
        return OVER[function](readings)
    numbers = [_value(arg, known) for arg in args]
    if not all(abs(number) <= LARGEST for number in numbers):
        raise NoAnswer(TOO_LARGE)
    return OF_NUMBERS[function](*numbers)


def _readings(name: Node, known: Mapping[str, Any]) -> list[float]:
    assert isinstance(name, Name)
    found = known.get(name.id)
    readings = list(found.values()) if isinstance(found, Mapping) else [found]
    known_readings = [one for one in readings if one is not None]
    if not readings or len(known_readings) < len(readings):
        raise NoAnswer(f"waits for {name.id}")
    return known_readings


def _root(x: float) -> float:
    if x < 0:
        raise NoAnswer("it would take the root of less than nothing")
    return sqrt(x)


def _logarithm(x: float) -> float:
    if x <= 0:
        raise NoAnswer("it would take the logarithm of nothing or less")
    return log(x)


def _exponential(x: float) -> float:
    if x > LARGEST_POWER:
        raise NoAnswer(TOO_LARGE)
    return exp(x)


def _arc(function: Callable[[float], float]) -> Callable[[float], float]:
    def arc(x: float) -> float:
        if not -1 <= x <= 1:
            raise NoAnswer("no angle has such a sine or cosine")
        return function(x) / TURN

    return arc


def _sum(readings: Sequence[float]) -> float:
    total = 0.0
    for reading in readings:
        total += reading
    return total


def _rounded(x: float, decimals: float = 0) -> float:
    return float(written(x, int(decimals)))


OVER: Mapping[str, Callable[[list[float]], float]] = {
    "mean": lambda r: _sum(r) / len(r),
    "largest": max,
    "smallest": min,
    "spread": lambda r: max(r) - min(r),
    "sum": _sum,
    "count": lambda r: float(len(r)),
}
OF_NUMBERS: Mapping[str, Callable[..., float]] = {
    "sqrt": _root, "abs": abs, "min": min, "max": max, "round": _rounded, "sin": lambda x: sin(x * TURN), "cos": lambda x: cos(x * TURN),
    "tan": lambda x: tan(x * TURN), "asin": _arc(asin), "acos": _arc(acos), "atan": lambda x: atan(x) / TURN, "ln": _logarithm, "exp": _exponential,
}  # fmt: skip
