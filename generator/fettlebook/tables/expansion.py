"""How much iron grows with warmth, and the temperature at which sizes are stated."""

from __future__ import annotations

from fettlebook import data
from fettlebook.tables.definition import Cite, Column, Definition, Parameter, Table

REFERENCE_C = 20.0
"""Temperature at which lengths and forms are stated [degC]; 68 F. Source: iso-1, clause 3."""


def growth_mm(length_mm: float, coefficient_1e6_k: float, rise_k: float) -> float:
    """Change of a length with temperature [mm].

        change = length x coefficient x rise

    >>> round(growth_mm(1000, 11.4, 10), 3)
    0.114
    """
    return length_mm * coefficient_1e6_k * 1e-6 * rise_k


def heat_growth(length_mm: float, temperature_c: float) -> Table:
    """Growth of iron and steel from 20 degC to a temperature.

    length_mm       [mm], above 0
    temperature_c   [degC], -20 to 120, where the coefficients hold
    """
    rise = temperature_c - REFERENCE_C
    rows = tuple(
        {
            "material": row["material"],
            "coefficient_1e6_k": row["growth"],
            "reference_c": REFERENCE_C,
            "growth_mm": growth_mm(length_mm, row["growth"], rise),
            "note": row["note"],
        }
        for row in data.rows("climate", "growth")
    )
    notes = (
        "Sizes on drawings and gauges are those at 20 °C, 68 °F (ISO 1). Iron and steel grow nearly alike: measure when work and gauge are equally warm.",
        "A bed warmer above than below bends: 1 °C over a bed 300 mm high and 1.5 m long arches it by about 0.01 mm.",
    )
    return Table(rows, notes)


TABLES = (
    Definition(
        name="heat-growth",
        title="How much iron grows",
        about="Growth of beds and work with temperature, from the 20 °C at which sizes are stated.",
        group="Climate",
        parameters=(
            Parameter("length", "Length", unit="mm", low=0.1, high=20000, example="1000 mm"),
            Parameter("temperature", "Temperature", unit="degC", low=-20, high=120, example="30 °C"),
        ),
        columns=(
            Column("material", "Material", kind="text"),
            Column("coefficient_1e6_k", "Per million and kelvin", decimals=1),
            Column("reference_c", "From", "degC", decimals=0),
            Column("growth_mm", "Grows by", "mm", decimals=4),
            Column("note", "Note", kind="text"),
        ),
        compute=heat_growth,
        sources=(Cite("callister", "table B.6", "secondary"), Cite("iso-1", "clause 3", "secondary")),
        holds="-20 to 120 °C",
        also=("thermal expansion", "coefficient of expansion", "warm work", "reference temperature"),
        examples=({"length": 1000, "temperature": 30},),
    ),
)  # fmt: skip
