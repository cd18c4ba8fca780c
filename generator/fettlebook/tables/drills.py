"""Twist drills by name: metric, inch fractions, number and letter gauge, and single sizes of a shop's own."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from math import gcd

from fettlebook import data
from fettlebook.tables.definition import BadValue
from fettlebook.tables.quantities import Unreadable, read_quantity

SERIES = ("metric", "inch", "number-letter")
MM_PER_INCH = 25.4
OTHER_NAMES = {
    "fractional": "inch",
    "fraction": "inch",
    "fractions": "inch",
    "imperial": "inch",
    "mm": "metric",
    "gauge": "number-letter",
}
"""Other names for the series of drills."""


@dataclass(frozen=True)
class Drill:
    """A drill: its name as engraved, its diameter, its series."""

    name: str
    mm: float
    series: str


def fraction_name(sixty_fourths: int) -> str:
    """An inch size as it is spoken.

    >>> fraction_name(27), fraction_name(74), fraction_name(64)
    ('27/64', '1 5/32', '1')
    """
    whole, rest = divmod(sixty_fourths, 64)
    if not rest:
        return str(whole)
    shared = gcd(rest, 64)
    return f"{whole} {rest // shared}/{64 // shared}" if whole else f"{rest // shared}/{64 // shared}"


@cache
def series(name: str) -> tuple[Drill, ...]:
    """Every drill of a series of SERIES, smallest first."""
    known = data.read("drills")
    if name == "metric":
        found = []
        for low, high, step in known["metric"]:
            count = round((high - low) / step)
            found += [Drill(f"{low + n * step:.4g} mm", round(low + n * step, 4), name) for n in range(count + 1)]
        return tuple(found)
    if name == "inch":
        top = round(known["inch"]["sixty_fourths_to"] * 64)
        return tuple(Drill(fraction_name(n), n / 64 * MM_PER_INCH, name) for n in range(1, top + 1))
    gauge = [Drill(f"No. {n}", inch * MM_PER_INCH, name) for n, inch in known["number"].items()]
    gauge += [Drill(letter, inch * MM_PER_INCH, name) for letter, inch in known["letter"].items()]
    return tuple(sorted(gauge, key=lambda drill: drill.mm))


def drills_named(words: tuple[str, ...]) -> tuple[Drill, ...]:
    """The drills that a list of series and single sizes names, smallest first: `metric`, `8.5 mm`, `5/16 in`, `No. 7`, `Q`.

    Raises BadValue for a word that is neither.

    >>> [drill.name for drill in drills_named(("No. 7", "5.1 mm", "13/64 in", "Q"))]
    ['5.1 mm', 'No. 7', '13/64 in', 'Q']
    """
    found: dict[str, Drill] = {}
    for word in _joined(words):
        for drill in _named(word):
            found[drill.name] = drill
    return tuple(sorted(found.values(), key=lambda drill: (drill.mm, drill.name)))


def _joined(words: tuple[str, ...]) -> list[str]:
    """The words with what a list by spaces tore apart put together again: `8.5` `mm`, `No.` `7`."""
    text = " ".join(word.strip() for word in words) if not any(" " in word for word in words) else ""
    if not text:
        return list(words)
    return re.findall(r"(?:no\.?|#)\s*\d+|\d[\d./]*(?:\s+\d+/\d+)?\s*(?:mm|in\b|\"|thou)|\S+", text, re.IGNORECASE)


def _named(word: str) -> tuple[Drill, ...]:
    plain = " ".join(word.split())
    folded = plain.lower()
    folded = OTHER_NAMES.get(folded, folded)
    if folded == "all":
        return tuple(drill for name in SERIES for drill in series(name))
    if folded in SERIES:
        return series(folded)
    if folded in ("number", "letter", "numbers", "letters"):
        return tuple(d for d in series("number-letter") if d.name.startswith("No.") == folded.startswith("number"))
    gauge = re.fullmatch(r"(?:no\.?\s*|#\s*)(\d+)|([a-z])", folded)
    if gauge:
        name = f"No. {int(gauge[1])}" if gauge[1] else gauge[2].upper()
        if one := [drill for drill in series("number-letter") if drill.name == name]:
            return tuple(one)
    hint = 'write metric, inch, number-letter, or sizes like "8.5 mm", "5/16 in", "No. 7", "Q"'
    try:
        if "/" in folded and not re.search(r'mm|in|"', folded):
            folded += " in"
        size = read_quantity(folded, "mm")
    except Unreadable:
        raise BadValue("drills", f'"{plain[:40]}" is neither a series of drills nor a size', hint) from None
    if not 0.1 <= size <= 100:
        raise BadValue("drills", f'"{plain[:40]}" is no drill; they run from 0.1 to 100 mm', hint)
    return (Drill(plain if not plain.replace(".", "").isdigit() else f"{plain} mm", size, "own"),)
