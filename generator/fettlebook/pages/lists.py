"""Pages that lead to other pages: all procedures, all tables, symptoms, what needs what, words, sources, the shop."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from fettlebook import data
from fettlebook.book.book import Book
from fettlebook.book.groups import GROUPS
from fettlebook.book.procedure import Procedure
from fettlebook.pages.needs_map import needs_maps
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.writer import Writer, json_block
from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import Definition


def by_group(procedures: Iterable[Procedure]) -> list[tuple[str, str, list[Procedure]]]:
    """Procedures under the groups of the book: (id, title, procedures), empty groups left out."""
    found: dict[str, list[Procedure]] = defaultdict(list)
    for procedure in procedures:
        found[procedure.group].append(procedure)
    return [(id, title, found[id]) for id, title in GROUPS.items() if found[id]]


def tables_by_group() -> list[tuple[str, list[Definition]]]:
    """Tables under their subjects, subjects in alphabetical order."""
    found: dict[str, list[Definition]] = defaultdict(list)
    for definition in tables().values():
        found[definition.group or "Other"].append(definition)
    return sorted(found.items())


def procedures_page(book: Book) -> Page:
    """Every procedure, by group."""
    groups = by_group(book.procedures.values())
    return _list_page(
        book,
        "procedures/index.html",
        "Procedures",
        "procedures.html",
        [Heading(2, id, title) for id, title, _ in groups],
        "procedures",
        groups=groups,
    )


def tables_page(book: Book, printed: tuple[tuple[str, str], ...] = ()) -> Page:
    """Every table, by subject; `printed` are (label, uri) of the whole book and the wall charts on paper."""
    groups = tables_by_group()
    headings = [Heading(2, f"subject-{n + 1}", title) for n, (title, _) in enumerate(groups)]
    sheets = sorted((s for s in book.worksheets.values() if s), key=lambda s: s.title.lower())
    if sheets:
        headings.append(Heading(2, "worksheets", "Worksheets"))
    if printed:
        headings.append(Heading(2, "printed", "On paper"))
    known = {"groups": groups, "sheets": sheets, "printed": printed}
    return _list_page(book, "tables/index.html", "Tables", "tables.html", headings, "tables", **known)


def needs_page(book: Book) -> Page:
    """Which procedure needs which first, which share a setting, and what each tool and material is for."""
    needs: dict[str, dict[str, list[Procedure]]] = {"tools": defaultdict(list), "materials": defaultdict(list)}
    settings: dict[str, list[Procedure]] = defaultdict(list)
    for p in book.procedures.values():
        writer = Writer(book, "needs.html", p.values)
        for kind in needs:
            for thing in getattr(p, kind):
                needs[kind][writer.plain(thing.name)].append(p)
        if p.setting:
            settings[p.setting].append(p)
    chains = [
        (p, [book.procedures[i] for i in p.first if i in book.procedures]) for p in book.procedures.values() if p.first
    ]
    maps = needs_maps(Writer(book, "needs.html", {}), book)
    headings = [
        Heading(2, "first", "What comes first"),
        Heading(2, "settings", "Same setting"),
        Heading(2, "tools", "Tools"),
        Heading(2, "materials", "Materials"),
    ]
    known = {kind: sorted(found.items(), key=lambda entry: entry[0].lower()) for kind, found in needs.items()}
    return _list_page(
        book,
        "needs.html",
        "What needs what",
        "needs.html",
        headings,
        "procedures",
        chains=chains,
        maps=maps,
        settings=sorted(settings.items()),
        **known,
    )


def glossary_page(book: Book) -> Page:
    """The shop's words with their names on both sides of the Atlantic."""
    terms = sorted(book.glossary, key=lambda term: term.term.lower())
    fields = [("word", " ".join([t.term, t.british, t.american, *t.also])) for t in terms]
    return _list_page(book, "glossary.html", "Words", "glossary.html", [], "words", terms=terms, fields=fields)


def jobs_page(book: Book) -> Page:
    """The jobs kept on the device: filled by the browser."""
    known = json_block({p.id: {"revision": p.revision.number} for p in book.procedures.values()})
    page = _list_page(book, "jobs.html", "Jobs on this device", "jobs.html", [], "jobs", known=known)
    return replace(page, scripts=("assets/record.js", "assets/jobs.js"))


def sources_page(book: Book) -> Page:
    """Every source of the figures, and how far it was seen."""
    return _list_page(
        book,
        "sources.html",
        "Sources",
        "sources.html",
        [],
        "about",
        sources=sorted(data.sources().items(), key=lambda s: str(s[1].get("title", s[0])).lower()),
    )


def _list_page(
    book: Book,
    uri: str,
    title: str,
    template: str,
    headings: list[Heading],
    section: str,
    fields: Any = (),
    **known: Any,
) -> Page:
    html = Writer(book, uri, {}).render(template, title=title, **known)
    return Page(uri, title, html, tuple(headings), "", section, Findable("page", (("title", title), *fields)))
