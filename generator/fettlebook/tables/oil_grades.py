"""Reading an oil's name: four number systems that look alike, and the slips between them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue
from fettlebook.tables.oil_words import WORDS, say
from fettlebook.tables.viscosity import (
    INDEX_THINNEST,
    Line,
    OutOfRange,
    line_through,
    v40_from_index,
    v100_from_index,
)

NAME = re.compile(r"(ISO VG|ISO|VG|SAE|AGMA)? ?(?:NO\.? ?)?([0-9]+[AW]?)(?: ?([0-9]+))?( ?GEAR| ?ENGINE| ?COMP| ?EP)?")
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
        raise BadValue(parameter, say("unknown", shown=shown), say("hint"))
    system, number, second, word = (part.strip() if part else "" for part in read.groups())
    if not system and second and number.endswith("W"):  # only SAE has winter numbers
        system = "SAE"
    if not system:
        raise BadValue(parameter, _without_a_system(shown, number + ("-" + second if second else "")), say("hint"))
    if system == "SAE":
        return _sae(parameter, shown, number, second, word)
    if second or word in {"GEAR", "ENGINE"}:
        raise BadValue(parameter, say("mixed", shown=shown), say("hint"))
    here = "AGMA" if system == "AGMA" else "ISO VG"
    if f"{here} {number}" not in grades():
        raise BadValue(parameter, _not_in_system(shown, number, here), say("hint"))
    return grades()[f"{here} {number}"]


def measured_oil(v40_mm2_s: float) -> Oil:
    """An oil of a viscosity read off its data sheet, at 40 degC [mm2/s]."""
    return Oil(say("measured", v40=f"{v40_mm2_s:g}"), "", 40, v40_mm2_s)


def _measured(parameter: str, shown: str, v40_mm2_s: float) -> Oil:
    if not INDEX_THINNEST < v40_mm2_s <= 10000:
        raise BadValue(parameter, say("outside", shown=shown))
    return measured_oil(v40_mm2_s)


def _numbers(group: str) -> tuple[str, ...]:
    return tuple(str(row["number"]) for row in data.rows("oils", group))


HOMES = (("iso", "ISO VG {}", ""), ("engine", "SAE {} (engine oil)", ""), ("engine_winter", "SAE {} (engine oil)", ""),
         ("engine_winter", "SAE {}W (engine oil)", "W"), ("gear", "SAE {} gear", ""), ("gear_winter", "SAE {} gear", ""),
         ("gear_winter", "SAE {}W gear", "W"), ("agma", "AGMA {}", ""))  # fmt: skip
"""Where a bare number may be at home: the group of data/oils.yml, how one writes it, and what it ends in there."""


def _homes(number: str) -> list[str]:
    """Every system in which a bare number is a grade, as one writes it there."""
    return [form.format(number) for group, form, end in HOMES if number + end in _numbers(group)]


def _without_a_system(shown: str, number: str) -> str:
    homes = _homes(number)
    return say(f"bare{min(len(homes), 2)}", shown=shown, homes=" or ".join(homes))


def _not_in_system(shown: str, number: str, here: str) -> str:
    others = " or ".join(home for home in _homes(number) if not home.startswith(here))
    known = ", ".join(_numbers("agma" if here == "AGMA" else "iso"))
    also = say("also", homes=others) if others else ""
    return say("not_there", shown=shown, system=here, number=number, also=also, known=known)


def _sae(parameter: str, shown: str, number: str, second: str, word: str) -> Oil:
    """An SAE grade, engine or gear; the slip of an ISO VG number called an SAE one is explained."""
    hot = second or number
    if bool(second) != number.endswith("W"):
        what = say("turned" if second else "winter", shown=shown, number=number, second=second)
        raise BadValue(parameter, what, say("sheet"))
    system = _sae_system(number, hot, word)
    if system is None and hot in _numbers("iso"):
        raise BadValue(parameter, say("slip", shown=shown, number=hot), say("slip_hint", number=hot))
    if system is None:
        known = {group: ", ".join(_numbers(group)) for group in ("engine", "gear")}
        raise BadValue(parameter, say("no_sae", shown=shown, number=hot, **known), say("hint"))
    if f"SAE {hot} {system}" not in grades():
        raise BadValue(parameter, say("no_middle", shown=shown), say("sheet"))
    same = grades()[f"SAE {hot} {system}"]
    return replace(same, name=f"SAE {number}-{second} {system}", multigrade=True) if second else same


def _sae_system(number: str, hot: str, word: str) -> str | None:
    """engine or gear, or None where SAE has no such number in either."""
    for system in ("engine", "gear"):
        wanted = word in {"", system.upper()} or (word == "EP" and system == "gear")
        winter = not number.endswith("W") or number in _numbers(f"{system}_winter")
        if wanted and winter and hot in _numbers(system):
            return system
    return None


def line_of(oil: Oil, index: float | None, parameter: str = "index") -> tuple[Line, float]:
    """An oil's line and the index taken for it (the assumed one where None is given). Raises BadValue."""
    if index is None and oil.multigrade:
        raise BadValue(parameter, say("multigrade", name=oil.name), say("multigrade_hint"))
    taken = assumed_index() if index is None else index
    try:
        return oil.line(taken), taken
    except OutOfRange as fault:
        raise BadValue(parameter, f"{oil.name}: {fault}", say("two")) from None


def assumed_index() -> float:
    """Viscosity index taken for a mineral shop oil without a data sheet. Source: makers' data sheets, from memory."""
    return float(data.read("oils")["index"]["assumed"])


def oil_figures() -> dict[str, Any]:
    """What the browser needs to read grades and work out viscosities: the grades, the numbers of each system, L and H."""
    oils, index = data.read("oils"), data.read("viscosity-index")
    groups = ("iso", "engine", "engine_winter", "gear", "gear_winter", "agma")
    return {
        "grades": [[oil.name, oil.system, oil.at_c, oil.v_mm2_s, oil.low, oil.high] for oil in grades().values()],
        "numbers": {group: [str(row["number"]) for row in oils[group]] for group in groups},
        "index": index["rows"],
        "above": index["above_70"],
        "assumed": assumed_index(),
        "homes": HOMES,
        "words": WORDS,
    }
