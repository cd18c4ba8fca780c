"""Hardness from one scale to another and to tensile strength, by the tables of three systems.

Between two rows of a table values are interpolated straight; outside a table nothing is given. Conversions hold for
carbon and low-alloy steel, forged, annealed or quenched and tempered, not for work-hardened or austenitic steel.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import pi, sqrt
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table

SCALES = {"HRC": "hrc", "HV": "hv", "HB": "hb", "HRB": "hrb", "MPa": "mpa", "impression": "impression_mm"}
"""Scales by the column of the data."""

SAME = {"hbw": "HB", "hbn": "HB", "bhn": "HB", "brinell": "HB", "vickers": "HV", "vpn": "HV", "dpn": "HV", "rockwell c": "HRC", "rc": "HRC",
        "rockwell b": "HRB", "rb": "HRB", "hrbw": "HRB", "n/mm2": "MPa", "n/mm²": "MPa", "tensile": "MPa", "rm": "MPa", "mm": "impression"}  # fmt: skip


STRENGTHS = {"ksi": 6.894757293168361, "psi": 0.006894757293168361}
"""American units of tensile strength in MPa: a pound-force over a square inch, exact by definition."""


@dataclass(frozen=True)
class System:
    """One system of conversion: its name, its table and its source."""

    key: str
    name: str
    cite: Cite


SYSTEMS = (
    System("astm", "ASTM E140 / SAE J417", Cite("astm-e140", "tables 1 and 2", "secondary")),
    System("iso", "ISO 18265 A.1 (DIN 50150)", Cite("iso-18265", "table A.1", "secondary")),
    System("bs", "BS 860 type", Cite("bs-860", "ball impressions", "secondary")),
)


def brinell(impression_mm: float, ball_mm: float = 10.0, load_kgf: float = 3000.0) -> float:
    """Brinell hardness from the diameter of the impression.

        HB = 2 F / (pi D (D - sqrt(D^2 - d^2)))

    impression_mm   d, above 0 and below the ball's diameter [mm]
    ball_mm         D [mm]
    load_kgf        F [kgf]
    gives           [kgf/mm2]

    Source: brinell-geometry

    >>> round(brinell(4.0))
    229
    """
    if not 0 < impression_mm < ball_mm:
        raise BadValue("value", f"an impression of {impression_mm:g} mm is not between 0 and the ball's {ball_mm:g} mm")
    return 2 * load_kgf / (pi * ball_mm * (ball_mm - sqrt(ball_mm**2 - impression_mm**2)))


def tensile_by_regression_mpa(vickers: float) -> float:
    """Tensile strength by a straight line, 3.412 HV - 64.3 [MPa]; for quenched and tempered steel of HV 200 to 600 or so.

    Source: krause-regression. Compare ISO 18265: HV 200, 300, 400 give 640, 965, 1290 there and 618, 959, 1300 here.
    """
    return 3.412 * vickers - 64.3


@cache
def _pairs(group: str, given: str, wanted: str) -> tuple[tuple[float, float], ...]:
    """(given, wanted) of every row that has both, rising in the first."""
    table = data.read("hardness-conversion")[group]
    columns: Sequence[str] = table["columns"]
    if given not in columns or wanted not in columns:
        return ()
    a, b = columns.index(given), columns.index(wanted)
    found = {row[a]: row[b] for row in table["rows"] if row[a] is not None and row[b] is not None}
    return tuple(sorted(found.items()))


def _between(pairs: Sequence[tuple[float, float]], x: float) -> float | None:
    """Straight between the two neighbours of X; None outside."""
    if not pairs or not pairs[0][0] <= x <= pairs[-1][0]:
        return None
    n = min(bisect_right([p[0] for p in pairs], x), len(pairs) - 1)
    (x0, y0), (x1, y1) = pairs[n - 1], pairs[n]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def convert(value: float, given: str, wanted: str, system: str = "astm") -> float | None:
    """VALUE in scale GIVEN as scale WANTED (names of SCALES) by SYSTEM (astm, iso, bs); None outside its table.

    Sources: astm-e140, iso-18265, bs-860
    """
    a, b = SCALES[given], SCALES[wanted]
    if a == b:
        return value
    for group in (system, "astm_soft") if system == "astm" else (system,):
        found = _between(_pairs(group, a, b), value)
        if found is not None:
            return found
    return None


def _reach(system: str, column: str) -> tuple[float, float] | None:
    """The lowest and highest figure of a column in a system."""
    found: list[float] = []
    for group in (system, "astm_soft") if system == "astm" else (system,):
        table = data.read("hardness-conversion")[group]
        if column in table["columns"]:
            n = table["columns"].index(column)
            found += [row[n] for row in table["rows"] if row[n] is not None]
    return (min(found), max(found)) if found else None


def _row(system: System, value: float, scale: str) -> dict[str, Any] | None:
    reach = _reach(system.key, SCALES[scale])
    if reach is None or not reach[0] <= value <= reach[1]:
        return None
    row: dict[str, Any] = {"system": system.name}
    for name, column in SCALES.items():
        row["tensile_mpa" if column == "mpa" else column] = convert(value, scale, name, system.key)
    if row["hb"] is not None and row["impression_mm"] is None and row["hb"] <= 650:
        row["impression_mm"] = impression_for(row["hb"])
    row["range"] = f"{scale} {reach[0]:g} to {reach[1]:g}" + (" mm" if scale == "impression" else "")
    return row


def impression_for(hb: float, ball_mm: float = 10.0, load_kgf: float = 3000.0) -> float:
    """The diameter of the impression [mm] that gives Brinell HB: the formula of `brinell` turned round. Source: brinell-geometry."""
    rest = ball_mm - 2 * load_kgf / (pi * ball_mm * hb)
    return sqrt(max(0.0, ball_mm**2 - rest**2))


def _scale_named(scale: str) -> str:
    folded = " ".join(scale.lower().split())
    for name in SCALES:
        if folded == name.lower():
            return name
    if folded in SAME or folded in STRENGTHS:
        return SAME.get(folded, folded)
    raise BadValue("scale", f'"{scale[:30]}" is not a scale known here', f"one of {', '.join((*SCALES, *STRENGTHS))}")


VALUE = Parameter("value", "Hardness", kind="number", low=1, high=500000, example="60")
"""How the figure itself is read, once its scale is taken off."""


def read_hardness(written: str) -> tuple[float, str]:
    """The figure and the scale written behind or before it (`45 HRC`, `HB 241`); the scale is empty where none is.

    >>> read_hardness("45 HRC"), read_hardness("HB241"), read_hardness("60")
    ((45.0, 'HRC'), (241.0, 'HB'), (60.0, ''))
    """
    text = " ".join(written.split())
    behind = re.fullmatch(r"(?P<value>[-+\d.,]+)\s*(?P<scale>[A-Za-z].*)", text)
    before = re.fullmatch(r"(?P<scale>[A-Za-z][A-Za-z /2]*?)\s*(?P<value>\d[\d.,]*)", text)
    found = behind or before
    if not found or re.fullmatch(r"e\d+", found["scale"], re.IGNORECASE):
        return float(VALUE.read(text)), ""
    return float(VALUE.read(found["value"])), _scale_named(found["scale"])


def hardness(value: float | str, scale: str = "") -> Table:
    """VALUE in SCALE as the other scales, one row for each system whose table reaches there.

    value   a figure, or a figure with its scale (`45 HRC`)
    scale   HRC where neither names one

    Raises BadValue outside every table, with the ranges named, and where value and scale name two scales.
    """
    figure, own = read_hardness(str(value))
    written_as = _scale_named(scale) if scale else own or "HRC"
    if own and own != written_as and not (own in STRENGTHS and written_as == "MPa"):
        raise BadValue("scale", f"the value is written in {own}, the scale says {written_as}", "write one of them")
    unit = own if own in STRENGTHS else written_as
    name, given = ("MPa", figure * STRENGTHS[unit]) if unit in STRENGTHS else (unit, figure)
    rows = [row for row in (_row(system, given, name) for system in SYSTEMS) if row]
    notes = [f"{row['note']} ({row['system']})" for row in rows if row.get("note")]
    if name == "impression":
        notes.append(
            f"By geometry an impression of {given:g} mm with a 10 mm ball and 3000 kgf is HB {brinell(given):.0f}."
        )
    if not rows:
        spans = [
            f"{system.name} {reach[0]:g} to {reach[1]:g}"
            for system in SYSTEMS
            if (reach := _reach(system.key, SCALES[name]))
        ]
        raise BadValue(
            "value", f"{name} {given:g} lies outside every table ({'; '.join(spans)})", "no conversion is given there"
        )
    if (hv := rows[0].get("hv")) and 200 <= hv <= 600:
        notes.append(
            f"A straight line fitted to measured steels gives {tensile_by_regression_mpa(hv):.0f} MPa for HV {hv:.0f}."
        )
    return Table(tuple(rows), (*notes, *NOTES), tuple(_warnings(rows)), (), ())


NOTES = (
    "Converted figures are 2 HRC, or 5 to 10 % of strength, uncertain at best: measure in the scale that is asked for if it matters.",
    "A new fine file cuts below about 60 HRC, drags at about 62, skates at 64 and above (common practice).",
)


def _warnings(rows: Sequence[dict[str, Any]]) -> list[str]:
    said = []
    if any((row.get("hb") or 0) > 650 for row in rows):
        said.append("Brinell above 650 lies outside the Brinell test itself: the figure is only for comparison.")
    if any(row.get("hrc") is not None and row["hrc"] < 20 for row in rows):
        said.append("HRC below 20 lies outside that scale.")
    return said


TABLES = (
    Definition(
        name="hardness",
        title="Hardness in other scales",
        about="Turns a hardness into the other scales and into tensile strength, by the American, the international and an older British table side by side.",
        group="heat",
        parameters=(
            Parameter("value", "Hardness", kind="text", example="60", help="a figure, or one with its scale, like 45 HRC"),
            Parameter("scale", "Scale", kind="text", default="", example="HRC", help="HRC, HV, HB, HRB, MPa, ksi, or impression (diameter in mm of a 10 mm ball at 3000 kgf)"),
        ),
        columns=(
            Column("system", "Table", kind="text"),
            Column("hrc", "HRC", decimals=1),
            Column("hv", "HV", decimals=0),
            Column("hb", "HB", decimals=0),
            Column("hrb", "HRB", decimals=1),
            Column("tensile_mpa", "Tensile strength", "MPa", decimals=0),
            Column("impression_mm", "Impression, 10 mm ball, 3000 kgf", "mm", decimals=2),
            Column("range", "Table reaches", kind="text"),
        ),
        compute=hardness,
        sources=(*(system.cite for system in SYSTEMS), Cite("brinell-geometry", "formula", "memory"), Cite("krause-regression", "mechanical_properties.py")),
        holds="carbon and low-alloy steel as forged, annealed, or quenched and tempered: HRC 20 to 68, HV 80 to 940, HRB 41 to 100; not work-hardened, austenitic or cast iron",
        also=("Rockwell", "Vickers", "Brinell", "HRC", "HV", "HB", "tensile strength", "file test", "conversion"),
        examples=({"value": 60}, {"value": 300, "scale": "HV"}, {"value": 4.0, "scale": "impression"}),
    ),
)  # fmt: skip
