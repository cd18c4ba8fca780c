"""The hearth from above: where each part of a heating lies, thickest in the way of the waste heat, and what stands beside."""

from __future__ import annotations

from typing import Any

from fettlebook.draw.definition import Drawn
from fettlebook.draw.heating_plan import PARAMETERS
from fettlebook.draw.sheet import Drawing, text_width
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.heating_plan import Heating, Plan, plan_of
from fettlebook.tables.heating_plan_parts import Part

WIDTH = 170.0
BED = (50.0, 18.0, 74.0, 74.0)
"""The bed of bricks on the sheet: left, top, width, height [mm of paper]."""

MOST = 6


def _heating(plan: Plan, number: int) -> Heating:
    if not plan.heatings:
        raise BadValue("parts", "nothing here hardens, so there is no hearth to lay out")
    if number > len(plan.heatings):
        raise BadValue("heating", f"there is no heating {number}", f"this plan has {len(plan.heatings)}")
    return plan.heatings[number - 1]


def _bricks(d: Drawing) -> None:
    """The bed, a back wall and two side walls of fire-brick, hatched as cut."""
    x, y, w, h = BED
    d.rectangle(x, y, w, h)
    back = [(x - 8, y - 8), (x + w + 8, y - 8), (x + w + 8, y), (x - 8, y)]
    left = [(x - 8, y), (x, y), (x, y + h * 0.6), (x - 8, y + h * 0.6)]
    right = [(x + w, y), (x + w + 8, y), (x + w + 8, y + h * 0.6), (x + w, y + h * 0.6)]
    for wall in (back, left, right):
        d.polygon(wall)
        d.hatch(wall)


def _flame(d: Drawing) -> None:
    """The torch from the front and the way of the waste heat along the back."""
    x, y, w, h = BED
    d.arrow((x + w - 16, y + h + 18), (x + w - 24, y + h - 6), "wide", 1.4)
    d.text((x + w - 14, y + h + 17), "torch, from the front")
    d.arrow((x + 16, y + 7), (x + w - 8, y + 7), "narrow", 1.2)
    d.text((x + w / 2, y + 5.5), "waste heat", "middle", size=3.6)


def _rows(heating: Heating) -> list[Part]:
    return list(heating.parts[:MOST])


def _parts(d: Drawing, heating: Heating) -> None:
    """Each part as a bar: thickest at the back; wide in proportion to its section, numbered by its turn in the quench."""
    x, y, w, h = BED
    parts = _rows(heating)
    thickest = parts[0].section_mm
    room = (h - 16) / len(parts)
    for n, part in enumerate(parts):
        thick = max(1.8, min(room - 4, 11) * part.section_mm / thickest)
        middle = y + 13 + room * (n + 0.5)
        d.rectangle(x + 14, middle - thick / 2, w - 30, thick, "wide", min(1.0, thick / 2))
        turn = len(heating.parts) - n
        d.dot((x + w - 20, middle))
        d.line((x + w - 20, middle), (x + w + 12, middle), "narrow")
        d.text((x + w + 13, middle - 0.5), f"{turn}  {_short(part.name)}")
        d.text((x + w + 13, middle + 4), f"{part.section_mm:g} mm, {part.quench}", size=3.5)


def _short(name: str, most: float = 32.0) -> str:
    """A name cut so that it stays on the sheet."""
    if text_width(name) <= most:
        return name
    kept = name
    while kept and text_width(kept + "…") > most:
        kept = kept[:-1].rstrip()
    return kept + "…"


def _baths(d: Drawing, heating: Heating) -> None:
    """The quenches that must stand ready, beside the hearth, away from the torch and never under it."""
    media = tuple(dict.fromkeys(p.quench for p in heating.parts if p.quench != "air"))
    for n, medium in enumerate(media):
        y = 34 + 42 * n
        d.rectangle(5, y, 30, 15, "wide", 1.5)
        d.text((20, y + 9), medium, "middle", bold=True)
        d.text((5, y + 20), "lid at hand, no water" if medium == "oil" else "deep, cool", size=3.5)
    if len(media) > 1:
        d.line((20, 57), (20, 64), "narrow")
        d.line((20, 71), (20, 75), "narrow")
        d.text((20, 69), "2 m apart or more", "middle", 3.5, bold=True)


def hearth(parts: tuple[Any, ...], time_h: float = 1.0, heating: int = 1) -> str:
    """The layout as SVG. Raises BadValue for a heating that the plan does not have."""
    plan = plan_of(parts, time_h)
    chosen = _heating(plan, heating)
    d = Drawing(
        "hearth", f"Hearth from above, heating {heating}", WIDTH, 134, {"parts": str(parts), "heating": heating}
    )
    d.text(
        (8, 6),
        f"Heating {heating}: {written(chosen.aim_c, 0)} °C ({written(chosen.low_c, 0)} to {written(chosen.high_c, 0)} °C)",
        bold=True,
    )
    _bricks(d)
    _flame(d)
    _parts(d, chosen)
    left_over = len(chosen.parts) - MOST
    lines = [
        "Numbers: turn in the quench. The thickest goes on first and is quenched last.",
        "Not to scale. Baths stand beside the hearth, a step away from the torch, never under it.",
    ]
    if left_over > 0:
        lines.append(f"{left_over} more of this heating are not drawn: lay them in front, thinnest nearest.")
    _baths(d, chosen)
    d.lines_of_text((8, 118), lines, size=3.8)
    return d.svg()


def words(parts: tuple[Any, ...], time_h: float = 1.0, heating: int = 1) -> str:
    """The same for somebody who cannot see it."""
    chosen = _heating(plan_of(parts, time_h), heating)
    laid = "; ".join(
        f"{p.name}, {p.section_mm:g} mm, quenched {len(chosen.parts) - n}. in {p.quench}"
        for n, p in enumerate(chosen.parts)
    )
    return f"Hearth from above, heating {heating} at {written(chosen.aim_c, 0)} °C. From the back, where the waste heat goes, to the front: {laid}."


FIGURES = (
    Drawn(
        "hearth",
        "Hearth from above",
        (*PARAMETERS, Parameter("heating", "Which heating", kind="whole", low=1, high=40, default=1, example="1")),
        hearth,
        words,
        ("heating-plan",),
    ),
)  # fmt: skip
