"""The parts of a heating plan: reading what the shop wrote about each, and choosing quench and temper for it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from math import floor
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue
from fettlebook.tables.figures import written
from fettlebook.tables.quantities import Unreadable, read_quantity
from fettlebook.tables.steel_data import Operation, Steel, meanings, one
from fettlebook.tables.tempering_curves import curves, reach_c, temperature_for_c

KEYS = ("name", "steel", "section", "does", "hardness", "temper", "quench", "thinnest", "count")
EXAMPLE = "{name: scriber, steel: silver steel, section: 6 mm, does: scribes lines}"
MILDEST_FIRST = ("air", "oil", "water")
USUAL_TEMPER_C = {"carbon-tool": 230.0, "alloy-tool": 205.0, "high-alloy-tool": 205.0, "carbon-structural": 580.0, "alloy-structural": 580.0, "spring": 460.0, "case": 175.0}  # fmt: skip
"""Where the use says nothing [degC]. Common practice."""


@dataclass(frozen=True)
class Part:
    """A part of the batch, with what was chosen for it; temperatures [degC], section [mm], hardness [HRC]."""

    name: str
    steel: Steel
    section_mm: float
    does: str
    count: int
    thinnest_mm: float | None
    harden: tuple[Operation, ...]
    quench: str
    temper_c: float | None
    temper_why: str
    remarks: tuple[str, ...]

    @property
    def low_c(self) -> float:
        """Lowest published hardening temperature."""
        return min(op.low_c for op in self.harden)

    @property
    def high_c(self) -> float:
        return max(op.high_c for op in self.harden)


def _figure(record: Mapping[str, Any], key: str, unit: str, place: str, low: float, high: float) -> float | None:
    if record.get(key) is None:
        return None
    try:
        value = read_quantity(record[key] if unit else str(record[key]), unit)
    except Unreadable as fault:
        raise BadValue("parts", f"{place}: {key}: {fault}", f"a part looks like {EXAMPLE}") from None
    if not low <= value <= high:
        raise BadValue("parts", f"{place}: {key} {record[key]} is outside {low:g} to {high:g} {unit}".rstrip())
    return float(value)


def _checked(record: Any, place: str) -> Mapping[str, Any]:
    if not isinstance(record, Mapping):
        raise BadValue("parts", f"{place} is not a part with name, steel and section", f"write each like {EXAMPLE}")
    for key in record:
        if key not in KEYS:
            near = get_close_matches(str(key), KEYS, 1, 0.5)
            raise BadValue(
                "parts",
                f'{place} has an unknown key "{str(key)[:30]}"',
                f'did you mean "{near[0]}"?' if near else f"one of {', '.join(KEYS)}",
            )
    for key in ("name", "steel", "section"):
        if record.get(key) is None or not str(record[key]).strip():
            raise BadValue("parts", f"{place} has no {key}", f"write each like {EXAMPLE}")
    return record


def limit_mm(steel: Steel, way: str, operations: list[Operation]) -> float | None:
    """Up to which section a quench hardens this steel through, as published; None where nothing is."""
    printed = [op.largest_mm for op in operations if op.largest_mm]
    depths = [r["through_mm"] for r in steel.published("depth") if r["quench"] == way and "through_mm" in r]
    return min(printed) if printed else max(depths) if depths else None


def ways_of(steel: Steel) -> dict[str, list[Operation]]:
    """The published hardening operations by quench, in the order of the data; those that only refine a core left out."""
    ways: dict[str, list[Operation]] = {}
    for op in steel.operations:
        if op.op == "harden" and not op.way.startswith("core"):
            ways.setdefault(next((m for m in MILDEST_FIRST if m in op.way), op.way), []).append(op)
    return ways


def choose_quench(steel: Steel, section_mm: float, wanted: str = "") -> tuple[tuple[Operation, ...], str, str]:
    """The hardening operations, the quench and a remark: the mildest quench that hardens the section, unless one is WANTED."""
    ways = ways_of(steel)
    if wanted and wanted not in ways:
        raise BadValue("parts", f"{steel.name} is not published for {wanted}", f"its own: {' or '.join(ways)}")
    for medium in [wanted] if wanted else [m for m in MILDEST_FIRST if m in ways]:
        limit = limit_mm(steel, medium, ways[medium])
        if limit is None or section_mm <= limit:
            return tuple(ways[medium]), medium, ""
    medium = wanted or next(m for m in reversed(MILDEST_FIRST) if m in ways)
    limit = limit_mm(steel, medium, ways[medium])
    return (
        tuple(ways[medium]),
        medium,
        f"hardens through only to {limit:g} mm in {medium}: a hard shell on a softer core at best",
    )


def _stems(text: str) -> set[str]:
    """The first five letters of every longer word, so that `scribes` meets `scribers`."""
    return {word[:5].rstrip("s") for word in re.findall(r"[a-z]+", text.lower()) if len(word) > 3}


def _by_use(steel: Steel, does: str) -> tuple[float, str] | None:
    """The temper for what the part does, by the words it has in common with the table of uses."""
    words = _stems(does)
    best: tuple[int, float, str] | None = None
    for band in data.read("temper-uses")["kinds"].get(steel.kind, ()):
        hits = len(words & _stems(band["use"]))
        if hits and (best is None or hits > best[0]):
            best = (hits, (max(band["low"], 150) + band["high"]) / 2, band["use"])
    return (best[1], best[2]) if best else None


def _to_five(temperature_c: float) -> float:
    """A chosen temperature to 5 degC: no shop oven holds closer, and parts then share a round."""
    return 5.0 * floor(temperature_c / 5 + 0.5)


def choose_temper(
    steel: Steel, does: str, hardness: float | None, temper: float | None, hours: float
) -> tuple[float | None, str]:
    """Tempering temperature [degC] and why: given, by the hardness wanted, by the use, or the usual one of its kind."""
    if temper is not None:
        return temper, "as written"
    curve = curves().get(steel.curve or "")
    if hardness is not None and curve is not None:
        found = temperature_for_c(curve, hardness, hours)
        if found is None:
            low, high = reach_c(curve, hours)
            raise BadValue(
                "parts",
                f"{steel.name} does not get {hardness:g} HRC by tempering for {hours:g} h between {written(low, 0)} and {written(high, 0)} °C",
            )
        return _to_five(found), f"for {hardness:g} HRC"
    if by_use := _by_use(steel, does):
        return _to_five(by_use[0]), f"by its use: {by_use[1]}"
    return USUAL_TEMPER_C.get(steel.kind), "usual for such steel; write hardness or temper to choose"


def read_part(record: Any, number: int, hours: float) -> Part:
    """One part as the shop wrote it. Raises BadValue, naming the part, for whatever is wrong with it."""
    record = _checked(record, f"part {number}")
    place = f"part {number}, {str(record['name'])[:40]}"
    try:
        steel = one(str(record["steel"]))
    except BadValue as fault:
        raise BadValue("parts", f"{place}: {fault.what}", fault.hint) from None
    section = _figure(record, "section", "mm", place, 0.2, 300)
    thinnest = _figure(record, "thinnest", "mm", place, 0.1, 300)
    hardness, temper = _figure(record, "hardness", "", place, 10, 68), _figure(record, "temper", "degC", place, 60, 720)
    count = int(_figure(record, "count", "", place, 1, 1000) or 1)
    remarks = [f'"{record["steel"]}" is read as {steel.name}'] if len(meanings(str(record["steel"]))) > 1 else []
    does = str(record.get("does") or "")
    if steel.hardens in {"no", "unknown"}:
        return Part(
            str(record["name"]),
            steel,
            section or 0.0,
            does,
            count,
            thinnest,
            (),
            "",
            None,
            "",
            (*remarks, steel.how_hardens),
        )
    try:
        operations, quench, remark = choose_quench(
            steel, section or 0.0, str(record.get("quench") or "").strip().lower()
        )
        temper_c, why = choose_temper(steel, does, hardness, temper, hours)
    except BadValue as fault:
        raise BadValue("parts", f"{place}: {fault.what}", fault.hint) from None
    if steel.hardens == "case":
        remarks.append("carburise it first, on its own; this is the hardening afterwards")
    return Part(
        str(record["name"]),
        steel,
        section or 0.0,
        does,
        count,
        thinnest,
        operations,
        quench,
        temper_c,
        why,
        tuple(r for r in (*remarks, remark) if r),
    )
