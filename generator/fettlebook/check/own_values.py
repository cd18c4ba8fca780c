"""What the shop says of itself for tables and drawings: its own values under defaults: in workshop.yml, and the feet and stations of its machines.

They are tried here, whether or not a procedure asks for a table that reads them: the pages of tables, the form of a machine and what
hangs on the wall do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.places import Finding
from fettlebook.book.shop import Machine
from fettlebook.check.known import nearest
from fettlebook.draw.catalogue import drawings
from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.levelling_layout import layout_faults

RULES = {
    "shop-value": "a value of the shop's own is one that a table or a drawing reads, and one that can be read",
    "machine-levelling": "a machine's feet and stations are such that jack moves can be worked out from them",
}


def book_faults(book: Book) -> Iterator[Finding]:
    """Values that nothing reads or that are refused, and machines that cannot be levelled as they are written."""
    workshop = book.workshop
    read, refused = value_faults(workshop.defaults)
    for key in workshop.defaults:
        place = workshop.spots.get(key, workshop.place)
        if key not in read:
            hint = nearest(key, read, f"there is {', '.join(sorted(read))}")
            yield Finding(place, f'no table reads a value "{key}"', "shop-value", "it would never be used", hint)
        elif key in refused:
            yield Finding(place, f"{key}: {refused[key].what}", "shop-value", hint=refused[key].hint)
    for machine in book.machines.values():
        yield from _levelling(machine)


def value_faults(values: Mapping[str, Any]) -> tuple[frozenset[str], dict[str, BadValue]]:
    """The names that some table or drawing reads, and why VALUES are refused, by name."""
    asked = [(p, p.shop) for p in _parameters() if p.shop]
    refused: dict[str, BadValue] = {}
    for parameter, key in asked:
        if key in values and key not in refused:
            try:
                parameter.read(values[key])
            except BadValue as bad:
                refused[key] = bad
    return frozenset(key for _, key in asked), refused


def _parameters() -> Iterator[Parameter]:
    for table in tables().values():
        yield from table.parameters
    for drawing in drawings().values():
        yield from drawing.parameters


def _levelling(machine: Machine) -> Iterator[Finding]:
    levelling = machine.data.get("levelling")
    for part, fault in layout_faults(levelling) if levelling else ():
        place = machine.spots.get(part) or machine.spots.get("levelling", machine.place)
        yield Finding(place, fault.what, "machine-levelling", hint=fault.hint)
