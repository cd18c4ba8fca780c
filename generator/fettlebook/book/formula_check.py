"""Whether a formula may stand for a result: read, measured, and its plain numbers held against its units."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from math import log10

from fettlebook.book.formula_units import factor, measured
from fettlebook.book.formulas import CONSTANTS, FormulaFault, Node, formula
from fettlebook.book.units import YES_OR_NO, Measure, measure


class WrongFormula(ValueError):
    """A formula that cannot stand for its result; `at` is the place in it, from 0, of what is wrong."""

    def __init__(self, what: str, rule: str, why: str = "", hint: str = "", at: int = 0) -> None:
        self.what, self.rule, self.why, self.hint, self.at = what, rule, why, hint, at
        super().__init__(what)


def checked(
    source: str, units: Mapping[str, Measure], shapes: Mapping[str, list[str]], wanted: Measure, unit: str
) -> tuple[Node, bool]:
    """The formula SOURCE, and whether it gives a yes or no.

    units   what each name measures, parts as `id.part`
    shapes  the parts of each name, [] for a plain one
    wanted  what the result is shown in, written as UNIT

    Raises WrongFormula.
    """
    try:
        node = formula(source)
        found = measured(node, units)
    except FormulaFault as fault:
        raise WrongFormula(fault.what, "formula", "", fault.hint or _near(fault, units), fault.at) from None
    if found is YES_OR_NO:
        return node, True
    _fits(found, wanted, unit)
    times = factor(node, units, wanted, shapes)
    if times is not None and abs(times - 1) > 1e-6:
        raise WrongFormula(
            f"the plain numbers come out {_times(times)} what the units say",
            "factor",
            "a conversion between units is missing, wrong, or written as a bare number",
            _conversion(times),
        )
    return node, False


def _fits(found: Measure, wanted: Measure, unit: str) -> None:
    if found.exponents != wanted.exponents:
        raise WrongFormula(
            f"the formula gives {found.words}, the result is written in {unit or 'plain numbers'}, {wanted.words}",
            "units",
            "what it measures must be what is shown",
            "look at each unit again",
        )
    if found.point != wanted.point and found.exponents == measure("K").exponents:
        what = "a temperature on a scale" if found.point else "a difference of temperatures"
        words = f"the formula gives {what}, the result is written in {unit}"
        raise WrongFormula(words, "units", "", "write degC for a temperature, K for a difference")


def _conversion(times: float) -> str:
    """The named constants that would put a factor right."""
    fit = [
        name
        for name, (size, unit) in CONSTANTS.items()
        if unit and name != "g" and abs(abs(log10(abs(times))) - abs(log10(size))) < 1e-6
    ]
    if fit:
        size, unit = CONSTANTS[fit[0]]
        more = f", or {', '.join(fit[1:])}" if fit[1:] else ""
        return f"use the constant {fit[0]} ({size:g} {unit}) for it{more}"
    return f"say conversions by name: {', '.join(n for n, (_, u) in CONSTANTS.items() if u and n != 'g')}"


def _near(fault: FormulaFault, units: Mapping[str, Measure]) -> str:
    name = fault.what.split('"')[1] if '"' in fault.what else ""
    near = get_close_matches(name, [*units, *CONSTANTS], 1, 0.5)
    if near:
        return f'did you mean "{near[0]}"?'
    return f"there is {', '.join(units) or 'nothing yet'}" if name else ""


def _times(times: float) -> str:
    if times < 1:
        return f"{1 / times:.6g} times less than"
    return f"{times:.6g} times"
