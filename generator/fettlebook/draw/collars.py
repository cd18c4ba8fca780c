"""Test bars with two collars: held in the chuck alone, or between centres."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, short
from fettlebook.tables.definition import BadValue, Parameter

AXIS = 42.0
LEFT, RIGHT = 52.0, 128.0
"""Middles of the two collars on the sheet [mm]."""
COLLAR, HIGH, WAIST = 12.0, 11.0, 8.0


def collar_bar(held: str, distance_mm: float, diameter_mm: float, out_mm: float = 0.0) -> str:
    """The bar seen from above, as it is held, with the tool at the front and the distance of the collars."""
    if held == "chuck" and out_mm and out_mm < distance_mm + 1:
        raise BadValue("out", f"{short(out_mm)} mm outside the jaws do not hold two collars {short(distance_mm)} mm apart",
                       "measure from the jaws to the free end")  # fmt: skip
    d = Drawing("collar-bar", "Test bar with two collars, from above", 176, 104, {"held": held, "l": distance_mm, "d": diameter_mm, "out": out_mm})  # fmt: skip
    _bar(d, held)
    (_chuck if held == "chuck" else _centres)(d)
    _tool(d)
    d.dim_horizontal((LEFT, AXIS + HIGH), (RIGHT, AXIS + HIGH), 78, short(distance_mm))
    d.leader([(RIGHT + 3, AXIS - HIGH), (RIGHT + 8, 18)], f"Ø{short(diameter_mm)}")
    if held == "chuck" and out_mm:
        d.dim_horizontal((30, AXIS - 16), (RIGHT + 8, AXIS - HIGH), 10, f"{short(out_mm)} out of the jaws")
    d.text((8, 100), "front: the operator stands here", size=3.8)
    return d.svg()


def _bar(d: Drawing, held: str) -> None:
    start, end = (22.0 if held == "chuck" else LEFT - 22), RIGHT + 8
    d.polyline([(start, AXIS - WAIST), (LEFT - COLLAR / 2, AXIS - WAIST), (LEFT - COLLAR / 2, AXIS - HIGH), (LEFT + COLLAR / 2, AXIS - HIGH), (LEFT + COLLAR / 2, AXIS - WAIST), (RIGHT - COLLAR / 2, AXIS - WAIST), (RIGHT - COLLAR / 2, AXIS - HIGH), (end, AXIS - HIGH), (end, AXIS + HIGH), (RIGHT - COLLAR / 2, AXIS + HIGH), (RIGHT - COLLAR / 2, AXIS + WAIST), (LEFT + COLLAR / 2, AXIS + WAIST), (LEFT + COLLAR / 2, AXIS + HIGH), (LEFT - COLLAR / 2, AXIS + HIGH), (LEFT - COLLAR / 2, AXIS + WAIST), (start, AXIS + WAIST)], closed=held != "chuck")  # fmt: skip
    for x in (LEFT - COLLAR / 2, LEFT + COLLAR / 2, RIGHT - COLLAR / 2):
        d.line((x, AXIS - WAIST), (x, AXIS + WAIST), "narrow")
    d.line((6, AXIS), (170, AXIS), "chain")


def _chuck(d: Drawing) -> None:
    d.rectangle(8, AXIS - 28, 14, 56)
    for side in (-1, 1):
        d.polygon(
            [(22, AXIS + side * WAIST), (30, AXIS + side * WAIST), (30, AXIS + side * 16), (22, AXIS + side * 16)]
        )
    d.text((12, AXIS + 35), "chuck", "middle", 3.8)
    d.text((RIGHT + 14, AXIS - 6), "free end", size=3.8)


def _centres(d: Drawing) -> None:
    d.polygon(
        [(LEFT - 22, AXIS), (LEFT - 30, AXIS - 5), (LEFT - 44, AXIS - 5), (LEFT - 44, AXIS + 5), (LEFT - 30, AXIS + 5)]
    )
    d.polygon(
        [
            (RIGHT + 8, AXIS),
            (RIGHT + 16, AXIS - 5),
            (RIGHT + 38, AXIS - 5),
            (RIGHT + 38, AXIS + 5),
            (RIGHT + 16, AXIS + 5),
        ]
    )
    d.rectangle(LEFT - 20, AXIS - 14, 7, 28, radius=1)
    d.leader([(LEFT - 16.5, AXIS - 14), (LEFT - 8, 12)], "carrier")
    d.arrow((RIGHT + 30, AXIS + 7), (RIGHT + 30, AXIS + 22))
    d.text((174, AXIS + 28), "tailstock this way if", "end", 3.8)
    d.text((174, AXIS + 33), "its collar is larger", "end", 3.8)
    d.text((RIGHT + 22, AXIS - 14), "tailstock", size=3.8)


def _tool(d: Drawing) -> None:
    x = (LEFT + RIGHT) / 2 + 14
    tip = (x, AXIS + HIGH)
    d.polygon(
        [tip, (x + 3, AXIS + HIGH + 5), (x + 3, AXIS + HIGH + 18), (x - 5, AXIS + HIGH + 18), (x - 5, AXIS + HIGH + 3)]
    )
    d.arrow((x - 8, AXIS + HIGH + 8), (x - 24, AXIS + HIGH + 8))
    d.text((x - 16, AXIS + HIGH + 15), "feed", "middle", 3.8)


def _alt(held: str, distance_mm: float, diameter_mm: float, out_mm: float = 0.0) -> str:
    how = (
        f"held in the chuck alone, {short(out_mm)} mm out of the jaws, its other end free"
        if held == "chuck"
        else "between centres, driven by a carrier at the headstock; an arrow shows the tailstock moved towards the tool"
    )
    return (
        f"From above: a bar with two collars of {short(diameter_mm)} mm, {short(distance_mm)} mm apart middle to middle, {how}. "
        "The tool stands at the front and feeds towards the headstock."
    )


FIGURES = (
    Drawn(
        "collar-bar",
        "Test bar with two collars, from above",
        (
            Parameter("held", "How it is held", kind="choice", choices=("chuck", "centres"), default="chuck"),
            Parameter(
                "distance",
                "Collars apart, middle to middle",
                unit="mm",
                low=20,
                high=3000,
                default=150.0,
                example="150 mm",
            ),
            Parameter("diameter", "Diameter of the collars", unit="mm", low=5, high=500, default=50.0, example="50 mm"),
            Parameter("out", "Out of the jaws", unit="mm", low=0, high=3000, default=0.0, example="190 mm"),
        ),
        collar_bar,
        _alt,
    ),
)
