"""A formula written out: for the browser as JavaScript, for the page as MathML, for people as a line, for paper as Typst math."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape

from fettlebook.book.formulas import CONSTANTS, Calc, Call, Choose, Compare, Logic, Name, Node, Num, Power, Sign
from fettlebook.tables.figures import written

ORDER = {
    "choose": 0,
    "or": 1,
    "and": 2,
    "not": 3,
    "compare": 4,
    "+": 5,
    "-": 5,
    "*": 6,
    "/": 6,
    "sign": 7,
    "power": 8,
    "atom": 9,
}
SHOWN = {"<=": "≤", ">=": "≥", "==": "=", "!=": "≠", "*": "×", "-": "−"}


def _rank(node: Node) -> int:
    match node:
        case Calc(op, _, _):
            return ORDER[op]
        case Sign():
            return ORDER["sign"]
        case Power():
            return ORDER["power"]
        case Compare():
            return ORDER["compare"]
        case Logic(op, _):
            return ORDER[op]
        case Choose():
            return ORDER["choose"]
    return ORDER["atom"]


def _bracketed(child: Node, parent: int, strict: bool = False) -> bool:
    """Whether CHILD stands in brackets inside something of rank PARENT; STRICT where something of the same rank would be read otherwise."""
    rank = _rank(child)
    return rank < parent or (strict and rank == parent)


def _raised_rank(base: Node) -> tuple[int, bool]:
    """How BASE stands under an exponent: a function in brackets too, since sin(x)² could be the sine of a square."""
    return (ORDER["atom"], True) if isinstance(base, Call) else (ORDER["power"], True)


def _right(op: str, child: Node, fractions: bool) -> bool:
    """Whether the right-hand side of OP stands in brackets. FRACTIONS: a division is drawn with a bar and holds itself together."""
    if isinstance(child, Sign):
        return True
    divided = isinstance(child, Calc) and child.op == "/"
    return _bracketed(child, ORDER[op], op == "-" or (divided and not fractions) or (op == "/" and not fractions))


def javascript(node: Node) -> str:
    """The formula as a JavaScript expression over `v` (values by name) and `F` (the functions of worksheet.js)."""
    match node:
        case Num(value):
            return repr(value)
        case Name(id, "") if id in CONSTANTS:
            return repr(CONSTANTS[id][0])
        case Name(id, part):
            return f'F.get(v,"{id}","{part}")' if part else f'F.get(v,"{id}")'
        case Sign(inner):
            return f"(-{javascript(inner)})"
        case Calc("/", left, right):
            return f"F.div({javascript(left)},{javascript(right)})"
        case Calc(op, left, right):
            return f"({javascript(left)}{op}{javascript(right)})"
        case Power(base, exponent):
            return f"F.pow({javascript(base)},{exponent})"
        case Compare(op, left, right):
            return f"({javascript(left)}{ {'==': '===', '!=': '!=='}.get(op, op) }{javascript(right)})"
        case Logic("not", parts):
            return f"(!{javascript(parts[0])})"
        case Logic(op, parts):
            return "(" + {"and": "&&", "or": "||"}[op].join(javascript(part) for part in parts) + ")"
        case Choose(condition, yes, no):
            return f"({javascript(condition)}?{javascript(yes)}:{javascript(no)})"
        case Call(function, args):
            if function in {"mean", "largest", "smallest", "spread", "sum", "count"}:
                assert isinstance(args[0], Name)
                return f'F.{function}(v,"{args[0].id}")'
            return f"F.{function}({','.join(javascript(arg) for arg in args)})"
    raise AssertionError(node)


def line(node: Node, shown: Callable[[Name], str]) -> str:
    """The formula in one line as people write it; SHOWN gives each name's sign, or its value with the numbers put in."""

    def inner(child: Node, parent: int, strict: bool = False) -> str:
        text = line(child, shown)
        return f"({text})" if _bracketed(child, parent, strict) else text

    match node:
        case Num(_, written):
            return written
        case Name():
            return shown(node)
        case Sign(x):
            return f"−{inner(x, ORDER['sign'], True)}"
        case Calc(op, left, right):
            sign = {"/": " ÷ ", "*": " × ", "+": " + ", "-": " − "}[op]
            shown_right = line(right, shown)
            return inner(left, ORDER[op]) + sign + (f"({shown_right})" if _right(op, right, False) else shown_right)
        case Power(base, exponent):
            return inner(base, *_raised_rank(base)) + _raised(exponent)
        case Compare(op, left, right):
            return f"{inner(left, ORDER['compare'], True)} {SHOWN.get(op, op)} {inner(right, ORDER['compare'], True)}"
        case Logic("not", parts):
            return f"not {inner(parts[0], ORDER['not'])}"
        case Logic(op, parts):
            return f" {op} ".join(inner(part, ORDER[op], True) for part in parts)
        case Choose(condition, yes, no):
            return f"{inner(yes, 1)} if {inner(condition, 1)}, else {inner(no, 0)}"
        case Call("sqrt", args):
            return f"√({line(args[0], shown)})"
        case Call(function, args):
            return f"{WORDS.get(function, function)}({', '.join(line(arg, shown) for arg in args)})"
    raise AssertionError(node)


WORDS = {"asin": "sin⁻¹", "acos": "cos⁻¹", "atan": "tan⁻¹", "round": "rounded"}


def _raised(exponent: int) -> str:
    return str(exponent).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))


