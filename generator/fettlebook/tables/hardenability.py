"""How deep a steel hardens in the reader's bar and quench.

Steels inside the range of ASTM A255: ideal diameter from composition, Grossmann's half-temperature time for each depth of
the bar, hardness from the end-quench band where one is published, else from the share of martensite. Tool steels outside
that range: only what is published on them, and nothing promised beyond.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fettlebook.tables import a255
from fettlebook.tables.composition import EXAMPLE, read_composition
from fettlebook.tables.cooling import critical_diameter_mm, ideal_diameter_mm
from fettlebook.tables.critical_temperatures import STEEL
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.hardness import convert
from fettlebook.tables.quenching import AGITATION, MEDIA, severity_per_in
from fettlebook.tables.steel_data import Steel, cite_of, meanings, one, what_to_say

PLACES = (("surface", 1.0), ("quarter of the radius deep", 0.75), ("half the radius deep", 0.5), ("centre", 0.0))
FULL_RATIO = 1.6
"""Ideal diameter of the steel over that of the place from which on practically all is martensite. From memory, after
charts of 50 % against 99 % martensite; between 1 and this the hardness is said as a range only."""

NICKEL_STRETCH = 2.0
"""Nickel [mass %] up to which the method is still used, with a warning: 4340 is rated so in practice."""


RESIDUALS = {"Cr": 0.1, "Ni": 0.1, "Mo": 0.02, "Cu": 0.15}
"""What steel carries unasked from its scrap [mass %]; enough to harden a plain steel noticeably deeper. From memory."""


@dataclass(frozen=True)
class Bar:
    """The reader's bar and quench."""

    diameter_mm: float
    quench: str
    agitation: str


def refusal(composition: Mapping[str, float]) -> tuple[str, ...]:
    """Why ASTM A255 is not to be used on a composition, in words; nickel to 2 % passes with a warning instead."""
    return tuple(words for words in a255.outside(composition) if not (words.startswith("Ni ") and composition.get("Ni", 0) <= NICKEL_STRETCH))  # fmt: skip


def _band(jominy: Mapping[str, Any], distance_mm: float | None) -> tuple[float, float] | None:
    """Lowest and highest hardness [HRC] of a published end-quench band at a distance [mm]."""
    xs = jominy["distance_mm"]
    if distance_mm is None or distance_mm > xs[-1]:
        return None
    x = max(distance_mm, xs[0])
    n = next(k for k in range(1, len(xs)) if x <= xs[k])
    share = (x - xs[n - 1]) / (xs[n] - xs[n - 1])
    low, high = (
        values[n - 1] + share * (values[n] - values[n - 1]) for values in (jominy["low_hrc"], jominy["high_hrc"])
    )
    return low, high


def published_band(steel: str, distance_mm: float) -> tuple[float, float] | None:
    """Lowest and highest hardness [HRC] that is published for STEEL at a distance [mm] from the quenched end, if any is."""
    jominy = one(steel).raw.get("jominy")
    return _band(jominy, distance_mm) if jominy else None


def _by_martensite(carbon: float, ratio: float) -> tuple[float | None, float, str]:
    """Lowest and highest hardness [HRC] and words, from the ratio of the steel's ideal diameter to that of the place."""
    full, half = a255.full_hardness_hrc(carbon), a255.half_hardness_hrc(carbon)
    if ratio >= FULL_RATIO:
        return full - 3, full, "hard"
    if ratio >= 1:
        return half, full, "half martensite or more"
    return None, half, "less than half martensite: soft"


def _place(carbon: float, here_mm: float, ideals_mm: tuple[float, float]) -> tuple[float | None, float, str]:
    """Lowest and highest hardness [HRC] and words for a place, by the steel as printed and with what it carries unasked."""
    poor, rich = (_by_martensite(carbon, ideal / here_mm if here_mm else FULL_RATIO) for ideal in ideals_mm)
    return poor[0], rich[1], poor[2] if poor[2] == rich[2] else f"by its analysis: {poor[2]}, up to {rich[2]}"


