"""Annealing, hardening and tempering of a steel: what is published, beside what its composition asks for.

Rules (common practice in every textbook): below the eutectoid a steel is annealed and hardened from Ac3 + 30 to 50 degC,
above it from Ac1 + 30 to 50 degC; a soft anneal lies just below Ac1.
"""

from __future__ import annotations

from typing import Any

from fettlebook.tables.critical_formulas import EUTECTOID_CARBON
from fettlebook.tables.critical_temperatures import STEEL, critical_of
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written
from fettlebook.tables.hardenability import depth_said, expected_surface_hrc
from fettlebook.tables.heating_up import soak_min
from fettlebook.tables.steel_data import Operation, Steel, meanings, what_to_say
from fettlebook.tables.steels import UNKNOWN
from fettlebook.tables.tempering import BLUE, SLOW, brittle_ranges, curve_of
from fettlebook.tables.tempering_curves import reach_c
from fettlebook.tables.writing import short_title

TESTS = ("spark", "file and trial piece", "break")
ORDER = ("anneal", "normalise", "stress-relieve", "preheat", "carburise", "harden", "temper")
ABOVE = (30.0, 50.0)
"""How far above the critical line [degC]. Common practice."""

BELOW_AC1 = (40.0, 10.0)
"""How far below Ac1 a soft anneal lies [degC]. Common practice."""

NORMALISE_ABOVE = (50.0, 80.0)
"""How far above Ac3 [degC]. Common practice."""

COOLING = {"anneal": "slowly in the furnace, or in dry ash or lime", "normalise": "still air", "stress-relieve": "slowly in the furnace",
           "preheat": "straight on to the hardening heat", "carburise": "as the next step asks", "temper": "still air; tools may be put in water"}  # fmt: skip

AGREES_C = 5.0
"""Ranges that miss each other by no more than this are taken to agree [degC]: what is shown is rounded to it."""

WHY = {
    ("water", True): "little alloy: only water is fast enough", ("water", False): "harsh: only for plain thick shapes, oil is safer",
    ("oil", True): "thin sections only, where it is fast enough; less warping", ("oil", False): "its alloy hardens it in oil, water would crack it",
    ("air", True): "", ("air", False): "its alloy hardens it in air, oil or water would crack it",
}  # fmt: skip
"""Why a quench is chosen, by medium and by whether the steel is plain carbon steel."""

PLAIN_KINDS = {"carbon-tool", "carbon-structural", "mild"}


def _group(steel: Steel) -> dict[tuple[str, str], list[Operation]]:
    """The published operations, those of one kind and way together, in the order of work."""
    found: dict[tuple[str, str], list[Operation]] = {}
    for operation in sorted(steel.operations, key=lambda op: ORDER.index(op.op)):
        found.setdefault((operation.op, operation.way), []).append(operation)
    return found


def computed_range_c(steel: Steel, op: str, way: str) -> tuple[float, float] | None:
    """The range [degC] that the rules give for an operation; None where they give none.

    Sources: common-practice for the rules, andrews-1965 or published figures for Ac1 and Ac3
    """
    critical, carbon = critical_of(steel), steel.carbon or 0.0
    below_eutectoid = carbon <= EUTECTOID_CARBON
    upper = critical.ac3_c if below_eutectoid else critical.ac1_c
    if way == "spheroidise":
        return None
    if op == "normalise" and critical.ac3_c and below_eutectoid:
        return critical.ac3_c + NORMALISE_ABOVE[0], critical.ac3_c + NORMALISE_ABOVE[1]
    if op == "anneal" and way == "soft" and below_eutectoid and critical.ac1_c:
        return critical.ac1_c - BELOW_AC1[0], critical.ac1_c - BELOW_AC1[1]
    case = way.startswith("case")
    if op == "harden" and case:
        upper = critical.ac1_c
    if op in {"anneal", "harden"} and upper and not steel.typical.get("Cr", 0) > 4:
        return upper + ABOVE[0], upper + ABOVE[1]
    return None


def disagreement(low: float, high: float, computed: tuple[float, float] | None, steel: Steel) -> str:
    """How the computed range lies to the published one, in words; empty when they overlap."""
    if computed is None:
        return ""
    gap = low - computed[1] if computed[1] < low else high - computed[0] if computed[0] > high else 0.0
    if abs(gap) <= AGREES_C:
        return ""
    side = "below" if gap > 0 else "above"
    reason = (
        " Its carbides need more heat to dissolve than the rule counts on."
        if gap > 0 and steel.kind in {"alloy-tool", "carbon-tool"}
        else ""
    )
    return f"The computed range lies {abs(gap):.0f} °C {side} the published one: go by what is published.{reason}"