def mathml(node: Node, signs: Mapping[str, str]) -> str:
    """The formula as presentation MathML; SIGNS are the short signs of the names."""

    def inner(child: Node, parent: int, strict: bool = False) -> str:
        return _in_mathml(child, _bracketed(child, parent, strict))

    def _in_mathml(child: Node, bracket: bool) -> str:
        made = mathml(child, signs)
        return f"<mrow><mo>(</mo>{made}<mo>)</mo></mrow>" if bracket else made

    match node:
        case Num(_, written):
            return f"<mn>{escape(written)}</mn>"
        case Name():
            sign = escape(sign_of(node, signs))
            return f"<mn>{sign}</mn>" if sign[:1].isdigit() else f"<mi>{sign}</mi>"
        case Sign(x):
            return f"<mrow><mo>−</mo>{inner(x, ORDER['sign'], True)}</mrow>"
        case Calc("/", left, right):
            return f"<mfrac>{mathml(left, signs)}{mathml(right, signs)}</mfrac>"
        case Calc(op, left, right):
            sign = {"*": "×", "+": "+", "-": "−"}[op]
            return f"<mrow>{inner(left, ORDER[op])}<mo>{sign}</mo>{_in_mathml(right, _right(op, right, True))}</mrow>"
        case Power(base, exponent):
            return f"<msup>{inner(base, *_raised_rank(base))}<mn>{str(exponent).replace('-', '−')}</mn></msup>"
        case Compare(op, left, right):
            return f"<mrow>{inner(left, ORDER['compare'], True)}<mo>{escape(SHOWN.get(op, op))}</mo>{inner(right, ORDER['compare'], True)}</mrow>"
        case Logic("not", parts):
            return f"<mrow><mtext>not&#160;</mtext>{inner(parts[0], ORDER['not'])}</mrow>"
        case Logic(op, parts):
            return (
                "<mrow>"
                + f"<mtext>&#160;{op}&#160;</mtext>".join(inner(part, ORDER[op], True) for part in parts)
                + "</mrow>"
            )
        case Choose(condition, yes, no):
            return f"<mrow>{inner(yes, 1)}<mtext>&#160;if&#160;</mtext>{inner(condition, 1)}<mtext>, else&#160;</mtext>{inner(no, 0)}</mrow>"
        case Call("sqrt", args):
            return f"<msqrt>{mathml(args[0], signs)}</msqrt>"
        case Call(function, args):
            inside = "<mo>,</mo>".join(mathml(arg, signs) for arg in args)
            return f"<mrow><mi>{escape(WORDS.get(function, function))}</mi><mo>(</mo>{inside}<mo>)</mo></mrow>"
    raise AssertionError(node)


def typst(node: Node, signs: Mapping[str, str]) -> str:
    """The formula as Typst math, no sign smaller than another. Names are quoted text, so nothing in them is markup."""

    def inner(child: Node, parent: int, strict: bool = False) -> str:
        made = typst(child, signs)
        return f"({made})" if _bracketed(child, parent, strict) else made

    match node:
        case Num(_, written):
            return written
        case Name():
            return '"' + sign_of(node, signs).replace("\\", "").replace('"', "") + '"'
        case Sign(x):
            return f"-{inner(x, ORDER['sign'], True)}"
        case Calc("/", left, right):
            return f"frac(display({typst(left, signs)}), display({typst(right, signs)}))"
        case Calc(op, left, right):
            shown_right = typst(right, signs)
            shown_right = f"({shown_right})" if _right(op, right, True) else shown_right
            return f"{inner(left, ORDER[op])} { {'*': 'times', '+': '+', '-': '-'}[op] } {shown_right}"
        case Power(base, exponent):
            return f"{inner(base, *_raised_rank(base))}^(display({exponent}))"
        case Compare(op, left, right):
            return f"{inner(left, ORDER['compare'], True)} { {'==': '=', '!=': '!='}.get(op, op) } {inner(right, ORDER['compare'], True)}"
        case Logic("not", parts):
            return f'"not " {inner(parts[0], ORDER["not"])}'
        case Logic(op, parts):
            return f' " {op} " '.join(inner(part, ORDER[op], True) for part in parts)
        case Choose(condition, yes, no):
            return f'{inner(yes, 1)} " if " {inner(condition, 1)} ", else " {inner(no, 0)}'
        case Call("sqrt", args):
            return f"sqrt({typst(args[0], signs)})"
        case Call(function, args):
            return f'op("{WORDS.get(function, function)}")({", ".join(typst(arg, signs) for arg in args)})'
    raise AssertionError(node)


def sign_of(name: Name, signs: Mapping[str, str]) -> str:
    """The short sign of a name: the worksheet's own, the figure of a constant (π for pi), or the name itself in words."""
    full = f"{name.id}.{name.part}" if name.part else name.id
    if full in signs:
        return signs[full]
    if name.id in CONSTANTS and not name.part and name.id not in signs:
        return constant_number(name.id)
    base = signs.get(name.id, name.id.replace("_", " "))
    return f"{base} {name.part.replace('_', ' ')}" if name.part else base


def constant_number(name: str) -> str:
    """How a constant of the formula language is written in a formula: π, or its figure, as in a handbook."""
    return "π" if name == "pi" else plain_number(round(CONSTANTS[name][0], 6))


def plain_number(value: float) -> str:
    """A number with every digit that it was written with, and no exponent.

    >>> plain_number(0.05), plain_number(1000.0)
    ('0.05', '1000')
    """
    digits = written(value, 12)
    return digits.rstrip("0").rstrip(".") if "." in digits else digits
