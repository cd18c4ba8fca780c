"""Formulas that mean harm, a few thousand in every run; the long run is tests/fuzz/test_formulas.py."""

import subprocess
import sys
from pathlib import Path
from random import Random

import pytest
from hostile import hostile_text, read_and_try

from fettlebook.book.formulas import FormulaFault, formula


@pytest.mark.parametrize("seed", range(4))
def test_a_hostile_formula_is_refused_in_words_or_only_calculates(seed):
    chance = Random(1000 + seed)
    for _ in range(1500):
        read_and_try(hostile_text(chance))


NAMED = [
    '__import__("os").system("true")', "().__class__.__bases__", "(lambda: 1)()", "[a for a in dial]", "open('/etc/passwd')", "exec('1')",
    "9**9**9", "9**999999999", "a if a else __import__", "F.constructor('return 1')()", "v['a']", "`${1}`", "a;alert(1)", "</script><script>alert(1)",
    "(" * 10000, "a" * 10**6, "1e999", "yield a", "await a", "a := 1", "print(a)", "a\x00b", "a.b.c", "a()", "a.b()", "sin.a", "f'{a}'",
]  # fmt: skip


@pytest.mark.parametrize("text", NAMED, ids=[text[:24] for text in NAMED])
def test_what_calls_imports_loops_or_reaches_out_is_refused(text):
    try:
        formula(text)
    except FormulaFault as fault:
        assert fault.what
    else:
        # Names of parts look harmless and are: they are looked up in the readings alone.
        assert text in {"a if a else __import__"}
        read_and_try(text)


def test_a_formula_cannot_exhaust_memory():
    """The largest that is read, worked with the largest readings, under a limit of memory that a runaway power would break at once."""
    program = """
import resource
resource.setrlimit(resource.RLIMIT_AS, (600 * 2**20,) * 2)
from fettlebook.book.formulas import formula, FormulaFault
from fettlebook.book.formula_values import value, NoAnswer
for text in ("*".join(["a**9"] * 40), "9**9*" * 50 + "1", "(" * 30 + "a" + "**9)" * 30, "9" * 499, "max(" * 29 + "a" + ",a)" * 29):
    try:
        print(value(formula(text), {"a": 1e15}))
    except (FormulaFault, NoAnswer) as fault:
        print(fault)
"""
    source = str(Path(sys.modules["fettlebook"].__file__).parent.parent)
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, timeout=60, env={"PYTHONPATH": source}
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == ["the result is too large to be written"] * 2 + [
        "the result is too large to be written",
        "this number is out of all proportion",
        "1000000000000000.0",
    ]