def _sources_words(group: list[Operation]) -> str:
    """Each source's own range, when they differ."""
    spans = {(op.low_c, op.high_c) for op in group}
    if len(spans) < 2:
        return ""
    said = [
        f"{_range(op.low_c, op.high_c)} ({short_title(op.cite)}{', from memory' if op.cite.how == 'memory' else ''})"
        for op in group
    ]
    return "Sources differ: " + "; ".join(said) + "."


def _range(low: float, high: float) -> str:
    return f"{low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"


def _unique(words: list[str]) -> str:
    return " / ".join(dict.fromkeys(word for word in words if word))


def _cool(steel: Steel, op: str, way: str, group: list[Operation]) -> str:
    printed = _unique([operation.cool for operation in group])
    if op == "harden":
        medium = next((word for word in ("water", "oil", "air") if word in way), way)
        why = WHY.get((medium, steel.kind in PLAIN_KINDS or steel.id == "en32"), "") if steel.hardens == "yes" else ""
        return f"{medium}: {why}".rstrip(": ")
    return printed or COOLING[op]


def _hardness(
    steel: Steel, op: str, way: str, group: list[Operation]
) -> tuple[float | None, float | None, float | None]:
    """Lowest and highest HRC, and the highest Brinell, after the operation."""
    brinells = [operation.hb_max for operation in group if operation.hb_max is not None]
    hb = max(brinells) if brinells else None
    core = steel.hardens == "case" and way.startswith("core")
    if op == "harden" and not core and (span := expected_surface_hrc(steel)):
        return *span, hb
    if op == "temper" and steel.curve:
        return *_tempered_span(steel, group), hb
    return None, None, hb


def _tempered_span(steel: Steel, group: list[Operation]) -> tuple[float | None, float | None]:
    """Softest and hardest [HRC] over a tempering range, after 1 h, as far as the curve reaches."""
    curve = curve_of(steel)
    first, last = reach_c(curve, 1.0)
    low, high = max(min(o.low_c for o in group), first), min(max(o.high_c for o in group), last)
    ends = [h for t in (low, high) if (h := curve.hrc(t, 1.0)) is not None]
    return (min(ends), max(ends)) if low <= high and ends else (None, None)


def _notes_of(steel: Steel, op: str, way: str, group: list[Operation], computed: tuple[float, float] | None) -> str:
    low, high = min(o.low_c for o in group), max(o.high_c for o in group)
    holds = _unique([o.hold for o in group])
    parts = [
        _sources_words(group), disagreement(low, high, computed, steel), f"Hold: {holds}." if holds else "",
        *(f"{o.note[0].upper()}{o.note[1:]}." for o in group if o.note), "Twice." if any(o.twice for o in group) else "",
    ]  # fmt: skip
    if op == "temper":
        parts += [
            f"Between {a:.0f} and {b:.0f} °C: {words}." for a, b, words in brittle_ranges(steel) if a < high and b > low
        ]
    if op == "harden" and steel.hardens == "no":
        parts.append("Only after carburising: without it nothing hardens.")
    return " ".join(part for part in dict.fromkeys(parts) if part)


def _row(steel: Steel, op: str, way: str, group: list[Operation], section_mm: float | None) -> dict[str, Any]:
    computed = computed_range_c(steel, op, way)
    low_hrc, high_hrc, hb = _hardness(steel, op, way, group)
    soak = soak_min(steel, section_mm) if section_mm and op == "harden" else None
    limits = [o.largest_mm for o in group if o.largest_mm]
    return {
        "grade": steel.name, "operation": op, "way": way, "low_c": min(o.low_c for o in group), "high_c": max(o.high_c for o in group),
        "computed_low_c": computed[0] if computed else None, "computed_high_c": computed[1] if computed else None,
        "soak_min": soak[0] if soak else None, "soak_max_min": soak[1] if soak else None, "cool": _cool(steel, op, way, group),
        "hardness_hrc": (low_hrc + high_hrc) / 2 if low_hrc is not None and high_hrc is not None else None,
        "hardness_low_hrc": low_hrc, "hardness_high_hrc": high_hrc, "hardness_hb_max": hb, "largest_mm": min(limits) if limits else None,
        "note": _notes_of(steel, op, way, group, computed),
    }  # fmt: skip


