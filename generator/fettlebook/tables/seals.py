"""Which seal belongs under a threaded plug, and which materials stand an oil and its heat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.designations import Thread, thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.o_rings import (
    Ring,
    fill_percent,
    fill_verdict,
    rings,
    squeeze_limits,
    squeeze_percent,
    squeeze_verdict,
    stretch_percent,
)
from fettlebook.tables.seal_words import WORDS, say
from fettlebook.tables.threads import all_threads

OILS = ("mineral", "coolant", "ester", "paraffin")
RUBBERS = ("NBR", "HNBR", "FKM")
"""Rubbers for an O-ring, the commonest first; the first that stands the oil and the heat is named."""

MOST_STRETCH, OUTSIDE_SLACK, MOST_PRESSED, MOST_SHOWN = 5.0, 0.03, 0.02, 3
"""Largest stretch of a fitted ring [%]; how far a ring may stand off the recess's wall or be pressed by it (shares of its
diameter, common practice); how many rings are listed."""


def material_for(oil: str, temperature_c: float) -> str | None:
    """The first common rubber that is rated A or B in an oil and holds at a temperature [degC]; None if none does."""
    by_name = {row["material"]: row for row in data.rows("seals", "materials")}
    for name in RUBBERS:
        row = by_name[name]
        if row[oil] in {"A", "B"} and row["low_c"] <= temperature_c <= row["high_c"]:
            return name
    return None


def stands(material: str, oil: str, temperature_c: float) -> str:
    """Whether a material stands an oil and a temperature: "" if so, otherwise why not."""
    row = next(row for row in data.rows("seals", "materials") if row["material"] == material)
    if not row["low_c"] <= temperature_c <= row["high_c"]:
        return say("heat", material=material, low=f"{row['low_c']:g}", high=f"{row['high_c']:g}")
    return say("rating", material=material, rating=row[oil], oil=oil) if row[oil] in {"C", "D", "E"} else ""


def seal_for_plug(
    thread: str,
    counterbore_diameter_mm: float | None = None,
    counterbore_depth_mm: float | None = None,
    oil: str = "mineral",
    temperature_c: float = 60.0,
    head_diameter_mm: float | None = None,
    housing: str = "iron",
) -> Table:
    """The seals that can go under a plug, the one that belongs there first.

    thread                     the plug's thread
    counterbore_diameter_mm    recess round the hole, both figures or none [mm]
    counterbore_depth_mm
    oil, temperature_c         what it holds back, and how hot [degC]
    head_diameter_mm           of the plug's head or its flange [mm]; taken as wider than the recess where it is left out
    housing                    iron or aluminium, for the torque
    """
    found = thread_named(thread)
    if found.taper:
        return Table(
            (_row("sealant in the thread", say("taper"), fits=True),), (say("taper_note"),), (say("taper_warning"),)
        )
    recess = _recess(found, counterbore_diameter_mm, counterbore_depth_mm)
    enters = recess is not None and head_diameter_mm is not None and head_diameter_mm < recess[0]
    ring_rows = list(_o_rings(found.major_mm, recess, enters, oil, temperature_c))
    flat = [
        _flat("bonded seal", "bonded", found, recess, enters, head_diameter_mm, oil, temperature_c, None),
        _flat(
            "copper washer",
            "rings",
            found,
            recess,
            enters,
            head_diameter_mm,
            oil,
            temperature_c,
            _torque(found, housing),
        ),
        _flat("fibre washer", "rings", found, recess, enters, head_diameter_mm, oil, temperature_c, None),
    ]
    rows = sorted((*ring_rows, *flat), key=lambda row: not row["fits"])
    return Table(tuple(rows), _notes(found, recess), _warnings(rows, found))


def _recess(thread: Thread, diameter: float | None, depth: float | None) -> tuple[float, float] | None:
    if (diameter is None) != (depth is None):
        missing = "counterbore_diameter" if diameter is None else "counterbore_depth"
        raise BadValue(missing, say("both"), say("both_hint"))
    if diameter is None or depth is None:
        return None
    if diameter <= thread.major_mm + 1:
        what = say("narrow", diameter=f"{diameter:g}", thread=thread.designation, major=written(thread.major_mm, 2))
        raise BadValue("counterbore_diameter", what, say("narrow_hint"))
    return diameter, depth


def _row(kind: str, verdict: str, fits: bool, **more: Any) -> dict[str, Any]:
    blank = dict.fromkeys(
        ("size", "bore_mm", "outside_mm", "thickness_mm", "squeeze_percent", "squeeze_min_percent", "squeeze_max_percent",
         "stretch_percent", "fill_percent", "material", "torque_nm")
    )  # fmt: skip
    return {"kind": kind, **blank, **more, "fits": fits, "verdict": verdict}


def _o_rings(
    major: float, recess: tuple[float, float] | None, enters: bool, oil: str, temperature_c: float
) -> Iterator[dict[str, Any]]:
    """Standard rings for the recess, best first; one row saying why where none fits."""
    if recess is None or enters:
        yield _row("O-ring", say("enters" if enters else "no_gland"), fits=False)
        return
    diameter, depth = recess
    material = material_for(oil, temperature_c)
    fitting = [row for ring in rings() if (row := _ring_row(ring, major, diameter, depth, material))]
    fitting.sort(key=lambda row: (abs(row["squeeze_percent"] - 24) + abs(row["stretch_percent"] - 2), row["size"]))
    if not fitting:
        yield _row("O-ring", _why_none(major, diameter, depth), fits=False)
    for row in fitting[:MOST_SHOWN]:
        if material is None:
            row |= {"fits": False, "verdict": say("no_rubber", oil=oil, t=f"{temperature_c:g}")}
        yield row


def _why_none(major: float, diameter: float, depth: float) -> str:
    """Why no ring fits: one that would be squeezed rightly has no room, with the recess that would hold it, or there is none."""
    tight = [(wide, ring) for ring in rings() if (wide := _recess_for(ring, major, depth)) and wide > diameter]
    if not tight:
        low, high = depth / (1 - 0.18), depth / (1 - 0.30)
        return say("no_ring", low=written(low, 2), high=written(high, 2), bore=written(major, 1))
    wide, ring = min(tight, key=lambda one: one[0])
    fill = fill_percent(ring.section_mm, depth, (diameter - major) / 2)
    return say("no_room", size=ring.size, section=f"{ring.section_mm:g}", fill=written(fill, 0),
               wide=written(ceil(10 * wide - 1e-6) / 10, 1))  # fmt: skip


def _recess_for(ring: Ring, major: float, depth: float) -> float | None:
    """The least diameter of a recess of this depth in which a ring stretched on the thread has room; None where its squeeze or stretch is wrong."""
    least, most = squeeze_limits(ring.section_mm, ring.section_tol_mm, depth, depth)
    stretch = stretch_percent(ring.bore_mm, major)
    if squeeze_verdict(least, most, "static face", ring.section_mm) != "good" or not 0 <= stretch <= MOST_STRETCH:
        return None
    most_fill = data.read("o-rings")["limits"]["fill_percent"][1]
    full = major + 2 * fill_percent(ring.section_mm, depth, 1.0) / most_fill
    return max(full, (major + 2 * ring.section_mm) / (1 + MOST_PRESSED))


def _ring_row(ring: Ring, major: float, diameter: float, depth: float, material: str | None) -> dict[str, Any] | None:
    """A ring in the recess between thread and wall, or None where it does not go in or is not squeezed rightly."""
    width = (diameter - major) / 2
    squeeze = squeeze_percent(ring.section_mm, depth)
    stretch = stretch_percent(ring.bore_mm, major)
    fill = fill_percent(ring.section_mm, depth, width)
    least, most = squeeze_limits(ring.section_mm, ring.section_tol_mm, depth, depth)
    inner = max(ring.bore_mm, major)
    slack = 1 - (inner + 2 * ring.section_mm) / diameter
    held = stretch >= 0 or slack <= OUTSIDE_SLACK
    if squeeze_verdict(least, most, "static face", ring.section_mm) != "good" or stretch > MOST_STRETCH:
        return None
    if not held or slack < -MOST_PRESSED or fill_verdict(fill) != "good":
        return None
    return _row(
        "O-ring", say("ring_on" if stretch >= 0 else "ring_loose"), fits=True, size=ring.size, bore_mm=ring.bore_mm,
        outside_mm=ring.bore_mm + 2 * ring.section_mm, thickness_mm=ring.section_mm, squeeze_percent=squeeze,
        squeeze_min_percent=least, squeeze_max_percent=most, stretch_percent=stretch, fill_percent=fill, material=material,
    )  # fmt: skip


def _flat(
    kind: str,
    group: str,
    thread: Thread,
    recess: tuple[float, float] | None,
    enters: bool,
    head: float | None,
    oil: str,
    temperature_c: float,
    torque: float | None,
) -> dict[str, Any]:
    """A bonded seal or a flat washer: its size and whether it can be squeezed where it lies."""
    size = next((row["size"] for row in data.rows("seals", group) if row["thread"] in _names(thread)), None)
    material = {"bonded seal": "NBR", "copper washer": "copper", "fibre washer": "fibre"}[kind]
    why = _bonded_heat(temperature_c, oil) if kind == "bonded seal" else stands(material, oil, temperature_c)
    if size is None:
        text = say("no_size", thread=thread.designation, bore=written(thread.major_mm, 1))
        return _row(kind, f"{text}; {why}" if why else text, fits=False, material=material, torque_nm=torque)
    bore, outside, thick = size
    why = why or _lies(outside, thick, recess, enters, head)
    verdict = why or say(
        {"bonded seal": "bonded_fits", "copper washer": "copper_fits", "fibre washer": "fibre_fits"}[kind]
    )
    return _row(kind, verdict, fits=not why, size=f"{bore:g} × {outside:g} × {thick:g}", bore_mm=bore, outside_mm=outside, thickness_mm=thick,
                material=material, torque_nm=torque)  # fmt: skip


def _names(thread: Thread) -> tuple[str, ...]:
    """What a seal's list calls the thread: a flat ring for M14 goes on every pitch of M14."""
    return (thread.designation, f"M{thread.major_mm:g}") if thread.family == "M" else (thread.designation,)


