"""Cutting speeds: the range that published figures span, as spindle speeds for a diameter, and the machine's speed to begin with."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from math import pi
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

FOOT = 0.3048
"""Metres in a foot; exact by definition."""

BEGIN = 1 / 3
"""How far up the range, by ratio, a speed may lie to be picked: the lower third, for a machine that is not yet known."""

TOOLS = ("HSS", "carbide")
OTHER_NAMES = (
    ("high speed steel", "HSS"),
    ("high-speed steel", "HSS"),
    ("tungsten carbide", "carbide"),
    ("cemented carbide", "carbide"),
)
"""Other names for the tools."""
PUBLISHED = ("turning", "milling", "drilling", "reaming")
OPERATIONS = (*PUBLISHED, *data.read("cutting-speeds")["other_operations"])

Range = tuple[float, float]


def spindle_rpm(speed_m_min: float, diameter_mm: float) -> float:
    """Spindle speed for a cutting speed.

        rpm = 1000 x speed / (pi x diameter)

    speed_m_min   at the cutting edge [m/min]
    diameter_mm   of the work when turning, of the tool when milling or drilling [mm], above 0
    gives         [rpm], unrounded

    Source: definition

    >>> round(spindle_rpm(60 * 0.3048, 5 * 25.4), 2)
    45.84
    """
    return 1000 * speed_m_min / (pi * diameter_mm)


def pick_spindle_rpm(low_rpm: float, high_rpm: float, speeds: Sequence[float]) -> float | None:
    """The speed of the machine to begin with.

    The fastest one in the lower third of the range (by ratio); failing that the slowest one inside the range; failing that the
    fastest one below it; failing that the slowest there is, which is then too fast. None without a list.

    Source: common-practice

    >>> pick_spindle_rpm(300, 900, [60, 130, 260, 400, 560, 800]), pick_spindle_rpm(300, 330, [60, 260, 400])
    (400, 260)
    """
    if not speeds:
        return None
    mark = low_rpm * (high_rpm / low_rpm) ** BEGIN
    if inside := [n for n in speeds if low_rpm <= n <= high_rpm]:
        return max((n for n in inside if n <= mark), default=min(inside))
    return max((n for n in speeds if n < low_rpm), default=min(speeds))


def material_named(text: str) -> dict[str, Any]:
    """The material's entry in the data, by its name or another name for it. Raises BadValue with near names."""
    names = {}
    for entry in data.rows("cutting-speeds", "materials"):
        for name in (entry["material"], *entry.get("also", ())):
            names[name.lower()] = (name, entry)
    folded = " ".join(text.lower().split())
    if folded in names:
        return names[folded][1]
    several = [name for name in MATERIALS if folded in name.split()]
    begins = [name for name in names if folded.startswith(f"{name} ")]
    near = several or [names[each][0] for each in begins or get_close_matches(folded, list(names), 1, 0.5)]
    quoted = " or ".join(f'"{name}"' for name in near)
    guess = f"did you mean {quoted}?" if near else "it knows " + ", ".join(MATERIALS)
    raise BadValue("material", f'"{text[:40]}" is not a material known here', guess)


MATERIALS = tuple(entry["material"] for entry in data.rows("cutting-speeds", "materials"))


def cutting_speeds(
    material: str,
    diameter_mm: float,
    tool: str = "HSS",
    spindle_speeds: tuple[float, ...] = (),
    operation: str = "turning",
) -> Table:
    """A row for each condition of the material: ranges of speed and spindle speed, the speed to pick, the feed.

    material      mild steel, tool steel ... or a grade of it
    diameter_mm   of the work when turning, else of the tool [mm]
    spindle_speeds   the machine's own [rpm]
    """
    entry = material_named(material)
    found = [(each, speeds_for(each, tool, operation)) for each in entry["conditions"]]
    rows = tuple(
        _row(entry, each, span, lines, diameter_mm, tool, operation, spindle_speeds) for each, (span, lines) in found
    )
    if all(row["speed_low_m_min"] is None for row in rows):
        what = f"no {operation} speed with {tool} is on record for {entry['material']}"
        raise BadValue("operation", what, "turning is on record for every material")
    cites = tuple(dict.fromkeys(_cite(line) for _, (_, lines) in found for line in lines))
    return Table(rows, _notes(tool, operation), _warnings(rows), cites)


