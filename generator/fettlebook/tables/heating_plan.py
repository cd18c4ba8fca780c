"""A heating plan for a batch of small parts: what shares a heating, the order on the hearth, quench and temper of each.

Rules, all common practice: heatings rise in temperature, since the hearth gets hotter as it runs; parts share one when
their hardening ranges overlap and neither needs a wrapping of its own; the thickest part lies where it gathers waste heat
and is quenched last; tempering rises too, and begins as soon as the first part is hand-warm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fettlebook.tables.critical_temperatures import Critical, critical_of
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written
from fettlebook.tables.heat_treatment import crack_risk
from fettlebook.tables.heating_plan_browser import known
from fettlebook.tables.heating_plan_parts import EXAMPLE, Part, read_part
from fettlebook.tables.heating_up import heating_time_s, soak_min, time_constant_s
from fettlebook.tables.steel_data import what_to_say
from fettlebook.tables.steels import UNKNOWN
from fettlebook.tables.temper_colours import colours_between
from fettlebook.tables.tempering import BLUE, SLOW
from fettlebook.tables.tempering_curves import curves

SMALLEST_OVERLAP_C = 5.0
"""Overlap of hardening ranges from which parts may share a heating [degC]: nobody holds a hearth closer."""

SECTION_RATIO = 3.0
"""Thickest over thinnest part from which the thin one goes in later. Common practice."""

OVER_FURNACE_C, SURFACE_W_M2K = 60.0, 80.0
"""What the warm-up is reckoned with: a hearth so much hotter than the part is to get, and its surface coefficient. Assumed."""

QUENCH_MIN = 2.0
"""Time from one quench to the next [min]. Assumed, for the plot."""

MOST_PARTS = 40
WRAPPED = {"high-alloy-tool"}


@dataclass(frozen=True)
class Heating:
    """Parts that come to heat together: aim [degC], common range, soak and warm-up [min], thickest part first."""

    number: int
    parts: tuple[Part, ...]
    low_c: float
    high_c: float
    soak_min: float
    warm_min: float

    @property
    def aim_c(self) -> float:
        return (self.low_c + self.high_c) / 2


@dataclass(frozen=True)
class Plan:
    """The heatings in order, the tempering rounds as (temperature [degC], parts), and the parts that do not harden."""

    heatings: tuple[Heating, ...]
    rounds: tuple[tuple[float, tuple[Part, ...]], ...]
    left_out: tuple[Part, ...]
    hours: float


def _same_world(a: Part, b: Part) -> bool:
    """Whether two parts may lie in one fire: both wrapped or neither, both carburised or neither."""
    return (a.steel.kind in WRAPPED) == (b.steel.kind in WRAPPED) and (a.steel.hardens == "case") == (
        b.steel.hardens == "case"
    )


def _grouped(parts: list[Part]) -> list[list[Part]]:
    """Groups with a common hardening range, by rising temperature; each part joins the first that it fits."""
    groups: list[list[Part]] = []
    for part in sorted(parts, key=lambda p: (p.high_c, p.low_c, -p.section_mm, p.name)):
        for group in groups:
            low, high = max(p.low_c for p in (*group, part)), min(p.high_c for p in (*group, part))
            point = low == high and all(p.low_c <= low <= p.high_c for p in (*group, part))
            if (high - low >= SMALLEST_OVERLAP_C or point) and _same_world(group[0], part):
                group.append(part)
                break
        else:
            groups.append([part])
    return sorted(groups, key=lambda g: max(p.low_c for p in g))


def warm_up_min(section_mm: float, aim_c: float) -> float:
    """Time [min] for a bar to come to heat in a hearth somewhat hotter than the aim. Source: incropera, one lump."""
    tau = time_constant_s(section_mm, "bar", SURFACE_W_M2K)
    return heating_time_s(tau, 20.0, aim_c + OVER_FURNACE_C, aim_c) / 60


def _heating(number: int, group: list[Part]) -> Heating:
    parts = tuple(sorted(group, key=lambda p: (-p.section_mm, p.name)))
    low, high = max(p.low_c for p in parts), min(p.high_c for p in parts)
    soak = max(soak_min(p.steel, p.section_mm)[0] for p in parts)
    return Heating(number, parts, low, high, soak, warm_up_min(parts[0].section_mm, (low + high) / 2))


def plan_of(parts: tuple[Any, ...], time_h: float = 1.0) -> Plan:
    """The plan for PARTS as the shop wrote them. Raises BadValue for a part that cannot be read."""
    if isinstance(parts, (str, dict)) or not parts:
        raise BadValue("parts", "a list of parts is wanted", f"each like {EXAMPLE}")
    if len(parts) > MOST_PARTS:
        raise BadValue(
            "parts",
            f"{len(parts)} parts are too many for one plan",
            f"at most {MOST_PARTS}; use count for several alike",
        )
    read = [read_part(record, n, time_h) for n, record in enumerate(parts, 1)]
    names = [p.name for p in read]
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise BadValue(
            "parts", f'two parts are called "{twice}"', "give each its own name; for several alike write count"
        )
    hard = [p for p in read if p.harden]
    heatings = tuple(_heating(n, group) for n, group in enumerate(_grouped(hard), 1))
    rounds: dict[float, list[Part]] = {}
    for part in sorted(hard, key=lambda p: (p.temper_c or 0, -p.section_mm, p.name)):
        if part.temper_c is not None:
            rounds.setdefault(part.temper_c, []).append(part)
    return Plan(
        heatings, tuple((t, tuple(p)) for t, p in rounds.items()), tuple(p for p in read if not p.harden), time_h
    )


def _place(heating: Heating, position: int) -> str:
    if len(heating.parts) == 1:
        return "middle of the hearth"
    if position == 0:
        return "at the back, in the way of the waste heat; put on first"
    late = heating.parts[0].section_mm / heating.parts[position].section_mm >= SECTION_RATIO
    last = position == len(heating.parts) - 1
    return ("in front, nearest the tongs" if last else "beside it, in the middle") + (
        "; goes in later, when the thick one is red" if late else ""
    )


def _hardness(part: Part, hours: float) -> float | None:
    curve = curves().get(part.steel.curve or "")
    return curve.hrc(part.temper_c, hours) if curve and part.temper_c is not None else None


def _cautions(part: Part) -> list[str]:
    said = list(part.remarks)
    structural = part.steel.kind in {"carbon-structural", "alloy-structural", "spring"}
    if part.temper_c is not None and structural and BLUE[0] <= part.temper_c <= BLUE[1]:
        said.append("tempered in the range of blue brittleness: choose another hardness if it sees shock")
    if part.temper_c is not None and part.steel.kind == "alloy-structural" and SLOW[0] <= part.temper_c <= SLOW[1]:
        said.append("cool it fast from the temper, against temper embrittlement")
    if part.thinnest_mm:
        said.append(crack_risk(part.steel, part.section_mm, part.thinnest_mm, part.quench).rstrip("."))
    if part.steel.kind in WRAPPED:
        said.append("wrap it in foil or pack it: bare it scales and loses its skin")
    return said


def _hard_row(order: int, heating: Heating, position: int, plan: Plan) -> dict[str, Any]:
    part = heating.parts[position]
    low, high, _ = soak_min(part.steel, part.section_mm)
    turn = next((n for n, (t, parts) in enumerate(plan.rounds, 1) if part in parts), None)
    others = ", ".join(p.name for p in heating.parts if p is not part)
    return {
        "order": order, "part": part.name, "count": part.count, "steel": part.steel.name, "section_mm": part.section_mm, "does": part.does,
        "heating": heating.number, "place": _place(heating, position), "low_c": part.low_c, "high_c": part.high_c, "heat_c": heating.aim_c,
        "warm_up_min": warm_up_min(part.section_mm, heating.aim_c), "soak_min": low, "soak_max_min": high, "quench": part.quench,
        "quench_order": len(heating.parts) - position, "temper_order": turn, "temper_c": part.temper_c,
        "colour": colours_between(part.temper_c, plan.hours * 60) if part.temper_c is not None else "", "hardness_hrc": _hardness(part, plan.hours),
        "shares_with": others, "note": "; ".join(_cautions(part) + ([f"temper {part.temper_why}"] if part.temper_why else [])),
    }  # fmt: skip


def _soft_row(order: int, part: Part) -> dict[str, Any]:
    return {"order": order, "part": part.name, "count": part.count, "steel": part.steel.name, "section_mm": part.section_mm, "does": part.does,
            "place": "not on the hearth", "shares_with": "", "colour": "", "note": "; ".join(part.remarks)}  # fmt: skip


def separations(plan: Plan) -> list[str]:
    """Why heatings are kept apart, and what quenches must be ready, in words."""
    said = []
    for a, b in zip(plan.heatings, plan.heatings[1:], strict=False):
        if not _same_world(a.parts[0], b.parts[0]):
            why = "one of them is carburised or wrapped and wants its own fire"
        elif b.low_c > a.high_c:
            why = f"the second needs at least {written(b.low_c, 0)} °C, the first must not pass {written(a.high_c, 0)} °C (coarse grain, cracks)"
        else:
            why = f"their ranges have less than {SMALLEST_OVERLAP_C:g} °C in common"
        said.append(f"Heatings {a.number} and {b.number} may not be one: {why}.")
    for heating in plan.heatings:
        media = list(dict.fromkeys(p.quench for p in heating.parts))
        if len(media) > 1:
            said.append(
                f"Heating {heating.number} is quenched in {' and '.join(media)}: have each ready, marked and apart, and never take a wet part or tongs to the oil."
            )
    for t, parts in plan.rounds:
        if len(parts) > 1:
            said.append(f"Tempering at {written(t, 0)} °C may be shared by {', '.join(p.name for p in parts)}.")
    return said


@dataclass(frozen=True)
class Stretch:
    """A piece of the session's clock: from and to [min], and the temperature [degC] that is held or aimed at.

    kind   warm, soak, quench (on the hearth), ready, temper (in the oven)
    """

    kind: str
    start_min: float
    end_min: float
    temperature_c: float
    words: str


def timeline(plan: Plan) -> tuple[Stretch, ...]:
    """The session by the clock: heatings one after another, the oven waiting hot from the first quench and then rising.

    Warm-up by one lump (incropera), soak as in the plan, QUENCH_MIN for each part, the tempering time for each round.
    """
    clock, found, first_quench = 0.0, [], None
    for heating in plan.heatings:
        warm, soak = clock + heating.warm_min, clock + heating.warm_min + heating.soak_min
        pieces = sum(part.count for part in heating.parts)
        end = soak + QUENCH_MIN * pieces
        found += [Stretch("warm", clock, warm, heating.aim_c, f"heating {heating.number}"), Stretch("soak", warm, soak, heating.aim_c, f"{written(heating.aim_c, 0)} °C"),
                  Stretch("quench", soak, end, heating.aim_c, ", ".join(dict.fromkeys(p.quench for p in heating.parts)))]  # fmt: skip
        first_quench = soak if first_quench is None else first_quench
        clock = end
    if plan.rounds and first_quench is not None:
        found.append(Stretch("ready", first_quench, clock, plan.rounds[0][0], "oven ready"))
        for temperature, parts in plan.rounds:
            found.append(
                Stretch("temper", clock, clock + plan.hours * 60, temperature, ", ".join(p.name for p in parts))
            )
            clock += plan.hours * 60
    return tuple(found)


def heating_plan(parts: tuple[Any, ...], time_h: float = 1.0) -> Table:
    """The plan as a table, in the order in which the parts are heated.

    parts    mappings with name, steel, section, and as wished does, hardness [HRC], temper [degC], quench, thinnest, count
    time_h   tempering time [h]
    """
    plan = plan_of(parts, time_h)
    rows: list[dict[str, Any]] = []
    for heating in plan.heatings:
        rows += [_hard_row(len(rows) + n + 1, heating, n, plan) for n in range(len(heating.parts))]
    rows += [_soft_row(len(rows) + n, part) for n, part in enumerate(plan.left_out, 1)]
    warnings = [f"{p.name}, {p.steel.name}: {p.steel.how_hardens}." for p in plan.left_out]
    warnings += [said for record in parts if (said := what_to_say(str(record["steel"])))]
    guides = [w for p in (p for h in plan.heatings for p in h.parts) if (w := _guide(critical_of(p.steel), p))]
    cites = tuple(dict.fromkeys(op.cite for h in plan.heatings for p in h.parts for op in p.harden))
    tests = UNKNOWN if any(p.steel.hardens == "unknown" for p in plan.left_out) else ()
    return Table(tuple(rows), (*separations(plan), *tests, *NOTES), tuple(dict.fromkeys(warnings + guides)), cites)


def _guide(critical: Critical, part: Part) -> str:
    """A warning when a part's own published range starts below its Ac1."""
    if (
        critical.ac1_c is not None
        and not critical.warning
        and part.low_c < critical.ac1_c
        and part.steel.hardens == "yes"
    ):
        return f"{part.name}: its published range starts below Ac1 ({written(critical.ac1_c, 0)} °C); keep to the upper end."
    return ""


