"""Formulas in ordinary arithmetic, read once. A formula can only calculate: it cannot call, import, loop or look anything up.

numbers      12.7   0.05
names        of inputs, constants and earlier results; `thread.pitch_mm` for a column of what was chosen, `dial.left` for
             a reading at one of its places
arithmetic   + - * /   brackets   ** with a whole number from -9 to 9
comparison   < <= > >= == !=   and   or   not
conditional  A if CONDITION else B
functions    sqrt abs min max round   ln exp   sin cos tan asin acos atan (degrees)
readings     mean largest smallest spread sum count   over a reading repeated at several places
constants    pi, and those of CONSTANTS
"""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from math import isfinite, pi

LONGEST = 500
"""Characters of a formula that are read."""
DEEPEST = 30
"""Brackets inside brackets that are read."""
DEEPEST_TREE = 60
"""Operations inside operations that are read: a chain of minus signs has no brackets and is as deep."""
LARGEST = 1e15
"""Numbers beyond it, written or worked out, are out of all proportion for a workshop and cannot be shown to the last digit."""
NOT_ARITHMETIC = re.compile(
    r"[^\x20-\x7e]|[#\\;`$]|\b0[xXoObB]|(?<![A-Za-z0-9_.])[\d.]*\d_|(?<![A-Za-z0-9_.])[\d.]*\d[jJ]\b"
)
"""What Python would read and a calculator would not: look-alike letters, remarks, other ways of writing numbers."""

FUNCTIONS: dict[str, tuple[int, int]] = {
    "sqrt": (1, 1), "abs": (1, 1), "min": (2, 9), "max": (2, 9), "round": (1, 2), "sin": (1, 1), "cos": (1, 1), "tan": (1, 1),
    "asin": (1, 1), "acos": (1, 1), "atan": (1, 1), "ln": (1, 1), "exp": (1, 1),
}  # fmt: skip
"""Functions of numbers, with the fewest and the most arguments."""
OVER_READINGS = ("mean", "largest", "smallest", "spread", "sum", "count")
"""Functions of one repeated reading."""

CONSTANTS: dict[str, tuple[float, str]] = {
    "pi": (pi, ""),
    "mm_per_m": (1000.0, "mm/m"),
    "mm_per_in": (25.4, "mm/in"),
    "um_per_mm": (1000.0, "um/mm"),
    "thou_per_in": (1000.0, "thou/in"),
    "in_per_ft": (12.0, "in/ft"),
    "min_per_h": (60.0, "min/h"),
    "s_per_min": (60.0, "s/min"),
    "deg_per_rad": (180 / pi, "deg"),
    "ml_per_l": (1000.0, "ml/l"),
    "mm3_per_l": (1e6, "mm3/l"),
    "N_per_kN": (1000.0, "N/kN"),
    "kg_per_t": (1000.0, "kg/t"),
    "percent_per_one": (100.0, "percent"),
    "g": (9.80665, "m/s2"),
}
"""Named constants with their unit: what turns one unit into another is said by name, so that it can be checked.
g is the standard acceleration of free fall (CGPM 1901); the others are exact by definition."""


class FormulaFault(ValueError):
    """A formula that is refused; the message says what and why, `hint` what to write instead, `at` the place in it from 0."""

    def __init__(self, what: str, at: int = 0, hint: str = "") -> None:
        self.what, self.at, self.hint = what, at, hint
        super().__init__(what)


@dataclass(frozen=True)
class Num:
    """A number as written."""

    value: float
    written: str
    at: int = 0


@dataclass(frozen=True)
class Name:
    """An input, constant or result; `part` is a column of a choice or a place of a repeated reading."""

    id: str
    part: str = ""
    at: int = 0


@dataclass(frozen=True)
class Sign:
    """A minus before a value."""

    inner: Node
    at: int = 0


@dataclass(frozen=True)
class Calc:
    """left + - * / right."""

    op: str
    left: Node
    right: Node
    at: int = 0


@dataclass(frozen=True)
class Power:
    """base to a whole number from -9 to 9."""

    base: Node
    exponent: int
    at: int = 0


@dataclass(frozen=True)
class Call:
    """A function of FUNCTIONS or OVER_READINGS."""

    function: str
    args: tuple[Node, ...]
    at: int = 0


@dataclass(frozen=True)
class Compare:
    """left < <= > >= == != right."""

    op: str
    left: Node
    right: Node
    at: int = 0


