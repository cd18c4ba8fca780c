"""The groove for a weld that is put right: two plates in section, ground to sound metal."""

from __future__ import annotations

from math import radians, tan

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import BadValue, Parameter

MIDDLE, TOP = 80.0, 34.0
"""Middle of the groove and upper face of the plates on the sheet [mm]."""


def groove_width_mm(thickness_mm: float, angle_deg: float, root_mm: float) -> float:
    """Width of the groove at the face: root + 2 x thickness x tan(angle / 2). Geometry.

    thickness_mm  of the plate [mm], above 0
    angle_deg     between the two flanks [deg], 20 to 120
    root_mm       gap at the root [mm], 0 or more
    """
    return root_mm + 2 * thickness_mm * tan(radians(angle_deg / 2))


def weld_groove(thickness_mm: float, angle_deg: float, root_mm: float) -> str:
    """Both plates in section with the groove, its angle, its root gap and its width at the face."""
    if root_mm > thickness_mm:
        raise BadValue("root", f"a gap of {short(root_mm)} mm is wider than the plate is thick ({short(thickness_mm)} mm)",
                       "give the gap at the bottom of the groove")  # fmt: skip
    wide = groove_width_mm(thickness_mm, angle_deg, root_mm)
    d = Drawing(
        "weld-groove", "Groove for a weld, in section", 160, 100, {"t": thickness_mm, "a": angle_deg, "r": root_mm}
    )
    s = min(30 / thickness_mm, 62 / wide)
    deep, top, bottom = s * thickness_mm, s * wide / 2, max(s * root_mm / 2, 0.5)
    for side, angle in ((-1, 45), (1, 135)):
        outline = [(MIDDLE + side * top, TOP), (MIDDLE + side * bottom, TOP + deep),
                   (MIDDLE + side * 58, TOP + deep), (MIDDLE + side * 58, TOP)]  # fmt: skip
        d.hatch(outline, angle=angle)
        d.polyline(outline[3:] + outline[:3])
        d.break_line((MIDDLE + side * 58, TOP - 2), (MIDDLE + side * 58, TOP + deep + 2))
    apex = (MIDDLE, TOP + deep + s * root_mm / 2 / tan(radians(angle_deg / 2)))
    half = angle_deg / 2
    d.dim_angle(apex, deep + 4, 90 - half, 90 + half, f"{short(angle_deg, 0)}°")
    d.dim_horizontal(
        (MIDDLE - bottom, TOP + deep), (MIDDLE + bottom, TOP + deep), TOP + deep + 13, f"root {short(root_mm)}"
    )
    d.dim_horizontal((MIDDLE - top, TOP), (MIDDLE + top, TOP), 9, short(wide, 1))
    d.dim_vertical((MIDDLE + 58, TOP), (MIDDLE + 58, TOP + deep), 150, short(thickness_mm))
    d.text((MIDDLE, 96), "bright metal on both flanks, and a finger's width beside them", "middle", 3.8)
    return d.svg()


def _alt(thickness_mm: float, angle_deg: float, root_mm: float) -> str:
    wide = groove_width_mm(thickness_mm, angle_deg, root_mm)
    return (
        f"Section through two plates {short(thickness_mm)} mm thick with a groove between them: {short(angle_deg, 0)} degrees between the "
        f"flanks, {short(root_mm)} mm open at the root, {short(wide, 1)} mm wide at the face, ground bright."
    )


FIGURES = (
    Drawn(
        "weld-groove",
        "Groove for a weld, in section",
        (
            Parameter("thickness", "Thickness of the plates", unit="mm", low=2, high=40, default=6.0, example="6 mm"),
            Parameter(
                "angle", "Angle between the flanks", unit="deg", low=20, high=120, default=60.0, example="60 deg"
            ),
            Parameter("root", "Gap at the root", unit="mm", low=0, high=6, default=2.0, example="2 mm"),
        ),
        weld_groove,
        _alt,
    ),
)
