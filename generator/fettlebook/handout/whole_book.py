"""The whole book as one PDF: contents, every procedure by group, an index of symptoms, the glossary and the sources."""

from __future__ import annotations

from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.groups import GROUPS
from fettlebook.handout.press import PAPERS, papers, pdf
from fettlebook.handout.sheet import sheet_data, term_data
from fettlebook.handout.words import Words


def whole_book(book: Book, paper: str = "") -> bytes:
    """The book as PDF. Raises SheetFault."""
    return pdf("book", book_data(book, paper or papers(book.workshop.paper)[0]))


def book_data(book: Book, paper: str) -> dict[str, Any]:
    """Everything in the printed book, as plain data for book.typ."""
    w = Words(book, {})
    procedures = list(book.procedures.values())
    sheets = {p.id: sheet_data(book, p, "bench", paper) for p in procedures}
    names = dict(GROUPS) if not isinstance(GROUPS, dict) else GROUPS
    used = dict.fromkeys(p.group for p in procedures)
    groups = [
        {"title": str(names.get(g, g)), "procedures": [sheets[p.id] for p in procedures if p.group == g]} for g in used
    ]
    sources = dict.fromkeys(source for sheet in sheets.values() for source in sheet["sources"])
    return {
        "title": f"{book.workshop.name}: the book of procedures", "shop": book.workshop.name, "paper": PAPERS[paper.lower()],
        "lead": book.workshop.town, "date": max((p.revision.date for p in procedures), default=""),
        "emergency": [w.runs(t) for t in book.workshop.emergency], "groups": groups, "symptoms": _symptoms(book),
        "glossary": [term_data(w, t) for t in sorted(book.glossary, key=lambda t: t.term.lower())], "sources": sorted(sources),
    }  # fmt: skip


def _symptoms(book: Book) -> list[dict[str, Any]]:
    found: dict[str, list[dict[str, str]]] = {}
    for p in book.procedures.values():
        seen = [*p.symptoms, *(Words(book, p.values).plain(t.seen) for t in p.trouble)]
        for symptom in dict.fromkeys(seen):
            found.setdefault(symptom, []).append({"id": p.id, "title": p.title})
    return [{"symptom": symptom, "procedures": found[symptom]} for symptom in sorted(found, key=str.lower)]
