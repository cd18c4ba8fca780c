"""Published tempering curves, and hardness for a temperature and time read from them.

Between the points of a curve hardness is interpolated straight. For another holding time than the measured one, the
temperature is first exchanged by Hollomon and Jaffe; between two measured times the two answers are weighed by the
logarithm of time. Outside the measured temperatures nothing is given.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import log10
from typing import Any

from fettlebook import data
from fettlebook.tables import hardness
from fettlebook.tables.definition import Cite
from fettlebook.tables.hollomon_jaffe import LOW_ALLOY_CONSTANT, constant_for_carbon, equal_temperature_c
from fettlebook.tables.quantities import convert
from fettlebook.tables.steel_data import cite_of

FURTHEST_DECADES = 2.5
"""How many powers of ten of time a curve is carried by the exchange, at most: from 2.5 h to half a minute."""

ROUNDING = 1e-9
"""What the last digits of an exchange may be off by [HRC]; a printed hardness is met at its printed temperature."""

WITHOUT_EXCHANGE = (0.5, 4.0)
"""Where time is not exchanged: shortest and longest time over the measured one that still passes for it. Common practice."""


@dataclass(frozen=True)
class PointSet:
    """Hardness [HRC] at temperatures [degC] for one holding time [h]. assumed: the source does not print the time."""

    hours: float
    temperatures_c: tuple[float, ...]
    hrc: tuple[float, ...]
    main: bool
    assumed: bool
    cite: Cite
    extends: bool = False

    def at(self, temperature_c: float) -> float | None:
        """Straight between the points; None outside them."""
        t = self.temperatures_c
        if not t[0] - 1e-9 <= temperature_c <= t[-1] + 1e-9:
            return None
        if len(t) == 1:
            return self.hrc[0]
        n = min(max(bisect_right(t, temperature_c), 1), len(t) - 1)
        share = (temperature_c - t[n - 1]) / (t[n] - t[n - 1])
        return self.hrc[n - 1] + share * (self.hrc[n] - self.hrc[n - 1])


@dataclass(frozen=True)
class Curve:
    """The point sets of one steel and the constant of the exchange (None: not to be exchanged)."""

    id: str
    of: str
    constant: float | None
    sets: tuple[PointSet, ...]
    note: str = ""

    def _from(self, points: PointSet, temperature_c: float, hours: float) -> float | None:
        if self.constant is None:
            low, high = WITHOUT_EXCHANGE
            return points.at(temperature_c) if low <= hours / points.hours <= high else None
        if abs(log10(hours / points.hours)) > FURTHEST_DECADES:
            return None
        return points.at(equal_temperature_c(temperature_c, hours, points.hours, self.constant))

    def _chosen(self, hours: float) -> list[PointSet]:
        """The main sets next below and above HOURS; the two nearest when all lie on one side."""
        mains = sorted((s for s in self.sets if s.main), key=lambda s: abs(log10(hours / s.hours)))
        if mains and abs(log10(hours / mains[0].hours)) < 1e-9:
            return mains[:1]
        sides = [next((s for s in mains if (s.hours < hours) is below), None) for below in (True, False)]
        return [s for s in sides if s] if all(sides) else mains[:2]

    def hrc(self, temperature_c: float, hours: float) -> float | None:
        """Hardness [HRC] after HOURS at TEMPERATURE_C by the main sets; None where they do not reach."""
        found = [(self._from(s, temperature_c, hours), abs(log10(hours / s.hours))) for s in self._chosen(hours)]
        weighed = [(value, 1 / max(decades, 1e-9)) for value, decades in found if value is not None]
        if not weighed:
            return self._extended(temperature_c, hours)
        return sum(value * weight for value, weight in weighed) / sum(weight for _, weight in weighed)

    def _edges(self, hours: float) -> list[tuple[float, float]]:
        """Temperature and hardness at the two ends of the main sets, exchanged to HOURS."""
        ends: list[tuple[float, float]] = []
        for s in self._chosen(hours):
            for t, h in ((s.temperatures_c[0], s.hrc[0]), (s.temperatures_c[-1], s.hrc[-1])):
                ends.append((equal_temperature_c(t, s.hours, hours, self.constant) if self.constant else t, h))
        return [min(ends), max(ends)]

    def _extended(self, temperature_c: float, hours: float) -> float | None:
        """The extending sets, where the main ones end; never crossing the main hardness at that end, since hardness falls."""
        found = [self._from(s, temperature_c, hours) for s in self.sets if s.extends]
        kept = [value for value in found if value is not None]
        if not kept:
            return None
        (cool, hard), (hot, soft) = self._edges(hours)
        mean = sum(kept) / len(kept)
        return max(mean, hard) if temperature_c <= cool else min(mean, soft) if temperature_c >= hot else mean

    def spread(self, temperature_c: float, hours: float) -> tuple[float, float] | None:
        """Lowest and highest of all sets, each exchanged to HOURS."""
        found = [self._from(s, temperature_c, hours) for s in self.sets]
        kept = [value for value in (*found, self.hrc(temperature_c, hours)) if value is not None]
        return (min(kept), max(kept)) if kept else None

    def cites(self) -> tuple[Cite, ...]:
        return tuple(dict.fromkeys(s.cite for s in self.sets))


def _points(record: Mapping[str, Any]) -> PointSet:
    temperatures = record["c"] if "c" in record else [convert(f, "degF", "degC") for f in record["f"]]
    values = record["hrc"] if "hrc" in record else [hardness.convert(hb, "HB", "HRC") for hb in record["hb"]]
    return PointSet(record["hours"], tuple(map(float, temperatures)), tuple(map(float, values)), record.get("main", False),
                    record.get("assumed", False), cite_of(record), record.get("extends", False))  # fmt: skip


def _constant(raw: Mapping[str, Any]) -> float | None:
    written = raw.get("constant", LOW_ALLOY_CONSTANT)
    if written == "none":
        return None
    return constant_for_carbon(raw["carbon"]) if written == "carbon" else float(written)


def _blend(raw: Mapping[str, Any], records: Mapping[str, Mapping[str, Any]]) -> Curve:
    """A curve between two others in proportion to carbon, at the temperatures that both have."""
    (a, b), carbon = (records[key] for key in raw["between"]), raw["carbon"]
    share = (carbon - a["carbon"]) / (b["carbon"] - a["carbon"])
    first, second = _points(a["sets"][0]), _points(b["sets"][0])
    common = [t for t in first.temperatures_c if second.at(t) is not None]
    values = [(1 - share) * (first.at(t) or 0) + share * (second.at(t) or 0) for t in common]
    cite = Cite(first.cite.key, f"between {a['id']} and {b['id']} by carbon", "computed")
    points = PointSet(first.hours, tuple(common), tuple(values), True, False, cite)
    return Curve(
        raw["id"],
        raw["of"],
        constant_for_carbon(carbon),
        (points, *_blended_start(raw, values[0], common[0])),
        raw.get("note", ""),
    )


def _blended_start(raw: Mapping[str, Any], first: float, at_c: float) -> tuple[PointSet, ...]:
    """From as quenched, where the record gives it, to the first blended point."""
    if "as_quenched" not in raw:
        return ()
    cite = Cite("hodge-orehoski", f"as quenched, {raw['carbon']:g} % C", "memory")
    return (PointSet(1.0, (100.0, at_c), (raw["as_quenched"], first), False, False, cite, True),)


@cache
def curves() -> dict[str, Curve]:
    """Every curve by its id."""
    records = {raw["id"]: raw for raw in data.rows("tempering-curves", "curves")}
    found: dict[str, Curve] = {}
    for key, raw in records.items():
        if "between" in raw:
            found[key] = _blend(raw, records)
            continue
        base = records[raw["like"]] if "like" in raw else raw
        sets = tuple(_points(record) for record in base["sets"])
        found[key] = Curve(key, raw["of"], _constant(base), sets, raw.get("note", ""))
    return found


def reach_c(curve: Curve, hours: float) -> tuple[float, float]:
    """Lowest and highest temperature [degC] at which the curve gives a hardness for HOURS, to 5 degC; (0, 0) for none."""
    found = [float(t) for t in range(60, 761, 5) if curve.hrc(t, hours) is not None]
    return (found[0], found[-1]) if found else (0.0, 0.0)


def temperature_for_c(curve: Curve, hrc: float, hours: float) -> float | None:
    """The highest temperature [degC] that still leaves HRC after HOURS, to 1 degC; None if the curve does not pass it."""
    found: Sequence[tuple[int, float]] = [(t, h) for t in range(60, 761) if (h := curve.hrc(t, hours)) is not None]
    hard = [h for _, h in found]
    if not found or not min(hard) - ROUNDING <= hrc <= max(hard) + ROUNDING:
        return None
    return float(max(t for t, h in found if h >= hrc - ROUNDING))
