"""Where a machine's feet and the stations of the level are, read from a machine file or from one line of text.

x runs along the bed from the headstock end, y across it towards the rear; both in mm. Rear is the side away from
the operator.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fettlebook.tables.definition import BadValue
from fettlebook.tables.quantities import Unreadable, read_quantity

TRAVEL_MM = 10.0
"""Free travel of a jack, up and down, where the machine file gives none. Common practice: half an adjusting screw."""

SAME_PLACE_MM = 60.0
"""Feet whose x differ by less than this stand across from one another."""

COARSEST_PITCH_MM = 6.5
"""A larger pitch is more likely a count of threads per inch (M68 has 6 mm)."""

THREAD = re.compile(r"[Mm]\d+(?:\.\d+)?[xX×](\d+(?:\.\d+)?)|\d+(?:/\d+)?-(\d+)(?: ?UN[CF]?)?")
"""A screw named by its thread: M16x2 by its pitch, 5/8-11 by its threads per inch."""

EXAMPLE = "feet=4 length=1600 width=450 pitch=2"


@dataclass(frozen=True)
class Foot:
    """A foot, its place, and its screw if it stands on a jack. pitch_mm None: not known."""

    name: str
    x_mm: float
    y_mm: float
    jack: bool = True
    pitch_mm: float | None = None
    up_mm: float = TRAVEL_MM
    down_mm: float = TRAVEL_MM


@dataclass(frozen=True)
class Station:
    """A place along the bed where the level is set down, once lengthways and once crossways."""

    name: str
    x_mm: float


@dataclass(frozen=True)
class Layout:
    """The feet and the stations of one machine, each in order from the headstock end."""

    feet: tuple[Foot, ...]
    stations: tuple[Station, ...]

    @property
    def groups(self) -> list[list[int]]:
        """Feet that stand across from one another, as indices, from the headstock end."""
        found: list[list[int]] = []
        for j, foot in enumerate(self.feet):
            if found and foot.x_mm - self.feet[found[-1][0]].x_mm < SAME_PLACE_MM:
                found[-1].append(j)
            else:
                found.append([j])
        return found

    def foot(self, name: str, parameter: str) -> int:
        """The index of the foot called NAME."""
        return _index([foot.name for foot in self.feet], name, parameter, "foot")

    def station(self, name: str, parameter: str) -> int:
        """The index of the station called NAME."""
        return _index([station.name for station in self.stations], name, parameter, "station")


def _index(names: list[str], name: str, parameter: str, what: str) -> int:
    folded = [n.lower() for n in names]
    if name.strip().lower() in folded:
        return folded.index(name.strip().lower())
    raise BadValue(parameter, f'there is no {what} "{name.strip()[:40]}"', f"this machine has {', '.join(names)}")


def layout_from(machine: Any) -> Layout:
    """The layout in a machine file's mapping, in the same as JSON, or in a line such as `feet=4 length=1600 width=450`.

    Raises BadValue in words.
    """
    if isinstance(machine, str):
        text = machine.strip()
        machine = from_json(text, "machine") if text.startswith("{") else _from_line(text)
    if not isinstance(machine, Mapping):
        raise BadValue("machine", "feet and stations are wanted here", f"for example {EXAMPLE}")
    feet = tuple(sorted((_foot(f, n) for n, f in enumerate(_list(machine, "feet"))), key=lambda f: (f.x_mm, f.y_mm)))
    if len(feet) > 40:
        raise BadValue("machine", f"{len(feet)} feet are more than the 40 that can be worked out here")
    _unlike([foot.name for foot in feet], "feet")
    layout = Layout(feet, _stations(machine, feet))
    _stands(layout)
    return layout


def layout_faults(machine: Any) -> list[tuple[str, BadValue]]:
    """Every fault of a layout, each with the part that it stands in: "feet 0", "stations 2", or "" for the whole."""
    found: list[tuple[str, BadValue]] = []
    for key, read in (("feet", _foot), ("stations", _station)):
        rows = machine.get(key) if isinstance(machine, Mapping) else None
        for n, row in enumerate(rows if isinstance(rows, (list, tuple)) else ()):
            try:
                read(row, n)
            except BadValue as fault:
                found.append((f"{key} {n}", fault))
    if not found:
        try:
            layout_from(machine)
        except BadValue as fault:
            found.append(("", fault))
    return found


def from_json(text: str, parameter: str) -> Any:
    """TEXT as JSON. Raises BadValue in words."""
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        raise BadValue(
            parameter, f"{text[:40]} ... is not valid JSON", "or write it as text, without braces and brackets"
        ) from None


def _list(machine: Mapping[str, Any], key: str) -> list[Any]:
    value = machine.get(key)
    if not isinstance(value, (list, tuple)) or not value:
        raise BadValue("machine", f"it lists no {key}", f"write them in the machine file, or a line like {EXAMPLE}")
    return list(value)


def _foot(foot: Any, n: int) -> Foot:
    if not isinstance(foot, Mapping):
        raise BadValue("machine", f"foot {n + 1} is not a mapping with name, x_mm and y_mm")
    name = str(foot.get("name", n + 1)).strip()
    where = f"foot {name[:40]}"
    jack = foot.get("jack", True)
    if not isinstance(jack, bool):
        raise BadValue("machine", f"{where}: jack is neither true nor false")
    up, down = (_length(foot, f"travel_{way}_mm", where, TRAVEL_MM) for way in ("up", "down"))
    if up < 0 or down < 0:
        raise BadValue("machine", f"{where}: a travel below zero is impossible", "write how far it can still go")
    return Foot(name, _length(foot, "x_mm", where), _length(foot, "y_mm", where), jack, _pitch(foot, where), up, down)


def _length(place: Mapping[str, Any], key: str, where: str, default: float | None = None) -> float:
    value = place.get(key)
    if value is None:
        if default is None:
            raise BadValue("machine", f"{where} has no {key}", "measure it from the first foot")
        return default
    try:
        figure = read_quantity(value, "mm")
    except (Unreadable, TypeError) as fault:
        raise BadValue("machine", f"{where}: {key}: {fault}") from None
    if not abs(figure) <= 1e5:
        raise BadValue("machine", f"{where}: {key} {value} is out of all proportion", "write it in mm")
    return figure


def _pitch(foot: Mapping[str, Any], where: str) -> float | None:
    value = foot.get("screw_pitch_mm")
    if value is None:
        return None
    text = str(value).strip()
    thread = THREAD.fullmatch(text)
    try:
        if text.lower().endswith("tpi"):
            pitch = 25.4 / (read_quantity(text[:-3], "") or float("nan"))
        elif thread:
            pitch = float(thread[1]) if thread[1] else 25.4 / (int(thread[2]) or float("nan"))
        else:
            pitch = read_quantity(value, "mm")
    except Unreadable as fault:
        raise BadValue("machine", f"{where}: screw_pitch_mm: {fault}") from None
    if not 0 < pitch <= COARSEST_PITCH_MM:
        raise BadValue(
            "machine",
            f"{where}: a pitch of {text[:20]} mm is not one of an adjusting screw",
            f'if that is threads per inch write "{text[:20]} TPI"',
        )
    return pitch


def _station(station: Any, n: int) -> Station:
    if not isinstance(station, Mapping):
        raise BadValue("machine", f"station {n + 1} is not a mapping with name and x_mm")
    name = str(station.get("name", n + 1)).strip()
    return Station(name, _length(station, "x_mm", f"station {name[:40]}"))


def _stations(machine: Mapping[str, Any], feet: tuple[Foot, ...]) -> tuple[Station, ...]:
    found = [_station(one, n) for n, one in enumerate(_list(machine, "stations"))]
    if len(found) > 60:
        raise BadValue("machine", f"{len(found)} stations are more than the 60 that can be worked out here")
    _unlike([station.name for station in found], "stations")
    return tuple(sorted(found, key=lambda s: s.x_mm))


def _unlike(names: list[str], what: str) -> None:
    for name in names:
        if not name or [n.lower() for n in names].count(name.lower()) > 1:
            raise BadValue(
                "machine", f'two {what} are called "{name[:40]}"' if name else f"one of the {what} has no name"
            )


def _stands(layout: Layout) -> None:
    if not any(foot.jack for foot in layout.feet):
        raise BadValue(
            "machine",
            "every foot is fixed, so there is nothing to turn",
            "mark the feet that stand on a screw with jack: true; a fixed foot is set by packing",
        )
    if len(layout.feet) < 3 or len(layout.groups) < 2 or not any(_spread(layout, group) for group in layout.groups):
        raise BadValue(
            "machine",
            "the feet do not hold a bed: at least three are needed, at two places along it, two of them across",
            "look at x_mm and y_mm of each foot",
        )


def _spread(layout: Layout, group: list[int]) -> float:
    ys = [layout.feet[j].y_mm for j in group]
    return max(ys) - min(ys)


KNOWN = ("feet", "length", "width", "stations", "pitch", "travel", "fixed")


def _from_line(text: str) -> dict[str, Any]:
    """Feet in pairs F1, R1, F2, R2 ... (front and rear), evenly spaced over the length between the end pairs."""
    given: dict[str, str] = {}
    for part in re.split(r"\s+(?=[^\s=]+=)", re.sub(r"\s*=\s*", "=", text).strip()):
        key, equals, value = part.partition("=")
        if not equals or key not in KNOWN:
            raise BadValue("machine", f'"{part[:40]}" is not one of {"=, ".join(KNOWN)}=', f"for example {EXAMPLE}")
        given[key] = value.strip()
    count = int(_figure(given, "feet", 4, 40))
    if count % 2:
        raise BadValue(
            "machine", f"{count} feet do not stand in pairs", "write an odd number of feet as a machine file"
        )
    length, width = _figure(given, "length", 100, 1e5), _figure(given, "width", 50, 1e4)
    pairs, places = count // 2, int(_figure(given, "stations", 1, 60, count + 1))
    screw = {"screw_pitch_mm": given.get("pitch")} | {f"travel_{way}_mm": given.get("travel") for way in ("up", "down")}
    fixed = {name.strip().lower() for name in given.get("fixed", "").split(",") if name.strip()}
    feet = [
        {"name": f"{side}{n + 1}", "x_mm": length * n / (pairs - 1), "y_mm": y, **screw,
         "jack": f"{side}{n + 1}".lower() not in fixed}
        for n in range(pairs) for side, y in (("F", -width / 2), ("R", width / 2))
    ]  # fmt: skip
    unknown = fixed - {str(foot["name"]).lower() for foot in feet}
    if unknown:
        raise BadValue(
            "machine", f'there is no foot "{min(unknown)[:40]}"', "the pairs are called F1 and R1, F2 and R2 ..."
        )
    step = length / (places - 1) if places > 1 else 0.0
    stations = [{"name": str(n + 1), "x_mm": step * n if places > 1 else length / 2} for n in range(places)]
    return {"feet": feet, "stations": stations}


def _figure(given: Mapping[str, str], key: str, low: float, high: float, default: float | None = None) -> float:
    if key not in given:
        if default is None:
            raise BadValue("machine", f"{key}= is missing", f"for example {EXAMPLE}")
        return default
    try:
        figure = read_quantity(given[key], "mm") if key in {"length", "width"} else read_quantity(given[key], "")
    except Unreadable as fault:
        raise BadValue("machine", f"{key}: {fault}", f"for example {EXAMPLE}") from None
    if not low <= figure <= high:
        raise BadValue("machine", f"{key}={given[key]} lies outside {low:g} to {high:g}")
    return figure
