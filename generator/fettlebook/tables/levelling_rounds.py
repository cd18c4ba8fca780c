"""How many rounds each way of levelling took on simulated beds, as measured by benchmarks/levelling.py."""

from __future__ import annotations

from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

WORDS = {
    "rigid plane": "only pitch and roll taken out, as if the bed were rigid",
    "ends first": "one station at a time, ends first, middle feet last",
    "along the bed": "one station at a time along the bed, bubble watched",
    "advice, by angle": "this book's moves, all by the angle of the screw",
    "advice, to the bubble, nothing learnt": "this book's moves to the bubble, nothing learnt from the log",
    "advice, to the bubble": "this book's moves to the bubble, learning from the log",
}
"""What each way of working is, by its name in the data."""

UNFINISHED = 1e3
"""Counts as more rounds than any."""

HANDS, FLOORS = ("careful", "coarse"), ("firm", "soft", "seized")


def levelling_rounds(hands: str, floor: str, feet: tuple[float, ...]) -> Table:
    """Rounds until every reading is within the limit, for each way of working and number of feet.

    hands   careful (10 % of a move + 0.004 mm by the screw, 0.002 mm/m by the bubble) or coarse (20 % + 0.012 mm, 0.005 mm/m)
    floor   firm (100 N/um under each foot), soft (10 N/um), or seized (firm, and one jack that will not turn)
    feet    4, 6, 8

    Raises BadValue for what was not simulated.
    """
    known = data.read("levelling-simulation")
    condition = condition_named(hands, floor)
    rows = []
    for row in known["rows"]:
        if row["condition"] == condition and row["feet"] in feet:
            rows.append({**row, "what": WORDS[row["way"]]})
    missing = sorted(set(feet) - {row["feet"] for row in rows})
    if missing:
        raise BadValue("feet", f"{missing[0]:g} feet were not simulated", "write 4, 6 or 8")
    notes = (
        f"{known['starts']} random starts for each row, the same for every way; a start not finished in {known['cap']} rounds "
        "counts as not finished. A round: read every station, then turn. Real rounds are more: no creep, no holding-down "
        "bolts, no change of temperature is simulated.",
        honest_word(rows),
        *hanging_word(rows),
    )
    return Table(tuple(rows), notes=notes)


def condition_named(hands: str, floor: str) -> str:
    """The condition as the data name it. Raises BadValue for careful hands with a seized jack, which was not run."""
    if floor == "seized" and hands == "careful":
        raise BadValue("hands", "a seized jack was simulated with coarse hands only", "write hands=coarse")
    return f"{hands} hands, firm floor, a jack seized" if floor == "seized" else f"{hands} hands, {floor} floor"


def honest_word(rows: list[dict[str, Any]]) -> str:
    """Where the traditional way is quicker, as good, or slower than this book's moves, in words made from the rows."""
    found: dict[str, list[str]] = {"is quicker": [], "is as good": [], "takes more rounds or fails more often": []}
    for row in rows:
        if row["way"] == "along the bed":
            ours = next(r for r in rows if r["feet"] == row["feet"] and r["way"] == "advice, to the bubble")
            gap = [a - b for a, b in zip(_badness(row), _badness(ours), strict=True) if a != b]
            found[list(found)[0 if gap and gap[0] < 0 else 2 if gap else 1]].append(str(row["feet"]))
    words = [f"on {_joined(feet)} feet it {how}" for how, feet in found.items() if feet]
    return (
        "The traditional way, along the bed with the bubble watched, against this book's moves: "
        + "; ".join(words)
        + "."
    )


def hanging_word(rows: list[dict[str, Any]]) -> tuple[str, ...]:
    """How many rounds end with a foot off the floor, by this book's moves and by the traditional way, in words; nothing where it was not counted."""
    compared = ("advice, to the bubble", "along the bed")
    if any(row.get("hanging_percent") is None for row in rows if row["way"] in compared):
        return ()
    ours, traditional = (
        written(max((float(row["hanging_percent"]) for row in rows if row["way"] == way), default=0.0), 0)
        for way in compared
    )
    return (
        f"After at most {ours} percent of the rounds by this book's moves a foot hangs, by the traditional way after up to {traditional}: "
        "try every foot before each reading, whichever way you work.",
    )


def _joined(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _badness(row: dict[str, Any]) -> tuple[float, float, float]:
    """Rounds that do for nine in ten, the share not finished in whole percent, the median."""
    rounds = [UNFINISHED if v is None else float(v) for v in (row["rounds_of_nine_in_ten"], row["rounds"])]
    return rounds[0], float(round(100 - row["finished_percent"])), rounds[1]


TABLES = (
    Definition(
        name="levelling-rounds",
        title="Rounds of levelling, by way of working",
        about="What a simulation says about the ways of levelling a bed on jacks: how many rounds until every reading is within "
        "0.02 mm/m, on beds with 4, 6 and 8 feet. The order of the work and the hand count for more than the arithmetic: "
        "no hand turns a screw finely enough by angle, so the last part of every move goes by the bubble.",
        group="Levelling and alignment",
        parameters=(
            Parameter("hands", "Hands", kind="choice", choices=HANDS, default="coarse"),
            Parameter("floor", "Floor and jacks", kind="choice", choices=FLOORS, default="firm",
                      help="seized: firm floor, one jack that will not turn"),
            Parameter("feet", "Feet", kind="number", many=True, default=(4, 6, 8), example="4, 6, 8"),
        ),
        columns=(
            Column("feet", "Feet"),
            Column("what", "Way of working", kind="text"),
            Column("rounds", "Rounds, median", help="a dash: more than half the starts were not finished"),
            Column("rounds_of_nine_in_ten", "Rounds that do for nine in ten"),
            Column("in_three_percent", "Done in three rounds", "percent", decimals=0),
            Column("finished_percent", "Finished", "percent", decimals=0),
            Column("level_placements", "Times the level is set down"),
            Column("jack_settings", "Jacks set"),
            Column("hanging_percent", "A foot hangs", "percent", decimals=0,
                   help="share of rounds that end with a foot off the floor; a dash: not counted"),
        ),
        compute=levelling_rounds,
        sources=(Cite("levelling-simulation", how="computed"),),
        holds="simulated beds of 1.6, 2.6 and 4.0 m that bend and twist on springy feet; figures of stiffness, floor and hands are chosen, not measured",
        also=("simulation", "traditional levelling", "order of work"),
        examples=({"hands": "coarse", "floor": "firm"}, {"hands": "careful", "floor": "firm"}, {"hands": "coarse", "floor": "soft"},
                  {"hands": "careful", "floor": "soft"}, {"hands": "coarse", "floor": "seized"}),
    ),
)  # fmt: skip