def _computed_rows(
    steel: Steel | None, carbon: float, bar: Bar, ideals_mm: tuple[float, float]
) -> list[dict[str, Any]]:
    middle = sum(severity_per_in(bar.quench, bar.agitation)) / 2
    jominy = steel.raw.get("jominy") if steel else None
    rows = []
    for place, share in PLACES:
        here = ideal_diameter_mm(bar.diameter_mm, middle, share)
        distance = a255.jominy_distance_mm(here)
        low, high, words = _place(carbon, here, ideals_mm)
        if jominy and (band := _band(jominy, distance)):
            low, high, words = *band, "from the published end-quench band"
        rows.append({"place": place, "depth_mm": bar.diameter_mm / 2 * (1 - share), "hardness_low_hrc": low, "hardness_high_hrc": high, "structure": words,
                     "jominy_mm": distance, "place_ideal_mm": here})  # fmt: skip
    return _with_published_shell(steel, bar, rows)


def _with_published_shell(steel: Steel | None, bar: Bar, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Where a hard shell is published and the computation falls short of it at the surface, what is published stands."""
    shell = next((r["shell_mm"] for r in (_quench_record(steel, bar.quench) if steel else ()) if "shell_mm" in r), None)
    if (
        not steel
        or not shell
        or rows[0]["hardness_low_hrc"] is not None
        or not (surface := expected_surface_hrc(steel))
    ):
        return rows
    words = f"published: a shell of {shell[0]:g} to {shell[1]:g} mm; computed it falls short"
    return [rows[0] | {"hardness_low_hrc": surface[0], "hardness_high_hrc": surface[1], "structure": words}, *rows[1:]]


def _half_depth_mm(bar: Bar, severity: float, ideal_mm: float) -> float:
    """How deep at least half is martensite [mm]; the radius when it hardens through, 0 when not even the surface does."""
    if ideal_diameter_mm(bar.diameter_mm, severity, 0.0) <= ideal_mm:
        return bar.diameter_mm / 2
    if ideal_diameter_mm(bar.diameter_mm, severity, 1.0) >= ideal_mm:
        return 0.0
    inside, out = 0.0, 1.0
    for _ in range(18):
        share = (inside + out) / 2
        if ideal_diameter_mm(bar.diameter_mm, severity, share) > ideal_mm:
            inside = share
        else:
            out = share
    return bar.diameter_mm / 2 * (1 - out)


def _span(low: float, high: float, unit: str = "mm") -> str:
    """Two figures as a range, or as one when they show alike."""
    return f"{low:.0f} {unit}" if f"{low:.0f}" == f"{high:.0f}" else f"{low:.0f} to {high:.0f} {unit}"


def _ideals_mm(steel: Steel | None, composition: Mapping[str, float]) -> tuple[float, float]:
    """Ideal diameter [mm] of the composition as printed, and with residuals where it names none."""
    carried = RESIDUALS | dict(composition) if steel else composition
    return a255.ideal_critical_diameter_in(composition) * 25.4, a255.ideal_critical_diameter_in(carried) * 25.4


def _computed(
    steel: Steel | None, composition: Mapping[str, float], bar: Bar
) -> tuple[list[dict[str, Any]], list[str], list[str]]:
    ideals = _ideals_mm(steel, composition)
    low_h, high_h = severity_per_in(bar.quench, bar.agitation)
    extent = critical_diameter_mm(ideals[0], low_h), critical_diameter_mm(ideals[1], high_h)
    depth = _half_depth_mm(bar, low_h, ideals[0]), _half_depth_mm(bar, high_h, ideals[1])
    shared = {"grade": steel.name if steel else "this composition", "di_mm": ideals[0], "di_in": ideals[0] / 25.4, "di_high_mm": ideals[1],
              "critical_diameter_mm": extent[0], "critical_diameter_high_mm": extent[1], "half_depth_mm": depth[0], "half_depth_high_mm": depth[1],
              "severity_per_in": (low_h + high_h) / 2}  # fmt: skip
    rows = [shared | row for row in _computed_rows(steel, composition["C"], bar, ideals)]
    return rows, _computed_notes(shared, bar, steel), _nickel_warning(composition)


def _computed_notes(shared: Mapping[str, Any], bar: Bar, steel: Steel | None) -> list[str]:
    low_h, high_h = severity_per_in(bar.quench, bar.agitation)
    whole = shared["half_depth_mm"] >= bar.diameter_mm / 2 - 1e-6
    deep = (
        "so does this bar"
        if whole
        else f"of this bar only the outer {_span(shared['half_depth_mm'], shared['half_depth_high_mm'])}"
    )
    notes = [
        f"{shared['grade']}: in {bar.quench} with {bar.agitation} agitation (H {low_h:g} to {high_h:g} /in) bars up to "
        f"{_span(shared['critical_diameter_mm'], shared['critical_diameter_high_mm'])} get half martensite at the centre; {deep}.",
    ]
    if steel:
        notes.append(
            "The lower figure is for the printed composition alone, the higher one counts the usual 0.1 % Cr, 0.1 % Ni, 0.02 % Mo and 0.15 % Cu that steel carries unasked."
        )
    if steel and (band := steel.raw.get("di_published_in")):
        word = "inside" if band["low"] <= round(shared["di_in"], 1) <= band["high"] else "outside"
        notes.append(f"Published ideal diameter of {cite_of(band).at}: {band['low']:g} to {band['high']:g} in; the {shared['di_in']:.2f} in computed from the middle of the composition lies {word} it.")  # fmt: skip
    return notes


def _nickel_warning(composition: Mapping[str, float]) -> list[str]:
    most = a255.LIMITS["Ni"][1]
    if composition.get("Ni", 0) <= most:
        return []
    return [
        f"Nickel {composition['Ni']:g} % lies over the {most:g} % of ASTM A255; the figures are carried on and are only a guide."
    ]


def _quench_record(steel: Steel, quench: str) -> tuple[Mapping[str, Any], ...]:
    medium = "water" if quench == "brine" else quench
    return tuple(r for r in steel.published("depth") if r["quench"] == medium)


def expected_surface_hrc(steel: Steel) -> tuple[float, float] | None:
    """Lowest and highest published hardness as quenched [HRC]; None where none is published."""
    values = [float(v) for r in steel.published("as_quenched") for v in r["hrc"]]
    return (min(values), max(values)) if values else None


def _published_row(steel: Steel, bar: Bar) -> tuple[dict[str, float | str | None], dict[str, float | str | None], str]:
    """Surface and centre, and the sentence that goes with them, from what is published on the steel."""
    surface = expected_surface_hrc(steel) or (None, None)
    hard = {"hardness_low_hrc": surface[0], "hardness_high_hrc": surface[1]}
    unknown: dict[str, float | str | None] = {
        "hardness_low_hrc": None,
        "hardness_high_hrc": None,
        "structure": "not known: do not count on it",
    }
    records = _quench_record(steel, bar.quench)
    through = max((r["through_mm"] for r in records if "through_mm" in r), default=None)
    shell = next((r["shell_mm"] for r in records if "shell_mm" in r), None)
    soft = next((r for r in records if "soft_mm" in r and bar.diameter_mm >= r["soft_mm"] - 1e-9), None)
    if soft:
        low, high = (convert(v, "HV", "HRC") for v in soft["hv"])
        return ({"hardness_low_hrc": low, "hardness_high_hrc": high, "structure": "soft"}, {"hardness_low_hrc": low, "hardness_high_hrc": low, "structure": "soft"},
                f"A bar of {soft['soft_mm']:g} mm was measured not to harden: HV {soft['hv'][0]:g} to {soft['hv'][1]:g} ({cite_of(soft).at}).")  # fmt: skip
    if through and bar.diameter_mm <= through:
        return (
            hard | {"structure": "hard"},
            hard | {"structure": "hard"},
            f"Published: hardens through up to {through:g} mm in {bar.quench}.",
        )
    if shell:
        return hard | {"structure": f"a shell of {shell[0]:g} to {shell[1]:g} mm"}, unknown | {"structure": "soft core"}, f"Published in {bar.quench}: a shell of {shell[0]:g} to {shell[1]:g} mm on a softer core."  # fmt: skip
    limit = f" beyond {through:g} mm" if through else ""
    return (
        unknown,
        unknown,
        f"No depth is published for {steel.name} in {bar.quench}{limit}: nothing is promised. Make a trial piece, break it and look.",
    )


def _published(steel: Steel, bar: Bar) -> tuple[list[dict[str, Any]], list[str], list[str]]:
    surface, centre, sentence = _published_row(steel, bar)
    blank = {"grade": steel.name, "di_mm": None, "di_in": None, "di_high_mm": None, "critical_diameter_mm": None, "critical_diameter_high_mm": None, "half_depth_mm": None, "half_depth_high_mm": None, "severity_per_in": None, "jominy_mm": None, "place_ideal_mm": None}  # fmt: skip
    rows = [
        blank | {"place": "surface", "depth_mm": 0.0} | surface,
        blank | {"place": "centre", "depth_mm": bar.diameter_mm / 2} | centre,
    ]
    why = "; ".join(refusal(steel.typical)) or "no composition"
    return (
        rows,
        [f"{steel.name}: {sentence}"],
        [f"ASTM A255 does not hold for {steel.name} ({why}); only published statements are given."],
    )


def depth_said(steel: Steel, section_mm: float, quench: str) -> tuple[str, bool]:
    """How deep a round bar of this section hardens in water, oil or air, in a sentence, and whether its core stays soft.

    section_mm   diameter of the bar [mm]; nothing is said outside 0.5 to 300 mm
    """
    if steel.hardens != "yes" or not 0.5 <= section_mm <= 300:
        return "", False
    bar = Bar(section_mm, quench, "none" if quench == "air" else "moderate")
    if refusal(steel.typical):
        _, centre, sentence = _published_row(steel, bar)
        return f"{steel.name}: {sentence}", centre["structure"] != "hard"
    rows, notes, _ = _computed(steel, steel.typical, bar)
    return f"{notes[0]} See `hardenability`.", rows[0]["half_depth_high_mm"] < section_mm / 2 - 1e-6


def quench_warning(steel: Steel, quench: str) -> str:
    """What is wrong with a quench for a steel by what is published on it; empty when it is one of its own."""
    ways = {op.way for op in steel.operations if op.op == "harden"}
    if not ways or any(quench in way for way in ways) or (quench == "brine" and "water" in ways):
        return ""
    order = ("air", "oil", "water", "brine")
    known = [order.index(word) for word in order if any(word in way for way in ways)]
    if order.index(quench) > max(known):
        return f"{steel.name} is not quenched in {quench}: it cracks. Its own quench is {order[max(known)]}."
    return f"{steel.name} is not published for {quench}: it may stay soft. Its own quench is {order[min(known)]}."


def hardenability(
    diameter_mm: float,
    quench: str,
    agitation: str = "moderate",
    steel: str | None = None,
    composition: str | None = None,
) -> Table:
    """Hardness from surface to centre of a round bar as quenched. Raises BadValue unless steel or composition is given."""
    if (steel is None) == (composition is None):
        raise BadValue(
            "steel", "give either a steel or a composition", f'for example steel=C45, or composition="{EXAMPLE}"'
        )
    chosen = "none" if quench == "air" and agitation not in {"none", "strong"} else agitation
    bar = Bar(diameter_mm, quench, "mild" if quench == "brine" and agitation == "moderate" else chosen)
    severity_per_in(bar.quench, bar.agitation)
    if composition is not None:
        shares = read_composition(composition)
        if beyond := refusal(shares):
            raise BadValue(
                "composition",
                f"outside the range of ASTM A255: {'; '.join(beyond)}",
                "no ideal diameter is computed there",
            )
        parts = [_computed(None, shares, bar)]
        return _table(parts, [], ())
    found = meanings(steel or "")
    parts = [_of_steel(s, bar) for s in found]
    said = [what_to_say(steel or ""), *(quench_warning(s, quench) for s in found)]
    return _table(parts, said, tuple(dict.fromkeys(cite_of(r) for s in found for r in s.published("depth"))))


def _of_steel(steel: Steel, bar: Bar) -> tuple[list[dict[str, Any]], list[str], list[str]]:
    if steel.hardens in {"no", "unknown"}:
        raise BadValue("steel", f"{steel.name}: {steel.how_hardens}", "see heat-treatment for what can be done with it")
    if refusal(steel.typical):
        return _published(steel, bar)
    rows, notes, warnings = _computed(steel, steel.typical, bar)
    if steel.hardens == "case":
        warnings = [
            *warnings,
            f"{steel.name}: these are the figures of the uncarburised core; the skin after carburising is another matter.",
        ]
    published = [
        f"Published for {steel.name} in {r['quench']}: through to {r['through_mm']:g} mm ({cite_of(r).at})."
        for r in _quench_record(steel, bar.quench)
        if "through_mm" in r
    ]
    return rows, [*notes, *published], warnings


def _table(
    parts: list[tuple[list[dict[str, Any]], list[str], list[str]]], said: list[str], cites: tuple[Cite, ...]
) -> Table:
    rows = tuple(row for part in parts for row in part[0])
    notes = (*(note for part in parts for note in part[1]), *NOTES)
    warnings = tuple(dict.fromkeys(w for w in (*said, *(w for part in parts for w in part[2])) if w))
    return Table(rows, notes, warnings, cites)


NOTES = (
    "For a long round bar with a clean skin, grain size 7. A square of side a cools about like a round of 1.1 a, a plate of thickness t like a round of 1.5 t (from memory).",
    "The words for agitation are not measured anywhere: a shop's bath may be a third off.",
    "Hardness is as quenched; tempering takes it down from there.",
)

TABLES = (
    Definition(
        name="hardenability",
        title="How deep it hardens",
        about="Hardness from the surface to the centre of your bar in your quench, before tempering, and the thickest bar that still hardens through.",
        group="heat",
        parameters=(
            Parameter("diameter", "Diameter of the bar", unit="mm", low=0.5, high=300, example="20 mm"),
            Parameter("quench", "Quench", kind="choice", choices=MEDIA, example="oil"),
            Parameter("steel", "Steel", kind="text", default=None, example="42CrMo4", help=STEEL.help),
            Parameter("composition", "Composition instead of a steel", kind="text", default=None, example=EXAMPLE, help="mass percent by element"),
            Parameter("agitation", "How the work is moved in it", kind="choice", choices=AGITATION, default="moderate", example="moderate", help="moved up and down by hand is mild to moderate"),
        ),
        columns=(
            Column("grade", "Steel", kind="text"),
            Column("place", "Place", kind="text"),
            Column("depth_mm", "Depth", "mm", decimals=1),
            Column("hardness_low_hrc", "Hardness from, HRC", decimals=0),
            Column("hardness_high_hrc", "Hardness to, HRC", decimals=0),
            Column("structure", "Structure", kind="text"),
            Column("half_depth_mm", "Hard to a depth of at least", "mm", decimals=1, help="half martensite or more"),
            Column("half_depth_high_mm", "at most", "mm", decimals=1),
            Column("critical_diameter_mm", "Thickest bar, at least", "mm", decimals=1, help="half martensite at the centre"),
            Column("critical_diameter_high_mm", "at most", "mm", decimals=1),
            Column("jominy_mm", "End-quench distance", "mm", decimals=1, help="cools like this distance in the end-quench test"),
            Column("place_ideal_mm", "Ideal bar cooling alike", "mm", decimals=1, help="cools like the centre of an ideal bar of that diameter"),
            Column("di_mm", "Ideal diameter of the steel", "mm", decimals=1),
            Column("di_in", "the same", "in", decimals=2),
            Column("di_high_mm", "with residuals", "mm", decimals=1),
            Column("severity_per_in", "Severity H, 1/in", decimals=2),
        ),
        compute=hardenability,
        sources=(Cite("astm-a255", "calculation of hardenability, grain size 7", "memory"), Cite("grossmann-1952", "half-temperature time, severity of quench", "memory"), Cite("incropera", "cylinder cooled at its surface", "memory")),
        holds="round bars; computed only for C 0.10 to 0.70, Mn 0.50 to 1.65, Si 0.15 to 0.60, Cr to 1.35, Ni to 1.5 (to 2 with a warning), Mo to 0.55 %",
        also=("Jominy", "end quench", "ideal diameter", "Grossmann", "depth of hardening", "through hardening", "ruling section"),
        examples=({"diameter": 20, "quench": "oil", "steel": "42CrMo4"}, {"diameter": 20, "quench": "water", "steel": "C45"}, {"diameter": 30, "quench": "oil", "steel": "1.2210"}),
    ),
)  # fmt: skip
