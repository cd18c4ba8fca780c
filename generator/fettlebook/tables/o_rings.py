"""O-rings: their sizes, and squeeze, stretch and fill in a gland."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from math import pi
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table

USES = ("static face", "static radial", "reciprocating")


@dataclass(frozen=True)
class Ring:
    """An O-ring by its dash number; sizes and plus-or-minus tolerances [mm]."""

    size: str
    bore_mm: float
    bore_tol_mm: float
    section_mm: float
    section_tol_mm: float


@cache
def rings() -> tuple[Ring, ...]:
    """Every dash number, in order. Source: iso-3601-1."""
    return tuple(Ring(str(row[0]), *row[1:]) for row in data.read("o-rings")["rows"])


def squeeze_percent(section_mm: float, depth_mm: float) -> float:
    """How far a gland flattens a ring, in percent of its section.

        squeeze = (section - depth) / section

    section_mm   free section of the ring [mm], above 0
    depth_mm     depth of the gland with the parts home, clearance included [mm]
    gives        [%]; 0 or less means that the ring does not touch

    Source: gland-design-note

    >>> round(squeeze_percent(2.62, 2.0), 1)
    23.7
    """
    return 100 * (section_mm - depth_mm) / section_mm


def depth_for_mm(section_mm: float, squeeze: float) -> float:
    """Depth of gland [mm] for a squeeze in percent.

    >>> round(depth_for_mm(2.62, 20), 3)
    2.096
    """
    return section_mm * (1 - squeeze / 100)


def fill_percent(section_mm: float, depth_mm: float, width_mm: float) -> float:
    """How much of a rectangular gland the ring fills; the rest is left for swelling and heat.

        fill = (pi/4) section^2 / (depth x width)

    Source: definition (areas of the sections; stretch is left out)

    >>> round(fill_percent(2.62, 2.0, 3.6), 1)
    74.9
    """
    return 100 * pi / 4 * section_mm**2 / (depth_mm * width_mm)


def stretch_percent(bore_mm: float, over_mm: float) -> float:
    """How far a ring is stretched over a diameter, in percent of its bore; below 0 it hangs loose.

    Source: o-ring-fundamentals

    >>> round(stretch_percent(12.37, 12.6), 1)
    1.9
    """
    return 100 * (over_mm - bore_mm) / bore_mm


def squeeze_limits(section_mm: float, tol_mm: float, depth_from_mm: float, depth_to_mm: float) -> tuple[float, float]:
    """Least and largest squeeze [%] with the tolerances of ring and gland.

    >>> [round(x) for x in squeeze_limits(2.62, 0.08, 1.91, 2.06)]
    [19, 29]
    """
    thin, thick = section_mm - tol_mm, section_mm + tol_mm
    return squeeze_percent(thin, depth_to_mm), squeeze_percent(thick, depth_from_mm)


def gland_for(section_mm: float, use: str) -> Mapping[str, Any] | None:
    """The handbook's gland for a section and a use; None for a section that stands in no table."""
    for row in data.rows("o-rings", "glands"):
        if row["use"] == use and abs(row["section"] - section_mm) < 0.005:
            return row
    return None


def section_tol_mm(section_mm: float) -> float:
    """Tolerance of a section [mm]: that of the standard rings of this section, or of the nearest one."""
    nearest = min(rings(), key=lambda ring: (abs(ring.section_mm - section_mm), ring.section_tol_mm))
    return nearest.section_tol_mm


def squeeze_verdict(least: float, most: float, use: str, section_mm: float) -> str:
    """Whether a squeeze range stays within the handbook's limits for its use, in words."""
    gland = gland_for(section_mm, use) or gland_for(_nearest_section(section_mm), use)
    low, high = gland["squeeze_percent"] if gland else (15, 30)
    if most <= 0:
        return "does not touch: the gland is deeper than the ring is thick"
    if least < low - 1:
        return f"too little squeeze: it can leak ({low:g} to {high:g} % wanted)"
    if most > high + 1:
        return f"too much squeeze: it flattens for good and the head may not come home ({low:g} to {high:g} % wanted)"
    return "good"


