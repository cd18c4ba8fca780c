"""A test bar in the spindle: where the indicator reads, at the side and on top, near the nose and far out."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.geometry import Point
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import Parameter

AXIS = 44.0


def spindle_bar(over_mm: float) -> str:
    """From the front: the bar in the taper, an indicator on top at both places. From the tailstock: on top and at the side."""
    d = Drawing("test-bar", "Test bar in the spindle", 176, 98, {"over": over_mm})
    d.polygon([(6, AXIS - 22), (30, AXIS - 22), (34, AXIS - 14), (34, AXIS + 14), (30, AXIS + 22), (6, AXIS + 22)])
    d.polyline([(8, AXIS - 5), (34, AXIS - 9)], "hidden")
    d.polyline([(8, AXIS + 5), (34, AXIS + 9)], "hidden")
    d.rectangle(34, AXIS - 9, 82, 18)
    d.line((2, AXIS), (124, AXIS), "chain")
    for x, words in ((41.0, "near"), (109.0, "far")):
        _indicator(d, (x, AXIS - 9), (0, -1))
        d.text((x, AXIS - 31), words, "middle", 3.8)
    d.dim_horizontal((41, AXIS + 9), (109, AXIS + 9), AXIS + 24, short(over_mm))
    d.arrow((62, AXIS - 20), (88, AXIS - 20))
    d.text((75, AXIS - 23), "saddle", "middle", 3.8)
    centre = (150.0, AXIS)
    d.circle(centre, 9)
    d.centre_mark(centre, 9)
    _indicator(d, (150, AXIS - 9), (0, -1))
    _indicator(d, (141, AXIS), (-1, 0))
    d.text((150, AXIS - 31), "top", "middle", 3.8)
    d.text((129, AXIS + 14), "side", "middle", 3.8)
    d.turning_arrow(centre, 15, -60, 60)
    d.text((150, AXIS + 30), "seen from the tailstock", "middle", 3.8)
    d.lines_of_text((8, 86), ["Read, turn the spindle half a turn, read again: the mean is the axis,", "half the difference is the bar's own error."], size=3.8)  # fmt: skip
    return d.svg()


def _indicator(d: Drawing, touch: Point, out: Point) -> None:
    """A dial with its plunger on the point TOUCH, standing off in the direction OUT."""
    foot = (touch[0] + 8 * out[0], touch[1] + 8 * out[1])
    dial = (touch[0] + 13 * out[0], touch[1] + 13 * out[1])
    d.line(touch, foot)
    d.circle(dial, 5)
    d.line(dial, (dial[0] + 2.5, dial[1] - 2.5), "narrow")


def _alt(over_mm: float) -> str:
    return (
        f"A test bar stands in the spindle's taper. An indicator on the saddle reads it near the nose and {short(over_mm)} mm further out, on top and "
        "at the operator's side. Each place is read twice, the spindle turned half a turn between, and the mean is taken."
    )


FIGURES = (
    Drawn(
        "test-bar",
        "Test bar in the spindle",
        (Parameter("over", "From near to far", unit="mm", low=50, high=600, default=300.0, example="300 mm"),),
        spindle_bar,
        _alt,
    ),
)
