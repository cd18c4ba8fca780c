"""A procedure as plain data for paper: the same object that feeds the page, nothing read a second time.

For the bench a sheet is as short as it can be. For a trainee it also says why, explains the terms used, asks questions
with the answers on the last page, and has places to sign.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from fettlebook import data
from fettlebook.book.book import Book
from fettlebook.book.procedure import Caution, Needed, Numbers, Procedure, Step, Trouble
from fettlebook.book.shop import Term
from fettlebook.handout.cited import place, source_lines
from fettlebook.handout.grids import grid
from fettlebook.handout.pictures import figure_picture, order_picture, sign_picture, square_code
from fettlebook.handout.press import PAPERS, papers, pdf
from fettlebook.handout.words import Words, duration, with_unit
from fettlebook.handout.worksheet_data import worksheet_data

READERS = ("bench", "trainee")


def handout(book: Book, procedure: Procedure, reader: str = "bench", paper: str = "", site_url: str = "") -> bytes:
    """The printed sheet of a procedure as PDF. Raises SheetFault."""
    return pdf("sheet", sheet_data(book, procedure, reader, paper or papers(book.workshop.paper)[0], site_url))


def sheet_data(book: Book, p: Procedure, reader: str, paper: str, site_url: str = "") -> dict[str, Any]:
    """Everything on the sheet, as plain data for sheet.typ."""
    w = Words(book, p.values)
    trainee = reader == "trainee"
    address = f"{site_url.rstrip('/')}/procedures/{p.id}.html" if site_url else ""
    return {
        "id": p.id, "title": p.title, "shop": book.workshop.name, "paper": PAPERS[paper.lower()], "reader": reader,
        "revision": f"Revision {p.revision.number}", "date": p.revision.date,
        "edition": _edition(p), "address": address, "code": square_code(address) if address else "",
        "summary": w.runs(p.summary), "when": w.runs(p.when), "meta": _meta(book, p), "symptoms": list(p.symptoms) if trainee else [],
        "who": w.runs(p.who.may), "licensed": w.runs(p.who.licensed),
        "cautions": [_caution(w, c) for c in p.cautions], "ready": _ready(w, p),
        "first": [book.procedures[id].title for id in p.first if id in book.procedures],
        "numbers": [_numbers(w, n, trainee) for n in p.numbers if not n.hidden],
        "used": [_used(w, n) for n in p.numbers if n.hidden and n.values],
        "worksheets": [worksheet_data(w, sheet) for sheet in p.worksheets],
        "order": order_picture(p), "stages": _stages(book, w, p, trainee), "afterwards": [w.runs(t) for t in p.afterwards],
        "trouble": [_trouble(book, w, t) for t in p.trouble],
        "questions": [{"ask": w.runs(q.ask), "answer": w.runs(q.answer)} for q in p.questions] if trainee else [],
        "terms": [term_data(w, t) for t in terms_used(book, p)] if trainee else [], "sources": _sources(p),
    }  # fmt: skip


def _edition(p: Procedure) -> str:
    checked = f", checked by {p.revision.checked_by}" if p.revision.checked_by else ""
    return (
        f"Revision {p.revision.number} of {p.revision.date}, by {p.revision.by}{checked}. {p.revision.changes}".strip()
    )


def _meta(book: Book, p: Procedure) -> list[str]:
    machines = ", ".join(book.machines[m].name for m in p.machines if m in book.machines)
    said = [f"For {machines}" if machines else "", f"Hands-on {p.hands_on}" if p.hands_on else ""]
    said += [f"Waiting {p.waiting}" if p.waiting else "", f"Again every {p.every}" if p.every else "", p.company]
    return [one for one in said if one]


def _caution(w: Words, c: Caution, whole: bool = True) -> dict[str, Any]:
    """A caution; at a step on the bench's sheet only how to avoid the harm, since all of it stands on the first page."""
    return {"id": c.id, "signal": c.signal, "sign": sign_picture(c.sign), "hazard": w.runs(c.hazard) if whole else [], "harm": w.runs(c.harm),
            "avoid": w.runs(c.avoid)}  # fmt: skip


def _ready(w: Words, p: Procedure) -> list[dict[str, Any]]:
    groups = [
        ("Conditions", p.conditions),
        ("Protective equipment", p.protection),
        ("Tools", p.tools),
        ("Materials", p.materials),
    ]
    return [{"title": title, "things": [_needed(w, one) for one in things]} for title, things in groups if things]


