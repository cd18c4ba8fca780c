"""The page that starts from what is heard, felt, smelt or seen and leads to the cause and the procedure."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass

from fettlebook.book.book import Book
from fettlebook.book.groups import GROUPS
from fettlebook.book.procedure import Procedure
from fettlebook.pages.page import Findable, Heading, Page
from fettlebook.pages.writer import Writer

SENSES = {
    "heard": "Heard", "felt": "Felt", "smelt": "Smelt", "seen": "Seen",
}  # fmt: skip
WORDS = {
    "smelt": r"smell\w*|stink\w*|reek\w*",
    "heard": r"squeal\w*|hum|hums|rumbl\w*|whin\w*|click\w*|grind\w*|knock\w*|loud\w*|howl\w*|rattl\w*|chatter\w*|ring|rings|hollow|noise|noisy|shriek\w*|spits",
    "felt": r"hot|motor warm|front warm|rock|rocks|rocked|shake\w*|stiff|tight|slack|loose\w*|play|slip|slips|stick|sticks|drag|drags|heavy|binds?|hand|labours|jumps?|drop in|go in|goes in|stops short|will not move|turned or rattled",
}
"""Words of trade English by which a symptom is felt, heard or smelt; one that has none of them is seen."""
ARTICLE = re.compile(r"^(a|an|the|one|no)\s+", re.I)


@dataclass(frozen=True)
class Entry:
    """A symptom, the procedure that puts it right, the place in it, and the cause where the procedure names one."""

    words: str
    procedure: Procedure
    fragment: str = ""
    cause: str = ""


def senses(words: str) -> tuple[str, ...]:
    """By which senses a symptom is noticed: all of heard, felt and smelt that its words name, or else seen.

    >>> senses("Belt squeals at the start or smells of rubber"), senses("Rust on the ways")
    (('heard', 'smelt'), ('seen',))
    """
    named = tuple(name for name in SENSES if name in WORDS and re.search(rf"\b({WORDS[name]})\b", words, re.I))
    return named or ("seen",)


def entries(book: Book) -> list[Entry]:
    """Every symptom and every trouble of the book, in the order of the alphabet without articles."""
    found = []
    for procedure in book.procedures.values():
        writer = Writer(book, "symptoms.html", procedure.values)
        found += [Entry(symptom, procedure) for symptom in procedure.symptoms]
        found += [
            Entry(writer.plain(t.seen), procedure, f"#trouble-{n}", writer.plain(t.cause))
            for n, t in enumerate(procedure.trouble, 1)
        ]
    return sorted(found, key=lambda e: (ARTICLE.sub("", e.words).lower(), e.procedure.id))


def symptoms_page(book: Book) -> Page:
    """Four lists by sense, each under the subjects of the book."""
    by_sense: dict[str, dict[str, list[Entry]]] = defaultdict(lambda: defaultdict(list))
    for entry in entries(book):
        for sense in senses(entry.words):
            by_sense[sense][entry.procedure.group].append(entry)
    shown = [
        (id, title, [(GROUPS[group], by_sense[id][group]) for group in GROUPS if by_sense[id][group]])
        for id, title in SENSES.items()
        if id in by_sense
    ]
    title = "Start from the symptom"
    html = Writer(book, "symptoms.html", {}).render("symptoms.html", title=title, senses=shown)
    headings = tuple(Heading(2, id, words) for id, words, _ in shown)
    return Page("symptoms.html", title, html, headings, "", "symptoms", Findable("page", (("title", title),)))
