"""Worksheets on the page: fields, formulas, and the script that works them out in the browser."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from markupsafe import Markup, escape

from fettlebook.book.book import Book
from fettlebook.book.formula_writing import javascript, line, mathml, sign_of
from fettlebook.book.formulas import Name
from fettlebook.book.worksheets import Input, Result, Worksheet, shown
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.writer import Writer
from fettlebook.tables.figures import written
from fettlebook.tables.quantities import UNITS

MARK = "\x00"
"""Stands round a name in a formula's line, so that the page can put the number in its place."""


def worksheet_html(writer: Writer, sheet: Worksheet, key: str, level: int = 2) -> Markup:
    """A worksheet as a part of a page. KEY names its script and what is kept of it on the device."""
    html = writer.render(
        "worksheet.html",
        s=sheet,
        key=key,
        level=level,
        loop0=lambda inputs, one: inputs.index(one),
        formula_line=formula_line,
        formula_mathml=lambda s, r: Markup(mathml(r.formula, s.signs)),
        example_line=example_line,
        example_of=example_of,
        result_example=lambda r: shown(r.example, r),
        result_limits=result_limits,
    )
    return Markup(html)


def formula_line(sheet: Worksheet, result: Result) -> str:
    """The formula in one line with the short signs."""
    return line(result.formula, lambda name: sign_of(name, sheet.signs))


def example_line(sheet: Worksheet, result: Result) -> str:
    """The formula with the worked example's numbers put in."""
    known = _example_values(sheet)
    return line(result.formula, lambda name: known.get(_full(name), sign_of(name, sheet.signs)))


def example_of(one: Input) -> str:
    """An input's value in the worked example, with its unit."""
    unit = unit_name(one.unit)
    if one.kind == "flag":
        return "yes" if one.example is True else "no"
    if one.kind == "choice":
        return str(one.example)
    if isinstance(one.example, dict):
        return ", ".join(f"{one.at[slug]} {written(v, one.decimals)} {unit}".strip() for slug, v in one.example.items())
    return f"{written(one.example, one.decimals)} {unit}".strip()


def result_limits(result: Result) -> str:
    """A result's limits in words."""
    low, high = (
        None if x is None else f"{written(x, result.decimals)} {unit_name(result.unit)}".strip()
        for x in (result.low, result.high)
    )
    if low and high:
        return f"Limits: {low} to {high}"
    return f"At least {low}" if low else f"At most {high}" if high else ""


def unit_name(unit: str) -> str:
    """A unit as written."""
    return UNITS[unit].written if unit in UNITS else unit


def worksheet_script(sheet: Worksheet, key: str) -> str:
    """The script that works the sheet out: its formulas as functions, nothing else of its own."""
    results = []
    for r in sheet.results:
        pieces = line(r.formula, lambda name: MARK + _full(name) + MARK).split(MARK)
        about = {
            "id": r.id, "name": r.name.plain, "unit": r.unit, "decimals": r.decimals, "low": r.low, "high": r.high,
            "outside": r.outside.plain if r.outside else "", "line": pieces,
        }  # fmt: skip
        results.append(f"Object.assign({_json(about)},{{f:function(v,F){{return {javascript(r.formula)}}}}})")
    inputs = [
        {"id": i.id, "name": i.name.plain, "kind": i.kind, "unit": i.unit, "decimals": i.decimals, "low": i.low, "high": i.high,
         "standard": i.default if i.kind == "number" else None, "options": [{"label": o.label, "values": o.values} for o in i.options]}
        for i in sheet.inputs
    ]  # fmt: skip
    constants = {c.id: c.value for c in sheet.constants}
    return f"fettlebook.worksheet({_json(key)},{{title:{_json(sheet.title)},inputs:{_json(inputs)},constants:{_json(constants)},results:[{','.join(results)}]}});\n"


def worksheet_page(book: Book, sheet: Worksheet) -> Page:
    """A shared worksheet on a page of its own."""
    uri = f"worksheets/{sheet.id}.html"
    writer = Writer(book, uri, {})
    html = f'<h1 id="top">{escape(sheet.title)}</h1>' + str(worksheet_html(writer, sheet, sheet.id))
    words = [sheet.about.plain, *(i.name.plain for i in sheet.inputs), *(r.name.plain for r in sheet.results)]
    users = [p for p in book.procedures.values() if any(s.id == sheet.id for s in p.worksheets)]
    if users:
        links = "".join(str(Markup('<li><a href="{}">{}</a></li>').format(writer.link(p.id), p.title)) for p in users)
        html += f'<section aria-labelledby="used"><h2 id="used">Used in</h2><ul class="links">{links}</ul></section>'
    findable = Findable("worksheet", (("title", sheet.title),), " ".join(words))
    return Page(
        uri,
        sheet.title,
        html,
        (Heading(2, f"worksheet-{sheet.id}", "Worksheet"),),
        sheet.about.plain,
        "tables",
        findable,
        scripts([sheet.id]),
        (("Tables", "tables/index.html"),),
    )


def scripts(keys: Iterable[str]) -> tuple[str, ...]:
    """The scripts that a page with these worksheets needs."""
    found = [f"assets/worksheets/{key}.js" for key in keys]
    return ("assets/worksheet.js", *found) if found else ()


def _example_values(sheet: Worksheet) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in sheet.inputs:
        example: Any = one.example
        if one.kind == "choice":
            option = next((o for o in one.options if o.label == example), None)
            found |= {
                f"{one.id}.{column}": f"{v:g}"
                for column, v in (option.values if option else {}).items()
                if v is not None
            }
        elif isinstance(example, dict):
            found |= {f"{one.id}.{slug}": written(v, one.decimals) for slug, v in example.items()}
        elif isinstance(example, (int, float)) and not isinstance(example, bool):
            found[one.id] = written(example, one.decimals)
    found |= {c.id: f"{c.value:g}" for c in sheet.constants}
    found |= {r.id: written(r.example, r.decimals) for r in sheet.results if isinstance(r.example, float)}
    return found


def _full(name: Name) -> str:
    return f"{name.id}.{name.part}" if name.part else name.id


def _json(content: Any) -> str:
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"))
