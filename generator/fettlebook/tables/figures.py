"""Writing a figure: the one place where a number is rounded, and only to be shown.

Ties go away from zero on the exact binary value, which is also what the browser's toFixed does, so page, paper and
command line show the same digits.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from functools import lru_cache

from fettlebook.tables.quantities import UNITS, convert

WIDE = Context(prec=400)
"""Enough digits for any float: the usual 28 would refuse a large number with decimals."""

INCH_DECIMALS = {0: 2, 1: 3, 2: 4, 3: 5, 4: 6}
"""Decimals of an inch that are as fine as so many decimals of a millimetre, or finer."""

OTHER_UNIT = {"mm": "in", "degC": "degF", "kg": "lb", "l": "gal_us", "m/min": "ft/min", "mm/rev": "in/rev", "mm/m": "in/ft",
              "kN": "lbf", "N": "lbf", "Nm": "lbf ft"}  # fmt: skip
"""The inch-system unit shown for each unit used inside."""

OTHER_DECIMALS = {
    "degC": {0: 0, 1: 1},
    "mm/m": {0: 3, 1: 3, 2: 4, 3: 5, 4: 6},
    "m/min": {0: 0, 1: 0},
    "kN": {0: 0, 1: 0, 2: 0, 3: 0},
    "mm/rev": {2: 4, 3: 5},
}


@lru_cache(maxsize=20_000)
def written(value: float, decimals: int) -> str:
    """VALUE with so many decimals; ties away from zero; a negative zero loses its sign.

    >>> written(171.625, 2), written(-0.001, 2)
    ('171.63', '0.00')
    """
    text = f"{Decimal(value).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP, context=WIDE):f}"
    return text.lstrip("-") if not any(sign in text for sign in "123456789") else text


def significant(value: float, digits: int = 3) -> str:
    """VALUE to so many significant digits, written without an exponent: for quantities over several decades."""
    if value == 0:
        return "0"
    return written(value, max(0, digits - 1 - Decimal(value).adjusted()))


def in_other_unit(value: float, unit: str, decimals: int) -> tuple[str, str]:
    """VALUE as the inch-system reader wants it: (digits, unit as written). The same unit when there is no other."""
    other = OTHER_UNIT.get(unit)
    if other is None:
        return written(value, decimals), UNITS[unit].written if unit in UNITS else unit
    table = OTHER_DECIMALS.get(unit, INCH_DECIMALS if unit == "mm" else {})
    return written(convert(value, unit, other), table.get(decimals, decimals)), UNITS[other].written
