"""Paired units: a figure and the same figure in another unit, in brackets behind it, agree.

`138 °C (170 °F)` stands in a printed manual and contradicts itself. Each figure counts as rounded to its last digit that is
not nought, and a difference of temperatures is understood as well: 28 °C (50 °F).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from fettlebook.book.book import Book
from fettlebook.book.places import Finding, Place
from fettlebook.book.procedure import Procedure
from fettlebook.book.text import Text
from fettlebook.check.known import Known
from fettlebook.tables.figures import significant
from fettlebook.tables.quantities import UNITS, Unreadable, convert, read_number, unit_named

RULES = {"paired-units": "a figure and its counterpart in brackets agree"}
NUMBER = r"[-−]?\d+(?:[.,]\d+)?(?:/\d+)?"
UNIT = r"[A-Za-z°µ²\"′″]{1,6}(?:/[a-z0-9]{1,4})?"
PAIR = re.compile(rf"(?<![\w.,/])({NUMBER})\s?({UNIT})\s?\((?:about\s)?({NUMBER})\s?({UNIT})\)")


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Every pair in a procedure's words that does not agree."""
    for place, texts in _words(procedure):
        for text in texts:
            if text is not None and "(" in text.written:
                yield from in_words(text.written, place)


def book_faults(book: Book) -> Iterator[Finding]:
    """Every such pair among the facts of the shop's machines."""
    for machine in book.machines.values():
        for _, value in machine.facts:
            yield from in_words(value, machine.place)


def in_words(words: str, place: Place) -> Iterator[Finding]:
    """The pairs in WORDS that do not agree."""
    for match in PAIR.finditer(words):
        try:
            yield from _pair(match, place)
        except Unreadable:
            continue  # a unit that is not known here says nothing


def _words(procedure: Procedure) -> Iterator[tuple[Place, Iterable[Text | None]]]:
    yield procedure.place, (procedure.summary, procedure.when)
    for caution in procedure.cautions:
        yield caution.place, (caution.hazard, caution.harm, caution.avoid)
    for stage in procedure.stages:
        yield stage.place, (stage.intro,)
    for step in procedure.steps:
        yield step.place, (step.do, step.check, step.why, step.hold)
    for one in procedure.trouble:
        yield one.place, (one.seen, one.cause, one.do)


def _pair(match: re.Match[str], place: Place) -> Iterator[Finding]:
    first, one, second, other = match[1], unit_named(match[2]), match[3], unit_named(match[4])
    a, b, size = read_number(first), read_number(second), UNITS[one].factor / UNITS[other].factor
    if one == other or UNITS[one].dimension != UNITS[other].dimension:
        return
    room = _rounding(first) * size + _rounding(second) + 1e-9 * abs(b)
    if min(abs(convert(a, one, other) - b), abs(a * size - b)) <= room:
        return
    right, back = significant(convert(a, one, other), 3), significant(convert(b, other, one), 3)
    yield Finding(place, f'"{match[0]}" does not agree with itself', "paired-units",
                  f"{first} {match[2]} is {right} {match[4]}, and {second} {match[4]} is {back} {match[2]}", "find out which is meant and mend the other")  # fmt: skip


def _rounding(written: str) -> float:
    """Half of the last digit's place; of the last digit that is not nought in a whole number; nothing for a fraction."""
    if "/" in written:
        return 0.0
    whole, point, decimals = written.replace(",", ".").partition(".")
    if point:
        return 0.5 * 10.0 ** -len(decimals)
    return 0.5 * 10.0 ** (len(whole) - len(whole.rstrip("0"))) if whole.strip("-−0") else 0.5