def _nearest_section(section_mm: float) -> float:
    return min({ring.section_mm for ring in rings()}, key=lambda section: abs(section - section_mm))


def fill_verdict(fill: float) -> str:
    """Whether a gland leaves the ring room to swell, in words."""
    limits = data.read("o-rings")["limits"]
    if fill > limits["fill_most_percent"]:
        return f"overfull: no room to swell, at most {limits['fill_most_percent']} %"
    if fill > limits["fill_percent"][1]:
        return f"full: {limits['fill_percent'][1]} % is usual at most"
    return "good"


def stretch_verdict(stretch: float) -> str:
    """Whether a ring sits well on its diameter, in words."""
    low, high = data.read("o-rings")["limits"]["stretch_percent"]
    if stretch > high:
        return f"overstretched: at most {high} % when fitted"
    if stretch < 0:
        return "loose: it must be held from outside"
    return "good" if stretch >= low else "hardly gripped"


def o_rings(size: str | None = None, bore_mm: float | None = None, section_mm: float | None = None) -> Table:
    """The dash numbers, all of them, one, or those nearest to a bore in each section.

    size         dash number, with or without a leading nought
    bore_mm      inside diameter measured [mm]
    section_mm   thickness measured [mm]
    """
    if size is not None:
        found = [ring for ring in rings() if ring.size.lstrip("0") == size.strip().lstrip("-").lstrip("0")]
        if not found:
            raise BadValue(
                "size", f'there is no O-ring size "{size[:20]}"', "sizes run from 001 to 475, not every number is used"
            )
    else:
        found = [ring for ring in rings() if section_mm is None or abs(ring.section_mm - section_mm) <= 0.15]
        if not found:
            sections = ", ".join(f"{section:g}" for section in sorted({ring.section_mm for ring in rings()}))
            raise BadValue("section", f"no standard section lies near {section_mm:g} mm", f"they are {sections} mm")
        if bore_mm is not None:
            found = list(_nearest_bores(found, bore_mm))
    return Table(tuple(_ring_row(ring, bore_mm) for ring in found), NOTES)


def _nearest_bores(among: list[Ring], bore_mm: float) -> Iterator[Ring]:
    """Of each section the ring nearest in bore, if it lies within a tenth of it."""
    for section in sorted({ring.section_mm for ring in among}):
        nearest = min((r for r in among if r.section_mm == section), key=lambda ring: abs(ring.bore_mm - bore_mm))
        if abs(nearest.bore_mm - bore_mm) <= 0.1 * bore_mm + nearest.bore_tol_mm:
            yield nearest


def _ring_row(ring: Ring, bore_mm: float | None) -> dict[str, Any]:
    return {
        "size": ring.size,
        "bore_mm": ring.bore_mm,
        "bore_tol_mm": ring.bore_tol_mm,
        "section_mm": ring.section_mm,
        "section_tol_mm": ring.section_tol_mm,
        "outside_mm": ring.bore_mm + 2 * ring.section_mm,
        "off_mm": None if bore_mm is None else ring.bore_mm - bore_mm,
    }


NOTES = (
    "Rings of one bore come in several sections: bore and section must both fit. Measure a new ring, not the flattened one.",
    "Older metric sections 1.8, 2.65, 3.55, 5.3 and 7.0 look alike but are a series of their own, and metric rings of 1, 1.5, 2, 2.5 "
    "and 3 mm are sold beside these.",
)