def _bonded_heat(temperature_c: float, oil: str) -> str:
    limits = data.read("seals")["bonded_limits"]
    if not limits["low_c"] <= temperature_c <= limits["high_c"]:
        return say("heat", material="its nitrile lip", low=f"{limits['low_c']:g}", high=f"{limits['high_c']:g}")
    return stands("NBR", oil, max(temperature_c, -30.0))


def _lies(outside: float, thick: float, recess: tuple[float, float] | None, enters: bool, head: float | None) -> str:
    """Why a flat ring cannot be squeezed where it lies, or nothing."""
    if head is not None and outside > head + 0.5:
        return say("head_small", outside=f"{outside:g}", head=f"{head:g}")
    if recess is None:
        return ""
    if outside > recess[0]:
        return say("wider", outside=f"{outside:g}", diameter=f"{recess[0]:g}")
    if not enters and thick <= recess[1]:
        return say("sunk", thick=f"{thick:g}", depth=f"{recess[1]:g}")
    return ""


def _torque(thread: Thread, housing: str) -> float | None:
    row = next((row for row in data.rows("seals", "torque_copper") if row["thread"] == thread.designation), None)
    return row[housing] if row else None


def _notes(thread: Thread, recess: tuple[float, float] | None) -> tuple[str, ...]:
    keys = ["relief", "hardens", "copper", "torque", "nbr", "sizes"]
    named = [say("bsp", thread=thread.designation, major=written(thread.major_mm, 2))] if thread.family == "G" else []
    gland = (
        [say("gland", width=written((recess[0] - thread.major_mm) / 2, 2), depth=written(recess[1], 2))]
        if recess
        else []
    )
    return (*named, *gland, *(say(key) for key in keys))


