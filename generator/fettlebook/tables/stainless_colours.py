"""Temper colours of stainless steel: a lookup for one time, since no law is known for them."""

from __future__ import annotations

from fettlebook import data
from fettlebook.tables.definition import Cite, Column, Definition, Table
from fettlebook.tables.film import FAST, temperature_for
from fettlebook.tables.temper_colours import named_colours

HOW = {
    "read": "read in a table",
    "secondary": "a copy agrees, the table was cut there",
    "memory": "from memory",
    "computed": "computed",
}


def stainless_temper_colours() -> Table:
    """The colours that 18/8 stainless steel takes in an hour in air, beside those of plain carbon steel in the same time."""
    found = data.read("colour-names")["stainless"]
    plain = {row["colour"]: row for row in named_colours()}
    minutes = found["hours"] * 60.0
    rows = []
    for row in found["rows"]:
        like = plain.get(row.get("like"))
        rows.append(
            {
                "colour": row["colour"],
                "temperature_c": float(row["c"]),
                "time_h": float(found["hours"]),
                "plain_c": temperature_for(like["film_nm"], minutes, FAST) if like else None,
                "how": HOW[row["how"]],
            }
        )
    return Table(tuple(rows), NOTES)


NOTES = (
    "Only for about an hour in air, give or take 10 °C: such charts are made for one hour. A longer time deepens the colour, more chromium delays it, a rougher surface looks hotter than it was.",
    "Chromium steels of every kind need more heat for the same colour than plain carbon steel, so a temper colour chart of carbon steel says nothing about them. In between (a few percent of chromium: A2, D2, H13) nothing was found in print: go by a thermometer.",
    "Plain carbon steel beside it is computed for the same hour, at the fast end of its growth.",
    "A screen or a name is a hint. On a weld in stainless steel colour past pale yellow is also damage: where it must not rust, it is brushed, pickled or ground off.",
)

TABLES = (
    Definition(
        name="stainless-temper-colours",
        title="Temper colours of stainless steel",
        about="What temperature a colour on stainless steel (18/8, AISI 304) means after about an hour in air: well over 100 °C above plain carbon steel.",
        group="heat",
        parameters=(),
        columns=(
            Column("colour", "Colour", kind="text"),
            Column("temperature_c", "Stainless steel", "degC", decimals=0),
            Column("time_h", "Time", "h", decimals=0),
            Column("plain_c", "Plain carbon steel, same colour", "degC", decimals=0),
            Column("how", "How known", kind="text"),
        ),
        compute=stainless_temper_colours,
        sources=(Cite("stainless-tint", "table for AISI 304"), Cite("stainless-tint-note", "time, chromium and surface"), Cite("stainless-tint-encyclopedia", "list of colours"), Cite("foundry-lexicon", "chromium steels")),
        holds="AISI 304, bright, in air, about 1 h, ±10 °C",
        also=("heat tint", "stainless", "304", "18/8", "weld discolouration", "X5CrNi18-10", "1.4301"),
    ),
)  # fmt: skip
