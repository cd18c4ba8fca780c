"""The shop's own things as objects, from what their files say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fettlebook.book.leniently import is_number, map_of, maps_in, spotted, without_places, words_in, words_of
from fettlebook.book.places import Place
from fettlebook.book.shop import Machine, Oil, Term, Workshop
from fettlebook.book.strict_yaml import Map
from fettlebook.book.text import Text, text

MACHINE_WORDS = {"name", "kind", "about", "came_from", "serial", "facts", "data"}
"""Keys of a machine's file that are not figures for tables and drawings."""


def workshop_of(t: Map) -> Workshop:
    """The workshop, from the content of shop/workshop.yml."""
    paper, name = words_of(t.get("paper")).lower(), "procedures/shop/workshop.yml"
    return Workshop(
        name=words_of(t.get("name")) or "Workshop", town=words_of(t.get("town")), about=_text(t.get("about")), paper=paper if paper == "letter" else "a4",
        units=words_of(t.get("units")) or "metric", oils=tuple(_oil(one) for one in maps_in(t.get("oils"))),
        defaults=without_places(map_of(t.get("defaults"))), emergency=tuple(_text(one) for one, _ in spotted(t.get("emergency"))),
        people=tuple({key: words_of(one.get(key)) for key in ("name", "role")} for one in maps_in(t.get("people"))),
        place=Place(name, *t.at), spots={key: Place(name, *spot) for key, spot in map_of(t.get("defaults")).values_at.items()},
    )  # fmt: skip


def _oil(t: Map) -> Oil:
    grade, kind, note = words_of(t.get("grade")), words_of(t.get("kind")), words_of(t.get("note"))
    return Oil(words_of(t.get("id")), grade, kind, _number(t.get("litres")), _number(t.get("index")), note)


def machine_of(t: Map, id: str, name: str) -> Machine:
    """The machine called ID, from the content of the file NAME."""
    facts = tuple((words_of(one.get("label")), words_of(one.get("value"))) for one in maps_in(t.get("facts")))
    data = {key: value for key, value in t.items() if key not in MACHINE_WORDS} | map_of(t.get("data"))
    return Machine(id, words_of(t.get("name")), words_of(t.get("kind")), _text(t.get("about")), words_of(t.get("came_from")), words_of(t.get("serial")),
                   facts, without_places(data), Place(name, *t.at), dict(_levelling_spots(t, name)))  # fmt: skip


def _levelling_spots(t: Map, name: str) -> Iterator[tuple[str, Place]]:
    """Where the levelling of a machine's file stands, and each foot and station of it."""
    holder = next((one for one in (map_of(t.get("data")), t) if "levelling" in one), t)
    if spot := holder.values_at.get("levelling"):
        yield "levelling", Place(name, *spot)
    for key in ("feet", "stations"):
        for n, (_, spot) in enumerate(spotted(map_of(holder.get("levelling")).get(key))):
            yield f"{key} {n}", Place(name, *spot)


def terms_of(trees: Any) -> Iterator[Term]:
    """The words of the glossary, from the content of shop/glossary.yml."""
    for t in maps_in(trees):
        place = Place("procedures/shop/glossary.yml", *t.at)
        british, american = words_of(t.get("british")), words_of(t.get("american"))
        yield Term(words_of(t.get("term")), _text(t.get("means")), british, american, words_in(t.get("also")), place)


def _text(value: Any) -> Text:
    return text(words_of(value))


def _number(value: Any) -> float | None:
    return float(value) if is_number(value) else None
