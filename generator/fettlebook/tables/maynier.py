"""Hardness of martensite, bainite and ferrite with pearlite from composition and cooling rate, by Maynier and others."""

from __future__ import annotations

from collections.abc import Mapping
from math import log10

from fettlebook.tables.composition import EXAMPLE, read_composition
from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.hardness import convert
from fettlebook.tables.steel_data import one

LIMITS = {"C": (0.1, 0.5), "Si": (0.0, 1.0), "Mn": (0.0, 2.0), "Ni": (0.0, 4.0), "Cr": (0.0, 3.0), "Mo": (0.0, 1.0), "V": (0.0, 0.2), "Cu": (0.0, 0.5)}  # fmt: skip
ALLOY_LIMIT = 5.0
"""Mn + Ni + Cr + Mo together [mass %]. Source: maynier-1978, ranges from memory."""


def outside(composition: Mapping[str, float]) -> tuple[str, ...]:
    """What of a composition [mass %] lies outside the range of the equations, in words."""
    found = [f"{e} {composition.get(e, 0.0):g} % lies outside {low:g} to {high:g} %" for e, (low, high) in LIMITS.items() if not low <= composition.get(e, 0.0) <= high]  # fmt: skip
    total = sum(composition.get(e, 0.0) for e in ("Mn", "Ni", "Cr", "Mo"))
    return (*found, *((f"Mn + Ni + Cr + Mo {total:g} % is over {ALLOY_LIMIT:g} %",) if total > ALLOY_LIMIT else ()))


def _sum(composition: Mapping[str, float], constant: float, **factors: float) -> float:
    return constant + sum(factor * composition.get(element, 0.0) for element, factor in factors.items())


def martensite_hv(composition: Mapping[str, float], rate_c_per_h: float) -> float:
    """Vickers hardness of martensite. rate: cooling rate at 700 degC [degC/h]. Source: maynier-1978."""
    return _sum(composition, 127, C=949, Si=27, Mn=11, Ni=8, Cr=16) + 21 * log10(rate_c_per_h)


def bainite_hv(composition: Mapping[str, float], rate_c_per_h: float) -> float:
    """Vickers hardness of bainite. rate: cooling rate at 700 degC [degC/h]. Source: maynier-1978."""
    slope = _sum(composition, 89, C=53, Si=-55, Mn=-22, Ni=-10, Cr=-20, Mo=-33)
    return _sum(composition, -323, C=185, Si=330, Mn=153, Ni=65, Cr=144, Mo=191) + slope * log10(rate_c_per_h)


def ferrite_pearlite_hv(composition: Mapping[str, float], rate_c_per_h: float) -> float:
    """Vickers hardness of ferrite with pearlite. rate: cooling rate at 700 degC [degC/h]. Source: maynier-1978."""
    slope = _sum(composition, 10, Si=-19, Ni=4, Cr=8, V=130)
    return _sum(composition, 42, C=223, Si=53, Mn=30, Ni=12.6, Cr=7, Mo=19) + slope * log10(rate_c_per_h)


STRUCTURES = (("martensite", martensite_hv), ("bainite", bainite_hv), ("ferrite and pearlite", ferrite_pearlite_hv))


def structure_hardness(rate: float, steel: str | None = None, composition: str | None = None) -> Table:
    """Hardness of each structure; mix by their shares. Raises BadValue outside the range, with it named."""
    if (steel is None) == (composition is None):
        raise BadValue(
            "steel", "give either a steel or a composition", f'for example steel=C45, or composition="{EXAMPLE}"'
        )
    shares = one(steel).typical if steel else read_composition(composition or "")
    if beyond := outside(shares):
        what = "steel" if steel else "composition"
        raise BadValue(
            what,
            f"outside the range of the equations: {'; '.join(beyond)}",
            "above 0.5 % carbon they give hardness that no steel has; use the as-quenched figures of heat-treatment",
        )
    rows = []
    for name, equation in STRUCTURES:
        hv = equation(shares, rate)
        rows.append({"structure": name, "hv": hv, "hrc": convert(hv, "HV", "HRC"), "rate_c_per_h": rate})
    return Table(
        tuple(rows),
        ("Each structure by itself; a mixture has the hardness of the shares. The rate is that at 700 °C.",),
    )


TABLES = (
    Definition(
        name="structure-hardness",
        title="Hardness by structure and cooling rate",
        about="How hard martensite, bainite, and ferrite with pearlite of a low-alloy steel are when cooled at a given rate.",
        group="heat",
        parameters=(
            Parameter("rate", "Cooling rate at 700 °C, °C/h", kind="number", low=1, high=10_000_000, example="36000", help="10 °C/s is 36 000 °C/h"),
            Parameter("steel", "Steel", kind="text", default=None, example="42CrMo4"),
            Parameter("composition", "Composition instead of a steel", kind="text", default=None, example=EXAMPLE),
        ),
        columns=(
            Column("structure", "Structure", kind="text"),
            Column("hv", "HV", decimals=0),
            Column("hrc", "HRC", decimals=1),
            Column("rate_c_per_h", "Cooling rate, °C/h", decimals=0),
        ),
        compute=structure_hardness,
        sources=(Cite("maynier-1978", "transformation/hardness.py; ranges from memory"),),
        holds="C 0.1 to 0.5, Si to 1, Mn to 2, Ni to 4, Cr to 3, Mo to 1, V to 0.2, Cu to 0.5 %, Mn + Ni + Cr + Mo to 5 %",
        also=("Maynier", "martensite hardness", "bainite"),
        examples=({"rate": 36000, "steel": "42CrMo4"},),
    ),
)  # fmt: skip