def o_ring_fit(
    section_mm: float,
    depth_mm: float | None = None,
    width_mm: float | None = None,
    bore_mm: float | None = None,
    over_mm: float | None = None,
    use: str = "static face",
    squeeze_percent_wanted: float | None = None,
) -> Table:
    """Squeeze, fill and stretch of a ring in a gland as measured, beside the handbook's gland.

    section_mm   free section [mm]
    depth_mm     gland depth [mm]; left out, the depth for the squeeze wanted, or the handbook's middle
    width_mm     gland width [mm]
    bore_mm      the ring's bore [mm]; over_mm the diameter it sits on [mm]
    use          static face, static radial or reciprocating
    """
    gland = gland_for(section_mm, use)
    depth = depth_mm
    if depth is None:
        wanted = squeeze_percent_wanted if squeeze_percent_wanted is not None else _middle_squeeze(gland, section_mm)
        depth = depth_for_mm(section_mm, wanted)
    if depth >= section_mm * 2:
        raise BadValue("depth", f"a gland {depth:g} mm deep is no gland for a ring {section_mm:g} mm thick")
    if (bore_mm is None) != (over_mm is None):
        raise BadValue(
            "bore" if bore_mm is None else "over", "stretch needs both the ring's bore and the diameter it sits on"
        )
    tol = section_tol_mm(section_mm)
    least, most = squeeze_limits(section_mm, tol, depth, depth)
    fill = fill_percent(section_mm, depth, width_mm) if width_mm is not None else None
    stretch = stretch_percent(bore_mm, over_mm) if bore_mm is not None and over_mm is not None else None
    row = {
        "section_mm": section_mm,
        "depth_mm": depth,
        "squeeze_percent": squeeze_percent(section_mm, depth),
        "squeeze_min_percent": least,
        "squeeze_max_percent": most,
        "fill_percent": fill,
        "stretch_percent": stretch,
        "verdict": _verdict(least, most, use, section_mm, fill, stretch),
        **_handbook(gland),
    }
    return Table((row,), _fit_notes(section_mm, gland, tol))


def _middle_squeeze(gland: Mapping[str, Any] | None, section_mm: float) -> float:
    return squeeze_percent(section_mm, sum(gland["depth"]) / 2) if gland else 24.0


def _verdict(least: float, most: float, use: str, section_mm: float, fill: float | None, stretch: float | None) -> str:
    said = [squeeze_verdict(least, most, use, section_mm)]
    said += [fill_verdict(fill)] if fill is not None else []
    said += [stretch_verdict(stretch)] if stretch is not None else []
    return "; ".join(word for word in said if word != "good") or "good"


def _handbook(gland: Mapping[str, Any] | None) -> dict[str, Any]:
    if gland is None:
        return {}
    return {
        "gland_depth_min_mm": gland["depth"][0],
        "gland_depth_max_mm": gland["depth"][1],
        "gland_squeeze_min_mm": gland["squeeze_mm"][0],
        "gland_squeeze_max_mm": gland["squeeze_mm"][1],
        "gland_squeeze_min_percent": gland["squeeze_percent"][0],
        "gland_squeeze_max_percent": gland["squeeze_percent"][1],
        "gland_width_mm": gland["width"],
    }


def _fit_notes(section_mm: float, gland: Mapping[str, Any] | None, tol_mm: float) -> tuple[str, ...]:
    notes = [f"Least and largest squeeze count the ring's own tolerance of ±{tol_mm:g} mm; add your gland's."]
    groove = next((g for g in data.rows("o-rings", "metric_grooves") if g["section"] == section_mm), None)
    if groove:
        notes.append(
            f"A groove table for metric rings gives {groove['depth']:g} mm deep and {groove['width']:g} mm wide for this section."
        )
    elif gland is None:
        notes.append("This section stands in no gland table here; limits of the nearest section are taken.")
    notes.append(
        "Handbooks differ by a few percent: another one is remembered as 20 to 30 % for a face seal of 2.62 mm."
    )
    notes.append("A ring stretched by 5 % is about 2.4 % thinner.")
    return tuple(notes)