def crack_risk(steel: Steel, section_mm: float | None, thinnest_mm: float | None, quench: str) -> str:
    """The risk of cracking in words, from quench, carbon and change of section. Common practice."""
    severe = {"water": 2, "brine": 3, "oil": 1, "air": 0}.get(quench, 1)
    ratio = section_mm / thinnest_mm if section_mm and thinnest_mm else 1.0
    carbon = (steel.carbon or 0) > (0.35 if severe > 1 else 0.5)
    points = severe + carbon + (2 if ratio >= 3 else 1 if ratio >= 1.5 else 0)
    words = "low" if points <= 2 else "some" if points == 3 else "high" if points == 4 else "very high"
    change = f", section changes {written(ratio, 1)} to 1" if ratio > 1 else ""
    return f"Risk of cracking in {quench}: {words}{change}."


def heat_treatment(steel: str, section_mm: float | None = None, thinnest_mm: float | None = None) -> Table:
    """What to do with STEEL: rows in the order of work.

    steel         any name of it; a name of several steels gives all of them
    section_mm    thickest section [mm], for the soak
    thinnest_mm   thinnest section beside it [mm], for the risk of cracking
    """
    if section_mm and thinnest_mm and thinnest_mm > section_mm:
        raise BadValue(
            "thinnest", f"{thinnest_mm:g} mm is more than the thickest section, {section_mm:g} mm", "change them over"
        )
    found = meanings(steel)
    rows = [_row(s, op, way, group, section_mm) for s in found for (op, way), group in _group(s).items()]
    rows += [
        {"grade": s.name, "operation": "test", "way": way, "note": words}
        for s in found
        if s.hardens == "unknown"
        for way, words in zip(TESTS, UNKNOWN, strict=True)
    ]
    warnings = [
        what_to_say(steel),
        *(f"{s.name}: {s.how_hardens}." for s in found if s.hardens in {"no", "unknown", "case"}),
    ]
    warnings += [w for s in found for w in _section_warnings(s, section_mm, thinnest_mm)]
    notes = [note for s in found for note in _steel_notes(s, section_mm)]
    cites = tuple(dict.fromkeys(op.cite for s in found for op in s.operations))
    return Table(tuple(rows), (*notes, *_general_notes(found)), tuple(w for w in warnings if w), cites)


def _section_warnings(steel: Steel, section_mm: float | None, thinnest_mm: float | None) -> list[str]:
    said = [critical_of(steel).warning] if critical_of(steel).warning else []
    for (op, way), group in _group(steel).items():
        limit = min((o.largest_mm for o in group if o.largest_mm), default=None)
        if op == "harden" and limit and section_mm and section_mm > limit:
            said.append(
                f"{steel.name}: {way} hardens it only to about {limit:.3g} mm; at {section_mm:g} mm it stays soft."
            )
    media = _media(steel)
    thin_only = {way for way in media if any(f"{way} hardens it only" in words for words in said)}
    said += [w for m in media if section_mm and m not in thin_only and (w := _depth(steel, section_mm, m, soft=True))]
    if thinnest_mm and section_mm and steel.hardens == "yes":
        said += [f"{steel.name}: {crack_risk(steel, section_mm, thinnest_mm, medium)}" for medium in media]
    return [f"{steel.name}: {w}" if not w.startswith(steel.name) else w for w in said]


def _media(steel: Steel) -> list[str]:
    """The quenches that are published for a steel, harshest first."""
    return [m for m in ("water", "oil", "air") if any(m in way for op, way in _group(steel) if op == "harden")]


def _depth(steel: Steel, section_mm: float, medium: str, soft: bool) -> str:
    """How deep it hardens, if the core stays soft or, with SOFT false, if it does not."""
    words, core_soft = depth_said(steel, section_mm, medium)
    return words if core_soft is soft else ""


