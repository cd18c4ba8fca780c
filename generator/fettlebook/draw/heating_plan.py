"""A heating plan by the clock: the parts' temperature on the hearth, heating after heating, and the tempering oven."""

from __future__ import annotations

from math import exp, log
from typing import Any

from fettlebook.draw.definition import Drawn
from fettlebook.draw.plot import Axes, Scale, round_steps
from fettlebook.draw.sheet import Drawing
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.heating_plan import OVER_FURNACE_C, SAMPLE, Plan, Stretch, plan_of, timeline
from fettlebook.tables.heating_plan_parts import EXAMPLE

COLD_C = 20.0
WIDTH, PLOT_HEIGHT, LINE = 170.0, 84.0, 6.0

PARAMETERS = (
    Parameter("parts", "Parts", kind="mapping", many=True, default=SAMPLE, example=EXAMPLE, help="as for the table heating-plan"),
    Parameter("time", "Tempering time", unit="h", low=0.05, high=24, default=1.0, example="1 h"),
)  # fmt: skip


def _rise(stretch: Stretch) -> list[tuple[float, float]]:
    """The way up as one lump in a hearth somewhat hotter than the aim."""
    fire = stretch.temperature_c + OVER_FURNACE_C
    ends = log((fire - COLD_C) / (fire - stretch.temperature_c))
    return [
        (
            stretch.start_min + n / 24 * (stretch.end_min - stretch.start_min),
            fire - (fire - COLD_C) * exp(-ends * n / 24),
        )
        for n in range(25)
    ]


def _hearth(axes: Axes, stretches: list[Stretch]) -> None:
    for s in stretches:
        if s.kind == "warm":
            axes.curve(_rise(s))
        elif s.kind == "soak":
            axes.curve([(s.start_min, s.temperature_c), (s.end_min, s.temperature_c)])
        else:
            axes.curve([(s.start_min, s.temperature_c), (s.end_min, s.temperature_c)], "narrow")
            axes.curve([(s.start_min, s.temperature_c), (s.start_min, COLD_C)])
            axes.curve([(s.end_min, s.temperature_c), (s.end_min, COLD_C)])


def _oven(axes: Axes, stretches: list[Stretch]) -> None:
    points: list[tuple[float, float]] = []
    for s in stretches:
        points += [(s.start_min, s.temperature_c), (s.end_min, s.temperature_c)]
    axes.curve(points, "hidden")


def _letters(stretches: list[Stretch]) -> list[tuple[str, Stretch]]:
    """A letter for each hold that has something to say: the heatings first, then the tempering rounds."""
    told = [s for s in stretches if s.kind in {"soak", "temper"}]
    return [(chr(ord("A") + n), s) for n, s in enumerate(told)]


def _legend(plan: Plan, letters: list[tuple[str, Stretch]]) -> list[str]:
    lines = []
    heatings = iter(plan.heatings)
    for letter, s in letters:
        if s.kind == "soak":
            heating = next(heatings)
            quenched = ", ".join(f"{p.name} ({p.quench})" for p in reversed(heating.parts))
            lines.append(
                f"{letter}: {written(s.temperature_c, 0)} °C, soak {written(heating.soak_min, 0)} min; quench in this order: {quenched}"
            )
        else:
            lines.append(f"{letter}: temper {written(s.temperature_c, 0)} °C, {plan.hours:g} h: {s.words}")
    return [piece for line in lines for piece in _wrapped(line)]


def _wrapped(line: str, most: int = 84) -> list[str]:
    """A line broken at spaces so that it fits the sheet; what follows is set in."""
    out = [""]
    for word in line.split(" "):
        if len(out[-1]) + len(word) + 1 > most:
            out.append("     " + word)
        else:
            out[-1] = f"{out[-1]} {word}" if out[-1] else word
    return out


def _ticks(end: float) -> list[tuple[float, str]]:
    if end <= 180:
        return [(m, f"{m:g}") for m in round_steps(0, end, 8)]
    step = next(s for s in (60, 120, 240, 480, 1440) if end / s <= 9)
    return [(float(m), f"{m / 60:g} h") for m in range(0, int(end) + 1, step)]


def heating_plan(parts: tuple[Any, ...], time_h: float = 1.0) -> str:
    """The plan as SVG. Raises BadValue for a part that cannot be read."""
    plan = plan_of(parts, time_h)
    stretches = list(timeline(plan))
    letters = _letters(stretches)
    legend = _legend(plan, letters) or ["Nothing here hardens."]
    end = max((s.end_min for s in stretches), default=60.0)
    top = max((s.temperature_c for s in stretches), default=800.0)
    d = Drawing(
        "heating-plan",
        "Heating plan by the clock",
        WIDTH,
        PLOT_HEIGHT + 36 + LINE * len(legend),
        {"parts": str(parts), "time": time_h},
    )
    d.text((22, 6), "Wide line: the thickest part on the hearth. Dashed: the tempering oven.", size=3.8)
    across = Scale(
        0, end * 1.02, "Time from lighting up, min" if end <= 180 else "Time from lighting up", ticks=_ticks(end)
    )
    axes = d.axes(22, 12, 142, PLOT_HEIGHT, across, Scale(0, 200 * (top // 200 + 1), "°C"))
    _hearth(axes, [s for s in stretches if s.kind in {"warm", "soak", "quench"}])
    _oven(axes, [s for s in stretches if s.kind in {"ready", "temper"}])
    for n, (letter, s) in enumerate(letters):
        x, y = axes.at((s.start_min + s.end_min) / 2, s.temperature_c)
        d.text((x, y - 2 - (4.5 if s.kind == "soak" and n % 2 else 0)), letter, "middle", bold=True)
    d.lines_of_text((8, PLOT_HEIGHT + 34), legend, size=3.9)
    return d.svg()


def words(parts: tuple[Any, ...], time_h: float = 1.0) -> str:
    """The same for somebody who cannot see it."""
    plan = plan_of(parts, time_h)
    letters = _letters(list(timeline(plan)))
    return "Plot of temperature against time. " + " ".join(f"{line.strip()}." for line in _legend(plan, letters))


FIGURES = (Drawn("heating-plan", "Heating plan by the clock", PARAMETERS, heating_plan, words, ("heating-plan",)),)
