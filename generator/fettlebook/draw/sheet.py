"""A sheet of drawing: the pen, its dimensions and its plots, and the finished SVG.

    d = Drawing("plug", "Plug with its seal", 150, 90, {"size": 12})
    d.rectangle(20, 20, 60, 30)
    d.dim_horizontal((20, 50), (80, 50), 62, "60")
    d.svg()

Lengths are millimetres of paper, x to the right and y downwards; angles are degrees, anticlockwise as seen. `View` turns
millimetres of a part into millimetres of paper. The same calls give the same bytes.
"""

from __future__ import annotations

from xml.sax.saxutils import escape

from fettlebook.draw.dimensions import Dimensioned
from fettlebook.draw.geometry import Point, View, arc_points, box, polar, regular_polygon
from fettlebook.draw.pen import NARROW, SMALLEST_TEXT, TEXT_SIZE, WIDE, text_width, written
from fettlebook.draw.plot import Axes, Scale
from fettlebook.tables import figures

__all__ = [
    "NARROW", "SMALLEST_TEXT", "TEXT_SIZE", "WIDE", "Axes", "Drawing", "Point", "Scale", "View", "arc_points", "box", "polar",
    "regular_polygon", "short", "text_width",
]  # fmt: skip


def short(value: float, decimals: int = 2) -> str:
    """A figure for a dimension: rounded once, without zeros at its end (ISO 129).

    >>> short(24.0), short(1.75), short(14.504)
    ('24', '1.75', '14.5')
    """
    text = figures.written(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


class Drawing(Dimensioned):
    """A drawing of WIDTH by HEIGHT millimetres. NAME and GIVEN parameters keep its ids apart from every other's."""

    def axes(
        self, x: float, y: float, width: float, height: float, across: Scale, up: Scale, grid: bool = True
    ) -> Axes:
        """A frame with scales at an upper left corner; leave about 14 mm below it and 16 mm to its left."""
        return Axes(self, x, y, width, height, across, up, grid)

    def svg(self) -> str:
        """The whole drawing as SVG text: line art in the colour of the text around it."""
        w, h = written(self.width), written(self.height)
        title = f"{self.prefix}-title"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}" width="{w}mm" height="{h}mm" role="img" '
            f'aria-labelledby="{title}" fill="none" stroke="currentColor" stroke-width="{NARROW:g}" stroke-linejoin="round" '
            f'font-family="\'Source Sans 3\', sans-serif" font-size="{TEXT_SIZE:g}">'
            f'<title id="{title}">{escape(self.title)}</title>' + "".join(self.pieces) + "</svg>\n"
        )
