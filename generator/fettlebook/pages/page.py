"""A page of the site, before any site builder has seen it."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Heading:
    """A heading that the list of contents shows: level 2 or 3, the fragment, and the words."""

    level: int
    id: str
    words: str


@dataclass(frozen=True)
class Findable:
    """What search knows of a page.

    kind    shown with a result: procedure, table, machine, word, page
    fields  (why it was found, words): the kinds are title, other name, symptom, tool, material, thread, heading, machine
    body    all other words
    """

    kind: str
    fields: tuple[tuple[str, str], ...]
    body: str = ""


@dataclass(frozen=True)
class Page:
    """uri from the site's root (`procedures/x.html`), title, main content as HTML with one h1, contents, search."""

    uri: str
    title: str
    html: str
    headings: tuple[Heading, ...] = ()
    description: str = ""
    section: str = ""
    findable: Findable | None = None
    scripts: tuple[str, ...] = ()
    crumbs: tuple[tuple[str, str], ...] = field(default=())