def _warnings(rows: list[dict[str, Any]], thread: Thread) -> tuple[str, ...]:
    return () if any(row["fits"] for row in rows) else (say("nothing", thread=thread.designation),)


def browser_data() -> dict[str, Any]:
    """What the browser needs: threads with their diameters, rings, glands, seals and the sentences."""
    o_rings, seals = data.read("o-rings"), data.read("seals")
    faces = [[g["section"], *g["squeeze_percent"]] for g in o_rings["glands"] if g["use"] == "static face"]
    groups = ("bonded", "rings", "torque_copper", "bonded_limits", "materials")
    return {
        "threads": [[t.designation, t.major_mm, 1 if t.taper else 0, t.family] for t in all_threads()],
        "o_rings": o_rings["rows"],
        "faces": faces,
        "limits": o_rings["limits"],
        "rubbers": RUBBERS,
        "plug": {"stretch": MOST_STRETCH, "slack": OUTSIDE_SLACK, "pressed": MOST_PRESSED, "shown": MOST_SHOWN},
        "words": WORDS,
        **{group: seals[group] for group in groups},
    }


def seal_materials(oil: str = "mineral", temperature_c: float | None = None) -> Table:
    """Materials for seals with their temperature limits and how they stand an oil.

    oil             one of OILS
    temperature_c   [degC]; where it is given each row says whether it holds
    """
    rows = tuple(_material_row(row, oil, temperature_c) for row in data.rows("seals", "materials"))
    return Table(rows, notes=(say("nbr"), say("ratings"), say("hardens"), say("memory_ratings")))


def _material_row(row: Mapping[str, Any], oil: str, temperature_c: float | None) -> dict[str, Any]:
    known = "read" if row["how_known"] == "read" and oil == "mineral" else "from memory"
    why = None if temperature_c is None else stands(row["material"], oil, temperature_c) or "holds"
    return {
        "material": row["material"],
        "full": row["full"],
        "low_c": row["low_c"],
        "high_c": row["high_c"],
        "rating": row[oil],
        "verdict": why,
        "note": row["note"],
        "known": known,
    }