def _steel_notes(steel: Steel, section_mm: float | None) -> list[str]:
    said = [f"{steel.name}: {note}" for note in steel.raw.get("notes", ())]
    said += [words for m in _media(steel) if section_mm and (words := _depth(steel, section_mm, m, soft=False))]
    if steel.hardens == "yes" and section_mm:
        low, high, who = soak_min(steel, section_mm)
        said.append(
            f"{steel.name}: soak {low:.0f} min"
            + (f" to {high:.0f} min" if round(high) != round(low) else "")
            + f" once it is at heat ({who})."
        )
    if growth := steel.raw.get("growth_mm_per_mm"):
        said.append(
            f"{steel.name}: it grows by about {growth['value'] * 1000:g} mm for each metre on hardening; leave it to grind."
        )
    if rate := steel.raw.get("heat_rate_c_per_h"):
        said.append(
            f"{steel.name}: heat no faster than {rate['value']:g} °C/h ({rate['value'] * 1.8:.0f} °F/h, an interval)."
        )
    if core := steel.raw.get("core_mpa"):
        said.append(f"{steel.name}: core {core['low']:g} to {core['high']:g} MPa after case-hardening.")
    if conditions := steel.raw.get("conditions"):
        said.append(
            f"{steel.name}, as bought by condition letter: "
            + "; ".join(
                f"{c['condition']} HB {c['hb'][0]} to {c['hb'][1]} up to {c['section_mm']:g} mm" for c in conditions
            )
            + "."
        )
    return said


def _general_notes(found: tuple[Steel, ...]) -> tuple[str, ...]:
    if not any(s.hardens in {"yes", "case"} for s in found):
        return (
            "Stress relief and annealing ask for the same care with heat: protect eyes and skin, and let the part cool where nobody picks it up.",
        )
    return (
        "Temper at once, as soon as the quenched part can just be held in the hand (about 65 °C): the longer it waits, the likelier it cracks.",
        "Cracks start at sharp corners, holes near an edge, stamped marks and steps of section: round them, plug holes with clay, quench the thick end first and straight down.",
        "The eye is a poor thermometer in a bright shop. Second cues: the magnet lets go at about 770 °C, a thermal crayon, a salt's melting point, a thermocouple.",
        f"Published ranges are shown whole, over all sources. Blue brittleness is {BLUE[0]:.0f} to {BLUE[1]:.0f} °C, temper embrittlement of alloy steel {SLOW[0]:.0f} to {SLOW[1]:.0f} °C.",
        "Computed: Ac3 + 30 to 50 °C below the eutectoid, Ac1 + 30 to 50 °C above it, a soft anneal 10 to 40 °C below Ac1 (common practice). "
        "Hot metal looks cold below 500 °C; gas, cylinders and fume come under local codes and the supplier's rules.",
    )


TABLES = (
    Definition(
        name="heat-treatment",
        title="Annealing, hardening and tempering",
        about="What to do with a steel, from the first heating to the last: published temperatures beside those that its composition asks for, soak, quench and hardness.",
        group="heat",
        parameters=(
            Parameter("steel", "Steel", kind="text", example="silver steel", help=STEEL.help),
            Parameter("section", "Thickest section", unit="mm", low=0.1, high=500, default=None, example="12 mm", help="for the soak"),
            Parameter("thinnest", "Thinnest section beside it", unit="mm", low=0.1, high=500, default=None, example="4 mm", help="for the risk of cracking"),
        ),
        columns=(
            Column("grade", "Steel", kind="text"),
            Column("operation", "Operation", kind="text"),
            Column("way", "Way", kind="text"),
            Column("low_c", "From", "degC", decimals=0),
            Column("high_c", "To", "degC", decimals=0),
            Column("computed_low_c", "Computed from", "degC", decimals=0),
            Column("computed_high_c", "Computed to", "degC", decimals=0),
            Column("soak_min", "Soak at heat", "min", decimals=0),
            Column("soak_max_min", "Soak, at most", "min", decimals=0),
            Column("cool", "Cool", kind="text"),
            Column("hardness_hrc", "Hardness, HRC", decimals=0),
            Column("hardness_low_hrc", "Hardness from", decimals=0),
            Column("hardness_high_hrc", "Hardness to", decimals=0),
            Column("hardness_hb_max", "Annealed, HB at most", decimals=0),
            Column("largest_mm", "Only up to", "mm", decimals=0),
            Column("note", "Note", kind="text"),
        ),
        compute=heat_treatment,
        sources=(Cite("andrews-1965", "Ac1, Ac3 where not published", "secondary"), Cite("common-practice", "rules for annealing and hardening", "practice")),
        holds="the steels of the table `steels`; computed ranges only where Ac1 and Ac3 hold",
        also=("annealing", "hardening", "quenching", "normalising", "soak", "stress relief", "case hardening", "carburising", "harden a tool"),
        examples=({"steel": "silver steel", "section": 10}, {"steel": "O1", "section": 12}, {"steel": "mild steel"}, {"steel": "42CrMo4", "section": 20}),
    ),
)  # fmt: skip
