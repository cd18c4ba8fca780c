"""Sources as lines for paper: each title once, with all its places behind it."""

from __future__ import annotations

from collections.abc import Iterable

from fettlebook import data
from fettlebook.tables.definition import Cite
from fettlebook.tables.writing import source_line

Place = tuple[str, str, str]
"""(key of the source or "", title, place in it)."""


def place(cite: Cite) -> Place:
    """Where a table's figures come from."""
    title = data.sources().get(cite.key, {}).get("title", cite.key)
    return cite.key, title, source_line(cite).removeprefix(title).strip(", ")


def source_lines(places: Iterable[Place], words: str = "", named: bool = True) -> list[str]:
    """A line for each source, in the order of its first place.

    words   what is printed beside them; a source that it names by its key begins with that key
    named   False leaves out the places, where there is no room for them
    """
    found: dict[tuple[str, str], dict[str, None]] = {}
    for key, title, at in places:
        found.setdefault((key, title), {})[at] = None
    return [
        _line(key if key in words else "", title, [at for at in places_ if at] if named else [])
        for (key, title), places_ in found.items()
    ]


def _line(key: str, title: str, places: list[str]) -> str:
    return (f"{key}: " if key else "") + ", ".join(one for one in (title, "; ".join(places)) if one)
