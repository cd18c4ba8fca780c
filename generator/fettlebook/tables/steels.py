"""The table of steels: names side by side, composition, critical temperatures, and whether it hardens at all."""

from __future__ import annotations

from typing import Any

from fettlebook.tables.critical_temperatures import critical_of
from fettlebook.tables.definition import Cite, Column, Definition, Parameter, Table
from fettlebook.tables.steel_data import Steel, meanings, steels, what_to_say

SORT = ("no", "unknown", "case", "yes")
"""Order of the rows: what does not harden is said first."""

UNKNOWN = (
    "An unmarked piece, before any work on it: look at the sparks beside those of known pieces (a long straw-coloured stream with few forks "
    "is mild steel, many bursting forks close to the wheel are high carbon, short dull red sparks are cast iron or high alloy).",
    "Then file it: a file bites annealed steel easily. Harden a trial piece of the same bar at a full cherry red, in oil first; if a file "
    "skates on it, it is an oil-hardening steel; if it is still soft, do it again in water; if it stays soft then, it is mild steel.",
    "Break the hardened trial piece in a vice under a rag, with eyes covered: a fine grey velvet break is right, a coarse sparkling one was "
    "too hot. Make the part only afterwards.",
)
"""What to do with an unknown steel. Common practice."""


def _share(element: str, limits: Any) -> str:
    if isinstance(limits, list):
        return f"{element} {limits[0]:g} to {limits[-1]:g}"
    return f"{element.removesuffix('_max')} to {limits:g}" if element.endswith("_max") else f"{element} {limits:g}"


def composition_words(steel: Steel) -> str:
    """Limits where they are known, else the typical figures; mass percent."""
    limits = steel.raw.get("limits")
    if limits:
        return ", ".join(_share(element, value) for element, value in limits.items())
    typical = ", ".join(f"{element} {share:g}" for element, share in steel.typical.items())
    return f"about {typical}" if typical else ""


def _row(steel: Steel) -> dict[str, Any]:
    critical = critical_of(steel)
    notes = [steel.raw["composition"].get("note", ""), *steel.raw.get("notes", ()), critical.warning]
    return {
        "grade": steel.name, **{country: steel.names(country) for country in ("uk", "us", "de", "jp")},
        "composition": composition_words(steel), "carbon_percent": steel.carbon,
        "ac1_c": critical.ac1_c, "ac3_c": critical.ac3_c, "ms_c": critical.ms_c, "ac_from": critical.origin,
        "hardenable": {"yes": "yes", "no": "no", "case": "only its carburised skin", "unknown": "not known"}[steel.hardens],
        "how": steel.how_hardens, "note": " ".join(note for note in notes if note),
    }  # fmt: skip


def steels_table(steel: str | None = None) -> Table:
    """Every steel, those that do not harden first; or the one or several that STEEL means. Raises BadValue."""
    chosen = meanings(steel) if steel else tuple(sorted(steels(), key=lambda s: SORT.index(s.hardens)))
    warnings = [f"{s.name}: {s.how_hardens}." for s in chosen if s.hardens == "no"] if steel else [
        "Mild steel and cast iron do not harden. Silver steel and drill rod are names of a finish, for several steels that harden differently.",
    ]  # fmt: skip
    if steel and (said := what_to_say(steel)):
        warnings.append(said)
    notes = ["A name in brackets is the nearest relative, not the same steel.", "Temperatures are published where they were found, else computed by Andrews' formulas within their range."]  # fmt: skip
    if any(s.hardens == "unknown" for s in chosen):
        notes += UNKNOWN
    return Table(
        tuple(_row(s) for s in chosen), tuple(notes), tuple(warnings), tuple(s.composition_cite for s in chosen)
    )


TABLES = (
    Definition(
        name="steels",
        title="Steels and their names",
        about="The steels a small workshop meets, by their British, American, German and Japanese names, with what is in them and whether they harden.",
        group="heat",
        parameters=(
            Parameter("steel", "Only this steel", kind="text", default=None, example="EN8", help="any of its names"),
        ),
        columns=(
            Column("grade", "Steel", kind="text"),
            Column("hardenable", "Hardens", kind="text"),
            Column("how", "How", kind="text"),
            Column("uk", "British", kind="text"),
            Column("us", "American", kind="text"),
            Column("de", "German", kind="text"),
            Column("jp", "Japanese", kind="text"),
            Column("composition", "Composition, mass %", kind="text"),
            Column("carbon_percent", "Carbon", "percent", decimals=2),
            Column("ac1_c", "Ac1", "degC", decimals=0),
            Column("ac3_c", "Ac3", "degC", decimals=0),
            Column("ms_c", "Ms", "degC", decimals=0),
            Column("ac_from", "Ac from", kind="text"),
            Column("note", "Note", kind="text"),
        ),
        compute=steels_table,
        sources=(Cite("andrews-1965", "Ac1, Ac3, Ms where computed", "secondary"), Cite("common-practice", "unknown steel", "practice")),
        holds="the steels listed; a relative in brackets has another composition",
        also=("steel names", "equivalents", "grades", "silver steel", "drill rod", "EN8", "1045", "composition", "spark test", "unknown steel"),
        examples=({}, {"steel": "silver steel"}, {"steel": "unknown"}),
    ),
)  # fmt: skip
