"""Critical temperatures of a steel by several formulas, beside what is published, with the range of each formula."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fettlebook.tables.composition import EXAMPLE, alloy_total, read_composition
from fettlebook.tables.critical_formulas import (
    ANDREWS,
    EUTECTOID_CARBON,
    FORMULAS,
    Composition,
    Formula,
    andrews_ac1,
    andrews_ac3,
    andrews_ms,
)
from fettlebook.tables.definition import BadValue, Column, Definition, Parameter, Table
from fettlebook.tables.steel_data import Steel, cite_of, meanings, one, what_to_say

LOW_ALLOY_PERCENT = 5.0
"""Alloy [mass %] up to which a steel counts as low-alloy. Common practice (5 % is the usual line)."""


@dataclass(frozen=True)
class Critical:
    """Ac1, Ac3 and Ms [degC] as the other tables use them, where they come from, and a warning if one is only a guide."""

    ac1_c: float | None
    ac3_c: float | None
    ms_c: float | None
    origin: str
    warning: str = ""


def _formula_row(formula: Formula, composition: Composition) -> dict[str, Any]:
    beyond = formula.outside(composition)
    forced = {key: f(composition) for key, f in (("ac1", formula.ac1), ("ac3", formula.ac3), ("ms", formula.ms)) if f}
    kept = {} if beyond else forced
    notes = [formula.note, *beyond]
    if beyond:
        if "ac3" in forced and composition.get("C", 0) > EUTECTOID_CARBON:
            notes.append(
                "above the eutectoid Ac3 has no meaning: the upper line is Accm, and one hardens from Ac1 + 30 to 50 °C"
            )
        notes.append(
            "refused here; the bare arithmetic gives "
            + ", ".join(f"{key.capitalize()} {value:.0f} °C" for key, value in forced.items())
        )
    return {
        "by": formula.name, **{f"{key}_c": kept.get(key) for key in ("ac1", "ac3", "ms")}, "in_range": not beyond,
        "range": formula.range_words(), "note": "; ".join(note.rstrip(".") for note in notes if note),
    }  # fmt: skip


def _published_rows(steel: Steel) -> list[dict[str, Any]]:
    return [
        {"by": "published", "ac1_c": r.get("ac1"), "ac3_c": r.get("ac3"), "ms_c": None, "ar1_c": r.get("ar1"), "ar3_c": r.get("ar3"), "in_range": True,
         "range": "this steel", "note": "from memory" if r.get("how") == "memory" else ""}
        for r in steel.published("critical")
    ]  # fmt: skip


def critical_of(steel: Steel) -> Critical:
    """What is published on STEEL, else Andrews' formulas where they hold, else Ac1 as a guide, else nothing.

    gives   temperatures [degC]; Ac3 is None above the eutectoid, Ms is None outside the fitted range
    """
    composition = steel.typical
    beyond = ANDREWS.outside(composition)
    computed = Critical(
        andrews_ac1(composition), andrews_ac3(composition), andrews_ms(composition), "computed, Andrews"
    )
    record = next((r for r in steel.published("critical") if "ac1" in r), None)
    if record:
        ms = None if beyond else computed.ms_c
        return Critical(record["ac1"], record.get("ac3"), ms, "published, from memory" if record.get("how") == "memory" else "published")  # fmt: skip
    if composition and not beyond:
        return computed
    if not composition or alloy_total(composition) > LOW_ALLOY_PERCENT or composition.get("C", 0) > 2:
        return Critical(None, None, None, "none: outside every formula")
    return Critical(computed.ac1_c, None, None, "computed, as a guide only", f"Andrews' Ac1 is used outside its range ({'; '.join(beyond)}); it has no carbon term, so take it as a guide only.")  # fmt: skip


def critical_temperatures(steel: str | None = None, composition: str | None = None) -> Table:
    """Ac1, Ac3 and Ms [degC] of a steel or of a composition [mass %]. Raises BadValue unless one of the two is given."""
    if (steel is None) == (composition is None):
        raise BadValue(
            "steel", "give either a steel or a composition", f'for example steel=4140, or composition="{EXAMPLE}"'
        )
    found = one(steel) if steel else None
    shares = found.typical if found else read_composition(composition or "")
    if not shares:
        raise BadValue(
            "steel", f"{found.name if found else steel} has no composition to compute from", "test the piece first"
        )
    published = _published_rows(found) if found else []
    rows = (*published, *(_formula_row(formula, shares) for formula in FORMULAS))
    warnings = [what_to_say(steel)] if steel and len(meanings(steel)) > 1 else []
    if not any(row["in_range"] for row in rows if row["by"] != "published"):
        warnings.append("This composition lies outside every formula: use published figures only.")
    return Table(rows, _notes(shares), tuple(w for w in warnings if w), tuple(cite_of(r) for r in found.published("critical")) if found else ())  # fmt: skip


def _notes(shares: Composition) -> tuple[str, ...]:
    worked = "Computed for " + ", ".join(f"{element} {share:g} %" for element, share in shares.items()) + "."
    side = "below" if shares.get("C", 0) <= EUTECTOID_CARBON else "above"
    return (worked, f"With {shares.get('C', 0):g} % carbon the steel lies {side} the eutectoid ({EUTECTOID_CARBON} %).",
            "Measured Ac temperatures rise with the heating rate; two formulas that agree within 15 °C agree well.")  # fmt: skip


STEEL = Parameter(
    "steel", "Steel", kind="text", example="4140", help="any of its names, British, American, German or Japanese"
)

TABLES = (
    Definition(
        name="critical-temperatures",
        title="Critical temperatures of a steel",
        about="Where a steel changes on heating and where it starts to harden on cooling, by several formulas beside what is published. "
        "Hardening and annealing temperatures are counted from these.",
        group="heat",
        parameters=(
            Parameter("steel", "Steel", kind="text", default=None, example="4140", help=STEEL.help),
            Parameter("composition", "Composition", kind="text", default=None, example=EXAMPLE, help="mass percent by element"),
        ),
        columns=(
            Column("by", "By", kind="text"),
            Column("ac1_c", "Ac1", "degC", decimals=0),
            Column("ac3_c", "Ac3", "degC", decimals=0),
            Column("ms_c", "Ms", "degC", decimals=0),
            Column("ar1_c", "Ar1", "degC", decimals=0),
            Column("ar3_c", "Ar3", "degC", decimals=0),
            Column("in_range", "Holds for this steel", kind="flag"),
            Column("range", "Range of the formula", kind="text"),
            Column("note", "Note", kind="text"),
        ),
        compute=critical_temperatures,
        sources=tuple(formula.cite for formula in FORMULAS),
        holds="low-alloy steels inside the range printed in each row; a formula outside its range gives no value",
        also=("Ac1", "Ac3", "Ms", "martensite start", "Andrews", "transformation temperature", "critical point"),
        examples=({"steel": "4140"}, {"steel": "C45"}, {"composition": "C 0.53, Si 1.9, Mn 0.85"}),
    ),
)  # fmt: skip
