"""The units that the browser knows: the same list as the program's, as a script."""

from __future__ import annotations

from fettlebook.pages.script_data import script_data
from fettlebook.tables.figures import INCH_DECIMALS, OTHER_DECIMALS, OTHER_UNIT
from fettlebook.tables.quantities import SPELLINGS, UNITS


def units_script() -> str:
    """`units.js`: units with dimension, size, offset and writing; spellings; the inch-system counterpart of each."""
    known = {
        "units": {
            key: [unit.dimension, _short(unit.factor), _short(unit.offset), unit.written] for key, unit in UNITS.items()
        },
        "spellings": SPELLINGS,
        "other": OTHER_UNIT,
        "otherDecimals": {**OTHER_DECIMALS, "mm": INCH_DECIMALS},
    }
    return "window.fettlebookUnits=" + script_data(known, sort_keys=True) + ";\n"


def _short(number: float) -> float | int:
    """The same number without a point where it is whole, as JSON for the browser."""
    return int(number) if number == int(number) else number