OIL = Parameter("oil", "What it holds back", kind="choice", choices=OILS, default="mineral", example="mineral",
                help="mineral oil, water-mixed coolant, synthetic ester, or paraffin and solvents")  # fmt: skip
TABLES = (
    Definition(
        name="seal-for-plug",
        title="The seal for a plug",
        about="From the plug's thread and the recess round its hole: the seal that belongs there, its size, and for an O-ring its "
        "squeeze, stretch and fill. Measure the recess with a depth gauge, in several places.",
        group="Seals",
        parameters=(
            Parameter("thread", "Thread of the plug", kind="text", example="G 1/2", help="find an unknown one in the thread finder first"),
            Parameter("counterbore_diameter", "Diameter of the recess", unit="mm", low=4, high=200, default=None, example="30 mm",
                      help="leave both out for a flat face"),
            Parameter("counterbore_depth", "Depth of the recess", unit="mm", low=0.3, high=10, default=None, example="2.0 mm"),
            OIL,
            Parameter("temperature", "Hottest temperature", unit="degC", low=-40, high=200, default=60.0, example="60 °C"),
            Parameter("head_diameter", "Diameter of the head or flange", unit="mm", low=4, high=250, default=None, example="32 mm",
                      help="left out, it is taken as wider than the recess"),
            Parameter("housing", "The part it screws into", kind="choice", choices=("iron", "aluminium"), default="iron", example="iron"),
        ),
        columns=(
            Column("kind", "Seal", kind="text"),
            Column("size", "Size", kind="text"),
            Column("fits", "Fits", kind="flag"),
            Column("bore_mm", "Bore", "mm", decimals=2),
            Column("outside_mm", "Outside", "mm", decimals=2),
            Column("thickness_mm", "Section or thickness", "mm", decimals=2),
            Column("squeeze_percent", "Squeeze", "percent", decimals=1),
            Column("squeeze_min_percent", "Least", "percent", decimals=1),
            Column("squeeze_max_percent", "Largest", "percent", decimals=1),
            Column("stretch_percent", "Stretch", "percent", decimals=1),
            Column("fill_percent", "Fill", "percent", decimals=1),
            Column("material", "Material", kind="text"),
            Column("torque_nm", "Torque", "Nm", decimals=0),
            Column("verdict", "Verdict", kind="text"),
        ),
        compute=seal_for_plug,
        sources=(Cite("iso-3601-1", "class A", "secondary"), Cite("bd-warehouse-o-rings", "gland squeeze limits"), Cite("o-ring-fundamentals", "stretch"),
                 Cite("allorings-gland", "fill"), Cite("bonded-seal-leaflet", "temperature, reuse, relief"), Cite("bodeseal-properties", "materials"),
                 Cite("mtn-5183-1", "torque"), Cite("din-7603", "flat rings", "memory"),
                 Cite("from-memory", "bonded seal sizes; makers differ by up to 0.3 mm", "memory")),
        holds="plugs of oil sumps and gearboxes without pressure; O-rings of 0.9 to 7 mm section",
        also=("drain plug", "sump plug", "oil leak", "bonded washer", "crush washer", "fibre washer", "copper washer", "O-ring", "gasket"),
        examples=({"thread": "G 1/2", "counterbore_diameter": 30, "counterbore_depth": 2.0}, {"thread": "M14x1.5"}),
        browser="seal-for-plug",
        browser_data=browser_data,
    ),
    Definition(
        name="seal-materials",
        title="Seal materials against oil and heat",
        about="Which rubber, metal or fibre stands which oil and how much heat.",
        group="Seals",
        parameters=(
            OIL,
            Parameter("temperature", "Temperature", unit="degC", low=-60, high=300, default=None, example="60 °C"),
        ),
        columns=(
            Column("material", "Material", kind="text"),
            Column("full", "In full", kind="text"),
            Column("low_c", "From", "degC", decimals=0),
            Column("high_c", "To", "degC", decimals=0),
            Column("rating", "In this oil", kind="text"),
            Column("verdict", "Verdict", kind="text"),
            Column("note", "Note", kind="text"),
            Column("known", "How known", kind="text"),
        ),
        compute=seal_materials,
        sources=(Cite("bodeseal-properties", "property table"), Cite("from-memory", "HNBR, metals, fibre, and every oil but mineral", "memory")),
        holds="common compounds; the maker's data sheet decides",
        also=("nitrile", "fluorocarbon rubber", "silicone", "EPDM", "rubber", "gasket material"),
        examples=({}, {"oil": "coolant"}),
    ),
)  # fmt: skip
