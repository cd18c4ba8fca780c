"""Reading an oil's name: four number systems that look alike, and the slips between them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from fettlebook import data
from fettlebook.tables.definition import BadValue
from fettlebook.tables.viscosity import (
    INDEX_THINNEST,
    Line,
    OutOfRange,
    line_through,
    v40_from_index,
    v100_from_index,
)

NAME = re.compile(
    r"(ISO VG|ISO|VG|SAE|AGMA)? ?(?:NO\.? ?)?([0-9]+[AW]?)(?:[ -]?([0-9]+))?( ?GEAR| ?ENGINE| ?COMP| ?EP)?"
)
"""A grade as people write it: the system, the number, a multigrade's second number, and a word after it."""

MEASURED = re.compile(r"([0-9]+(?:[.,][0-9]+)?) ?(?:mm2/s|mm²/s|cst)(?: at 40(?: ?°?c)?)?")
"""A viscosity off a data sheet in place of a grade, taken at 40 degC."""


@dataclass(frozen=True)
class Oil:
    """An oil by its grade, or by a viscosity read off a data sheet.

    at_c        temperature at which the system sets its grades [degC]
    v_mm2_s     the middle of the grade there [mm2/s]; low and high are its limits, None where there is none
    """

    name: str
    system: str
    at_c: float
    v_mm2_s: float
    low: float | None = None
    high: float | None = None
    multigrade: bool = False

    def line(self, index: float) -> Line:
        """The oil's D341 line with a viscosity index. Raises OutOfRange."""
        if self.at_c == 40:
            return line_through(self.v_mm2_s, 40, v100_from_index(self.v_mm2_s, index), 100)
        return line_through(v40_from_index(self.v_mm2_s, index), 40, self.v_mm2_s, 100)


@cache
def grades() -> dict[str, Oil]:
    """Every grade that has a middle, by its full name: ISO VG, SAE engine, SAE gear, AGMA; thinnest first in each."""
    found = {f"ISO VG {row['number']}": _iso(row["number"], row["mid"]) for row in data.rows("oils", "iso")}
    for system in ("engine", "gear"):
        for row in data.rows("oils", system):
            if row["below"] is not None:
                name = f"SAE {row['number']} {system}"
                middle = (row["low"] * row["below"]) ** 0.5
                found[name] = Oil(name, f"SAE {system}", 100, middle, row["low"], row["below"])
    for row in data.rows("oils", "agma"):
        same = found[f"ISO VG {row['iso']}"]
        name = f"AGMA {row['number']}"
        found[name] = Oil(name, "AGMA", 40, same.v_mm2_s, same.low, same.high)
    return found


def _iso(number: int, mid: float) -> Oil:
    # The limits are short decimals; rounding takes away what binary arithmetic adds, such as 74.80000000000001.
    return Oil(f"ISO VG {number}", "ISO VG", 40, mid, round(0.9 * mid, 6), round(1.1 * mid, 6))


def iso_grades() -> tuple[Oil, ...]:
    """The ISO viscosity grades, thinnest first."""
    return tuple(oil for oil in grades().values() if oil.system == "ISO VG")


def iso_grade_of(v40_mm2_s: float) -> Oil | None:
    """The ISO grade whose limits hold a viscosity at 40 degC [mm2/s]; None in the gaps between grades and beyond them.

    Source: iso-3448. An oil of 38 mm2/s belongs to no grade: VG 32 ends at 35.2, VG 46 begins at 41.4.

    >>> iso_grade_of(45.9).name, iso_grade_of(38)
    ('ISO VG 46', None)
    """
    return next((oil for oil in iso_grades() if oil.low <= v40_mm2_s <= oil.high), None)  # type: ignore[operator]


def nearest_iso(v40_mm2_s: float, of: tuple[Oil, ...] = ()) -> Oil:
    """The ISO grade nearest in ratio to a viscosity at 40 degC [mm2/s]; the thinner one of two as near."""
    return min(of or iso_grades(), key=lambda oil: max(oil.v_mm2_s / v40_mm2_s, v40_mm2_s / oil.v_mm2_s))


def oil_named(text: str, parameter: str = "grade") -> Oil:
    """The oil that TEXT names: "ISO VG 46", "SAE 30", "SAE 90 gear", "AGMA 5", or "38 mm2/s" measured at 40 degC.

    Raises BadValue, in words, for a number without its system, a number of another system, and unknown names.
    """
    shown = " ".join(text.split())[:40]
    if measured := MEASURED.fullmatch(shown.lower()):
        return _measured(parameter, shown, float(measured.group(1).replace(",", ".")))
    folded = re.sub(r"\bOIL\b", "", re.sub(r"[\s_-]+", " ", shown.upper())).strip()
    read = NAME.fullmatch(folded)
    if not read:
        raise BadValue(parameter, f'"{shown}" is not an oil grade known here', HINT)
    system, number, second, word = (part.strip() if part else "" for part in read.groups())
    if not system:
        raise BadValue(parameter, f'"{shown}" {_without_a_system(number + ("-" + second if second else ""))}', HINT)
    if system == "SAE":
        return _sae(parameter, shown, number, second, word)
    if second or word in {"GEAR", "ENGINE"}:
        raise BadValue(parameter, f'"{shown}" mixes two number systems', HINT)
    name = f"AGMA {number}" if system == "AGMA" else f"ISO VG {number}"
    if name not in grades():
        raise BadValue(parameter, f'"{shown}": {_not_in_system(number, system)}', HINT)
    return grades()[name]


