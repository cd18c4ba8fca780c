"""Readings of the level and the log of earlier rounds, from text, JSON, or lists as a form writes them.

A reading is in divisions with its sign: long + is tailstock end high, cross + is rear high. Rows of everything that
follows: first the long reading of each station, then the cross reading of each station.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fettlebook.tables.definition import BadValue
from fettlebook.tables.levelling_layout import Layout, from_json
from fettlebook.tables.quantities import Unreadable, read_quantity

Row = list[float | None]
"""A figure for each row; None where nothing was read."""

EXAMPLE = "1: +0.5/-1; 2: 0/-0.5"
NOT_READ = {"", "-", "–", "?", "x", "none", "null"}
LARGEST = 500.0
"""Divisions; no vial shows more than a few dozen."""


@dataclass(frozen=True)
class Turned:
    """What was done to one jack: a height in mm, or turned until a bubble showed so many divisions.

    row, shows   the bubble watched (a row of the readings) and where it stood in the end [divisions]; row -1: none
    """

    foot: int
    mm: float = 0.0
    row: int = -1
    shows: float = 0.0


@dataclass(frozen=True)
class Round:
    """One earlier round: what was read, then what was turned, in that order. turned None: what the program advised."""

    readings: Row
    turned: tuple[Turned, ...] | None = None
    loose: tuple[int, ...] = field(default=())


def readings_from(value: Any, layout: Layout, parameter: str = "readings") -> Row:
    """The reading of every row in divisions. Raises BadValue in words."""
    if isinstance(value, str):
        text = value.strip()
        value = from_json(text, parameter) if text[:1] in {"[", "{"} else _from_text(text, parameter)
    if isinstance(value, Mapping):
        value = [{"station": name, **_both(pair)} for name, pair in value.items()]
    if not isinstance(value, (list, tuple)):
        raise BadValue(parameter, "readings are wanted here", f"for example {EXAMPLE}")
    rows: Row = [None] * (2 * len(layout.stations))
    for one in value:
        if not isinstance(one, Mapping) or "station" not in one:
            raise BadValue(parameter, "a reading names no station", f"for example {EXAMPLE}")
        m = layout.station(str(one["station"]), parameter)
        for row, way in ((m, "long"), (m + len(layout.stations), "cross")):
            figure = _divisions(one.get(way), f"station {layout.stations[m].name} {way}", parameter)
            if figure is None:
                continue
            earlier = rows[row]
            if earlier is not None and earlier != figure:
                raise BadValue(
                    parameter,
                    f"station {layout.stations[m].name} {way} is given twice, as {earlier:g} and as {figure:g}",
                    "the two contradict one another; read it again and write it once",
                )
            rows[row] = figure
    if all(figure is None for figure in rows):
        raise BadValue(parameter, "there is no reading in it", f"for example {EXAMPLE}")
    return rows


def _both(pair: Any) -> dict[str, Any]:
    if isinstance(pair, Mapping):
        return dict(pair)
    if isinstance(pair, str):
        long, cross = _pair(pair, "readings")
        return {"long": long, "cross": cross}
    parts = [*pair, None, None] if isinstance(pair, (list, tuple)) else [pair, None]
    return {"long": parts[0], "cross": parts[1]}


def _from_text(text: str, parameter: str) -> list[dict[str, Any]]:
    found = []
    for part in re.split(r"[;\n]", text):
        if not part.strip():
            continue
        station, colon, pair = part.partition(":")
        if not colon:
            raise BadValue(parameter, f'"{part.strip()[:40]}" has no ":" after the station', f"for example {EXAMPLE}")
        long, cross = _pair(pair, parameter)
        found.append({"station": station, "long": long, "cross": cross})
    return found


def _pair(text: str, parameter: str) -> tuple[str, str]:
    """Long and cross on either side of a slash; one with spaces around it parts fractions: `1 1/2 / -1/4`."""
    parts = re.split(r"\s/\s", f" {text} ") if re.search(r"\s/\s", f" {text} ") else text.split("/")
    if len(parts) != 2:
        raise BadValue(
            parameter,
            f'"{text.strip()[:40]}" is not a long and a cross reading with a slash between',
            f"for example {EXAMPLE}; with fractions leave a space on both sides: 1 1/2 / -1/4",
        )
    return parts[0].strip(), parts[1].strip()


def _divisions(value: Any, where: str, parameter: str) -> float | None:
    if value is None or (isinstance(value, str) and value.strip().lower() in NOT_READ):
        return None
    if isinstance(value, bool):
        raise BadValue(parameter, f"{where}: a yes or no is not a reading")
    try:
        figure = float(value) if isinstance(value, (int, float)) else read_quantity(str(value), "")
    except (Unreadable, OverflowError) as fault:
        raise BadValue(
            parameter, f"{where}: {fault}", "write divisions with a sign; - where nothing was read"
        ) from None
    if not abs(figure) <= LARGEST:
        raise BadValue(
            parameter, f"{where}: {value} divisions is more than any level shows", "write divisions, not mm/m"
        )
    return figure


def log_from(value: Any, layout: Layout) -> tuple[Round, ...]:
    """The earlier rounds, oldest first.

    A list of rounds {readings, turned, loose}; or text: rounds parted by |, in each the readings, then > and what was
    turned: `1: 3/2; 2: 1/2 > F1 +0.12 mm, R1 2 cross -1.5`. Without > it is taken that the advice was followed.
    """
    if value in (None, "", [], ()):
        return ()
    if isinstance(value, str):
        text = value.strip()
        value = from_json(text, "log") if text[:1] == "[" else [_round_of(part) for part in text.split("|")]
    if not isinstance(value, (list, tuple)):
        raise BadValue("log", "a list of earlier rounds is wanted here", f"for example {EXAMPLE} > F1 +0.12 mm")
    if len(value) > 60:
        raise BadValue("log", "more than 60 rounds", "start a new log")
    return tuple(_round(one, layout) for one in value)


def _round_of(text: str) -> dict[str, Any]:
    readings, arrow, turned = text.partition(">")
    return {"readings": readings, "turned": turned if arrow else None}


def _round(one: Any, layout: Layout) -> Round:
    if isinstance(one, str):
        one = _round_of(one)
    if not isinstance(one, Mapping) or "readings" not in one:
        raise BadValue("log", "a round has no readings", f"for example {EXAMPLE} > F1 +0.12 mm")
    turned = one.get("turned")
    loose = one.get("loose") or []
    names = loose.replace(";", ",").split(",") if isinstance(loose, str) else loose
    return Round(
        readings_from(one["readings"], layout, "log"),
        None if turned is None else turned_from(turned, layout),
        tuple(layout.foot(str(name), "log") for name in names),
    )


def turned_from(value: Any, layout: Layout) -> tuple[Turned, ...]:
    """What was turned: text, a mapping {jack: mm}, or a list of {jack, mm} or {jack, station, way, shows}."""
    if isinstance(value, str):
        parts = [part.strip() for part in re.split(r"[,;]", value) if part.strip()]
        return tuple(_turned_text(part, layout) for part in parts)
    if isinstance(value, Mapping):
        return tuple(
            _turned_text(f"{name} {move}", layout)
            if isinstance(move, str)
            else _turned({"jack": name, "mm": move}, layout)
            for name, move in value.items()
        )
    if not isinstance(value, (list, tuple)):
        raise BadValue("log", "what was turned is not a list", "for example F1 +0.12 mm, R1 2 cross -1.5")
    return tuple(_turned(one, layout) for one in value)


SPOKEN = re.compile(r"^(?:(.+?)\s+(long|cross)\s+)?(\S.*?)\s*(mm|turns?|flats?|deg|°)?$", re.I)
"""What follows the jack's name: a station and a way, or nothing, then a figure and its unit."""


