"""The heating plan's own form: parts that the reader writes on the page, planned there by heating-plan.js."""

from __future__ import annotations

import json

from markupsafe import Markup, escape

from fettlebook.tables.heating_plan import SAMPLE
from fettlebook.tables.steel_data import COUNTRIES, steels

SCRIPTS = ("assets/tables/heating-plan.js", "assets/heating-form.js")
"""What the page must load after base.js and the figures of the table."""

FIRST = (
    ("name", "Name", "text", "such as scriber; each its own"),
    ("steel", "Steel", "text", "any of its names; for an unmarked piece write unknown"),
    ("section", "Thickest section [mm]", "decimal", "such as 6 mm or 1/4 in"),
    ("does", "What it must do", "text", "such as scribes lines, cold chisel, shaft key"),
)
MORE = (
    ("hardness", "Hardness wanted [HRC]", "decimal", "10 to 68"),
    ("temper", "Tempering temperature [°C]", "decimal", "60 to 720 °C"),
    ("quench", "Quench", "text", "water, oil or air, if published for the steel"),
    ("thinnest", "Thinnest section beside it [mm]", "decimal", "for the risk of cracking"),
    ("count", "How many alike", "decimal", ""),
)


def heating_form() -> Markup:
    """The form and the place for the sheet; complete with scripts off: then it says how to get a plan."""
    start = json.dumps(
        {"parts": [dict(part) for part in SAMPLE], "time": "1 h"}, ensure_ascii=False, default=str
    ).replace("<", "\\u003c")
    return Markup(
        f'<div class="plan" data-plan><script type="application/json">{start}</script>'
        f'<form class="form needs-script" novalidate>{_names()}<ol class="plan__parts"></ol><template>{_card()}</template>'
        f"{_buttons(('add', 'Add a part'), ('empty', 'Start empty'), ('sample', 'Show the sample'))}"
        '<p class="field"><label for="plan-time">Tempering time [h]</label>'
        '<input id="plan-time" name="time" type="text" inputmode="decimal" autocomplete="off" value="1 h">'
        '<span class="help">0.05 to 24 h, for every round</span><span class="fault" role="alert" hidden></span></p></form>'
        '<p class="plan__fault flag needs-script" role="alert"></p><div class="plan__sheet needs-script" aria-live="polite"></div>'
        f'<div class="needs-script">{_buttons(("print", "Print this plan"))}</div>'
        '<p class="no-script-only note">With scripts switched off nothing is planned here: the table below shows a sample, and a procedure may '
        "hold a list of parts of its own as <code>table: heating-plan</code>.</p></div>"
    )


def _names() -> str:
    """Names to choose from: each steel by the first that each country has for it."""
    listed = {name: None for s in steels() for key in COUNTRIES for name in s.raw.get(key, ())[:1] if name[0] != "("}
    common = dict.fromkeys(("unknown", "mild steel", "cast iron", "silver steel"))
    return f'<datalist id="plan-steels">{"".join(f"<option>{escape(name)}</option>" for name in {**common, **listed})}</datalist>'


def _card() -> str:
    first, more = ("".join(_field(*field) for field in fields) for fields in (FIRST, MORE))
    return (
        f'<li><fieldset class="plan__part"><legend>Part <b></b></legend><div class="form__fields">{first}</div>'
        '<span class="fault" role="alert" hidden></span>'
        f'<details><summary>Hardness, temper, quench, thinnest section, how many</summary><div class="form__fields">{more}</div></details>'
        f"{_buttons(('remove', 'Remove this part'))}</fieldset></li>"
    )


def _field(key: str, words: str, mode: str, hint: str) -> str:
    names = ' list="plan-steels"' if key == "steel" else ""
    return (
        f'<p class="field"><label>{words}<input data-key="{key}" type="text" inputmode="{mode}" autocomplete="off" autocapitalize="off" '
        f'spellcheck="false"{names}></label>{f"<span class=help>{escape(hint)}</span>" if hint else ""}</p>'
    )


def _buttons(*named: tuple[str, str]) -> str:
    made = "".join(
        f'<button type="button" class="button{"" if act in ("add", "print") else " button--quiet"}" data-do="{act}">{words}</button> '
        for act, words in named
    )
    return f'<p class="actions">{made}</p>'
