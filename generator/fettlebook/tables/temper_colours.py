"""Temper colours: the film that grows on bright steel, by temperature and by time."""

from __future__ import annotations

from functools import cache
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import Cite, Column, Definition, Parameter, Table
from fettlebook.tables.film import FAST, GROWTH, SLOW, film_srgb, grown_nm, same_colour_c, temperature_for

LOWEST_C, HIGHEST_C = GROWTH["fitted_c"]
SHORTEST_MIN, LONGEST_MIN = GROWTH["fitted_minutes"]

LONG_MIN = 20.0
"""From here on the two ends of growth lie further apart than the printed tables do."""

TOO_LONG = "So long at heat, colour is a poor gauge: the same colour may mean temperatures 15 to 50 °C apart. Go by an oven thermometer, and use colour for a few minutes on a plate or in a flame."

NOTES = (
    "Colour follows time as well as temperature: the printed tables are taken to mean about 5 minutes, and a longer time brings every colour at a lower temperature.",
    "Published: lowest and highest temperature in the printed tables that name the colour, moved to this time. They differ by 10 to 20 °C. Computed: from a law of growth fitted here to the same tables; good for ±10 °C or one neighbouring colour. From and to hold all of it, so neighbouring colours overlap.",
    "How fast the film grows with time is known only between two ends. By the square root of time, Rapatz's light blue after an hour at 230 °C comes out; bench reports of straw after one to three hours at 190 to 215 °C ask for about the fourth root (slow growth). Abstracts say the same: logarithmic when thin and cool, parabolic when thicker and hotter. So after 20 minutes or more go by a thermometer.",
    "Holds for plain carbon steel, bright, clean and dry, in still air. Chromium and other alloys need more heat for the same colour; a rough, oily or fingermarked surface colours early and unevenly.",
    "The colour tells the oxide, not the hardness. A screen shows a flat patch; steel mirrors the light around it. Look at it by daylight from a window, and go by the order of the colours.",
    "Have a second cue: an oven thermometer beside the part, a thermal crayon, a bath of oil, sand or salt with a thermometer, or a bright offcut of the same steel heated with the part.",
    "Film thickness is the optical one, of magnetite; a grown film has a little Fe2O3 on top and gets its colour from interference and absorption together. Published thicknesses are larger, since they come from the amount of oxide on a rough surface; the 5 nm that one table prints for pale yellow is too thin to be seen, and for grey-black it prints over 250 nm.",
    "Stainless steel needs well over 100 °C more for the same colour: see the table stainless-temper-colours.",
)  # fmt: skip


@cache
def named_colours() -> tuple[dict[str, Any], ...]:
    """The temper colours in order of heat: name, other names, film from-to and of the swatch [nm], published temperatures
    (lowest, highest) at the tables' own time [degC], how many tables name it, and the sRGB colour of the swatch."""
    rows = data.rows("colour-names", "temper")
    ends = [row["from_nm"] for row in rows[1:]] + [None]
    return tuple(_named(row, end) for row, end in zip(rows, ends, strict=True))


def _named(row: dict[str, Any], to_nm: float | None) -> dict[str, Any]:
    values = [v for value in row["tables"].values() for v in (value if isinstance(value, list) else [value])]
    return {
        "colour": row["colour"],
        "also": ", ".join(row["also"]),
        "from_nm": row["from_nm"],
        "to_nm": to_nm,
        "film_nm": row["film_nm"],
        "published_low_nm": row.get("published_nm", [None])[0],
        "published_nm": row.get("published_nm", [None])[-1],
        "low": min(values),
        "high": max(values),
        "tables": len(row["tables"]),
        "srgb": film_srgb(float(row["film_nm"])),
    }


