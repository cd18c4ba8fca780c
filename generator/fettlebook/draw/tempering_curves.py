"""Hardness against tempering temperature, for one steel or several, with the span of the sources and the brittle range."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.plot import Axes, Scale
from fettlebook.draw.sheet import Drawing
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.steel_data import Steel, meanings
from fettlebook.tables.tempering import brittle_ranges, curve_of
from fettlebook.tables.tempering_curves import Curve, reach_c, temperature_for_c

WIDTH, HEIGHT = 170.0, 118.0
MOST = 4
KINDS = ("wide", "hidden", "chain", "phantom")
STEP_C = 5


def _hours(hours: float) -> str:
    return f"{hours:g} h" if hours >= 1 else f"{hours * 60:.3g} min"


def _points(curve: Curve, hours: float) -> list[tuple[float, float]]:
    return [(float(t), h) for t in range(80, 721, STEP_C) if (h := curve.hrc(t, hours)) is not None]


def _chosen(steel: tuple[str, ...]) -> list[tuple[Steel, Curve]]:
    found: dict[str, tuple[Steel, Curve]] = {}
    for name in steel:
        for one in meanings(name):
            curve = curve_of(one)
            found.setdefault(curve.id, (one, curve))
    if len(found) > MOST:
        raise BadValue("steel", f"{len(found)} curves are too many to tell apart in print", f"at most {MOST}")
    return list(found.values())


def _span(axes: Axes, curve: Curve, hours: float) -> None:
    """The span of the sources as a shade, where they differ."""
    reached = [(t, s) for t in range(80, 721, STEP_C) if (s := curve.spread(t, hours)) and s[1] - s[0] > 0.4]
    runs: list[list[tuple[float, tuple[float, float]]]] = []
    for t, s in reached:
        if runs and t - runs[-1][-1][0] == STEP_C:
            runs[-1].append((t, s))
        else:
            runs.append([(t, s)])
    for run in runs:
        if len(run) > 1:
            axes.band_between(
                [(t, max(low, 10.0)) for t, (low, _) in run], [(t, min(high, 68.0)) for t, (_, high) in run]
            )


def _brittle(d: Drawing, axes: Axes, steel: Steel) -> None:
    """The ranges in which the steel is brittle, as lines with two ends at the foot of the plot."""
    for n, (low, high, said) in enumerate(sorted(brittle_ranges(steel), key=lambda r: r[0])):
        y = axes.at(low, 12 + 5.5 * n)[1]
        a, b = axes.at(low, 10)[0], axes.at(high, 10)[0]
        d.line((a, y), (b, y), "narrow")
        for x in (a, b):
            d.line((x, y - 1.5), (x, y + 1.5), "narrow")
        d.text(((a + b) / 2, y - 1.6), said.split(":")[0], "middle", size=3.5)


def _key(d: Drawing, pairs: list[tuple[Steel, Curve]], y: float, hours: float, wanted: float | None) -> None:
    """A line for each steel, with the temperature for the wanted hardness when several share the plot."""
    for n, (steel, curve) in enumerate(pairs):
        row = y + 6 * n
        d.line((16, row - 1.3), (30, row - 1.3), KINDS[n])
        at = temperature_for_c(curve, wanted, hours) if wanted is not None and len(pairs) > 1 else None
        d.text((33, row), steel.name + (f": {wanted:g} HRC at {at:.0f} °C" if at is not None else ""))


def tempering_curves(steel: tuple[str, ...], time_h: float = 1.0, wanted_hrc: float | None = None) -> str:
    """The plot as SVG. Raises BadValue for a steel that does not harden, or more curves than can be told apart."""
    pairs = _chosen(steel)
    height = HEIGHT + 6 * len(pairs)
    d = Drawing("tempering-curves", f"Hardness after tempering for {_hours(time_h)}", WIDTH, height, {"steel": steel, "time": time_h, "wanted": wanted_hrc})  # fmt: skip
    across = Scale(75, 725, "Tempering temperature, °C", ticks=(100, 200, 300, 400, 500, 600, 700))
    shade = "; shade: from the lowest to the highest source" if len(pairs) == 1 else ""
    d.text((20, 6), f"{_hours(time_h)} at heat{shade}", size=3.8)
    axes = d.axes(20, 10, 142, 84, across, Scale(10, 68, "HRC", ticks=(10, 20, 30, 40, 50, 60)))
    if len(pairs) == 1:
        _brittle(d, axes, pairs[0][0])
        _span(axes, pairs[0][1], time_h)
    for n, (_, curve) in enumerate(pairs):
        axes.curve(_points(curve, time_h), KINDS[n])
    if wanted_hrc is not None:
        _wanted(axes, pairs, time_h, wanted_hrc)
    _key(d, pairs, 116, time_h, wanted_hrc)
    return d.svg()


ROOM_TO_THE_RIGHT_C = 560
"""Up to here the label of the wanted hardness stands right of its point, above the falling curve; beyond, below it at the left."""


def _wanted(axes: Axes, pairs: list[tuple[Steel, Curve]], hours: float, hrc: float) -> None:
    axes.line_across(hrc, "hidden")
    for _, curve in pairs:
        if (at := temperature_for_c(curve, hrc, hours)) is not None and 75 <= at <= 725:
            label = f"{hrc:g} HRC at {at:.0f} °C" if len(pairs) == 1 else ""
            if at <= ROOM_TO_THE_RIGHT_C:
                axes.mark(at, hrc, label)
            else:
                axes.mark(at, hrc)
                x, y = axes.at(at, hrc)
                axes.pen.text((x - 2, y + 5), label, "end")


def words(steel: tuple[str, ...], time_h: float = 1.0, wanted_hrc: float | None = None) -> str:
    """The same for somebody who cannot see it."""
    said = []
    for one, curve in _chosen(steel):
        low, high = reach_c(curve, time_h)
        if not high:
            said.append(f"{one.name}: no figures for this time.")
            continue
        some = [t for t in (150, 200, 250, 300, 400, 500, 600) if low <= t <= high]
        figures = ", ".join(
            f"{curve.hrc(t, time_h):.0f} HRC at {t} °C" for t in some if curve.hrc(t, time_h) is not None
        )
        said.append(f"{one.name} after {_hours(time_h)}: {figures}.")
        if wanted_hrc is not None and (at := temperature_for_c(curve, wanted_hrc, time_h)) is not None:
            said.append(f"{wanted_hrc:g} HRC at {at:.0f} °C.")
    return "Plot of hardness against tempering temperature. " + " ".join(said)


FIGURES = (
    Drawn(
        "tempering-curves",
        "Hardness after tempering",
        (
            Parameter("steel", "Steels", kind="text", many=True, default=("BS 1407",), example="O1", help=f"up to {MOST}, commas between"),
            Parameter("time", "Time at heat", unit="h", low=1 / 360, high=100, default=1.0, example="1 h"),
            Parameter("hardness", "Hardness wanted", kind="number", low=10, high=68, default=None, argument="wanted_hrc", example="58"),
        ),
        tempering_curves,
        words,
        ("tempering",),
    ),
)  # fmt: skip
