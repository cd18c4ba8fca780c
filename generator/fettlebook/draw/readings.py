"""A reading over time, with its limits, so that a drift is seen before it is a fault."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from fettlebook.draw.plot import Axes, Scale
from fettlebook.draw.sheet import Drawing


def readings_over_time(
    name: str, unit: str, points: Sequence[tuple[date, float]], low: float | None, high: float | None
) -> str:
    """The SVG of a reading over time.

    points  (day, value) in order of day, at least two
    low, high  limits, None where there is none
    """
    values = [value for _, value in points] + [limit for limit in (low, high) if limit is not None]
    bottom, top = min(values), max(values)
    margin = (top - bottom) * 0.12 or abs(top) * 0.1 or 1.0
    first, last = points[0][0].toordinal(), points[-1][0].toordinal()
    if first == last:
        first, last = first - 1, last + 1
    sheet = Drawing(
        "readings", name, 150, 70, {"name": name, "points": str(points), "low": low, "high": high, "unit": unit}
    )
    middle = (first + last) // 2
    ticks = [(float(day), date.fromordinal(day).isoformat()) for day in dict.fromkeys((first, middle, last))]
    across = Scale(first - (last - first) * 0.04, last + (last - first) * 0.06, "", ticks=ticks)
    axes = Axes(sheet, 20, 8, 122, 50, across, Scale(bottom - margin, top + margin, unit))
    for limit in (low, high):
        if limit is not None:
            axes.curve([(across.low, limit), (across.high, limit)], "hidden")
    axes.curve([(day.toordinal(), value) for day, value in points])
    for day, value in points:
        axes.mark(day.toordinal(), value)
    return sheet.svg()