def colour_at(temperature_c: float, minutes: float) -> str:
    """Name of the temper colour of bright plain steel after a time at a temperature.

    temperature_c   [degC]; the law was fitted for 180 to 340
    minutes         [min], above 0; fitted for 1 to 240
    gives           a name of the table, "bright" where no film can be seen yet, "grey" beyond light blue. Outside what
                    the law was fitted for, "about " stands before the name; beyond light blue it is grey for certain.

    Raises BadValue for a time of 0 or less, or a temperature below absolute zero.

    >>> colour_at(277, 5), colour_at(230, 60), colour_at(450, 60)
    ('purple', 'light blue', 'grey')
    """
    return _name(temperature_c, minutes, FAST)


def colours_between(temperature_c: float, minutes: float) -> str:
    """The temper colours that may show after a time at a temperature, palest first: what slow and fast growth allow.

    temperature_c, minutes   as for `colour_at`
    gives                    one name, or two with "to" between

    >>> colours_between(277, 5), colours_between(200, 60), colours_between(230, 60)
    ('purple', 'straw to brown', 'brown to light blue')
    """
    ends = sorted((SLOW, FAST), key=lambda power: grown_nm(temperature_c, minutes, power))
    pale, deep = (_name(temperature_c, minutes, power) for power in ends)
    if pale.removeprefix("about ") == deep.removeprefix("about "):
        return max(pale, deep, key=len)
    return f"{pale} to {deep.removeprefix('about ')}"


def _name(temperature_c: float, minutes: float, power: float) -> str:
    film = grown_nm(temperature_c, minutes, power)
    name = next((row["colour"] for row in reversed(named_colours()) if film >= row["from_nm"]), "bright")
    fitted = LOWEST_C <= temperature_c <= HIGHEST_C and SHORTEST_MIN <= minutes <= LONGEST_MIN
    certain = (
        name == "grey" and temperature_c > LOWEST_C or name == "bright" and film < named_colours()[0]["from_nm"] / 2
    )
    return name if fitted or certain else f"about {name}"


def temper_colours(time_min: float) -> Table:
    """Every temper colour with its range of temperatures after a time at heat.

    time_min   time at temperature [min], 1 to 240
    """
    rows = tuple(_row(named, time_min) for named in named_colours())
    outside = [row["colour"] for row in rows if not row["fitted"]]
    warnings: tuple[str, ...] = ()
    if time_min >= LONG_MIN:
        warnings = (TOO_LONG,)
    if outside:
        warnings += (
            f"At {time_min:g} min these reach outside the {LOWEST_C} to {HIGHEST_C} °C for which the law of growth was fitted; "
            f"take their figures as a hint only: {', '.join(outside)}.",
        )
    return Table(rows, notes=NOTES, warnings=warnings)


def _row(named: dict[str, Any], time_min: float) -> dict[str, Any]:
    low, high = (same_colour_c(named[end], GROWTH["minutes"], time_min) for end in ("low", "high"))
    computed_low = temperature_for(named["from_nm"], time_min)
    computed_high = temperature_for(named["to_nm"], time_min) if named["to_nm"] else None
    slow_low = temperature_for(named["from_nm"], time_min, SLOW)
    slow_high = temperature_for(named["to_nm"], time_min, SLOW) if named["to_nm"] else None
    printed = time_min == GROWTH["minutes"]
    reach = [computed_low, computed_high or computed_low] + ([] if printed else [low, high])
    return {
        "colour": named["colour"],
        "srgb": named["srgb"],
        "low_c": min(low, computed_low, slow_low),
        "high_c": max(high, computed_high or high, slow_high or slow_low),
        "published_low_c": low,
        "published_high_c": high,
        "computed_low_c": computed_low,
        "computed_high_c": computed_high,
        "slow_low_c": slow_low,
        "slow_high_c": slow_high,
        "film_nm": named["film_nm"],
        "published_low_nm": named["published_low_nm"],
        "published_nm": named["published_nm"],
        "tables": named["tables"],
        "fitted": min(reach) >= LOWEST_C and max(reach) <= HIGHEST_C,
        "also": named["also"],
    }


