"""Rounds of levelling by way of working, from the simulation, as bars for 4, 6 and 8 feet."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import SMALLEST_TEXT, Drawing, box
from fettlebook.tables.definition import Parameter
from fettlebook.tables.figures import written
from fettlebook.tables.levelling_rounds import FLOORS, HANDS, WORDS, condition_named

LEFT, RIGHT, TOP = 22.0, 128.0, 20.0
ROW, BAR = 6.4, 3.6
"""Height of a bar's row and of the bar, in mm of paper."""


def levelling_rounds_figure(hands: str, floor: str) -> str:
    """For each way: a bar to the median, a whisker to the rounds that do for nine in ten, and the share finished."""
    known = data.read("levelling-simulation")
    rows = [row for row in known["rows"] if row["condition"] == condition_named(hands, floor)]
    height = TOP + len(WORDS) * (4 * ROW + 3) + 20
    d = Drawing(
        "levelling-rounds",
        f"Rounds of levelling: {condition_named(hands, floor)}",
        170,
        height,
        {"hands": hands, "floor": floor},
    )
    scale = (RIGHT - LEFT) / known["cap"]
    d.text((8, 6), condition_named(hands, floor), bold=True)
    d.text((168, 13), "finished", "end", SMALLEST_TEXT)
    y = TOP
    for way, words in WORDS.items():
        d.text((8, y), words[0].upper() + words[1:], size=SMALLEST_TEXT)
        d.line((LEFT, y + 2.6), (LEFT, y + 3 * ROW + 3), "narrow")
        for row in (row for row in rows if row["way"] == way):
            y += ROW
            _bar(d, row, y, scale, known["cap"])
        y += ROW + 3
    _axis(d, y - 3, scale, known["cap"])
    return d.svg()


def _bar(d: Drawing, row: dict[str, Any], y: float, scale: float, cap: int) -> None:
    d.text((8, y), f"{row['feet']} feet", size=SMALLEST_TEXT, middle=True)
    median, most = row["rounds"], row["rounds_of_nine_in_ten"]
    end = LEFT + scale * (median if median is not None else cap)
    outline = box(LEFT, y - BAR / 2, end - LEFT, BAR)
    if median is not None:
        d.polygon(outline)
        d.tint(outline)
    else:
        d.polygon(outline, "hidden")
    far = LEFT + scale * (most if most is not None else cap)
    if far > end:
        d.line((end, y), (far, y), "narrow")
    if most is None:
        d.arrow((RIGHT - 4, y), (RIGHT + 4, y))
    else:
        d.line((far, y - BAR / 2), (far, y + BAR / 2), "narrow")
    d.text(
        (RIGHT + 7, y), f"{median}" if median is not None else f"over {cap}", size=SMALLEST_TEXT, middle=True, bold=True
    )
    d.text((168, y), f"{written(row['finished_percent'], 0)} %", "end", SMALLEST_TEXT, middle=True)


def _axis(d: Drawing, y: float, scale: float, cap: int) -> None:
    d.line((LEFT, y), (RIGHT, y), "narrow")
    for rounds in range(0, cap + 1, 5):
        x = LEFT + scale * rounds
        d.line((x, y), (x, y + 1.5), "narrow")
        d.text((x, y + 6), str(rounds), "middle", SMALLEST_TEXT)
    d.text(
        ((LEFT + RIGHT) / 2, y + 12), "rounds: bar to the median, line to nine starts in ten", "middle", SMALLEST_TEXT
    )


def _alt(hands: str, floor: str) -> str:
    known = data.read("levelling-simulation")
    condition = condition_named(hands, floor)
    parts = []
    for way, words in WORDS.items():
        found = [row for row in known["rows"] if row["condition"] == condition and row["way"] == way]
        shown = ", ".join(
            f"{row['rounds'] if row['rounds'] is not None else 'over ' + str(known['cap'])} on {row['feet']} feet"
            for row in found
        )
        parts.append(f"{words}: {shown}")
    return f"Median rounds until every reading is within 0.02 mm/m, {condition}. " + "; ".join(parts) + "."


FIGURES = (
    Drawn(
        "levelling-rounds",
        "Rounds of levelling by way of working",
        (
            Parameter("hands", "Hands", kind="choice", choices=HANDS, default="coarse"),
            Parameter("floor", "Floor and jacks", kind="choice", choices=FLOORS, default="firm"),
        ),
        levelling_rounds_figure,
        _alt,
        ("levelling-rounds",),
    ),
)  # fmt: skip
