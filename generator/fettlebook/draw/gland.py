"""An O-ring in its gland, free and squeezed, with the figures that decide whether it seals."""

from __future__ import annotations

from math import pi

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, box, short
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.o_rings import fill_percent, squeeze_percent

FLOOR, LEFT, RIGHT = 62.0, 48.0, 116.0
"""Floor of the gland and the middles of the two pictures on the sheet [mm]."""


def gland(section_mm: float, depth_mm: float, width_mm: float) -> str:
    """Left the ring lying free, right the cover home and the ring squeezed to the gland's depth."""
    _keep(section_mm, depth_mm, width_mm)
    s = min(30 / max(section_mm, depth_mm), 42 / width_mm)
    given = {"section": section_mm, "depth": depth_mm, "width": width_mm}
    d = Drawing("o-ring-gland", f"O-ring of {short(section_mm)} mm in a gland", 170, 112, given)
    squeeze, fill = squeeze_percent(section_mm, depth_mm), fill_percent(section_mm, depth_mm, width_mm)
    for middle in (LEFT, RIGHT):
        _gland(d, middle, s, depth_mm, width_mm)
    d.circle((LEFT, FLOOR - s * section_mm / 2), s * section_mm / 2)
    _squeezed(d, s, section_mm, depth_mm, width_mm)
    d.dim_vertical((LEFT, FLOOR - s * section_mm), (LEFT, FLOOR), LEFT - s * width_mm / 2 - 15, short(section_mm))
    edge = RIGHT + s * width_mm / 2
    d.dim_vertical((edge, FLOOR - s * depth_mm), (edge, FLOOR), edge + 15, short(depth_mm))
    d.dim_horizontal((RIGHT - s * width_mm / 2, FLOOR), (edge, FLOOR), FLOOR + 18, short(width_mm))
    d.text((LEFT, 96), "free", "middle")
    d.text((RIGHT, 96), "cover home", "middle")
    d.text((85, 106), f"squeeze {written(squeeze, 1)} %, fill {written(fill, 1)} %", "middle", bold=True)
    return d.svg()


def _keep(section: float, depth: float, width: float) -> None:
    if depth >= section:
        raise BadValue(
            "depth",
            f"a gland {depth:g} mm deep does not squeeze a ring of {section:g} mm",
            "it must be shallower than the ring is thick",
        )
    if width < section:
        raise BadValue("width", f"a ring of {section:g} mm does not go into a gland {width:g} mm wide")
    if fill_percent(section, depth, width) > 100:
        raise BadValue("width", "the ring has more rubber than the gland has room", "make it wider or deeper")


def _gland(d: Drawing, middle: float, s: float, depth: float, width: float) -> None:
    half, top, wall, bottom = s * width / 2, FLOOR - s * depth, 8.0, FLOOR + 8
    outline = [
        (middle - half - wall, top), (middle - half, top), (middle - half, FLOOR), (middle + half, FLOOR),
        (middle + half, top), (middle + half + wall, top), (middle + half + wall, bottom), (middle - half - wall, bottom),
    ]  # fmt: skip
    d.hatch(outline, spacing=2.6)
    d.polyline(outline[:6])


def _squeezed(d: Drawing, s: float, section: float, depth: float, width: float) -> None:
    """The cover, and the ring with flat faces and round sides that keep its area."""
    half, top = s * width / 2, FLOOR - s * depth
    d.hatch(box(RIGHT - half - 8, top - 7, 2 * half + 16, 7), spacing=2.6, angle=135)
    d.line((RIGHT - half - 8, top), (RIGHT + half + 8, top))
    long = min(width, pi * section**2 / 4 / depth + (1 - pi / 4) * depth) * s
    d.rectangle(RIGHT - long / 2, top, long, s * depth, "wide", min(s * depth, long) / 2)


def _alt(section_mm: float, depth_mm: float, width_mm: float) -> str:
    _keep(section_mm, depth_mm, width_mm)
    squeeze, fill = squeeze_percent(section_mm, depth_mm), fill_percent(section_mm, depth_mm, width_mm)
    return (
        f"Two sections through a rectangular gland {short(depth_mm)} mm deep and {short(width_mm)} mm wide. Left a free ring of {short(section_mm)} mm "
        f"stands above the face; right the cover is home and squeezes it by {written(squeeze, 1)} %. It fills {written(fill, 1)} % of the gland."
    )


FIGURES = (
    Drawn(
        "o-ring-gland",
        "O-ring in its gland",
        (
            Parameter("section", "Section of the ring", unit="mm", low=0.9, high=8, default=2.62, example="2.62 mm"),
            Parameter("depth", "Depth of the gland", unit="mm", low=0.3, high=10, default=2.0, example="2.0 mm"),
            Parameter("width", "Width of the gland", unit="mm", low=0.5, high=30, default=3.6, example="3.6 mm"),
        ),
        gland,
        _alt,
        ("o-ring-fit",),
    ),
)  # fmt: skip
