"""Levelling, round by round: the form of a machine with feet and stations, worked out on the device by levelling.js."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from markupsafe import Markup, escape

from fettlebook.draw.levelling_moves import order_of_work
from fettlebook.tables.levelling import LONG_CROSS
from fettlebook.tables.levelling_layout import Layout, layout_from
from fettlebook.tables.levelling_rounds import levelling_rounds

TITLE = "Levelling, round by round"

SCRIPTS = ("assets/tables/jack-moves.js", "assets/record.js", "assets/levelling.js")
"""What the page must load after base.js."""


def levelling_form(key: str, machine: Any, shop: Mapping[str, Any]) -> Markup:
    """The form: loose feet, readings of every station, what is wanted, and the log of rounds kept on the device.

    key       what the log is kept under on the device, such as the machine's id
    machine   feet and stations, as tables.levelling_layout.layout_from takes them
    shop      the shop's defaults; level_mm_per_m is the division of its level

    Raises BadValue where the layout does not stand.
    """
    layout = layout_from(machine)
    data = json.dumps({"key": key, "machine": _plain(layout)}, ensure_ascii=False).replace("<", "\\u003c")
    parts = [
        _reversal(),
        _feet(layout),
        _grid(layout),
        _wanted(shop),
        _checks(layout, "stay", "Jacks that must stay put (seized, or a fixed height)", jacks_only=True),
        '<p><button type="button" class="button" data-do="work">Say what to turn</button></p>',
        '<p class="fault" role="alert" hidden></p>',
        '<div class="form__answer" aria-live="polite"></div>',
    ]
    return Markup(
        '<div class="levelling" data-levelling>'
        f'<script type="application/json">{data}</script>'
        f'<form class="form needs-script" novalidate>{"".join(parts)}</form>'
        '<p class="no-script-only note">With scripts switched off nothing is worked out here: read, then ask the computer that '
        "holds the book with <code>fettlebook table jack-moves</code>.</p>"
        '<div class="levelling__log needs-script" aria-live="polite"></div>'
        '<p class="actions needs-script"><label class="button button--quiet" for="lv-file">Bring in rounds from a file</label> '
        '<input class="hide" type="file" id="lv-file" accept=".json,application/json"></p>'
        '<p class="fault levelling__brought" role="status" hidden></p>'
        f"{_traditional(layout)}</div>"
    )


def _plain(layout: Layout) -> dict[str, Any]:
    """The layout as the script takes it, names and all."""
    feet = [
        {"name": f.name, "x_mm": f.x_mm, "y_mm": f.y_mm, "jack": f.jack, "screw_pitch_mm": f.pitch_mm,
         "travel_up_mm": f.up_mm, "travel_down_mm": f.down_mm}
        for f in layout.feet
    ]  # fmt: skip
    return {"feet": feet, "stations": [{"name": s.name, "x_mm": s.x_mm} for s in layout.stations]}


def _reversal() -> str:
    """The level is checked first: two readings on one spot, and what they say."""
    fields = "".join(
        _field(name, words, "") for name, words in (("laid", "As laid [divisions]"), ("reversed", "Turned end for end [divisions]"))
    )  # fmt: skip
    return (
        "<fieldset><legend>1. Check the level first</legend>"
        '<p class="help">Lay it on one spot, read; turn it end for end on the same spot, read again, both by the marks on the vial.</p>'
        f'<div class="form__fields">{fields}</div><p class="note levelling__reversal" aria-live="polite"></p></fieldset>'
    )


def _feet(layout: Layout) -> str:
    """The question before every round, with an answer that has to be given."""
    return (
        _checks(layout, "loose", "2. Try every foot by hand or feeler. Which is loose?")
        + '<p class="ticks levelling__tried"><label><input type="checkbox" name="tried" value="yes"> '
        "Every foot was tried just now; those not ticked above are firm.</label></p>"
    )


def _traditional(layout: Layout) -> str:
    """The way without the computer: the order of work for this machine's feet, and how it compares, said honestly."""
    steps = "".join(f"<li>{escape(words)}</li>" for words in order_of_work(len(layout.groups)))
    count = len(layout.feet)
    feet = (float(count),) if count in {4, 6, 8} else (4.0, 6.0, 8.0)
    words = "".join(
        f"<p><strong>{title}.</strong> {escape(' '.join(levelling_rounds('coarse', floor, feet).notes[1:]))}</p>"
        for title, floor in (("Firm floor, coarse hands", "firm"), ("Soft floor, coarse hands", "soft"))
    )
    return (
        '<details class="levelling__traditional"><summary>Without this form: the traditional way, and how it compares</summary>'
        f"<p>Pairs of feet counted from the headstock end. Seat every foot first.</p><ol>{steps}</ol>"
        f'{words}<p><a href="../tables/levelling-rounds.html">Rounds for each way of working</a>; '
        '<a href="../tables/jack-moves.html">what the signs and shapes mean</a>.</p></details>'
    )