def _needed(w: Words, one: Needed) -> dict[str, Any]:
    count = one.count if one.count and one.count != "1" else ""
    return {"name": w.runs(one.name), "count": count, "note": w.runs(one.note), "sign": sign_picture(one.sign)}


def _numbers(w: Words, n: Numbers, notes: bool) -> dict[str, Any]:
    return {"id": n.id, "title": n.title, "warnings": list(n.warnings), "parts": grid(w, n.columns, n.rows),
            "notes": list(n.notes) if notes else [], "table": n.table}  # fmt: skip


def _used(w: Words, n: Numbers) -> dict[str, Any]:
    shown = [with_unit(v.other, v.other_unit) if w.inch else with_unit(v.shown, v.shown_unit) for v in n.values]
    return {"title": n.title, "values": ", ".join(shown), "table": n.table, "warnings": list(n.warnings)}


def _stages(book: Book, w: Words, p: Procedure, trainee: bool) -> list[dict[str, Any]]:
    return [
        {
            "title": stage.title,
            "intro": w.runs(stage.intro),
            "steps": [_step(book, w, p, s, trainee) for s in stage.steps],
        }
        for stage in p.stages
    ]


def _step(book: Book, w: Words, p: Procedure, s: Step, trainee: bool) -> dict[str, Any]:
    cautions = {c.id: c for c in p.cautions}
    titles = {n.id: n.title for n in p.numbers if not n.hidden}
    sheets = {sheet.id: sheet.title for sheet in p.worksheets}
    waiting = f"{duration(s.timer)}{f', for {s.timer_for}' if s.timer_for else ''}" if s.timer else ""
    see = [book.procedures[t].title for t in (one.split("#")[0] for one in s.see) if t in book.procedures]
    return {
        "number": s.number, "do": w.runs(s.do), "check": w.runs(s.check), "why": w.runs(s.why) if trainee else [],
        "cautions": [_caution(w, cautions[id], whole=trainee) for id in s.cautions if id in cautions],
        "figure": figure_picture(book, w, s.figure), "timer": waiting, "hold": w.runs(s.hold), "see": see,
        "use": [*(titles[id] for id in s.numbers if id in titles), *([sheets[s.worksheet]] if s.worksheet in sheets else [])],
        "readings": [
            {"name": w.runs(r.name), "place": place, "limits": w.reading_limits(r),
             "outside": w.runs(r.outside) if place in ("", r.at[-1] if r.at else "") else []}
            for r in s.readings for place in (r.at or ("",))
        ],
    }  # fmt: skip


def _trouble(book: Book, w: Words, t: Trouble) -> dict[str, Any]:
    see = [book.procedures[id].title for id in (one.split("#")[0] for one in t.see) if id in book.procedures]
    return {"seen": w.runs(t.seen), "cause": w.runs(t.cause), "do": w.runs(t.do), "see": see}


def _sources(p: Procedure) -> list[str]:
    known = data.sources()
    own = [
        (
            s.key or "",
            known.get(s.key, {}).get("title", s.key) if s.key else s.text,
            ": ".join(filter(None, (s.at, s.took))),
        )
        for s in p.sources
    ]
    return source_lines([*own, *(place(cite) for n in p.numbers for cite in n.sources)], " ".join(_noted(p)))


def _noted(p: Procedure) -> Iterator[str]:
    for n in p.numbers:
        yield from (*n.notes, *n.warnings)
        yield from (value for row in n.rows for value in row.values() if isinstance(value, str))


def terms_used(book: Book, p: Procedure) -> list[Term]:
    """The glossary's terms that the procedure's words use, by any of their names, in the order of the glossary."""
    texts: list[Any] = [p.summary, p.when, p.who.may]
    texts += [t for c in p.cautions for t in (c.hazard, c.harm, c.avoid)]
    texts += [t for s in p.steps for t in (s.do, s.check, s.why, *(r.name for r in s.readings))]
    texts += [one.name for one in (*p.tools, *p.materials)]
    said = " ".join(t.plain for t in texts if t).lower()
    return [
        term
        for term in book.glossary
        if any(_says(said, name) for name in (term.term, *term.also, term.british, term.american))
    ]


def _says(said: str, name: str) -> bool:
    return bool(name) and re.search(rf"\b{re.escape(name.lower())}(s|es|ed|ing)?\b", said) is not None


def term_data(w: Words, t: Term) -> dict[str, Any]:
    """A term of the glossary as plain data."""
    others = dict.fromkeys(
        [*t.also, *(f"{name} ({side})" for name, side in ((t.british, "British"), (t.american, "American")) if name)]
    )
    return {"term": t.term, "means": w.runs(t.means), "also": ", ".join(others)}
