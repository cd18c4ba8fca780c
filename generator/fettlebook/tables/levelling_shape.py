"""What a set of readings says about the bed, in plain words: pitch, roll, twist, bend, and what no jack can mend."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fettlebook.tables.figures import written
from fettlebook.tables.least_squares import Matrix, Singular, dot, least, normal, solve
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_readings import Row


@dataclass(frozen=True)
class Part:
    """One part of what is left: its size at the end of the bed [mm/m], the height that makes [mm], and words."""

    name: str
    mm_per_m: float
    height_mm: float
    words: str


def shape(layout: Layout, readings: Row, division: float) -> list[Part]:
    """Pitch, roll, twist, bend and rest of these readings [mm/m].

        long  = pitch + bend (x - middle) + rest,   cross = roll + twist (x - middle) + rest

    Twist and bend are given as the change from the first to the last station; heights are over the feet: pitch over
    their length, roll and twist over their width, bend as the sagitta (change x length / 8).
    """
    half = len(layout.stations)
    xs = [station.x_mm / 1000 for station in layout.stations]
    length = (layout.feet[-1].x_mm - layout.feet[0].x_mm) / 1000
    ys = [foot.y_mm for foot in layout.feet]
    width = (max(ys) - min(ys)) / 1000
    pitch, bend, rest_long = _line(xs, readings[:half])
    roll, twist, rest_cross = _line(xs, readings[half:])
    rests = [*rest_long, *rest_cross]
    row = least([-abs(v or 0.0) for v in rests])
    rest = rests[row] or 0.0
    place = f"station {layout.stations[row % half].name} {'long' if row < half else 'cross'}"
    small = division / 4
    return [
        _part("pitch", pitch, pitch * length, small, "tailstock end high", "headstock end high", division),
        _part("roll", roll, roll * width, small, "rear high", "front high", division),
        _part("twist", twist, twist * width, small, "rear rises towards the tailstock end",
              "rear falls towards the tailstock end", division),
        _part("bend", bend, bend * length / 8, small, "hollow, the middle is low", "humped, the middle is high", division),
        _part("rest", rest, 0.0, small, f"{place} stands out high", f"{place} stands out low", division),
    ]  # fmt: skip


def _part(name: str, value: float, height: float, small: float, plus: str, minus: str, division: float) -> Part:
    if abs(value) < small:
        return Part(name, value, height, "none worth speaking of")
    return Part(name, value, height, f"{plus if value > 0 else minus} by {written(abs(value) / division, 1)} divisions")


def _line(xs: Sequence[float], values: Row) -> tuple[float, float, Row]:
    """Mean, change from the first to the last place, and what is left of each value."""
    read = [(x, v) for x, v in zip(xs, values, strict=True) if v is not None]
    if not read:
        return 0.0, 0.0, list(values)
    middle = sum(x for x, _ in read) / len(read)
    mean = sum(v for _, v in read) / len(read)
    spread = sum((x - middle) ** 2 for x, _ in read)
    slope = sum((x - middle) * v for x, v in read) / spread if spread > 1e-9 else 0.0
    rest: Row = [None if v is None else v - mean - slope * (x - middle) for x, v in zip(xs, values, strict=True)]
    return mean, slope * (read[-1][0] - read[0][0]), rest


SURE = 10.0
"""A reading is doubted when leaving it out makes the squares of what no jack explains this many times smaller."""


CONTRARY = 0.25
"""Readings are said to contradict one another when more than this part of their squares is nothing that jacks can make."""


def contrary(layout: Layout, matrix: Matrix, readings: Row, off: Row, spoken_of: float) -> float:
    """The part of the squares of these readings that no jack could have made or can mend; 0.0 where it is not worth a word.

    off         what is to be brought to nothing of each reading [mm/m]
    spoken_of   what the rest must exceed at one reading at least to be spoken of [mm/m]
    """
    seen = [i for i, v in enumerate(readings) if v is not None]
    if len(seen) < len(layout.feet) + 2:
        return 0.0
    whole, rests = _unexplained(matrix, readings, seen)
    size = sum(v * v for v in off if v is not None)
    if max(abs(v) for v in rests) < spoken_of or whole <= CONTRARY * size:
        return 0.0
    return float(min(whole / size, 1.0))


def doubtful(layout: Layout, matrix: Matrix, readings: Row, spoken_of: float) -> int:
    """The one reading that neither the jacks nor its neighbours explain; -1 if there is none, or more than one.

    spoken_of   what the rest must exceed at that reading to be spoken of [mm/m]
    """
    seen = [i for i, v in enumerate(readings) if v is not None]
    if len(seen) < len(layout.feet) + 2:
        return -1
    whole, rests = _unexplained(matrix, readings, seen)
    if max(abs(v) for v in rests) < spoken_of:
        return -1
    left = [_unexplained(matrix, readings, [i for i in seen if i != k])[0] for k in seen]
    best = least(left)
    others = left[:best] + left[best + 1 :]
    return seen[best] if left[best] * SURE < whole and left[best] * 2 < min(others) else -1


def _unexplained(matrix: Matrix, readings: Row, rows: list[int]) -> tuple[float, list[float]]:
    """Sum of squares, and each row's rest, after the jacks have done all they can to these readings."""
    part = [matrix[i] for i in rows]
    right = [readings[i] or 0.0 for i in rows]
    q, c = normal(part, right)
    for j in range(len(q)):
        q[j][j] += 1e-4
    try:
        lift = solve(q, c)
    except Singular:
        return 0.0, right
    rests = [r - dot(row, lift) for r, row in zip(right, part, strict=True)]
    return dot(rests, rests), rests