def _checks(layout: Layout, name: str, words: str, jacks_only: bool = False) -> str:
    boxes = "".join(
        f'<label><input type="checkbox" name="{name}" value="{escape(foot.name)}"> {escape(foot.name)}</label>'
        for foot in layout.feet
        if foot.jack or not jacks_only
    )
    return f'<fieldset class="levelling__feet"><legend>{words}</legend><div class="ticks">{boxes}</div></fieldset>'


def _grid(layout: Layout) -> str:
    rows = "".join(
        f'<tr><th scope="row">{escape(s.name)}</th>'
        + "".join(
            f'<td><input type="text" inputmode="text" autocomplete="off" name="{way}" data-station="{escape(s.name)}" '
            f'aria-label="Station {escape(s.name)}, {words}"></td>'
            for way, words in (("long", "along the bed"), ("cross", "across"))
        )
        + "</tr>"
        for s in layout.stations
    )
    return (
        "<fieldset><legend>3. Read the level at every station, in divisions with the sign</legend>"
        f'<p class="help">{LONG_CROSS}. Quarters are near enough: 0.25, 1/4 or ¼. Leave empty what was not read.</p>'
        '<table class="grid levelling__grid"><thead><tr><th scope="col">Station</th><th scope="col">Long</th><th scope="col">Cross</th></tr></thead>'
        f"<tbody>{rows}</tbody></table></fieldset>"
    )


def _wanted(shop: Mapping[str, Any]) -> str:
    division = shop.get("level_mm_per_m", 0.02)
    fields = [
        _field("division", "One division of the level [mm/m]", f"{division:g}" if isinstance(division, float) else str(division)),
        _field("limit", "Every reading within [mm/m]", "0.02"),
        _field("zero", "The level's own error [divisions], from the reversal", "0"),
        _field("vial", "The vial shows to either side [divisions]", "10"),
        _choice("goal", "What is wanted", (("horizontal", "no twist, no bend, and horizontal"), ("untwisted", "no twist and no bend"))),
        _choice("prefer", "Prefer", (("small", "small moves"), ("few", "few jacks"), ("raise", "raising only"))),
    ]  # fmt: skip
    return (
        f'<details><summary>4. Level, limit, wish</summary><div class="form__fields">{"".join(fields)}</div></details>'
    )


def _field(name: str, words: str, value: str) -> str:
    return (
        f'<p class="field"><label for="lv-{name}">{words}</label>'
        f'<input id="lv-{name}" name="{name}" type="text" inputmode="decimal" autocomplete="off" value="{escape(value)}"></p>'
    )


def _choice(name: str, words: str, options: tuple[tuple[str, str], ...]) -> str:
    shown = "".join(f'<option value="{value}">{label}</option>' for value, label in options)
    return f'<p class="field"><label for="lv-{name}">{words}</label><select id="lv-{name}" name="{name}">{shown}</select></p>'
