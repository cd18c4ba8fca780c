"""Formulas as somebody would write them who means harm, and what must hold of each."""

import re
import time

from fettlebook.book.formula_units import measured
from fettlebook.book.formula_values import NoAnswer, value
from fettlebook.book.formula_writing import javascript, line, mathml, typst
from fettlebook.book.formulas import CONSTANTS, FUNCTIONS, LONGEST, OVER_READINGS, FormulaFault, formula, names
from fettlebook.book.units import measure

PIECES = [
    "a", "b", "dial", "dial.left", "t.pitch", "pi", "g", "sin", "round", "mean", "max", "exp", "__import__", "__class__", "eval", "open", "print", "lambda", "x", ":=", "for", "in",
    "yield", "await", "import", "os", "system", "constructor", "__proto__", "toString", "window", "document", "fetch", "alert", "globalThis", "F", "v", "F.get", "return", "this",
    "(", ")", "((((((((", "))))))))", "[", "]", "{", "}", ",", ".", "..", ":", ";", "`", "'", '"', '"""', "\\", "\n", "\t", "//", "/*", "*/", "<!--", "</script>", "]]>", "&lt;", "${", "$",
    "+", "-", "*", "/", "**", "%", "@", "&", "|", "^", "~", "<<", ">>", "<", "<=", "==", "!=", "===", "if", "else", "and", "or", "not", "is", "=", "=>", "!", "?",
    "1", "0", "9", "99", "1e308", "1e-308", "1e309", "0x1F", "1_000", "2j", "012", "1.", ".5", "9**9", "**9**9**9", "999999999999999", "\u2028", "\u2029", "\u202e", "\uff41", "½", "²", "π", "\x00", "nan", "inf", "True", "None",
]  # fmt: skip
READINGS = {"a": 3.0, "b": 0.5, "x": -1.0, "dial": {"left": 1.0, "right": 2.0}, "t": {"pitch": 1.75}}
MEASURES = {"a": measure("mm"), "b": measure(""), "x": measure("mm"), "dial": measure("mm"), "dial.left": measure("mm"), "t.pitch": measure("mm")}  # fmt: skip
LONGEST_S = 0.5
"""A formula takes well under a hundredth of a second; a busy machine is allowed for."""
SCRIPT = re.compile(
    r'F\.(?:get|mean|largest|smallest|spread|sum|count)\(v,"[A-Za-z_]\w*"(?:,"[A-Za-z_]\w*")?\)|F\.(?:div|pow|sqrt|abs|min|max|round|ln|exp|a?sin|a?cos|a?tan)\('
    r"|\d+(?:\.\d+)?(?:e[-+]?\d+)?|[!=]==|[-+*/(),?:!]|[<>]=?|&&|\|\|"
)
"""All that the page's script of a formula may be made of."""


def hostile_text(chance):
    """A formula that may be anything: pieces at random, a good one broken, or one that is only deep or long."""
    kind = chance.randrange(6)
    if kind == 0:
        n = chance.randint(1, 700)
        return chance.choice(["(" * n + "a" + ")" * n, "-" * n + "a", "not " * n + "a", "a" + "+a" * n, "9" + "**9" * n, "abs(" * n + "a" + ")" * n,
                              "a if a else " * n + "a", "a" * n, "9" * n, "a." * n + "a", "a<" * n + "a", "[" * n, "{" * n, "a and " * n + "a"])  # fmt: skip
    text = " ".join(chance.choice(PIECES) for _ in range(chance.randint(1, 14)))
    if kind < 3:
        return text
    good = chance.choice(
        [
            "(a - b*x)/2",
            "max(a, mean(dial))*sin(b)",
            "a if a > x else round(x, 2)",
            "sqrt(a**2 + x**2)/t.pitch",
            "9**9*9**9*9**9*a",
        ]
    )
    at = chance.randrange(len(good) + 1)
    return good[:at] + chance.choice(PIECES) + good[at + chance.randint(0, 3) :]


def read_and_try(text):
    """Read TEXT; if it is read, it is short, plain arithmetic in known functions, and every way of writing it holds nothing else."""
    start = time.perf_counter()
    try:
        node = formula(text)
    except FormulaFault as fault:
        assert fault.what and "Traceback" not in fault.what and 0 <= fault.at <= len(text)
        node = None
    if node is not None:
        _only_calculates(node, text)
    assert time.perf_counter() - start < LONGEST_S, text


def _only_calculates(node, text):
    assert len(text.strip()) <= LONGEST
    try:
        found = value(node, READINGS)
        assert isinstance(found, (bool, float, int)) and abs(found) <= 1e15
    except NoAnswer as fault:
        assert str(fault)
    try:
        measured(node, MEASURES)
    except FormulaFault as fault:
        assert fault.what
    script = javascript(node)
    assert SCRIPT.sub("", script) == "", script
    assert "<" not in re.sub(r"</?(?:mrow|mi|mn|mo|mtext|mfrac|msup|msqrt)>", "", mathml(node, {}))
    plain = re.sub(r'"[^"\\]*"', "", typst(node, {}))
    assert not re.search(r"[#\\$`]", plain) and set(re.findall(r"[a-z]+", plain)) <= {
        "frac",
        "times",
        "sqrt",
        "op",
        "display",
    }, plain
    assert line(node, lambda name: name.id)
    allowed = {*FUNCTIONS, *OVER_READINGS}
    assert not [name.id for name in names(node) if name.id in allowed - set(CONSTANTS)]
