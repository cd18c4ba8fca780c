"""What an accepted lathe keeps, by standard, by handbook and by one maker's record, and limits of readings in use."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

PRECISION_SWING_MM, PRECISION_CENTRES_MM = 500.0, 1500.0
"""Largest lathe for which the standard has a precision class [mm]. Source: iso-1708, from memory."""


PRECISION_PART = 0.5
"""Limits of the classic handbook for toolroom lathes over those for finish turning lathes. Source: schlesinger, as quoted."""


def alignment_limits(swing_mm: float, class_: str = "other", centres_mm: float = 1000.0) -> Table:
    """Acceptance limits for a parallel lathe, the standard's first, the classic handbook's and a maker's record beside them.

    swing_mm     largest diameter over the bed [mm], 50 to 1600
    class_       precision or other
    centres_mm   distance between centres [mm]

    Sources: iso-1708 and schlesinger, from memory; lathe-inspection-record, read
    """
    if class_ == "precision" and (swing_mm > PRECISION_SWING_MM or centres_mm > PRECISION_CENTRES_MM):
        raise BadValue("class", ENDS, "take the class other")
    rows = (*_standard(swing_mm, class_, centres_mm), *_handbook(swing_mm, class_), *_record())
    return Table(rows, NOTES, (RECALLED,))


ENDS = f"the precision class ends at {PRECISION_SWING_MM:g} mm swing and {PRECISION_CENTRES_MM:g} mm between centres"
RECALLED = "Limits of the standard are recalled: have its text before you before you sign or dispute one."


def browser_data() -> dict[str, Any]:
    """The limits and what does not change, for the browser."""
    groups = {group: list(data.rows("alignment-limits", group)) for group in ("iso_1708", "handbook", "record")}
    most = (PRECISION_SWING_MM, PRECISION_CENTRES_MM)
    return {**groups, "most": most, "ends": ENDS, "notes": NOTES, "recalled": RECALLED}


def _standard(swing: float, class_: str, centres: float) -> Iterator[dict[str, Any]]:
    beside = {row["beside"]: row for row in data.rows("alignment-limits", "handbook")} if swing <= 800 else {}
    for row in data.rows("alignment-limits", "iso_1708"):
        if row["class"] == class_ and _holds(row, swing, centres):
            found = _row(row["test"], row["what"], _limit(row, centres), row["over"], "ISO 1708:1989", "from memory")
            classic = beside.get(row["test"])
            if classic:
                limit = classic["limit"] * (PRECISION_PART if class_ == "precision" else 1.0)
                found |= {"handbook_mm": limit, "handbook_over_mm": classic["over"] or None}
            yield found


def _holds(row: Mapping[str, Any], swing: float, centres: float) -> bool:
    in_swing = row.get("above", 0) < swing <= row.get("swing", 1600)
    return in_swing and row.get("above_centres", 0) < centres <= row.get("centres", 1e9)


def _limit(row: Mapping[str, Any], centres: float) -> float:
    """A row's limit; where it grows with the bed, by so much for each metre begun beyond the first."""
    beyond = -((1000 - centres) // 1000) if "per_1000" in row else 0
    return min(row["limit"] + row.get("per_1000", 0) * beyond, row.get("most", 1e9))


def _handbook(swing: float, class_: str) -> Iterator[dict[str, Any]]:
    if swing > 800:
        return
    part = PRECISION_PART if class_ == "precision" else 1.0
    for row in data.rows("alignment-limits", "handbook"):
        known = "as quoted elsewhere" if row["how_known"] == "secondary" else "from memory"
        yield _row("", row["what"], row["limit"] * part, row["over"], "Testing Machine Tools", known)


def _record() -> Iterator[dict[str, Any]]:
    for row in data.rows("alignment-limits", "record"):
        yield _row(
            row["test"], row["what"], row["limit"], row["over"], "record of a 400 mm lathe", "read", row["found"]
        )


def _row(
    test: str, what: str, limit: float, over: float, standard: str, known: str, found: float | None = None
) -> dict[str, Any]:
    return {
        "test": test,
        "what": what,
        "limit_mm": limit,
        "over_mm": over or None,
        "limit_um_per_m": limit / over * 1e6 if over else None,
        "handbook_mm": None,
        "handbook_over_mm": None,
        "found_mm": found,
        "standard": standard,
        "known": known,
    }


NOTES = (
    "Levelling is not for its own sake: it gives a stable, untwisted bed in a fixed position for the tests that follow (ISO 230-1, from memory).",
    "A limit over a length goes with it: 0.02 mm over 300 mm is not 0.02 mm over 100 mm.",
    "The record's test numbers are its own: its G6 is the standard's G7.",
    "The classic handbook's limits are for finish turning lathes up to 400 mm centre height, half of them for toolroom lathes; "
    "the class precision shows the halves.",
    "The standard leaves out running tests (noise, vibration, stick-slip); do those first.",
)


def running_limits() -> Table:
    """Readings taken in use: backlash, gibs, spindle lift and warm-up, with what is usual and when to act.

    Sources: common-practice; lathe-manual-27 for the headstock's highest temperature
    """
    rows = tuple(
        {
            "reading": row["reading"],
            "unit": {"degC": "°C"}.get(row["unit"], row["unit"]),
            "usual_low": row["low"],
            "usual_high": row["high"],
            "act": row["act"],
            "known": "read" if "cite" in row else "common practice",
        }
        for row in data.rows("alignment-limits", "running")
    )
    hottest = written((170 - 32) / 1.8, 1)
    notes = (
        f"170 °F is {hottest} °C. A manual prints 138 °C beside it: a slip, since 138 °C is 280 °F.",
        "The machine's manual goes first. Write the readings down: a change says more than a value.",
    )
    return Table(rows, notes)


TABLES = (
    Definition(
        name="alignment-limits",
        title="What an accepted lathe keeps",
        about="Limits of the acceptance tests for a lathe of a size and class, by the standard, with a classic handbook's and one "
        "maker's record beside them. A used machine may do good work outside some of them: decide by the work.",
        group="Levelling and alignment",
        parameters=(
            Parameter("swing", "Swing over the bed", unit="mm", low=50, high=1600, example="320 mm"),
            Parameter("class", "Class", kind="choice", choices=("other", "precision"), default="other", example="other", argument="class_"),
            Parameter("centres", "Between centres", unit="mm", low=100, high=10000, default=1000.0, example="1000 mm"),
        ),
        columns=(
            Column("test", "Test", kind="text"),
            Column("what", "What", kind="text"),
            Column("limit_mm", "Limit", "mm", decimals=3),
            Column("over_mm", "Over", "mm", decimals=0),
            Column("limit_um_per_m", "That is", "µm/m", decimals=0),
            Column("handbook_mm", "Classic handbook", "mm", decimals=3),
            Column("handbook_over_mm", "over", "mm", decimals=0),
            Column("found_mm", "Found there", "mm", decimals=3),
            Column("standard", "By", kind="text"),
            Column("known", "How known", kind="text"),
        ),
        compute=alignment_limits,
        browser="alignment-limits",
        browser_data=browser_data,
        sources=(Cite("iso-1708", "tests G1 to G15, P1, P2", "memory"), Cite("schlesinger", "finish turning lathes", "secondary"),
                 Cite("lathe-inspection-record", "tests G1 to G12"), Cite("iso-230-1", "purpose of levelling", "memory")),
        holds="parallel lathes of 50 to 1600 mm swing; the precision class to 500 mm swing and 1500 mm between centres",
        also=("tolerance", "acceptance test", "inspection", "run-out", "parallelism", "lathe accuracy", "test certificate"),
        examples=({"swing": 320}, {"swing": 320, "class": "precision"}),
    ),
    Definition(
        name="running-limits",
        title="Play and warm-up: what is usual",
        about="Backlash, gib and spindle readings and the headstock's warming, with what is usual on a sound machine and when to act.",
        group="Levelling and alignment",
        parameters=(),
        columns=(
            Column("reading", "Reading", kind="text"),
            Column("usual_low", "Usual from", decimals=2),
            Column("usual_high", "to", decimals=2),
            Column("unit", "Unit", kind="text"),
            Column("act", "Act", kind="text"),
            Column("known", "How known", kind="text"),
        ),
        compute=running_limits,
        sources=(Cite("common-practice", how="practice"), Cite("lathe-manual-27", "headstock oil")),
        holds="small and middle lathes with plain or roller bearings",
        also=("backlash", "gib", "play", "lost motion", "spindle bearing", "warm up", "headstock temperature"),
    ),
)  # fmt: skip
