"""The page of a computed table: what it is for, a form where the browser can compute it, the rows, sources, downloads."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from fettlebook.book.book import Book
from fettlebook.pages.drawings import drawings_for_table
from fettlebook.pages.heating_form import SCRIPTS as HEATING_SCRIPTS
from fettlebook.pages.heating_form import heating_form
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.writer import Writer
from fettlebook.tables.definition import REQUIRED, BadValues, Definition, Parameter, Table
from fettlebook.tables.quantities import UNITS
from fettlebook.tables.writing import all_sources, as_csv, as_json, cell

OWN_FORMS: dict[str, tuple[Callable[[], Markup], tuple[str, ...]]] = {"heating-plan": (heating_form, HEATING_SCRIPTS)}
"""Tables whose page has a form of its own: what writes it, and the scripts after base.js and the figures."""

LONG = 45
"""Rows beyond which a further example has a page of its own."""


Views = list[tuple[str, Mapping[str, Any], Table, dict[str, Any]]]


def views(definition: Definition, shop: Mapping[str, Any]) -> Views:
    """The parameter sets shown on the page: (words, as written, table, given). An example that is refused is left out."""
    key = values_read(definition, shop)
    if _VIEWS.get(definition.name, ("", []))[0] != key:
        _VIEWS[definition.name] = (key, _views(definition, shop))
    return _VIEWS[definition.name][1]


_VIEWS: dict[str, tuple[str, Views]] = {}
"""The views of each table for the shop seen last: the page and its downloads show the same."""


def values_read(definition: Definition, shop: Mapping[str, Any]) -> str:
    """What a table's page takes from the SHOP's own values, as written: 1, 1.0 and yes are equal, and look different."""
    return repr([(p.name, shop[p.shop]) for p in definition.parameters if p.shop in shop])


def _views(definition: Definition, shop: Mapping[str, Any]) -> Views:
    found = []
    for example in definition.examples or (_default_example(definition, shop),):
        try:
            given = definition.given(example, shop)
            found.append((_words(definition, example), example, definition.table(example, shop), given))
        except BadValues:
            continue
    return found


@dataclass(frozen=True)
class View:
    """One parameter set as it is shown: its number from 1, its words, the table, and the name of its files."""

    number: int
    words: str
    table: Table
    stem: str


def table_pages(book: Book, definition: Definition) -> list[Page]:
    """A table as a page; a further example that is long has a page of its own, so that each page stays light."""
    shown = [
        View(n + 1, words, table, f"{definition.name}{'' if n == 0 else f'-{n + 1}'}")
        for n, (words, _, table, _) in enumerate(views(definition, book.workshop.defaults))
    ]
    apart = [view for view in shown if view.number > 1 and len(view.table.rows) > LONG]
    here = [view for view in shown if view not in apart]
    return [_main_page(book, definition, here, apart), *(_further_page(book, definition, view) for view in apart)]


def _main_page(book: Book, definition: Definition, here: list[View], apart: list[View]) -> Page:
    uri = f"tables/{definition.name}.html"
    shop = book.workshop.defaults
    start = definition.examples[0] if definition.examples else {}
    fields = [_field(p, shop, start) for p in definition.parameters] if definition.browser else []
    own = OWN_FORMS.get(definition.name)
    html = _rendered(
        book,
        definition,
        uri,
        here,
        apart=apart,
        drawings=drawings_for_table(definition.name),
        fields=fields,
        own_form=own[0]() if own else "",
    )
    headings = [Heading(2, "form", "Work it out")] if definition.browser else []
    headings += [Heading(2, "view-1", "The table")] if here else []
    headings += [Heading(3, f"view-{view.number}", view.words) for view in here[1:]]
    headings += [Heading(2, "sources", "Sources and range")]
    scripts: tuple[str, ...] = ()
    if definition.browser:
        figures = (f"assets/tables/{definition.name}.data.js",) if definition.browser_data else ()
        scripts = (*figures, *(own[1] if own else (f"assets/tables/{definition.browser}.js", "assets/form.js")))
    return Page(
        uri, definition.title, html, tuple(headings), definition.about, "tables", _findable(definition, definition.title, here), scripts,
        (("Tables", "tables/index.html"),),
    )  # fmt: skip


def _further_page(book: Book, definition: Definition, view: View) -> Page:
    uri = f"tables/{view.stem}.html"
    title = f"{definition.title}: {view.words}"
    html = _rendered(book, definition, uri, [view], title=title)
    found = _findable(definition, title, [view])
    return Page(uri, title, html, (Heading(2, "sources", "Sources and range"),), definition.about, "tables", found)


def _rendered(book: Book, definition: Definition, uri: str, shown: list[View], **known: Any) -> str:
    sources = tuple(dict.fromkeys(c for view in shown for c in all_sources(definition, view.table)))
    with_defaults = {"title": definition.title, "apart": [], "drawings": [], "fields": [], "own_form": "", **known}
    return Writer(book, uri, {}).render(
        "table.html", d=definition, views=shown, sources=sources, columns=Markup(_columns_json(definition)), command=_command(definition),
        **with_defaults,
    )  # fmt: skip


def downloads(definition: Definition, shop: Mapping[str, Any]) -> dict[str, str]:
    """The CSV and JSON files of a table's page, and what its script needs to know: content by uri."""
    files: dict[str, str] = {}
    for n, (_, _, table, given) in enumerate(views(definition, shop)):
        stem = f"tables/{definition.name}{'' if n == 0 else f'-{n + 1}'}"
        files[f"{stem}.csv"] = as_csv(table)
        files[f"{stem}.json"] = (
            json.dumps(as_json(definition, table, given), ensure_ascii=False, indent=1, default=str) + "\n"
        )
    return files