SIZE_COLUMNS = (
    Column("size", "Size", kind="text"),
    Column("bore_mm", "Bore", "mm", decimals=2),
    Column("bore_tol_mm", "±", "mm", decimals=2),
    Column("section_mm", "Section", "mm", decimals=2),
    Column("section_tol_mm", "±", "mm", decimals=2),
    Column("outside_mm", "Outside", "mm", decimals=2),
    Column("off_mm", "Off your bore", "mm", decimals=2),
)
FIT_COLUMNS = (
    Column("section_mm", "Section", "mm", decimals=2),
    Column("depth_mm", "Gland depth", "mm", decimals=2),
    Column("squeeze_percent", "Squeeze", "percent", decimals=1),
    Column("squeeze_min_percent", "Least", "percent", decimals=1),
    Column("squeeze_max_percent", "Largest", "percent", decimals=1),
    Column("fill_percent", "Fill", "percent", decimals=1),
    Column("stretch_percent", "Stretch", "percent", decimals=1),
    Column("verdict", "Verdict", kind="text"),
    Column("gland_depth_min_mm", "Handbook depth from", "mm", decimals=2),
    Column("gland_depth_max_mm", "to", "mm", decimals=2),
    Column("gland_squeeze_min_mm", "Handbook squeeze from", "mm", decimals=2),
    Column("gland_squeeze_max_mm", "to", "mm", decimals=2),
    Column("gland_squeeze_min_percent", "Handbook squeeze from", "percent", decimals=1),
    Column("gland_squeeze_max_percent", "to", "percent", decimals=1),
    Column("gland_width_mm", "Handbook width", "mm", decimals=2),
)
SOURCES = (Cite("iso-3601-1", "class A", "secondary"), Cite("bd-warehouse-o-rings", "o-ring tables"))

TABLES = (
    Definition(
        name="o-rings",
        title="O-ring sizes",
        about="Finds the dash number of an O-ring from its bore and section, or the sizes of a dash number.",
        group="Seals",
        parameters=(
            Parameter("size", "Dash number", kind="text", default=None, example="012"),
            Parameter("bore", "Bore measured", unit="mm", low=0.5, high=700, default=None, example="12.4 mm"),
            Parameter("section", "Section measured", unit="mm", low=0.9, high=8, default=None, example="2.62 mm"),
        ),
        columns=SIZE_COLUMNS,
        compute=o_rings,
        sources=SOURCES,
        holds="dash numbers 001 to 475",
        also=("seal size", "AS568", "BS 1806", "dash number", "rubber ring"),
        examples=({"bore": 12.3}, {"size": "012"}),
    ),
    Definition(
        name="o-ring-fit",
        title="Does the O-ring fit its gland?",
        about="Works out squeeze, gland fill and stretch of a ring in a groove as measured, with the ring's tolerance, beside the "
        "handbook's groove. Without a depth it gives the depth to cut.",
        group="Seals",
        parameters=(
            Parameter("section", "Section of the ring", unit="mm", low=0.9, high=8, example="2.62 mm"),
            Parameter("depth", "Depth of the gland, parts home", unit="mm", low=0.3, high=10, default=None, example="2.0 mm"),
            Parameter("width", "Width of the gland", unit="mm", low=0.5, high=30, default=None, example="3.6 mm"),
            Parameter("bore", "Bore of the ring", unit="mm", low=0.5, high=700, default=None, example="12.37 mm"),
            Parameter("over", "Diameter it sits on", unit="mm", low=0.5, high=750, default=None, example="12.6 mm"),
            Parameter("use", "Use", kind="choice", choices=USES, default="static face", example="static face"),
            Parameter("squeeze", "Squeeze wanted, in place of the depth", unit="percent", low=5, high=40, default=None, example="20 %",
                      argument="squeeze_percent_wanted"),
        ),
        columns=FIT_COLUMNS,
        compute=o_ring_fit,
        sources=(*SOURCES, Cite("gland-design-note", "worked example"), Cite("o-ring-fundamentals", "stretch of 1 to 5 %, ideal 2"),
                 Cite("allorings-gland", "fill of 85 to 90 % at most"), Cite("metric-groove-table", "metric sections")),
        holds="rings of 0.9 to 8 mm section in plain rectangular glands at low pressure",
        also=("groove", "gland", "squeeze", "nip", "stretch", "fill", "counterbore"),
        examples=({"section": 2.62, "depth": 2.0, "width": 3.6}, {"section": 2.62, "squeeze": 20}),
    ),
)  # fmt: skip