@dataclass(frozen=True)
class Logic:
    """`and`, `or` over parts; `not` over one."""

    op: str
    parts: tuple[Node, ...]
    at: int = 0


@dataclass(frozen=True)
class Choose:
    """yes if condition else no."""

    condition: Node
    yes: Node
    no: Node
    at: int = 0


Node = Num | Name | Sign | Calc | Power | Call | Compare | Logic | Choose

OPERATORS = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}
COMPARISONS = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!="}
KINDLY = {
    "^": ("^ is not a power here", "write ** for a power, or x*x"),
    "×": ("× is not read", "write *"), "÷": ("÷ is not read", "write /"), "−": ("a long minus is not read", "write -"),
    "√": ("√ is not read", "write sqrt(...)"), "π": ("π is not read", "write pi"), "²": ("² is not read", "write **2"),
    "³": ("³ is not read", "write **3"),
}  # fmt: skip


def formula(written: str) -> Node:
    """WRITTEN as a formula, on one line or several.

    Raises FormulaFault, in words, for anything that is not ordinary arithmetic; its place counts from the first sign that is no space.
    """
    text = re.sub(r"\s", " ", written).strip()
    if not text:
        raise FormulaFault("nothing is written here", 0, "write a formula such as (d - a) / 2")
    if len(text) > LONGEST:
        raise FormulaFault(
            f"the formula is longer than {LONGEST} characters", 0, "give a part of it a name as a result of its own"
        )
    for sign, (what, hint) in KINDLY.items():
        if sign in text:
            raise FormulaFault(what, text.index(sign), hint)
    if odd := NOT_ARITHMETIC.search(text):
        raise FormulaFault(
            f'"{odd[0]}" is not read in a formula', odd.start(), "plain letters, digits and the signs of arithmetic"
        )
    _shallow(text)
    try:
        tree = ast.parse(text, mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError) as fault:
        column = getattr(fault, "offset", None) or 1
        raise FormulaFault(
            _syntax_words(text, column), max(0, column - 1), "write it as on a calculator, such as 2*(a + b)/c"
        ) from None
    _not_too_deep(tree.body)
    return _node(tree.body)


def names(node: Node) -> list[Name]:
    """Every name in the formula, in order."""
    if isinstance(node, Name):
        return [node]
    return [name for child in children(node) for name in names(child)]


def children(node: Node) -> tuple[Node, ...]:
    """What stands directly inside a node."""
    match node:
        case Sign(inner):
            return (inner,)
        case Calc(_, left, right) | Compare(_, left, right):
            return (left, right)
        case Power(base, _):
            return (base,)
        case Call(_, args):
            return args
        case Logic(_, parts):
            return parts
        case Choose(condition, yes, no):
            return (condition, yes, no)
    return ()


def _shallow(text: str) -> None:
    depth = 0
    for at, sign in enumerate(text):
        depth += (sign == "(") - (sign == ")")
        if depth > DEEPEST:
            raise FormulaFault(
                f"more than {DEEPEST} brackets stand inside each other",
                at,
                "give a part of it a name as a result of its own",
            )


def _not_too_deep(tree: ast.expr) -> None:
    level: list[ast.AST] = [tree]
    for _ in range(DEEPEST_TREE):
        level = [child for one in level for child in ast.iter_child_nodes(one)]
        if not level:
            return
    raise FormulaFault(
        "too many operations stand inside each other", 0, "give a part of it a name as a result of its own"
    )


def _syntax_words(text: str, column: int) -> str:
    if text.count("(") != text.count(")"):
        more = "(" if text.count("(") > text.count(")") else ")"
        return f'there are more "{more}" than "{")" if more == "(" else "("}"'
    near = text[max(0, column - 8) : column + 8].strip()
    return f'this is not arithmetic near "{near}"'


