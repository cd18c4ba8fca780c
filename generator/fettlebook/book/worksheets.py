"""A worksheet as an object: what to measure, how the results are worked out, and how its worked example is written."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fettlebook.book.formula_writing import constant_number, line, plain_number, sign_of
from fettlebook.book.formulas import CONSTANTS, Name, Node
from fettlebook.book.places import Place
from fettlebook.book.text import Text
from fettlebook.tables.definition import Cite
from fettlebook.tables.figures import OTHER_UNIT, in_other_unit, written
from fettlebook.tables.quantities import UNITS


@dataclass(frozen=True)
class Option:
    """One thing to choose: its label, and its values by column."""

    label: str
    values: Mapping[str, float | None]


@dataclass(frozen=True)
class Brought:
    """What a choice brings into formulas, as `id.name`; a sign of its own in the printed formula where one is written.

    decimals  as in the table; None for every digit
    """

    name: str
    label: str
    sign: str
    unit: str
    decimals: int | None


@dataclass(frozen=True)
class Input:
    """What the reader measures or chooses.

    kind     number, choice or flag
    sign     short sign in the formula; the id where none is written
    at       places where the reading is repeated, by slug: name; {} for a single one
    options  for a choice; columns tells what each brings
    example  value in the worked example (a mapping by place for a repeated one, a label for a choice)
    """

    id: str
    name: Text
    kind: str
    unit: str
    sign: str
    decimals: int
    low: float | None
    high: float | None
    default: Any
    at: Mapping[str, str]
    options: tuple[Option, ...]
    columns: tuple[Brought, ...]
    example: Any
    help: Text | None
    place: Place

    @property
    def required(self) -> bool:
        return self.default is None and self.kind != "flag"


@dataclass(frozen=True)
class Constant:
    """A figure that does not change, with its unit and its source."""

    id: str
    name: Text
    sign: str
    value: float
    unit: str
    source: Cite | None
    place: Place


@dataclass(frozen=True)
class Result:
    """What is worked out: the formula, the unit and decimals in which it is shown, its limits, and what to do outside.

    example  value in the worked example, or the words for why there is none
    yes_no   the result is a yes or no
    """

    id: str
    name: Text
    sign: str
    written: str
    formula: Node
    unit: str
    decimals: int
    low: float | None
    high: float | None
    outside: Text | None
    help: Text | None
    example: float | bool | str
    yes_no: bool
    place: Place


@dataclass(frozen=True)
class Worksheet:
    """A worksheet: inputs, constants and results in the order in which they are worked."""

    id: str
    title: str
    about: Text
    inputs: tuple[Input, ...]
    constants: tuple[Constant, ...]
    results: tuple[Result, ...]
    sources: tuple[Cite, ...]
    note: Text | None
    place: Place

    @property
    def signs(self) -> dict[str, str]:
        """The short sign of each name in the formulas."""
        named: list[Input | Constant | Result] = [*self.inputs, *self.constants, *self.results]
        found = {one.id: one.sign for one in named}
        for one in self.inputs:
            found |= {f"{one.id}.{slug}": f"{one.sign} {place}" for slug, place in one.at.items()}
            found |= {f"{one.id}.{c.name}": c.sign or f"{c.label.lower()} of {one.sign}" for c in one.columns}
        return found


def unit_name(unit: str) -> str:
    """A unit as written: mm²/s, and mm² for a product of units.

    >>> unit_name("um/(m K)"), unit_name("N/mm2")
    ('µm/(m K)', 'N/mm²')
    """
    if unit in UNITS:
        return UNITS[unit].written
    return re.sub(r"(?<=[a-z])[23]\b", lambda m: "²³"[int(m[0]) - 2], re.sub(r"\bum\b", "µm", unit))


def figure(value: float, unit: str, decimals: int) -> str:
    """A figure with its unit, and in the inch system beside it where that has a unit for it.

    >>> figure(2.99, "mm", 2)
    '2.99 mm (0.1177 in)'
    """
    shown = _joined(written(value, decimals), unit_name(unit))
    return f"{shown} ({_joined(*in_other_unit(value, unit, decimals))})" if unit in OTHER_UNIT else shown


def shown(number: float | bool | str, result: Result) -> str:
    """A result as it is shown, in both systems of units; yes or no; or the words for why there is none."""
    if isinstance(number, bool):
        return "yes" if number else "no"
    return number if isinstance(number, str) else figure(number, result.unit, result.decimals)


def brought(one: Input, option: Option | None) -> list[tuple[Brought, str]]:
    """What a choice brings: each column with its figure as written (in both systems of units), a dash for none."""
    found = []
    for column in one.columns:
        value = option.values.get(column.name) if option else None
        decimals = column.decimals
        if value is None:
            found.append((column, "–"))
        elif decimals is None:
            found.append((column, _joined(plain_number(value), unit_name(column.unit))))
        else:
            found.append((column, figure(value, column.unit, decimals)))
    return found


def chosen(one: Input, label: Any) -> Option | None:
    """The option of that label."""
    return next((option for option in one.options if option.label == label), None)


def limits_words(result: Result) -> str:
    """A result's limits in words, in both systems of units; nothing where there are none."""
    low, high = (None if x is None else figure(x, result.unit, result.decimals) for x in (result.low, result.high))
    if low and high:
        return f"Limits: {low} to {high}"
    return f"At least {low}" if low else f"At most {high}" if high else ""


def formula_line(sheet: Worksheet, result: Result) -> str:
    """The formula in one line with the short signs."""
    return line(result.formula, lambda name: sign_of(name, sheet.signs))


def example_line(sheet: Worksheet, result: Result) -> str:
    """The formula in one line with the worked example's numbers put in."""
    known = _example_values(sheet)
    return line(result.formula, lambda name: known.get(full_name(name), sign_of(name, sheet.signs)))


def full_name(name: Name) -> str:
    """A name with its part: `thread.pitch_mm`."""
    return f"{name.id}.{name.part}" if name.part else name.id


def _joined(digits: str, unit: str) -> str:
    return f"{digits.replace('-', '−')}{unit if unit == '°' else f' {unit}' if unit else ''}"


def _example_values(sheet: Worksheet) -> dict[str, str]:
    found = {name: constant_number(name) for name in CONSTANTS}
    for one in sheet.inputs:
        found |= _example_of(one)
    found |= {c.id: plain_number(c.value) for c in sheet.constants}
    found |= {
        r.id: "yes" if r.example is True else "no" if r.example is False else written(r.example, r.decimals)
        for r in sheet.results
        if not isinstance(r.example, str)
    }
    return {name: f"(−{digits[1:]})" if digits.startswith("-") else digits for name, digits in found.items()}


def _example_of(one: Input) -> dict[str, str]:
    """An input's figures in the worked example, by name and part."""
    if one.kind == "flag":
        return {one.id: "yes" if one.example is True else "no"}
    if one.kind == "choice":
        option = chosen(one, one.example)
        values = option.values if option else {}
        return {f"{one.id}.{column}": f"{v:.6g}" for column, v in values.items() if v is not None}
    if isinstance(one.example, dict):
        each = {f"{one.id}.{slug}": written(v, one.decimals) for slug, v in one.example.items()}
        return each | {one.id: ", ".join(digits.replace("-", "−") for digits in each.values())}
    return {one.id: written(one.example, one.decimals)}
