"""A belt and how its tension is felt: a pull on the middle of the span, and how far it gives."""

from __future__ import annotations

from math import acos, degrees

from fettlebook.draw.definition import Drawn
from fettlebook.draw.geometry import polar
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import Parameter

SPAN_PART = 64
"""A belt gives one part in this many of its free span (common practice)."""


def give_mm(span_mm: float) -> float:
    """How far the middle of a span gives when the belt is right: span / 64 [mm]. Common practice."""
    return span_mm / SPAN_PART


def belt_span(span_mm: float, force_n: float) -> str:
    """Two pulleys with the belt, the pull at the middle of the upper span, and how far it gives."""
    d = Drawing("belt-span", "Tension of a belt", 170, 96, {"span": span_mm, "force": force_n})
    small, large, r, big = (34.0, 56.0), (134.0, 56.0), 11.0, 22.0
    tilt = degrees(acos((big - r) / (large[0] - small[0])))
    a, b = polar(small, r, tilt), polar(large, big, tilt)
    c, e = polar(small, r, -tilt), polar(large, big, -tilt)
    d.circle(small, r)
    d.circle(large, big)
    for centre, radius in ((small, r), (large, big)):
        d.centre_mark(centre, radius)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    pressed = (middle[0], middle[1] + 9)
    d.polyline((a, pressed, b))
    d.line(a, b, "phantom")
    d.line(c, e)
    d.arrow((middle[0], middle[1] - 20), (pressed[0], pressed[1] - 0.5))
    d.text((middle[0] - 3, middle[1] - 14), f"{short(force_n, 0)} N", "end")
    d.leader(
        [pressed, (pressed[0] + 6, pressed[1] + 18), (pressed[0] + 10, pressed[1] + 18)],
        f"gives {short(give_mm(span_mm), 1)}",
        end="dot",
    )
    d.dim_aligned(a, b, 22, f"span {short(span_mm, 0)}")
    d.text((small[0], 90), "motor", "middle", 3.8)
    d.text((large[0], 92), "spindle drive", "middle", 3.8)
    return d.svg()


def _alt(span_mm: float, force_n: float) -> str:
    return (
        f"Two pulleys and a belt. A spring balance pulls the middle of the free span with {short(force_n, 0)} N; over a span of {short(span_mm, 0)} mm "
        f"the belt gives {short(give_mm(span_mm), 1)} mm, one part in {SPAN_PART}."
    )


FIGURES = (
    Drawn(
        "belt-span",
        "Tension of a belt",
        (
            Parameter("span", "Free span", unit="mm", low=50, high=5000, default=480.0, example="480 mm"),
            Parameter("force", "Pull", unit="N", low=1, high=500, default=25.0, example="25 N"),
        ),
        belt_span,
        _alt,
    ),
)
