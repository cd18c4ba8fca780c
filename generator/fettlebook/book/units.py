"""What units measure, for checking formulas: a unit as a product of base dimensions and a size in coherent SI units.

An angle is a dimension of its own here, so that degrees cannot pass for a plain number and an arc length needs its radian
said. Slopes and percentages are plain numbers of another size, so a forgotten 1000 shows as a wrong factor.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import cache

from fettlebook.tables.quantities import UNITS, Unreadable, unit_named

BASES = ("length", "time", "mass", "temperature", "current", "angle")
"""Order of the exponents in a dimension."""

DIMENSIONS: dict[str, tuple[tuple[int, ...], float]] = {
    "length": ((1, 0, 0, 0, 0, 0), 1e-3),
    "time": ((0, 1, 0, 0, 0, 0), 1.0),
    "mass": ((0, 0, 1, 0, 0, 0), 1.0),
    "temperature": ((0, 0, 0, 1, 0, 0), 1.0),
    "current": ((0, 0, 0, 0, 1, 0), 1.0),
    "angle": ((0, 0, 0, 0, 0, 1), 1.0),
    "force": ((1, -2, 1, 0, 0, 0), 1.0),
    "volume": ((3, 0, 0, 0, 0, 0), 1e-3),
    "viscosity": ((2, -1, 0, 0, 0, 0), 1e-6),
    "rotation": ((0, -1, 0, 0, 0, 0), 1 / 60),
    "frequency": ((0, -1, 0, 0, 0, 0), 1.0),
    "power": ((2, -3, 1, 0, 0, 0), 1.0),
    "voltage": ((2, -3, 1, 0, -1, 0), 1.0),
    "speed": ((1, -1, 0, 0, 0, 0), 1 / 60),
    "feed": ((1, 0, 0, 0, 0, 0), 1e-3),
    "slope": ((0, 0, 0, 0, 0, 0), 1e-3),
    "ratio": ((0, 0, 0, 0, 0, 0), 1e-2),
    "thread count": ((-1, 0, 0, 0, 0, 0), 1 / 0.0254),
    "stress": ((-1, -2, 1, 0, 0, 0), 1e6),
    "pressure": ((-1, -2, 1, 0, 0, 0), 1e5),
    "torque": ((2, -2, 1, 0, 0, 0), 1.0),
}
"""Each dimension of quantities.UNITS as exponents of BASES, and the size of its own base unit in m, s, kg, K, A, degrees.
A turn counts as a plain number (rpm is 1/min), as in the SI brochure for rotational frequency."""

NOTHING = (0, 0, 0, 0, 0, 0)
FACTOR = re.compile(r"([A-Za-zµμ°%\"″']+)\s*(?:\^?(-?\d)|([²³]))?")


@dataclass(frozen=True)
class Measure:
    """What a value measures: exponents of BASES, and the size of one in SI.

    point    a temperature on a scale (°C, °F), which may be subtracted from another but not multiplied
    written  the unit as people write it, for the words of a fault; it plays no part in what is equal
    """

    exponents: tuple[int, ...] = NOTHING
    size: float = 1.0
    point: bool = False
    written: str = field(default="", compare=False)

    @property
    def words(self) -> str:
        """What it measures, and in which unit, in words for a fault."""
        if self.exponents == YES_OR_NO.exponents:
            return "a yes or no"
        return f"{self._kind} ({self.written})" if self.written else self._kind

    @property
    def _kind(self) -> str:
        if self.exponents == NOTHING:
            return "a plain number"
        for name, (exponents, _) in DIMENSIONS.items():
            if exponents == self.exponents and name not in {"slope", "ratio", "feed"}:
                return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"
        parts = [f"{base}{f'^{n}' if n != 1 else ''}" for base, n in zip(BASES, self.exponents, strict=True) if n]
        return " × ".join(parts)


PLAIN = Measure()
YES_OR_NO = Measure((9,) * len(BASES))
"""What a comparison gives; it measures nothing."""


@cache
def measure(unit: str) -> Measure:
    """What UNIT measures. A key or spelling of quantities.UNITS, or a product of them: `N/mm2`, `um/(m K)`, `1/min`.

    Raises Unreadable for what is not a unit.

    >>> measure("N/mm2").size
    1000000.0
    """
    text = unit.strip()
    if not text:
        return PLAIN
    try:
        return _named(unit_named(text))
    except Unreadable:
        return replace(_product(text), written=text)


def product(a: Measure, b: Measure, sign: int = 1) -> Measure:
    """What a times b measures, or with SIGN -1 a over b."""
    exponents = tuple(x + sign * y for x, y in zip(a.exponents, b.exponents, strict=True))
    return Measure(exponents, a.size * b.size**sign, written=_joined(a.written, b.written, sign))


def _joined(a: str, b: str, sign: int) -> str:
    if not a or not b:
        return a if not b else b if sign == 1 else f"1/{b}"
    if a == b and sign == -1:
        return ""
    return f"{a}·{b}" if sign == 1 else f"{a}/{b}"


def _named(key: str) -> Measure:
    unit = UNITS[key]
    exponents, size = DIMENSIONS[unit.dimension]
    return Measure(exponents, size * unit.factor, point=key in {"degC", "degF"}, written=unit.written)


def _product(text: str) -> Measure:
    top, slash, bottom = text.partition("/")
    found = _factors(top.strip("() "), 1) if top.strip() != "1" else PLAIN
    if not slash:
        return found
    below = _factors(bottom.strip("() "), -1)
    return Measure(tuple(a + b for a, b in zip(found.exponents, below.exponents, strict=True)), found.size * below.size)


def _factors(text: str, sign: int) -> Measure:
    rest = text.replace("·", " ").replace("*", " ").replace("²", "2").replace("³", "3").strip()
    exponents, size = [0] * len(BASES), 1.0
    if not rest:
        raise Unreadable(f'"{text}" is not a unit known here')
    while rest:
        match = FACTOR.match(rest)
        if not match:
            raise Unreadable(f'"{text}" is not a unit known here; write one like N/mm2')
        one = _named(unit_named(match[1]))
        power = int(match[2] or 1) * sign
        exponents = [a + power * b for a, b in zip(exponents, one.exponents, strict=True)]
        size *= one.size**power
        rest = rest[match.end() :].strip()
    return Measure(tuple(exponents), size)
