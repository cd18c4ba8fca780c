"""Drawings and signs as HTML: what draw/ computes, or a picture of the shop's own."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from markupsafe import Markup

from fettlebook.book.book import Book
from fettlebook.book.pictures import clean_copies, picture_path
from fettlebook.book.procedure import Figure
from fettlebook.book.shop import Machine
from fettlebook.draw.catalogue import drawings
from fettlebook.draw.signs import sign, signs
from fettlebook.tables.definition import BadValues


@cache
def sign_files() -> dict[str, str]:
    """Every safety sign as a file of the site: SVG by uri."""
    return {f"assets/signs/{number}.svg": sign(number) for number in signs()}


def sign_picture(number: str, url: Callable[[str], str]) -> Markup:
    """A safety sign with its title in words; nothing where there is none of that number."""
    if number not in signs():
        return Markup("")
    title = f"Sign {number}: {signs()[number]['title']}"
    return Markup('<img src="{}" alt="{}" width="100" height="100">').format(url(f"assets/signs/{number}.svg"), title)


def drawing(book: Book, figure: Figure) -> Markup | None:
    """A figure's picture with its words for those who cannot see it; None where it cannot be drawn (the check has said why)."""
    if figure.image:
        return _photograph(book, figure)
    if figure.draw not in drawings():
        return None
    try:
        svg = drawings()[figure.draw].svg(figure.given, figure.alt, book.workshop.defaults)
    except BadValues:
        return None
    return Markup('<div role="img" aria-label="{}">{}</div>').format(figure.alt, Markup(svg))


def _photograph(book: Book, figure: Figure) -> Markup | None:
    path = picture_path(book, figure)
    copies = clean_copies(path) if path else {}
    if not copies:
        return None
    sizes = ", ".join(f"../pictures/{name} {width}w" for width, (name, _) in copies.items())
    return Markup(
        '<img src="../pictures/{}" srcset="{}" sizes="(min-width: 700px) 42rem, 92vw" alt="{}" loading="lazy">'
    ).format(copies[min(copies)][0], sizes, figure.alt)


def picture_files(book: Book) -> dict[str, bytes]:
    """Every picture that a procedure shows, in each of its sizes, by uri."""
    figures = [step.figure for p in book.procedures.values() for step in p.steps if step.figure and step.figure.image]
    paths = [path for figure in figures if (path := picture_path(book, figure))]
    return {f"pictures/{name}": content for path in paths for name, content in clean_copies(path).values()}


def drawings_for_table(name: str) -> list[dict[str, Any]]:
    """The drawings that belong on a table's page, at their default parameters."""
    found = []
    for drawn_thing in drawings().values():
        if name in drawn_thing.tables:
            found.append({"title": drawn_thing.title, "svg": Markup(drawn_thing.svg({}))})
    return found


def machine_drawings(machine: Machine) -> list[Markup]:
    """The feet and stations of a machine from above, when its file says where they are."""
    levelling = machine.data.get("levelling")
    if not levelling or "jacks-plan" not in drawings():
        return []
    return [Markup(drawings()["jacks-plan"].svg({"machine": levelling}))]