def speeds_for(condition: dict[str, Any], tool: str, operation: str) -> tuple[Range | None, list[dict[str, Any]]]:
    """The range of the published speeds [m/min] for a condition, and the published lines it rests on."""
    known = data.read("cutting-speeds")
    factor, lines, share = 1.0, condition.get(operation, []), (1.0, 1.0)
    if operation in known["other_operations"]:
        part = known["other_operations"][operation]
        lines, share = condition.get("turning", []), (part["low"], part["high"])
    elif operation == "reaming" and not lines:
        part = known["reaming_share"]
        lines, share = condition.get("drilling", []), (part["low"], part["high"])
    if condition.get("only", tool) != tool:
        return None, []
    if tool == "carbide" and "only" not in condition:
        own = condition.get("carbide_turning") if lines is condition.get("turning") else None
        lines, factor = (own, 1.0) if own else (lines, known["carbide_factor"])
    if not lines:
        return None, []
    low = min(line["low"] for line in lines) * factor * share[0] * FOOT
    high = max(line["high"] for line in lines) * factor * share[1] * FOOT
    return (low, high), lines


def feed_for(condition: dict[str, Any], operation: str, diameter_mm: float) -> tuple[Range | None, str]:
    """The range of feed [mm], and per what: a turn of the work or drill, or a tooth of the cutter."""
    known = data.read("cutting-speeds")
    if operation == "turning":
        feed = condition["feed"]
        return (feed["finish"][0] * 25.4, feed["rough"][1] * 25.4), "turn"
    if operation == "milling":
        return (known["milling_feed"]["low"], known["milling_feed"]["high"]), "tooth"
    if operation in known["other_operations"]:
        feed = known["other_operations"][operation]["feed"]
        return (feed[0], feed[1]) if feed else None, "turn"
    row = next(
        (each for each in known["drill_feeds"]["rows"] if diameter_mm <= each["up_to"]),
        known["drill_feeds"]["rows"][-1],
    )
    times = 2 if operation == "reaming" else 1
    return (row["low"] * times, row["high"] * times), "turn"


def _row(
    entry: dict[str, Any],
    condition: dict[str, Any],
    span: Range | None,
    lines: list[dict[str, Any]],
    diameter: float,
    tool: str,
    operation: str,
    speeds: Sequence[float],
) -> dict[str, Any]:
    hint = data.read("cutting-speeds")["hints"].get(condition.get("hint", ""), "")
    row: dict[str, Any] = dict.fromkeys(column.name for column in COLUMNS)
    row |= {"material": entry["material"], "condition": condition["condition"], "operation": operation, "hint": hint}
    if span is None:
        row["hint"] = hint or f"No speed for {operation} with {tool} is on record."
        return row
    low, high = spindle_rpm(span[0], diameter), spindle_rpm(span[1], diameter)
    pick = pick_spindle_rpm(low, high, sorted(speeds))
    feed, per = feed_for(condition, operation, diameter)
    return row | {
        "speed_low_m_min": span[0],
        "speed_high_m_min": span[1],
        "rpm_low": low,
        "rpm_high": high,
        "spindle_rpm": pick,
        "speed_at_spindle_m_min": None if pick is None else pick * pi * diameter / 1000,
        "feed_low_mm": feed and feed[0],
        "feed_high_mm": feed and feed[1],
        "feed_per": per if feed else "the pitch",
        "published": "; ".join(_line(line) for line in lines),
    }


def _line(line: dict[str, Any]) -> str:
    low, high = line["low"], line["high"]
    figure = f"{low}" if low == high else f"{low} to {high}"
    return f"{figure} ft/min" + (f" ({line['at']})" if line.get("at") else "")