NOTES = (
    "Heatings rise: the hearth gets hotter as it runs. The thickest part goes on first where it gathers waste heat, and is quenched last; thin ones come to heat in minutes and are quenched first.",
    "The soak counts from when the whole part is at heat; a thin part that waits for a thick one grows coarse, so put it in later.",
    "Have the tempering oven hot before the first quench. Each part goes in as soon as it can just be held in the hand; the oven stands at the lowest temper until the last is in, then rises from round to round, parts coming out as theirs is done.",
    "Colours are those of bright plain steel after the tempering time, from the palest that was seen to what the law of growth gives; in an oven go by its thermometer.",
    "Eyes, gloves and breathing: goggles against glare and scale, no fume without draught; oil with its lid beside, never below, the fire; cylinders and torches by the supplier's rules and local codes; metal below red looks cold.",
)


def browser_data() -> dict[str, Any]:
    """What the page needs to work out the same plan: steels, curves and uses, and the words of this module."""
    return {**known(), "notes": NOTES, "most": MOST_PARTS}


SAMPLE: tuple[dict[str, Any], ...] = (
    {"name": "scriber", "steel": "silver steel", "section": "6 mm", "does": "scribes lines"},
    {"name": "punch", "steel": "O1", "section": "16 mm", "does": "punches and dies"},
    {"name": "detent spring", "steel": "5160", "section": "2 mm", "does": "spring", "hardness": 46},
    {"name": "key", "steel": "C45", "section": "10 mm", "does": "shaft key, tough"},
    {"name": "washer", "steel": "mild steel", "section": "4 mm", "does": "spacer"},
)
"""A batch to show the plan with; invented."""