def _node(tree: ast.expr) -> Node:
    at = tree.col_offset
    match tree:
        case ast.Constant(value=bool()) | ast.Name(id="True" | "False"):
            raise FormulaFault("yes and no are given by an input, not written in a formula", at, "compare with < or >")
        case ast.Constant(value=int() | float() as value):
            return _number(value, at)
        case ast.Name(id=id):
            return _name(id, at)
        case ast.Attribute(value=ast.Name(id=id), attr=part):
            return Name(_name(id, at).id, part, at)
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return Sign(_node(inner), at)
        case ast.UnaryOp(op=ast.UAdd(), operand=inner):
            return _node(inner)
        case ast.UnaryOp(op=ast.Not(), operand=inner):
            return Logic("not", (_node(inner),), at)
        case ast.BinOp(left=base, op=ast.Pow(), right=exponent):
            return Power(_node(base), _exponent(exponent), at)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OPERATORS:
            return Calc(OPERATORS[type(op)], _node(left), _node(right), at)
        case ast.Compare(left=first, ops=ops, comparators=rest) if all(type(op) in COMPARISONS for op in ops):
            return _comparison([first, *rest], [COMPARISONS[type(op)] for op in ops], at)
        case ast.BoolOp(op=op, values=values):
            return Logic("and" if isinstance(op, ast.And) else "or", tuple(_node(v) for v in values), at)
        case ast.IfExp(test=test, body=yes, orelse=no):
            return Choose(_node(test), _node(yes), _node(no), at)
        case ast.Call():
            return _call(tree, at)
    raise FormulaFault(
        f"{_what(tree)} is not ordinary arithmetic", at, "use + - * / ** brackets, comparisons and the listed functions"
    )


def _number(value: float, at: int) -> Num:
    if abs(value) > LARGEST or not isfinite(value):
        raise FormulaFault("this number is out of all proportion", at, "write a number below 1e15")
    return Num(float(value), str(int(value)) if value == int(value) else f"{Decimal(repr(value)):f}", at)


def _name(id: str, at: int) -> Name:
    if id in FUNCTIONS or id in OVER_READINGS:
        raise FormulaFault(f"{id} is a function and wants brackets", at, f"write {id}(...)")
    return Name(id, "", at)


def _exponent(tree: ast.expr) -> int:
    sign, inner = (-1, tree.operand) if isinstance(tree, ast.UnaryOp) and isinstance(tree.op, ast.USub) else (1, tree)
    if not isinstance(inner, ast.Constant) or type(inner.value) is not int or inner.value > 9:
        raise FormulaFault(
            "a power takes a whole number from -9 to 9", tree.col_offset, "use sqrt(...) for a half power"
        )
    return sign * inner.value


def _comparison(operands: list[ast.expr], ops: list[str], at: int) -> Node:
    parts = tuple(Compare(op, _node(a), _node(b), at) for op, a, b in zip(ops, operands, operands[1:], strict=False))
    return parts[0] if len(parts) == 1 else Logic("and", parts, at)


def _call(tree: ast.Call, at: int) -> Call:
    if not isinstance(tree.func, ast.Name) or tree.keywords or any(isinstance(a, ast.Starred) for a in tree.args):
        raise FormulaFault("only the listed functions can be used, with plain arguments", at, "such as sqrt(a)")
    function, count = tree.func.id, len(tree.args)
    known = {**FUNCTIONS, **dict.fromkeys(OVER_READINGS, (1, 1))}
    if function not in known:
        near = get_close_matches(function, known, 1, 0.55)
        hint = f"did you mean {near[0]}(...)?" if near else f"there are {', '.join(known)}"
        raise FormulaFault(f'"{function}" is not a function of formulas', at, hint)
    fewest, most = known[function]
    if not fewest <= count <= most:
        wanted = str(fewest) if fewest == most else f"{fewest} to {most}"
        raise FormulaFault(f"{function} takes {wanted} value{'' if wanted == '1' else 's'}, here it has {count}", at)
    args = tuple(_node(arg) for arg in tree.args)
    if function in OVER_READINGS and not (isinstance(args[0], Name) and not args[0].part):
        raise FormulaFault(f"{function} takes the name of one repeated reading", at, f"such as {function}(dial)")
    if function == "round" and count == 2 and not (isinstance(args[1], Num) and args[1].value in range(7)):
        raise FormulaFault("round takes a whole number of decimals from 0 to 6", at, "such as round(a, 2)")
    return Call(function, args, at)


def _what(tree: ast.expr) -> str:
    kinds = {"Subscript": "picking with [ ]", "Lambda": "a function", "ListComp": "a loop", "GeneratorExp": "a loop", "Dict": "a mapping",
             "List": "a list", "Tuple": "a list of values", "Constant": "text", "JoinedStr": "text", "NamedExpr": "setting a name", "Attribute": "a name of a name",
             "BinOp": "this operation", "UnaryOp": "this sign", "Compare": "this comparison"}  # fmt: skip
    return kinds.get(type(tree).__name__, "this")
