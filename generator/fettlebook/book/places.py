"""Where something was written, and what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass

from fettlebook.book.compact import compact


@compact
@dataclass(frozen=True, order=True, slots=True)
class Place:
    """A place in a file of the book: path relative to the book's folder, line and column from 1 (0: the whole file)."""

    file: str
    line: int = 0
    column: int = 0


@dataclass(frozen=True, order=True)
class Finding:
    """One fault in what a person wrote.

    place   where
    what    what is wrong, with the value itself
    rule    short name of the rule, as in the reference of rules (`unknown-key`, `no-check`)
    why     why it is a fault, in words
    hint    what to write instead
    mild    advice: it is said, and nothing is refused because of it
    """

    place: Place
    what: str
    rule: str
    why: str = ""
    hint: str = ""
    mild: bool = False