def _measured(parameter: str, shown: str, v40_mm2_s: float) -> Oil:
    if not INDEX_THINNEST < v40_mm2_s <= 10000:
        raise BadValue(parameter, f'"{shown}" lies outside {INDEX_THINNEST:g} to 10000 mm²/s at 40 °C')
    return Oil(f"{v40_mm2_s:g} mm²/s at 40 °C", "", 40, v40_mm2_s)


HINT = 'write the system and its number, like "ISO VG 46", "SAE 30", "SAE 90 gear" or "AGMA 5"'


def _numbers(group: str) -> tuple[str, ...]:
    return tuple(str(row["number"]) for row in data.rows("oils", group))


def _homes(number: str) -> list[str]:
    """Every system in which a bare number is a grade, as one writes it there."""
    homes = [f"ISO VG {number}"] if number in _numbers("iso") else []
    homes += [f"SAE {number} (engine oil)"] if number in (*_numbers("engine"), *_numbers("engine_winter")) else []
    homes += [f"SAE {number}W (engine oil)"] if f"{number}W" in _numbers("engine_winter") else []
    homes += [f"SAE {number} gear"] if number in (*_numbers("gear"), *_numbers("gear_winter")) else []
    homes += [f"SAE {number}W gear"] if f"{number}W" in _numbers("gear_winter") else []
    homes += [f"AGMA {number}"] if number in _numbers("agma") else []
    return homes


def _without_a_system(number: str) -> str:
    homes = _homes(number)
    if not homes:
        return "is a number without its system, and no system known here has that number"
    if len(homes) == 1:
        return f"is a number without its system: is {homes[0]} meant? No other system has that number"
    return f"is a number without its system: it could be {' or '.join(homes)}, which are different oils"


def _not_in_system(number: str, system: str) -> str:
    here = "AGMA" if system == "AGMA" else "ISO VG"
    others = [home for home in _homes(number) if not home.startswith(here)]
    known = ", ".join(_numbers("agma" if here == "AGMA" else "iso"))
    also = f" It is a number of another system: {' or '.join(others)}." if others else ""
    return f"{here} has no grade {number}.{also} {here} numbers are {known}"


def _sae(parameter: str, shown: str, number: str, second: str, word: str) -> Oil:
    """An SAE grade, engine or gear; the slip of an ISO VG number called an SAE one is explained."""
    hot = second or number
    if not second and number.endswith("W") or second and not number.endswith("W"):
        raise BadValue(parameter, f'"{shown}": {_winter_only(number, second)}', "give v40 from the oil's data sheet")
    system = _sae_system(number, hot, word)
    if system is None:
        raise BadValue(parameter, f'"{shown}": {_sae_slip(hot)}', _sae_hint(hot))
    name = f"SAE {hot} {system}"
    if name not in grades():
        raise BadValue(parameter, f'"{shown}" has no upper limit, so it has no middle', "give v40 from the data sheet")
    same = grades()[name]
    if not second:
        return same
    shown_name = f"SAE {number}-{second} {system}"
    return Oil(shown_name, same.system, 100, same.v_mm2_s, same.low, same.high, True)


def _sae_system(number: str, hot: str, word: str) -> str | None:
    """engine or gear, or None where SAE has no such number in either."""
    for system in ("engine", "gear"):
        wanted = word in {"", system.upper()} or (word == "EP" and system == "gear")
        winter = not number.endswith("W") or number in _numbers(f"{system}_winter")
        if wanted and winter and hot in _numbers(system):
            return system
    return None


def _winter_only(number: str, second: str) -> str:
    if second:
        return f"a multigrade begins with its winter number, like {number}W-{second}"
    return "a winter number alone sets only a lower limit at 100 °C and limits in the cold, so it names no thickness at work"


def _sae_slip(number: str) -> str:
    if number in _numbers("iso"):
        return (
            f"SAE has no grade {number}. {number} is an ISO viscosity grade: ISO VG {number} is {number} mm²/s at 40 °C "
            "(its name may be rounded). SAE numbers are set at 100 °C and mean something else, "
            "so an SAE number is never an ISO VG number"
        )
    known = f"engine oils {', '.join(_numbers('engine'))}, gear oils {', '.join(_numbers('gear'))}"
    return f"SAE has no grade {number}; it has {known}"


def _sae_hint(number: str) -> str:
    return f'write "ISO VG {number}" if the drum says so' if number in _numbers("iso") else HINT


def line_of(oil: Oil, index: float | None, parameter: str = "index") -> tuple[Line, float]:
    """An oil's line and the index taken for it (the assumed one where None is given). Raises BadValue."""
    if index is None and oil.multigrade:
        what = (
            f"{oil.name} is a multigrade: its viscosity index must be given, since the usual assumption does not hold"
        )
        raise BadValue(parameter, what, "read it off the data sheet, like 140")
    taken = assumed_index() if index is None else index
    try:
        return oil.line(taken), taken
    except OutOfRange as fault:
        raise BadValue(
            parameter, f"{oil.name}: {fault}", "give the two viscosities of the data sheet instead"
        ) from None


def assumed_index() -> float:
    """Viscosity index taken for a mineral shop oil without a data sheet. Source: makers' data sheets, from memory."""
    return float(data.read("oils")["index"]["assumed"])
