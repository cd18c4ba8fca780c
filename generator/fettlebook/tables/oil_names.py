"""Oil numbers side by side: ISO VG, SAE engine, SAE gear and AGMA."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import Cite, Column, Definition, Parameter, Table
from fettlebook.tables.oil_grades import Oil, grades, iso_grades
from fettlebook.tables.viscosity import INDEX_FROM, INDEX_THINNEST, INDEX_TO, OutOfRange, v100_from_index


def names_row(oil: Oil, index: float) -> Mapping[str, Any]:
    """One ISO grade with the grades of the other systems that its middle falls in at an index."""
    try:
        v100 = v100_from_index(oil.v_mm2_s, index)
    except OutOfRange:
        v100 = None
    return {
        "iso": oil.name,
        "v40_mm2_s": oil.v_mm2_s,
        "v40_min_mm2_s": oil.low,
        "v40_max_mm2_s": oil.high,
        "v100_mm2_s": v100,
        "sae_engine": _band("engine", v100),
        "sae_gear": _band("gear", v100),
        "agma": next((f"{r['number']}" for r in data.rows("oils", "agma") if f"ISO VG {r['iso']}" == oil.name), None),
    }


def _band(group: str, v100: float | None) -> str | None:
    """The SAE grade in whose band a viscosity at 100 degC falls. Engine bands 8 to 20 overlap: the thicker name is taken."""
    inside = [
        str(row["number"])
        for row in data.rows("oils", group)
        if v100 is not None and row["low"] <= v100 and (row["below"] is None or v100 < row["below"])
    ]
    return inside[-1] if inside else None


SYSTEMS = ("side by side", "ISO VG", "SAE engine", "SAE gear", "AGMA")


def oil_names(index: float = 95.0, system: str = "side by side") -> Table:
    """The grades of the four systems, side by side or one system with its limits.

    index    viscosity index by which the middle at 40 degC is carried to 100 degC, 0 to 300
    system   one of SYSTEMS
    """
    if system != "side by side":
        rows = tuple(_system_rows(system))
        shown = tuple(column for column in SYSTEM_COLUMNS if any(row.get(column.name) is not None for row in rows))
        return Table(rows, NOTES[:1] + NOTES[3:], columns=shown)
    first = f"The SAE columns are worked out for a viscosity index of {index:g}; another index moves them by a grade."
    return Table(tuple(names_row(oil, index) for oil in iso_grades()), (first, *NOTES))


def _system_rows(system: str) -> Iterator[Mapping[str, Any]]:
    """The grades of one system with their limits, winter grades after the others."""
    if system in {"ISO VG", "AGMA"}:
        for oil in grades().values():
            if oil.system == system:
                yield {
                    "grade": oil.name,
                    "at_c": 40,
                    "min_mm2_s": oil.low,
                    "mid_mm2_s": oil.v_mm2_s,
                    "max_mm2_s": oil.high,
                }
        return
    group = system.split()[1]
    for row in (*data.rows("oils", group), *data.rows("oils", f"{group}_winter")):
        low, below = row["low"], row.get("below")
        cranking, pumping = row.get("cranking", (None, None)), row.get("pumping", (None, None))
        yield {
            "grade": f"SAE {row['number']}" + (" gear" if group == "gear" else ""),
            "at_c": 100,
            "min_mm2_s": low,
            "mid_mm2_s": (low * below) ** 0.5 if below else None,
            "below_mm2_s": below,
            "high_shear_mpa_s": row.get("hths"),
            "cranking_mpa_s": cranking[0],
            "cranking_at_c": cranking[1],
            "pumping_mpa_s": pumping[0],
            "pumping_at_c": pumping[1],
            "thick_at_c": row.get("thick_at"),
            "note": row.get("note"),
        }


NOTES = (
    "ISO VG and AGMA set their numbers at 40 °C, SAE at 100 °C and in the cold. A number of one system says nothing "
    "in another: SAE 30 is not ISO VG 30 (there is none); SAE 46 and SAE 68 do not exist.",
    "SAE gear numbers are a scale of their own: SAE 90 gear is about as thick as SAE 40 to 50 engine oil.",
    f"Where the oil is thinner than {INDEX_THINNEST:g} mm²/s at 100 °C the index is not defined and the cell stays empty.",
    "Editions: SAE J300 of 2015 (SAE 20 begins at 6.9; older charts print 5.6), SAE J306 of 2019 (older charts print "
    "80 as 7.0 to 11.0, 90 as 13.5 to 24.0 and 140 as 24.0 to 41.0).",
    "AGMA 7 and 8 also come compounded (Comp), 8A only so: 3 to 10 % fatty oil for worm gears, "
    "which an extreme-pressure oil of the same number does not replace.",
    "Each ISO grade reaches 10 % either side of its middle, and between grades there are gaps: 38 mm²/s belongs to none.",
    "Thickness is only one property: a hydraulic oil, a way oil and a spindle oil of one grade are different oils.",
)
SYSTEM_COLUMNS = (
    Column("grade", "Grade", kind="text"),
    Column("at_c", "Set at", "degC", decimals=0),
    Column("min_mm2_s", "From", "mm2/s", significant=3),
    Column("mid_mm2_s", "Middle", "mm2/s", significant=3),
    Column("max_mm2_s", "To", "mm2/s", significant=3),
    Column("below_mm2_s", "Below", "mm2/s", significant=3),
    Column("high_shear_mpa_s", "High shear at 150 °C, least", "mPa s", decimals=1),
    Column("cranking_mpa_s", "Cranking, most", "mPa s", decimals=0),
    Column("cranking_at_c", "at", "degC", decimals=0),
    Column("pumping_mpa_s", "Pumping, most", "mPa s", decimals=0),
    Column("pumping_at_c", "at", "degC", decimals=0),
    Column("thick_at_c", "150 000 mPa s at", "degC", decimals=0),
    Column("note", "Note", kind="text"),
)


TABLES = (
    Definition(
        name="oil-names",
        title="Oil numbers side by side",
        about="Four systems number oils, and their numbers look alike. Each line is one ISO viscosity grade with the SAE engine, "
        "SAE gear and AGMA number of an oil as thick. Use it to find what a manual's number means, never to swap the kind of oil.",
        group="Oil",
        parameters=(
            Parameter("index", "Viscosity index", kind="number", low=INDEX_FROM, high=INDEX_TO, default=95.0, example="95",
                      help="95 is assumed for a mineral oil without a data sheet"),
            Parameter("system", "Show", kind="choice", choices=SYSTEMS, default="side by side", example="SAE gear"),
        ),
        columns=(
            Column("iso", "ISO VG", kind="text"),
            Column("v40_mm2_s", "Middle at 40 °C", "mm2/s", significant=3),
            Column("v40_min_mm2_s", "From", "mm2/s", significant=3),
            Column("v40_max_mm2_s", "To", "mm2/s", significant=3),
            Column("v100_mm2_s", "At 100 °C", "mm2/s", significant=3),
            Column("sae_engine", "SAE engine", kind="text"),
            Column("sae_gear", "SAE gear", kind="text"),
            Column("agma", "AGMA", kind="text"),
        ),
        compute=oil_names,
        sources=(Cite("iso-3448", "table 1", "secondary"), Cite("sae-j300", "table 1", "secondary"), Cite("sae-j306", "table 1", "secondary"),
                 Cite("agma-9005", "lubricant numbers; 1, 3, 4, 6 and 8 from memory", "secondary"), Cite("astm-d2270", how="computed"),
                 Cite("sae-trade-explanation", "gear 90 beside engine 40 to 50")),
        holds="ISO VG 2 to 3200; SAE columns from 2 mm²/s at 100 °C",
        also=("viscosity grade", "ISO VG", "SAE", "AGMA", "gear oil number", "oil equivalents", "weight of oil"),
        examples=({}, {"system": "SAE engine"}, {"system": "SAE gear"}),
    ),
)  # fmt: skip