TABLES = (
    Definition(
        name="heating-plan",
        title="Heating plan for a batch",
        about="For several small parts to be hardened in one session: what may share a heating, the order on the hearth, quench and tempering of each.",
        group="heat",
        parameters=(
            Parameter("parts", "Parts", kind="mapping", many=True, example=EXAMPLE, help="each with name, steel, section, and as wished does, hardness, temper, quench, thinnest, count"),
            Parameter("time", "Tempering time", unit="h", low=0.05, high=24, default=1.0, example="1 h"),
        ),
        columns=(
            Column("order", "Order"),
            Column("part", "Part", kind="text"),
            Column("count", "Pieces"),
            Column("steel", "Steel", kind="text"),
            Column("section_mm", "Section", "mm", decimals=1),
            Column("does", "What it must do", kind="text"),
            Column("heating", "Heating"),
            Column("place", "On the hearth", kind="text"),
            Column("heat_c", "Harden at", "degC", decimals=0),
            Column("low_c", "From", "degC", decimals=0),
            Column("high_c", "To", "degC", decimals=0),
            Column("warm_up_min", "Comes to heat in about", "min", decimals=0),
            Column("soak_min", "Soak", "min", decimals=0),
            Column("soak_max_min", "Soak, at most", "min", decimals=0),
            Column("quench", "Quench", kind="text"),
            Column("quench_order", "Quench, order within the heating"),
            Column("temper_order", "Tempering round"),
            Column("temper_c", "Temper at", "degC", decimals=0),
            Column("colour", "Colour at that time", kind="text"),
            Column("hardness_hrc", "Hardness, HRC", decimals=0),
            Column("shares_with", "Shares the heating with", kind="text"),
            Column("note", "Note", kind="text"),
        ),
        compute=heating_plan,
        sources=(Cite("common-practice", "order on the hearth, sharing, tempering", "practice"), Cite("incropera", "warm-up as one lump", "memory"), Cite("hollomon-jaffe-1945", "tempering time", "secondary")),
        holds=f"parts of 0.2 to 300 mm, at most {MOST_PARTS}; warm-up reckoned for a hearth {OVER_FURNACE_C:g} °C over the aim and a surface coefficient of {SURFACE_W_M2K:g} W/(m² K)",
        also=("batch", "hearth", "order of hardening", "several parts", "share a heat", "brazing hearth"),
        examples=({"parts": list(SAMPLE)},),
        browser="heating-plan",
        browser_data=browser_data,
    ),
)  # fmt: skip
