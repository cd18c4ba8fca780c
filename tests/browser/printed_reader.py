"""A reader of printed formulas that knows nothing of how they are written: MathML, what Typst made of its text, and the one-line form.

Each is turned into a tree of what stands on the paper: texts, and {"f": kind, "a": [parts]} for a fraction, a power, a root, a pair of
brackets. `meaning` reads that by the ordinary rules of arithmetic, as a person would, into a function of the values by name.
"""

import math
import re
from xml.etree import ElementTree

FUNCTIONS = {
    "sin": lambda x: math.sin(math.radians(x)), "cos": lambda x: math.cos(math.radians(x)), "tan": lambda x: math.tan(math.radians(x)),
    "sin⁻¹": lambda x: math.degrees(math.asin(x)), "cos⁻¹": lambda x: math.degrees(math.acos(x)), "tan⁻¹": lambda x: math.degrees(math.atan(x)),
    "abs": abs, "min": min, "max": max, "ln": math.log, "exp": math.exp, "√": math.sqrt,
    "mean": lambda r: sum(r) / len(r), "largest": max, "smallest": min, "spread": lambda r: max(r) - min(r), "sum": sum, "count": len,
}  # fmt: skip
COMPARED = {
    "<": lambda a, b: a < b, "≤": lambda a, b: a <= b, ">": lambda a, b: a > b, "≥": lambda a, b: a >= b,
    "=": lambda a, b: a == b, "≠": lambda a, b: a != b,
}  # fmt: skip
NUMBER = re.compile(r"\d+(\.\d+)?")
WHOLE = {"rounded": 0}


def half_up(x, decimals=0.0):
    """Rounded to so many decimals, a half away from nought, on the number as the machine holds it."""
    from decimal import ROUND_HALF_UP, Decimal, localcontext

    with localcontext() as context:
        context.prec = 60
        return float(Decimal(x).quantize(Decimal(1).scaleb(-int(decimals)), rounding=ROUND_HALF_UP))


FUNCTIONS["rounded"] = half_up


def from_mathml(text):
    def tree(e):
        if e.tag in {"mi", "mn", "mo", "mtext"}:
            return e.text
        parts = [tree(child) for child in e]
        return {"f": {"mfrac": "frac", "msup": "pow", "msqrt": "root"}[e.tag], "a": parts} if e.tag != "mrow" else parts

    return tree(ElementTree.fromstring(f"<mrow>{text}</mrow>"))


PIECE = re.compile(
    r"\s*(sin⁻¹|cos⁻¹|tan⁻¹|, else|[A-Za-zπ_][A-Za-z0-9_.]*|\d+(?:\.\d+)?|[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+|[()√,×÷+−<>≤≥=≠])"
)
RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")


def from_line(text):
    found, at = [], 0
    while at < len(text):
        piece = PIECE.match(text, at)
        assert piece, text[at:]
        found.append({"f": "raised", "a": piece[1].translate(RAISED)} if piece[1][0] in "⁻⁰¹²³⁴⁵⁶⁷⁸⁹" else piece[1])
        at = piece.end()
    return found


def flat(tree):
    """Everything on one line of the paper, white space left out."""
    if isinstance(tree, list):
        return [piece for part in tree for piece in flat(part)]
    if isinstance(tree, str):
        return [tree.strip()] if tree.strip() else []
    if tree["f"] in {"equation", "op"}:
        return flat(tree["a"])
    if tree["f"] == "lr":
        return flat(tree["a"])
    assert tree["f"] in {"frac", "pow", "root", "raised"}, tree
    return [tree]


class Reader:
    def __init__(self, tree):
        self.pieces, self.at = flat(tree), 0

    def next(self):
        return self.pieces[self.at] if self.at < len(self.pieces) else None

    def take(self, *wanted):
        found = self.next()
        if isinstance(found, str) and found in wanted:
            self.at += 1
            return found
        return None

    def whole(self):
        made = self.choice()
        assert self.next() is None, self.pieces[self.at :]
        return made

    def choice(self):
        yes = self.joined("or", lambda: self.joined("and", self.negated))
        if not self.take("if"):
            return yes
        condition = self.joined("or", lambda: self.joined("and", self.negated))
        assert self.take(", else", "else") or (self.take(",") and self.take("else"))
        no = self.choice()
        return lambda v: yes(v) if condition(v) else no(v)

    def joined(self, word, part):
        parts = [part()]
        while self.take(word):
            parts.append(part())
        if len(parts) == 1:
            return parts[0]
        return lambda v: (all if word == "and" else any)(p(v) for p in parts)

    def negated(self):
        if self.take("not"):
            inner = self.negated()
            return lambda v: not inner(v)
        left = self.sum()
        sign = self.take(*COMPARED)
        if not sign:
            return left
        right = self.sum()
        return lambda v: COMPARED[sign](left(v), right(v))

    def sum(self):
        made = self.product()
        while sign := self.take("+", "−"):
            made = self.worked(sign, made, self.product())
        return made

    def product(self):
        made = self.signed()
        while sign := self.take("×", "÷"):
            made = self.worked(sign, made, self.signed())
        return made

    @staticmethod
    def worked(sign, a, b):
        return {
            "+": lambda v: a(v) + b(v),
            "−": lambda v: a(v) - b(v),
            "×": lambda v: a(v) * b(v),
            "÷": lambda v: a(v) / b(v),
        }[sign]

    def signed(self):
        if self.take("−"):
            inner = self.signed()
            return lambda v: -inner(v)
        base = self.value()
        raised = self.next()
        if isinstance(raised, dict) and raised["f"] == "raised":
            self.at += 1
            return self.power(base, int(raised["a"]))
        return base

    @staticmethod
    def power(base, exponent):
        return lambda v: base(v) ** exponent

    def value(self):
        found = self.next()
        self.at += 1
        if isinstance(found, dict):
            return self.drawn(found)
        if found == "(":
            inner = self.choice()
            assert self.take(")")
            return inner
        if NUMBER.fullmatch(found):
            return lambda v: float(found)
        if self.next() == "(" and found in FUNCTIONS:
            return self.called(FUNCTIONS[found])
        return lambda v: v[found]

    def drawn(self, found):
        parts = found["a"]
        if found["f"] == "frac":
            return self.worked("÷", meaning(parts[0]), meaning(parts[1]))
        if found["f"] == "pow":
            exponent = "".join(flat(parts[1])).replace("−", "-")
            return self.power(meaning(parts[0]), int(exponent))
        inner = meaning(parts)
        return lambda v: math.sqrt(inner(v))

    def called(self, function):
        assert self.take("(")
        args = [self.choice()]
        while self.take(","):
            args.append(self.choice())
        assert self.take(")")
        return lambda v: function(*(arg(v) for arg in args))


def meaning(tree):
    """What stands on the paper, as a function of the values by the signs that are printed."""
    return Reader(tree).whole()
