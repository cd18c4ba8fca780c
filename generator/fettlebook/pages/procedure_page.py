"""The page of a procedure: cautions first, then what a person needs in the order in which it is needed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from markupsafe import Markup, escape

from fettlebook import data
from fettlebook.book.book import Book
from fettlebook.book.order import has_order
from fettlebook.book.procedure import Procedure, Reading, Step
from fettlebook.book.shop import Machine
from fettlebook.book.worksheets import Worksheet
from fettlebook.pages.drawings import drawing, sign_picture
from fettlebook.pages.order_map import TITLE as ORDER
from fettlebook.pages.order_map import order_html
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.worksheets import scripts as worksheet_scripts
from fettlebook.pages.worksheets import worksheet_html
from fettlebook.pages.writer import Writer, duration, json_block, two_units
from fettlebook.tables.figures import in_other_unit, written
from fettlebook.tables.quantities import UNITS


def procedure_page(book: Book, procedure: Procedure, downloads: tuple[tuple[str, str], ...] = ()) -> Page:
    """One procedure as a page. `downloads` are (label, uri) of its printed sheets."""
    uri = f"procedures/{procedure.id}.html"
    writer = Writer(book, uri, procedure.values)
    html = writer.render(
        "procedure.html",
        p=procedure,
        cautions={c.id: c for c in procedure.cautions},
        numbers={n.id: n for n in procedure.numbers},
        shown={n.id: n.columns for n in procedure.numbers},
        sign=lambda number: sign_picture(number, writer.url),
        drawings=_drawings(book, procedure),
        source_titles=[data.sources().get(s.key, {}).get("title", s.key) for s in procedure.sources],
        table_sources=tuple(dict.fromkeys(c for n in procedure.numbers for c in n.sources)),
        limits=limits,
        order=order_html(writer, procedure),
        duration=duration,
        downloads=downloads,
        worksheets=[
            worksheet_html(
                writer,
                sheet,
                sheet_key(book, procedure, sheet),
                steps=[(step.id, step.number) for step in procedure.steps if step.worksheet == sheet.id],
            )
            for sheet in procedure.worksheets
        ],
        job_data=_job_data(book, procedure),
        levelled=[(m.id, m.name) for m in _machines(book, procedure) if m.data.get("levelling")],
        reading_rules=lambda reading, place: _reading_rules(reading, place, writer),
    )
    return Page(
        uri,
        procedure.title,
        html,
        _headings(procedure),
        writer.plain(procedure.summary),
        "procedures",
        _findable(book, procedure, writer),
        (
            *worksheet_scripts([sheet_key(book, procedure, s) for s in procedure.worksheets]),
            "assets/record.js",
            "assets/job.js",
        ),
        crumbs=(("Procedures", "procedures/index.html"),),
    )


def sheet_key(book: Book, procedure: Procedure, sheet: Worksheet) -> str:
    """Name of a worksheet's script: its own id for a shared one, with the procedure's before it for one written in place."""
    return sheet.id if book.worksheets.get(sheet.id) == sheet else f"{procedure.id}--{sheet.id}"


def limits(reading: Reading) -> Markup:
    """A reading's limits in words, in both unit systems."""
    low, high = (_limit(x, reading) for x in (reading.low, reading.high))
    if low and high:
        return low + Markup(" to ") + high
    if low:
        return Markup("at least ") + low
    return (
        Markup("at most ") + high if high else escape({"flag": "yes or no", "text": "in words"}.get(reading.kind, "–"))
    )


def _job_data(book: Book, p: Procedure) -> Markup:
    """What the script that works through the procedure needs to know of it."""
    machines = [[m.id, m.name] for m in _machines(book, p)]
    return json_block({"id": p.id, "title": p.title, "revision": p.revision.number, "machines": machines})


def _machines(book: Book, p: Procedure) -> list[Machine]:
    """The machines on which it is done: those it names, or any."""
    return [m for m in book.machines.values() if not p.machines or m.id in p.machines]


def _reading_rules(reading: Reading, place: str, writer: Writer) -> str:
    """A reading's unit and limits for the field in which it is entered."""
    shown = UNITS[reading.unit].written if reading.unit in UNITS else reading.unit
    return json.dumps(
        {
            "name": writer.plain(reading.name), "place": place, "unit": reading.unit, "unit_written": shown, "decimals": reading.decimals,
            "low": reading.low, "high": reading.high, "kind": reading.kind, "limits": _limits_in_words(reading, shown),
            "outside": writer.plain(reading.outside),
        },
        ensure_ascii=False,
    )  # fmt: skip


def _limits_in_words(reading: Reading, unit: str) -> str:
    low, high = (
        None if x is None else f"{written(x, reading.decimals)} {unit}".strip() for x in (reading.low, reading.high)
    )
    if low and high:
        return f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def _limit(value: float | None, reading: Reading) -> Markup:
    if value is None:
        return Markup("")
    us, unit = in_other_unit(value, reading.unit, reading.decimals)
    si_unit = UNITS[reading.unit].written if reading.unit in UNITS else reading.unit
    return two_units(written(value, reading.decimals), si_unit, us, unit)


def _drawings(book: Book, procedure: Procedure) -> Mapping[str, Markup]:
    return {s.id: made for s in procedure.steps if s.figure and (made := drawing(book, s.figure))}


def _headings(p: Procedure) -> tuple[Heading, ...]:
    """The list of contents: the sections that are there, and the stages under the steps."""
    sections = [("cautions", "Cautions", True), ("when", "When, and who", True), ("ready", "Have ready", True)]
    sections += [("order", ORDER, has_order(p)), ("numbers", "Numbers", bool(p.numbers)), ("steps", "Steps", True)]
    found = [Heading(2, id, words) for id, words, there in sections if there]
    found += [Heading(3, f"stage-{stage.id}", stage.title) for stage in p.stages]
    rest = [("afterwards", "Afterwards", bool(p.afterwards)), ("trouble", "If it goes wrong", bool(p.trouble))]
    rest += [
        ("questions", "Questions", bool(p.questions)),
        ("sources", "Sources", True),
        ("revision", "Revision", True),
    ]
    return (*found, *(Heading(2, id, words) for id, words, there in rest if there))


def _findable(book: Book, p: Procedure, w: Writer) -> Findable:
    fields: list[tuple[str, str]] = [("title", p.title)]
    fields += [("other name", name) for name in p.also]
    fields += [("symptom", symptom) for symptom in p.symptoms]
    fields += [("symptom", w.plain(t.seen)) for t in p.trouble]
    fields += [("tool", w.plain(t.name)) for t in p.tools] + [("material", w.plain(t.name)) for t in p.materials]
    fields += [("heading", stage.title) for stage in p.stages]
    fields += [("machine", book.machines[m].name) for m in p.machines if m in book.machines]
    fields += [
        ("numbers", ": ".join([n.title, *(v for v in n.written.values() if isinstance(v, str))])) for n in p.numbers
    ]
    body = [w.plain(p.summary), w.plain(p.when), *(w.plain(c.hazard) for c in p.cautions)]
    body += [text for step in p.steps for text in _step_words(step, w)]
    return Findable("procedure", tuple(fields), " ".join(body))


def _step_words(step: Step, w: Writer) -> list[str]:
    texts: list[Any] = [step.do, step.check, step.why, *(r.name for r in step.readings)]
    return [w.plain(t) for t in texts if t]
