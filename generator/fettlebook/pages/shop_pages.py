"""The shop's own pages: the front page, the shop, and each machine."""

from __future__ import annotations

from fettlebook.book import history
from fettlebook.book.book import Book
from fettlebook.book.shop import Machine
from fettlebook.pages.drawings import machine_drawings
from fettlebook.pages.levelling_form import SCRIPTS as LEVELLING_SCRIPTS
from fettlebook.pages.levelling_form import TITLE as LEVELLING
from fettlebook.pages.levelling_form import levelling_form
from fettlebook.pages.lists import by_group
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.records import records_html
from fettlebook.pages.writer import Writer
from fettlebook.tables.catalogue import tables
from fettlebook.tables.levelling_layout import layout_faults


def front_page(
    book: Book, hand_written: tuple[tuple[str, str], ...] = (), printed: tuple[tuple[str, str], ...] = ()
) -> Page:
    """What the book is, and the ways in.

    hand_written  (title, uri) of pages that stand beside the computed ones
    printed       (label, uri) of the whole book and the wall charts on paper
    """
    shop = book.workshop
    groups = by_group(book.procedures.values())
    known = {"due": history.due(book)[:5], "last": history.jobs(book)[:5], "table_count": len(tables())}
    html = Writer(book, "index.html", {}).render(
        "front.html", s=shop, groups=groups, hand_written=hand_written, printed=printed, **known
    )
    return Page("index.html", shop.name, html, (), shop.about.plain, "front", Findable("page", (("title", shop.name),)))


def shop_page(book: Book) -> Page:
    """The workshop: emergency, machines, people, oils."""
    shop = book.workshop
    fields = [("title", shop.name), *(("oil", f"{oil.grade} {oil.kind}") for oil in shop.oils)]
    html = Writer(book, "shop.html", {}).render("shop.html", s=shop)
    return Page("shop.html", f"The shop: {shop.name}", html, (), "", "shop", Findable("page", tuple(fields)))


def machine_page(book: Book, machine: Machine) -> Page:
    """One machine: its facts, its feet seen from above, the procedures for it."""
    uri = f"machines/{machine.id}.html"
    writer = Writer(book, uri, {})
    procedures = [p for p in book.procedures.values() if not p.machines or machine.id in p.machines]
    levelling = machine.data.get("levelling")
    # The preview shows a machine with faults too, so that what is wrong is seen where it is mended.
    faults = [str(fault) for _, fault in layout_faults(levelling)] if levelling else []
    records = records_html(writer, machine.id)
    html = writer.render(
        "machine.html",
        m=machine,
        procedures=procedures,
        levelling=levelling_form(machine.id, levelling, book.workshop.defaults) if levelling and not faults else "",
        faults=faults,
        drawings=machine_drawings(machine) if not faults else (),
        records=records,
    )
    fields = (("title", machine.name), ("other name", machine.kind), *(("fact", f"{a} {b}") for a, b in machine.facts))
    return Page(
        uri,
        machine.name,
        html,
        (
            *((Heading(2, "levelling", LEVELLING),) if levelling else ()),
            Heading(2, "procedures", "Procedures for it"),
            *((Heading(2, "records", "Record of jobs"),) if records else ()),
        ),
        "",
        "shop",
        Findable("machine", fields),
        scripts=LEVELLING_SCRIPTS if levelling else (),
        crumbs=(("The shop", "shop.html"),),
    )