def browser_data() -> dict[str, Any]:
    """What the page needs to work out the same rows, and the colours of its strip every 2.5 nm."""
    ladder = [[2.5 * n, film_srgb(2.5 * n)] for n in range(2, 39)]
    return {"colours": list(named_colours()), "growth": dict(GROWTH), "notes": list(NOTES), "ladder": ladder,
            "long": [LONG_MIN, TOO_LONG]}  # fmt: skip


TABLES = (
    Definition(
        name="temper-colours",
        title="Temper colours",
        about="Which colour bright steel takes at which temperature, for the time it is held there. Slide the time and watch the ranges move: the same blue comes at 295 °C in five minutes and at 230 °C in three quarters of an hour.",
        parameters=(
            Parameter("time", "Time at temperature", unit="min", low=SHORTEST_MIN, high=LONGEST_MIN, default=5.0, example="5 min", help="how long the steel is held at the temperature, from 1 min to 4 h"),
        ),
        columns=(
            Column("colour", "Colour", kind="text"),
            Column("srgb", "As a screen shows it", kind="colour", help="computed in daylight on bright steel; a hint, not a match"),
            Column("low_c", "From", "degC", decimals=0, help="the lowest that a printed table or the law of growth gives"),
            Column("high_c", "To", "degC", decimals=0, help="the highest that a printed table or the law of growth gives"),
            Column("published_low_c", "Published, lowest", "degC", decimals=0),
            Column("published_high_c", "Published, highest", "degC", decimals=0),
            Column("computed_low_c", "Computed, from", "degC", decimals=0),
            Column("computed_high_c", "Computed, to", "degC", decimals=0),
            Column("slow_low_c", "With slow growth, from", "degC", decimals=0, help="the film growing with the fourth root of time instead of the square root"),
            Column("slow_high_c", "With slow growth, to", "degC", decimals=0),
            Column("film_nm", "Film, optical", "nm", decimals=0),
            Column("published_low_nm", "Film, published, lowest", "nm", decimals=0),
            Column("published_nm", "Film, published, highest", "nm", decimals=0),
            Column("tables", "Printed tables that name it"),
            Column("fitted", "Inside the fitted range", kind="flag"),
            Column("also", "Also called", kind="text"),
        ),
        compute=temper_colours,
        sources=(
            Cite("karmarsch-lueger", "table"), Cite("plating-lexicon", "table"), Cite("dooley", "section 458"), Cite("silver-steel-hobby-article", "table"),
            Cite("temper-encyclopedia", "entry"), Cite("temper-dictionary", "entry"), Cite("weimar-handbook", "page 20"), Cite("rapatz", "time at 230 °C", "secondary"),
            Cite("oven-straw-1", "post on one hour at 375 and 420 °F"), Cite("oven-straw-2", "three hours at 400 °F"), Cite("oven-straw-3", "two hours at 400 °F"), Cite("tempering-encyclopedia", "long times at 205 °C"), Cite("gulbransen-films", "stages of growth"), Cite("magnetite-growth-2008", "parabolic below 570 °C"), Cite("goossens-2006", "layers of the film"),
            Cite("evans-films", "first order", "memory"), Cite("foundry-lexicon", "chromium steels"), Cite("johnson-christy-1974", "iron", "secondary"), Cite("querry-1985", "magnetite", "secondary"),
            Cite("airy-film", how="computed"), Cite("cie-observer", "2 degree observer, D65", "secondary"), Cite("iec-61966-2-1", how="secondary"),
        ),
        holds=f"plain carbon steel, bright and clean, in still air, {SHORTEST_MIN} to {LONGEST_MIN} min and {LOWEST_C} to {HIGHEST_C} °C",
        also=("tempering colors", "oxide colours", "straw", "purple", "blueing", "letting down", "drawing the temper", "Anlassfarben"),
        group="heat",
        examples=({"time": "5 min"}, {"time": "1 h"}),
        browser="temper-colours",
        browser_data=browser_data,
    ),
)  # fmt: skip
