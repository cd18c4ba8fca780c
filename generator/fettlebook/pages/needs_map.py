"""Which procedure needs which, as maps: one for each family of procedures that hang together."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from fettlebook.book.book import Book
from fettlebook.draw.order_map import Box, order_map
from fettlebook.pages.writer import Writer


def families(first: Mapping[str, tuple[str, ...]]) -> list[list[str]]:
    """Ids that hang together by what they need first, the largest family first; each in an order in which none waits for a later one."""
    family: dict[str, set[str]] = {}
    for id, needed in first.items():
        joined = {id, *needed}.union(*(family.get(one, set()) for one in (id, *needed)))
        family |= dict.fromkeys(joined, joined)
    different = {min(ids): ids for ids in family.values() if len(ids) > 1}
    return sorted((_in_turn(ids, first) for ids in different.values()), key=lambda ids: (-len(ids), ids))


def _in_turn(ids: set[str], first: Mapping[str, tuple[str, ...]]) -> list[str]:
    done: list[str] = []
    while waiting := sorted(ids - set(done)):
        ready = [id for id in waiting if set(first.get(id, ())) & ids <= set(done)]
        if not ready:
            return [*done, *waiting]
        done += ready
    return done


def needs_maps(writer: Writer, book: Book) -> list[Markup]:
    """A map for each family, its boxes leading to the procedures."""
    first = {p.id: tuple(id for id in p.first if id in book.procedures) for p in book.procedures.values()}
    made = []
    for ids in families(first):
        number = {id: n for n, id in enumerate(ids, 1)}
        boxes = [
            Box(
                number[id],
                book.procedures[id].title,
                tuple(sorted(number[one] for one in first[id])),
                False,
                writer.link(id),
            )
            for id in ids
        ]
        made.append(
            Markup(order_map(f"What comes before what: {book.procedures[ids[-1]].title}", boxes, numbered=False))
        )
    return made