def _cite(line: dict[str, Any]) -> Cite:
    return Cite(line["cite"], "", line.get("how", "read"))


def _notes(tool: str, operation: str) -> tuple[str, ...]:
    notes = [
        "Sources differ by a factor of two and more: begin in the lower third, and go up while chips, noise and edge allow."
    ]
    if tool == "carbide":
        notes.append(
            "Carbide is taken at twice the speed of HSS where no figure of its own is on record; coated inserts on a stiff machine run faster."
        )
    if operation in ("parting", "thread cutting", "reaming"):
        notes.append(
            f"For {operation} the speed is a part of the published one where there is none of its own: common practice."
        )
    if operation == "milling":
        notes.append("Table feed is feed per tooth x teeth x rpm.")
    return tuple(notes)


def _warnings(rows: Sequence[dict[str, Any]]) -> tuple[str, ...]:
    fast = [row for row in rows if row["spindle_rpm"] is not None and row["spindle_rpm"] > row["rpm_high"]]
    return tuple(
        f"{row['condition']}: even the slowest speed of the machine, {written(row['spindle_rpm'], 0)} rpm, is above the range."
        for row in fast
    )


COLUMNS = (
    Column("condition", "Condition", kind="text"),
    Column("speed_low_m_min", "Speed from", "m/min", decimals=0),
    Column("speed_high_m_min", "to", "m/min", decimals=0),
    Column("rpm_low", "Spindle from", "rpm", significant=3),
    Column("rpm_high", "to", "rpm", significant=3),
    Column("spindle_rpm", "Speed to begin with", "rpm", decimals=0),
    Column("speed_at_spindle_m_min", "which cuts at", "m/min", decimals=0),
    Column("feed_low_mm", "Feed from", "mm", decimals=2),
    Column("feed_high_mm", "to", "mm", decimals=2),
    Column("feed_per", "per", kind="text"),
    Column("hint", "Mind", kind="text"),
    Column("published", "Published figures", kind="text"),
    Column("material", "Material", kind="text"),
    Column("operation", "Operation", kind="text"),
)

TABLES = (
    Definition(
        name="cutting-speeds",
        title="Cutting speeds and feeds",
        about="Spindle speeds for a material and a diameter, as the range that published figures span, and the machine's own speed to begin "
        "with. The diameter is that of the work when turning and of the tool when milling or drilling. Check the chuck's and the "
        "faceplate's greatest speed as well, and take less for work that hangs out, is out of balance or is held by little.",
        group="Threads and gearing",
        parameters=(
            Parameter("material", "Material", kind="text", choices=MATERIALS, example="mild steel"),
            Parameter("diameter", "Diameter of the work, or of the tool", unit="mm", low=0.1, high=5000, example="25 mm"),
            Parameter("tool", "Tool", kind="choice", choices=TOOLS, spellings=OTHER_NAMES, default="HSS", example="HSS"),
            Parameter("spindle", "The machine's spindle speeds", kind="number", many=True, low=1, high=60000, shop="spindle_speeds_rpm",
                      argument="spindle_speeds", default=(), example="60, 100, 170, 280, 460, 760", help="revolutions per minute"),
            Parameter("operation", "Operation", kind="choice", choices=OPERATIONS, default="turning", example="turning"),
        ),
        columns=COLUMNS,
        compute=cutting_speeds,
        sources=(Cite("definition", "rpm = 1000 v / (pi d)", "computed"),),
        holds="sharp tools and steady cuts on an ordinary machine; dry or with what coolant the source used",
        also=("feeds and speeds", "rpm", "surface speed", "sfm", "feed rate", "spindle speed"),
        examples=({"material": "mild steel", "diameter": "25 mm"}, {"material": "tool steel", "diameter": "12 mm"},
                  {"material": "cast iron", "diameter": "80 mm", "operation": "turning"}),
    ),
)  # fmt: skip
