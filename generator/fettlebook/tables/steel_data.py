"""The steels of data/steels.yml as objects, and finding one by any of its names."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import cache
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite
from fettlebook.tables.quantities import convert

PREFIX = re.compile(
    r"^(aisi|sae|astm|uns|jis|din|bs ?970|bs|w\.? ?nr\.?|werkstoff(?:nummer)?|en ?10\d{3}(?:-\d)?|no\.?)[ :#-]*"
)
SUFFIX = re.compile(r"[ -]*(tool steel|carbon steel|alloy steel|steel|round bar|bar|plate|drill rod|rod)$")
COUNTRIES = ("uk", "us", "de", "jp")


@dataclass(frozen=True)
class Operation:
    """One published piece of heat treatment: what, how, between which temperatures [degC], and who says so.

    op    anneal, normalise, stress-relieve, preheat, carburise, harden, temper
    way   soft, full, water, oil, air ...
    """

    op: str
    way: str
    low_c: float
    high_c: float
    cite: Cite
    note: str = ""
    cool: str = ""
    hold: str = ""
    hb_max: float | None = None
    largest_mm: float | None = None
    twice: bool = False


@dataclass(frozen=True)
class Steel:
    """A steel: its names, typical composition [mass %] and what is published on it. `raw` is its record in the data."""

    id: str
    name: str
    kind: str
    hardens: str
    how_hardens: str
    typical: Mapping[str, float]
    operations: tuple[Operation, ...]
    composition_cite: Cite
    curve: str | None
    raw: Mapping[str, Any] = field(repr=False, compare=False)

    @property
    def carbon(self) -> float | None:
        """Typical carbon [mass %]."""
        return self.typical.get("C")

    def names(self, country: str) -> str:
        """The names of one country, one after another; nearest relatives in brackets."""
        return ", ".join(self.raw.get(country, ()))

    def spellings(self) -> list[str]:
        """Every name under which it may be asked for."""
        listed = [name for key in (*COUNTRIES, "also") for name in self.raw.get(key, ()) if not name.startswith("(")]
        return [self.id, self.name, *listed]

    def published(self, key: str) -> list[dict[str, Any]]:
        """The records under KEY (as_quenched, soak, depth, critical ...)."""
        return list(self.raw.get(key, ()))


def cite_of(record: Mapping[str, Any]) -> Cite:
    """The source of a record of the data."""
    return Cite(record["cite"], str(record.get("at", "")), record.get("how", "read"))


def span_c(record: Mapping[str, Any]) -> tuple[float, float]:
    """The temperatures of a record [degC], turned from degF where they are printed so."""
    found = record["c"] if "c" in record else [convert(f, "degF", "degC") for f in record["f"]]
    return float(found[0]), float(found[-1])


def _hold(record: Mapping[str, Any]) -> str:
    if "hold" in record:
        return str(record["hold"])
    parts = []
    if "hold_h" in record:
        parts.append(f"{record['hold_h']:g} h")
    if "hold_h_per_in" in record:
        parts.append(f"{record['hold_h_per_in']:g} h for each 25 mm")
    if "hold_min" in record:
        parts.append(f"{record['hold_min'][0]:g} to {record['hold_min'][-1]:g} min")
    return ", at least ".join(reversed(parts)) if len(parts) > 1 else "".join(parts)


def _cool(record: Mapping[str, Any]) -> str:
    rate = record.get("rate") or ([record["rate_f"] * 5 / 9] if "rate_f" in record else None)
    if not rate:
        return ""
    pace = f"{rate[0]:.0f} to {rate[-1]:.0f}" if len(rate) > 1 else f"at most {rate[0]:.0f}"
    end = record.get("to") or (convert(record["to_f"], "degF", "degC") if "to_f" in record else None)
    return f"{pace} °C/h" + (f" to {end:.0f} °C, then air" if end else "")


def _operation(record: Mapping[str, Any]) -> Operation:
    low, high = span_c(record)
    return Operation(
        record["op"], record["way"], low, high, cite_of(record), record.get("note", ""), _cool(record), _hold(record),
        record.get("hb"), record.get("largest_mm"), record.get("twice", False),
    )  # fmt: skip


def _steel(raw: Mapping[str, Any]) -> Steel:
    return Steel(
        raw["id"], raw["name"], raw["kind"], raw["hardens"], raw["how_hardens"], raw["typical"],
        tuple(_operation(record) for record in raw["operations"]), cite_of(raw["composition"]), raw.get("curve"), raw,
    )  # fmt: skip


@cache
def steels() -> tuple[Steel, ...]:
    """Every steel, in the order of the data."""
    return tuple(_steel(raw) for raw in data.rows("steels", "steels"))


def _plain(name: str) -> str:
    """A name without case, spaces, hyphens and strokes, so that `EN 8`, `en-8` and `En8` are one."""
    return re.sub(r"[\s_/()+,'’-]+", "", name.casefold())


@cache
def _by_name() -> dict[str, tuple[Steel, ...]]:
    found: dict[str, tuple[Steel, ...]] = {}
    for steel in steels():
        for name in steel.spellings():
            key = _plain(name)
            if steel not in found.get(key, ()):
                found[key] = (*found.get(key, ()), steel)
    for group in data.rows("steels", "groups"):
        found[_plain(group["name"])] = tuple(steel for key in group["means"] for steel in steels() if steel.id == key)
    return found


def names_as_compared() -> list[str]:
    """Every name that is understood, groups as well, in the form in which names are compared."""
    return list(_by_name())


def _tries(name: str) -> list[str]:
    """NAME as written, then without the words that people put around it."""
    bare = " ".join(name.casefold().split())
    found = [bare]
    for _ in range(2):
        bare = PREFIX.sub("", bare)
        found.append(bare)
        bare = SUFFIX.sub("", bare)
        found.append(bare)
    if re.fullmatch(r"1[0-9]{4}", bare):
        found.append(f"{bare[0]}.{bare[1:]}")
    return found


def meanings(name: str) -> tuple[Steel, ...]:
    """Every steel that NAME may mean (`silver steel` is two). Raises BadValue with the nearest names for an unknown one."""
    for text in _tries(name):
        if found := _by_name().get(_plain(text)):
            return found
    raise BadValue("steel", f'"{name[:40]}" is not a steel known here', _hint(name))


@cache
def known_spellings() -> dict[str, str]:
    """Every name as it is compared, and as it is written."""
    return {_plain(spelling): spelling for steel in steels() for spelling in steel.spellings()}


@cache
def relatives() -> dict[str, str]:
    """Names that stand in brackets, as they are compared, and the steel of which each is only a relative."""
    listed = [(name, s.name) for s in steels() for key in COUNTRIES for name in s.raw.get(key, ()) if name[0] == "("]
    return {_plain(name): steel for name, steel in reversed(listed)}


NEAR_ENOUGH = 0.7
"""How like a name must be to be offered: H13 must not bring up 1213, a mild steel."""

UNMARKED = "for an unmarked piece write unknown: a trial piece comes first"


def _hint(name: str) -> str:
    """What to write instead of a name that is not known."""
    bare = _plain(_tries(name)[-1])
    if bare in relatives():
        return f"it is a near relative of {relatives()[bare]}, not the same; go by its own sheet, or make a trial piece"
    near = get_close_matches(bare, list(known_spellings()), 3, NEAR_ENOUGH)
    guess = " or ".join(f'"{known_spellings()[key]}"' for key in near)
    return f"did you mean {guess}? {UNMARKED}" if near else f"the table `steels` lists those known; {UNMARKED}"


def what_to_say(name: str) -> str:
    """What must be said when NAME means more than one steel; empty otherwise."""
    found = meanings(name)
    if len(found) < 2:
        return ""
    ids = [steel.id for steel in found]
    for group in data.rows("steels", "groups"):
        if group["means"] == ids:
            return str(group["say"])
    return f'"{name}" means {" or ".join(steel.name for steel in found)}.'


def one(name: str) -> Steel:
    """The one steel that NAME means. Raises BadValue when its meanings harden differently."""
    found = meanings(name)
    quenches = {frozenset(op.way for op in steel.operations if op.op == "harden") for steel in found}
    if len(quenches) > 1:
        wanted = " or ".join(f'"{(steel.raw["us"] or steel.raw["uk"])[0].strip("()")}"' for steel in found)
        raise BadValue("steel", what_to_say(name) or f'"{name}" means several steels', f"write which: {wanted}")
    return found[0]
