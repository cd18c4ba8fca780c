"""A drain plug with its seal in section: what is measured, and where the seal lies."""

from __future__ import annotations

from math import pi

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, box
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.designations import thread_named
from fettlebook.tables.figures import written

CENTRE, FACE = 76.0, 40.0
"""The plug's axis and the face of the boss on the sheet, in mm."""

SQUEEZED = 0.75
"""Depth of the recess over the section of the ring, where the ring is not given: squeezed by a quarter. Common practice."""


def seal_section(
    thread: str, counterbore_diameter_mm: float | None, counterbore_depth_mm: float | None, section_mm: float | None
) -> str:
    """Plug, boss and seal cut through the axis. Sizes that are not given are drawn in proportion and named, not figured."""
    major = thread_named(thread).major_mm
    wide, deep = _recess(major, counterbore_diameter_mm, counterbore_depth_mm)
    ring = section_mm or min(deep / SQUEEZED, 0.98 * (wide - major) / 2)
    given = {
        "thread": thread,
        "wide": wide,
        "deep": deep,
        "ring": ring,
        "said": [counterbore_diameter_mm, counterbore_depth_mm],
    }
    d = Drawing("seal-section", f"Plug {thread_named(thread).designation} and its seal in section", 140, 108, given)
    s = 46 / wide
    _boss(d, s, major, wide, deep)
    _plug(d, s, major, wide)
    for side in (-1, 1):
        _seal(d, CENTRE + side * s * (major + wide) / 4, s, deep, ring, (wide - major) / 2)
    _names(d, s, thread_named(thread).designation, major, wide, deep, counterbore_diameter_mm, counterbore_depth_mm)
    return d.svg()


def _recess(major: float, diameter: float | None, depth: float | None) -> tuple[float, float]:
    wide = diameter if diameter is not None else 1.3 * major + 1.5
    deep = depth if depth is not None else 0.36 * (wide - major)
    if wide < major + 1:
        raise BadValue(
            "counterbore_diameter",
            f"{written(wide, 1)} mm leaves no room for a seal beside a thread of {written(major, 2)} mm",
            "measure the recess, not the hole",
        )
    return wide, deep


def _boss(d: Drawing, s: float, major: float, wide: float, deep: float) -> None:
    bottom = FACE + 46
    for side in (-1, 1):
        outer, wall, hole = (CENTRE + side * x for x in (42.0, s * wide / 2, s * major / 2))
        shelf = FACE + s * deep
        outline = [(outer, FACE), (wall, FACE), (wall, shelf), (hole, shelf), (hole, bottom), (outer, bottom)]
        d.hatch(outline, spacing=2.6)
        d.polyline(outline[:5])
        d.line((hole, bottom), (outer, bottom))
        d.break_line((outer, FACE), (outer, bottom))


def _plug(d: Drawing, s: float, major: float, wide: float) -> None:
    half, head, high = s * major / 2, s * wide / 2 + 5, 22.0
    end = FACE + 40
    d.polygon([(CENTRE - head, FACE), (CENTRE - head, FACE - 5), (CENTRE + head, FACE - 5), (CENTRE + head, FACE)])
    hexagon = 0.78 * head
    d.polygon(box(CENTRE - hexagon, FACE - 5 - high, 2 * hexagon, high))
    for x in (-0.5, 0.5):
        d.line((CENTRE + x * hexagon, FACE - 5 - high), (CENTRE + x * hexagon, FACE - 5), "narrow")
    d.polyline([(CENTRE - half, FACE), (CENTRE - half, end - 2), (CENTRE - half + 2, end), (CENTRE + half - 2, end), (CENTRE + half, end - 2), (CENTRE + half, FACE)])  # fmt: skip
    for side in (-1, 1):
        root = CENTRE + side * (half - max(1.2, 0.09 * half))
        d.line((root, FACE), (root, end - 1), "narrow")
    d.line((CENTRE, FACE - high - 10), (CENTRE, end + 9), "chain")


def _seal(d: Drawing, x: float, s: float, deep: float, ring: float, gland: float) -> None:
    """The ring in its gland: squeezed to its depth, bulged to keep its area, as far as the gland is wide."""
    high = s * min(deep, ring)
    bulged = min(gland, pi * ring**2 / 4 / min(deep, ring) + (1 - pi / 4) * min(deep, ring)) * s
    low = FACE + s * deep - high
    d.tint(box(x - bulged / 2, low, bulged, high), 0.45)
    d.rectangle(x - bulged / 2, low, bulged, high, "narrow", min(high, bulged) / 2.4)


def _names(d: Drawing, s: float, designation: str, major: float, wide: float, deep: float, diameter: float | None, depth: float | None) -> None:  # fmt: skip
    wall, shelf = s * wide / 2, FACE + s * deep
    said = f"recess Ø{written(diameter, 1)}" if diameter is not None else "recess diameter"
    d.dim_horizontal((CENTRE - wall, shelf), (CENTRE + wall, shelf), 99, said)
    said = written(depth, 2) if depth is not None else "recess depth"
    d.dim_vertical((CENTRE + wall, FACE), (CENTRE + wall, shelf), CENTRE + 48, said)
    d.leader([(CENTRE - s * major / 2, FACE + 32), (CENTRE - 46, FACE + 22)], designation)
    middle = CENTRE + s * (major + wide) / 4
    d.leader([(middle, (FACE + shelf) / 2), (CENTRE + wall + 9, FACE - 22)], "seal", "dot")
    d.leader([(CENTRE - wall - 3, FACE - 5), (CENTRE - 42, FACE - 20)], "head lies", lines=("on the boss",))


def _alt(
    thread: str, counterbore_diameter_mm: float | None, counterbore_depth_mm: float | None, section_mm: float | None
) -> str:
    wide, deep = _recess(thread_named(thread).major_mm, counterbore_diameter_mm, counterbore_depth_mm)
    measured = [
        f"diameter {written(wide, 1)} mm" if counterbore_diameter_mm is not None else "its diameter",
        f"depth {written(deep, 2)} mm" if counterbore_depth_mm is not None else "its depth",
    ]
    return (
        f"Section through a plug {thread_named(thread).designation} in a boss. The head lies on the face of the boss; the seal is squeezed "
        f"in the recess round the thread. Measured of the recess: {' and '.join(measured)}."
    )


FIGURES = (
    Drawn(
        "seal-section",
        "Plug and seal in section",
        (
            Parameter("thread", "Thread of the plug", kind="text", default="G 1/2", example="G 1/2"),
            Parameter("counterbore_diameter", "Diameter of the recess", unit="mm", low=4, high=200, default=None, example="30 mm"),
            Parameter("counterbore_depth", "Depth of the recess", unit="mm", low=0.3, high=10, default=None, example="2.0 mm"),
            Parameter("section", "Section of the ring", unit="mm", low=0.5, high=12, default=None, example="2.62 mm"),
        ),
        seal_section,
        _alt,
        ("seal-for-plug",),
    ),
)  # fmt: skip