def _default_example(definition: Definition, shop: Mapping[str, Any]) -> dict[str, Any]:
    return {p.name: p.example for p in definition.parameters if p.required and p.shop not in shop}


def _words(definition: Definition, example: Mapping[str, Any]) -> str:
    """An example's parameters in words; shown as written, lists joined."""
    parts = []
    for name, value in example.items():
        shown = ", ".join(map(str, value)) if isinstance(value, (list, tuple)) else str(value)
        parameter = definition.parameter(name)
        unit = parameter.unit
        if unit in UNITS and shown[-1:].isdigit():
            shown += f" {UNITS[unit].written}"
        if parameter.kind == "flag":
            shown = "yes" if str(value).lower() in {"true", "yes", "1", "on"} else "no"
        if not isinstance(value, dict) and len(shown) <= 60:
            label = (
                parameter.label.removeprefix("or its ").removeprefix("or an ").removeprefix("or a ").removeprefix("or ")
            )
            parts.append(f"{label[0].upper()}{label[1:]}: {shown}")
    return "; ".join(parts)


def _field(p: Parameter, shop: Mapping[str, Any], example: Mapping[str, Any]) -> dict[str, Any]:
    """What the form shows for a parameter: it starts from the page's first example, the shop's own value or the default."""
    value = example.get(p.name, shop.get(p.shop, p.default) if p.shop else p.default)
    if value is REQUIRED:
        value = p.example
    if isinstance(value, (list, tuple)):
        value = ", ".join(str(v) for v in value)
    elif isinstance(value, float):
        value = f"{value:g}"
    shown = "" if value is None else str(value)
    unit = UNITS[p.unit].written if p.unit in UNITS else p.unit
    rules = {"kind": p.kind, "unit": p.unit, "many": p.many, "low": p.low, "high": p.high, "required": p.required,
             "example": p.example, "empty": None if p.required else p.default}  # fmt: skip
    return {
        "p": p,
        "value": shown,
        "unit": unit,
        "rules": json.dumps(rules, ensure_ascii=False, sort_keys=True, default=str),
    }


def _columns_json(definition: Definition) -> str:
    columns = [
        {
            "name": c.name,
            "label": c.label,
            "unit": c.unit,
            "decimals": c.decimals,
            "kind": c.kind,
            "inch": c.inch_decimals,
            "significant": c.significant,
        }
        for c in definition.columns
    ]
    return json.dumps(columns, ensure_ascii=False).replace("<", "\\u003c")


def _command(definition: Definition) -> str:
    given = " ".join(f'--with {p.name}="{p.example}"' for p in definition.parameters if p.required)
    return f"fettlebook table {definition.name} {given}".strip()


def _findable(definition: Definition, title: str, shown: list[View]) -> Findable:
    fields = [
        ("title", title),
        ("other name", definition.name),
        *(("other name", name) for name in definition.also),
    ]
    for view in shown:
        table = view.table
        first = table.columns[0] if table.columns else None
        if first is not None and first.kind != "number":
            fields += [("row", str(row.get(first.name))) for row in table.rows if row.get(first.name) is not None]
    body = [
        definition.about,
        definition.group,
        *(p.label for p in definition.parameters),
        *(c.label for c in definition.columns),
    ]
    body += [note for view in shown for note in (*view.table.notes, *view.table.warnings)]
    body += [
        cell(row.get(c.name), c)
        for view in shown
        if len(view.table.rows) < LONG
        for row in view.table.rows
        for c in view.table.columns[1:]
        if c.kind == "text" and len(str(row.get(c.name))) < 60
    ]
    return Findable("table", tuple(dict.fromkeys(fields)), " ".join(body))
