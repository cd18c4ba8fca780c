"""Worksheets on the page: fields, formulas, and the script that works them out in the browser."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup, escape

from fettlebook.book.book import Book
from fettlebook.book.formula_writing import constant_number, javascript, line, mathml, plain_number
from fettlebook.book.formulas import CONSTANTS, Name
from fettlebook.book.worksheets import (
    Input,
    Worksheet,
    brought,
    chosen,
    example_line,
    figure,
    formula_line,
    full_name,
    limits_words,
    shown,
    unit_name,
)
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.script_data import script_data
from fettlebook.pages.writer import Writer
from fettlebook.tables.quantities import UNITS

MARK = "\x00"
"""Stands round a name in a formula's line, so that the page can put the number in its place."""


def worksheet_html(
    writer: Writer, sheet: Worksheet, key: str, level: int = 2, steps: Iterable[tuple[str, str]] = ()
) -> Markup:
    """A worksheet as a part of a page.

    key    names its script and what is kept of it on the device
    steps  id and number of each step at which it is filled in
    """
    html = writer.render(
        "worksheet.html",
        s=sheet,
        key=key,
        level=level,
        steps=list(steps),
        loop0=lambda inputs, one: inputs.index(one),
        formula_line=formula_line,
        formula_mathml=lambda s, r: Markup(mathml(r.formula, s.signs)),
        example_line=example_line,
        example_of=example_of,
        result_example=lambda r: shown(r.example, r),
        result_limits=limits_words,
        plain_number=plain_number,
    )
    return Markup(html)


def example_of(one: Input) -> str:
    """An input's value in the worked example, with its unit."""
    if one.kind == "flag":
        return "yes" if one.example is True else "no"
    if one.kind == "choice":
        parts = ", ".join(
            f"{c.sign or c.label.lower()} {figure}" for c, figure in brought(one, chosen(one, one.example))
        )
        return f"{one.example} ({parts})" if parts else str(one.example)
    if isinstance(one.example, dict):
        return ", ".join(f"{one.at[slug]} {figure(v, one.unit, one.decimals)}" for slug, v in one.example.items())
    return figure(one.example, one.unit, one.decimals)


def worksheet_script(sheet: Worksheet, key: str) -> str:
    """The script that works the sheet out: its formulas as functions, nothing else of its own."""
    results = []
    for r in sheet.results:
        pieces = line(r.formula, _piece).split(MARK)
        about = {
            "id": r.id, "name": r.name.plain, "unit": _unit(r.unit), "decimals": r.decimals, "low": r.low, "high": r.high,
            "outside": r.outside.plain if r.outside else "", "line": pieces,
        }  # fmt: skip
        results.append(f"Object.assign({script_data(about)},{{f:function(v,F){{return {javascript(r.formula)}}}}})")
    inputs = [
        {"id": i.id, "name": i.name.plain, "kind": i.kind, "unit": _unit(i.unit), "at": i.at, "decimals": i.decimals, "low": i.low, "high": i.high,
         "standard": i.default if i.kind == "number" else None, "rows": _rows(i),
         "columns": [[c.name, c.label, c.sign, _unit(c.unit), c.decimals] for c in i.columns]}
        for i in sheet.inputs
    ]  # fmt: skip
    constants = {c.id: c.value for c in sheet.constants}
    return f"fettlebook.worksheet({script_data(key)},{{title:{script_data(sheet.title)},inputs:{script_data(inputs)},constants:{script_data(constants)},results:[{','.join(results)}]}});\n"


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


def _rows(one: Input) -> list[list[float | None]]:
    """What each option brings, column by column, in the order in which the page lists the options: their labels stand there already."""
    return [[o.values.get(c.name) for c in one.columns] for o in one.options]


def _unit(unit: str) -> str:
    """A unit as the script knows it: its key, or as it is written for a product of units."""
    return unit if unit in UNITS else unit_name(unit)


def _piece(name: Name) -> str:
    """A name as it stands in the line of a formula on the page: marked, so that its number can be put in; a constant is its number."""
    return constant_number(name.id) if name.id in CONSTANTS and not name.part else MARK + full_name(name) + MARK