def _turned_text(text: str, layout: Layout) -> Turned:
    known = [foot.name for foot in layout.feet if text.lower().startswith(foot.name.lower() + " ")]
    jack = max(known, key=len, default=text.split(" ")[0])
    found = SPOKEN.match(text[len(jack) :].strip())
    if not found:
        raise BadValue(
            "log", f'"{text[:40]}" does not say what was turned', "for example F1 +0.12 mm or R1 2 cross -1.5"
        )
    station, way, figure, unit = found.groups()
    if station:
        return _turned({"jack": jack, "station": station, "way": way.lower(), "shows": figure}, layout)
    return _turned({"jack": jack, "mm": figure, "unit": (unit or "mm").lower()}, layout)


def _turned(one: Any, layout: Layout) -> Turned:
    if not isinstance(one, Mapping) or "jack" not in one:
        raise BadValue("log", "a move names no jack", "for example F1 +0.12 mm")
    j = layout.foot(str(one["jack"]), "log")
    where = f"jack {layout.feet[j].name}"
    if one.get("station") not in (None, ""):
        m = layout.station(str(one["station"]), "log")
        way = str(one.get("way", "cross")).lower()
        if way not in {"long", "cross"}:
            raise BadValue("log", f'{where}: "{way[:20]}" is neither long nor cross')
        shows = _divisions(one.get("shows"), where, "log")
        if shows is None:
            raise BadValue(
                "log", f"{where}: it does not say what the bubble showed in the end", "for example R1 2 cross -1.5"
            )
        return Turned(j, 0.0, m + (len(layout.stations) if way == "cross" else 0), shows)
    mm = (_divisions(one.get("mm"), where, "log") or 0.0) * _mm_each(str(one.get("unit", "mm")), j, layout)
    if abs(mm) > 50:
        raise BadValue("log", f"{where}: a move of {mm:g} mm is out of all proportion", "write mm")
    return Turned(j, mm)


def _mm_each(unit: str, j: int, layout: Layout) -> float:
    if unit == "mm":
        return 1.0
    pitch = layout.feet[j].pitch_mm
    if pitch is None:
        raise BadValue(
            "log", f"jack {layout.feet[j].name}: its screw's pitch is not known, so {unit} say nothing", "write mm"
        )
    return pitch * {"t": 1.0, "f": 1 / 6}.get(unit[0], 1 / 360)
