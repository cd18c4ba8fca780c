"""A worksheet out of what an author wrote: inputs, constants and results in YAML become objects, every fault with its place.

Formulas are read, their units checked and their worked example computed here, when the book is read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from keyword import iskeyword
from typing import Any

from fettlebook.book.computed import Shop
from fettlebook.book.formula_check import WrongFormula, checked
from fettlebook.book.formula_values import NoAnswer, value
from fettlebook.book.formulas import CONSTANTS, FUNCTIONS, OVER_READINGS, FormulaFault, Node, formula, names
from fettlebook.book.places import Finding, Place
from fettlebook.book.scalar_places import spot_in
from fettlebook.book.strict_yaml import Map, Seq, Spot
from fettlebook.book.text import Text, text
from fettlebook.book.units import PLAIN, YES_OR_NO, Measure, measure
from fettlebook.book.worksheet_choices import choices
from fettlebook.book.worksheets import Constant, Input, Option, Result, Worksheet
from fettlebook.tables.definition import Cite
from fettlebook.tables.quantities import UNITS, Unreadable, read_quantity, unit_named


def worksheet(tree: Map, id: str, file: str, shop: Shop) -> tuple[Worksheet | None, list[Finding]]:
    """The worksheet that TREE describes, and every fault in it. None when it has faults."""
    work = _Assembly(file, shop)
    found = work.worksheet(tree, id)
    return (None if work.findings else found), work.findings


@dataclass
class _Assembly:
    file: str
    shop: Shop
    findings: list[Finding] = field(default_factory=list)
    units: dict[str, Measure] = field(default_factory=dict)
    """What each name measures, parts as `id.part`."""
    shapes: dict[str, list[str]] = field(default_factory=dict)
    """Parts of each name, [] for a plain one."""
    example: dict[str, Any] = field(default_factory=dict)
    unknown: set[str] = field(default_factory=set)
    """Results with a fault; nothing more is said of what is worked out from them."""

    def fault(self, spot: Spot, what: str, rule: str, why: str = "", hint: str = "") -> None:
        self.findings.append(Finding(Place(self.file, *spot), what, rule, why, hint))

    def worksheet(self, t: Map, id: str) -> Worksheet:
        inputs = tuple(self.input(one) for one in _maps(t.get("inputs")))
        constants = tuple(self.constant(one) for one in _maps(t.get("constants")))
        results = tuple(made for one in _maps(t.get("results")) if (made := self.result(one)))
        if not results and not self.findings:
            self.fault(t.at, "the worksheet works nothing out", "no-result", hint="write results: with a formula")
        if not self.findings:
            self.unused(t)
        return Worksheet(
            id, str(t.get("title", "")), text(str(t.get("about", ""))), inputs, constants, results, tuple(self.cites(t)),
            _optional(t, "note"), Place(self.file, *t.at),
        )  # fmt: skip

    # Names

    def new_name(self, t: Map) -> str:
        id, spot = str(t.get("id", "")), t.values_at.get("id", t.at)
        if id in self.shapes:
            self.fault(
                spot,
                f'the name "{id}" stands twice',
                "twice",
                hint="give each input, constant and result a name of its own",
            )
        if iskeyword(id):
            self.fault(
                spot,
                f'"{id}" is a word of the formula language',
                "reserved-name",
                hint=f"write another, such as {id}_1",
            )
        if id in FUNCTIONS or id in OVER_READINGS or id in CONSTANTS:
            self.fault(
                spot,
                f'"{id}" is a name of the formula language',
                "reserved-name",
                hint=f"write another, such as {id}_1",
            )
        self.shapes[id] = []
        return id

    def measure_of(self, t: Map, key: str = "unit") -> tuple[str, Measure]:
        """The unit as a key where it is a plain one, and what it measures."""
        unit = str(t.get(key, "") or "")
        try:
            found = measure(unit)
        except Unreadable as fault:
            self.fault(t.values_at[key], str(fault), "unknown-unit", hint="write one like mm, deg, N/mm2 or um/(m K)")
            return unit, PLAIN
        try:
            return unit_named(unit), found
        except Unreadable:
            return unit, found

    def figure(self, t: Map, key: str, unit: str) -> float | None:
        """A number, or a figure with its unit, in UNIT; None where none is written."""
        if t.get(key) is None:
            return None
        try:
            return read_quantity(
                t[key] if isinstance(t[key], (int, float)) else str(t[key]), unit if unit in UNITS else ""
            )
        except Unreadable as fault:
            self.fault(
                t.values_at[key], f"{key}: {fault}", "figure", hint=f"write a number{f' in {unit}' if unit else ''}"
            )
            return None

    # Inputs

    def input(self, t: Map) -> Input:
        id = self.new_name(t)
        kind = "choice" if "choose" in t else "flag" if t.get("kind") == "flag" else "number"
        unit, what = self.measure_of(t)
        options, columns = choices(t, self.shop, self.fault) if kind == "choice" else ((), ())
        at = {_slug(str(place)): str(place) for place in t.get("at", ())} if isinstance(t.get("at"), Seq) else {}
        if isinstance(t.get("at"), Seq) and len(at) < len(t["at"]):
            self.fault(
                t.values_at["at"],
                "two of these places have the same name",
                "twice",
                hint="give each place a name of its own",
            )
        labels = [option.label for option in options]
        if len(set(labels)) < len(labels):
            again = next(label for label in labels if labels.count(label) > 1)
            self.fault(
                t.values_at["choose"], f'"{again}" can be chosen twice', "twice", hint="give each a label of its own"
            )
        low, high, default = (
            self.figure(t, key, unit) if kind == "number" else None for key in ("low", "high", "default")
        )
        if low is not None and high is not None and low > high:
            self.fault(t.values_at["low"], f"low {t['low']} is above high {t['high']}", "limits")
        if default is not None and ((low is not None and default < low) or (high is not None and default > high)):
            self.fault(t.values_at["default"], f"default {t['default']} is outside low and high", "limits")
        if kind == "flag":
            self.units[id] = YES_OR_NO
            default = t.get("default") is True
        elif kind == "choice":
            self.shapes[id] = [column.name for column in columns]
            self.units |= {f"{id}.{column.name}": self.of(column.unit, t) for column in columns}
            default = t.get("default")
        else:
            self.units[id] = what
            self.shapes[id] = list(at)
            self.units |= {f"{id}.{slug}": what for slug in at}
        example = self.example_of(t, id, kind, unit, at, options, default)
        return Input(
            id, text(str(t.get("name", id))), kind, unit, str(t.get("sign") or id.replace("_", " ")), _decimals(t, unit), low, high, default, at,
            options, columns, example, _optional(t, "help"), Place(self.file, *t.at),
        )  # fmt: skip

    def of(self, unit: str, t: Map) -> Measure:
        try:
            return measure(unit)
        except Unreadable as fault:
            self.fault(t.values_at.get("units", t.at), str(fault), "unknown-unit")
            return PLAIN

    def example_of(
        self, t: Map, id: str, kind: str, unit: str, at: Mapping[str, str], options: tuple[Option, ...], default: Any
    ) -> Any:
        shown = t.get("example", default)
        if kind == "flag":
            self.example[id] = shown is True
        elif kind == "choice":
            picked = next(
                (o for o in options if o.label == str(shown)), options[0] if options and shown is None else None
            )
            if picked is None and options:
                near = get_close_matches(str(shown), [o.label for o in options], 1, 0.4)
                self.fault(
                    t.values_at.get("example", t.values_at.get("default", t.at)),
                    f'there is nothing called "{shown}" to choose',
                    "no-option",
                    hint=f'did you mean "{near[0]}"?' if near else "",
                )
            self.example[id] = dict(picked.values) if picked else {}
            return picked.label if picked else ""
        elif at:
            given = shown if isinstance(shown, Seq) else [shown] * len(at)
            numbers = [read_or_none(one, unit) for one in given]
            if len(numbers) != len(at) or None in numbers:
                self.fault(
                    t.values_at.get("example", t.at),
                    f"the worked example needs a reading at each of {len(at)} places",
                    "example",
                    hint="write example: [one, for, each]",
                )
                numbers = [1.0] * len(at)
            self.example[id] = dict(zip(at, numbers, strict=True))
        else:
            number = read_or_none(shown, unit) if shown is not None else None
            if number is None:
                self.fault(
                    t.values_at.get("example", t.at),
                    "the worked example has no figure for this input",
                    "example",
                    "the printed sheet shows one",
                    "write example:",
                )
            self.example[id] = 1.0 if number is None else number
        return self.example[id]

    # Constants and results

    def constant(self, t: Map) -> Constant:
        id = self.new_name(t)
        unit, what = self.measure_of(t)
        number = self.figure(t, "value", unit)
        self.units[id] = what
        self.example[id] = number if number is not None else 1.0
        source = t.get("source")
        cite = (
            Cite(str(source.get("cite", "")), str(source.get("at", "")), str(source.get("how", "read")))
            if isinstance(source, Map)
            else None
        )
        return Constant(
            id,
            text(str(t.get("name", id))),
            str(t.get("sign") or id.replace("_", " ")),
            self.example[id],
            unit,
            cite,
            Place(self.file, *t.at),
        )

    def result(self, t: Map) -> Result | None:
        id = self.new_name(t)
        unit, wanted = self.measure_of(t)
        node, yes_no = self.checked_formula(t, wanted)
        low, high = self.figure(t, "low", unit), self.figure(t, "high", unit)
        if low is not None and high is not None and low > high:
            self.fault(t.values_at["low"], f"low {t['low']} is above high {t['high']}", "limits")
        self.units[id] = YES_OR_NO if yes_no else wanted
        if node is None or any(name.id in self.unknown for name in names(node)):
            self.unknown.add(id)
            return None
        found: float | bool | str
        try:
            found = value(node, self.example)
            self.example[id] = found
        except NoAnswer as fault:
            found = str(fault)
            self.fault(
                t.values_at["formula"],
                f"the worked example gives nothing here: {fault}",
                "example",
                hint="choose other figures under example:",
            )
        return Result(
            id, text(str(t.get("name", id))), str(t.get("sign") or id.replace("_", " ")), str(t["formula"]), node, unit, _decimals(t, unit), low, high,
            _optional(t, "outside"), _optional(t, "help"), found, yes_no, Place(self.file, *t.at),
        )  # fmt: skip

    def checked_formula(self, t: Map, wanted: Measure) -> tuple[Node | None, bool]:
        """The formula and whether it gives a yes or no; None where it has a fault, which is noted at its own sign."""
        source = str(t.get("formula", ""))
        try:
            return checked(source, self.units, self.shapes, wanted, str(t.get("unit") or ""))
        except WrongFormula as fault:
            lead = len(source) - len(source.lstrip())
            spot = spot_in(t, "formula", source, lead + fault.at)
            self.fault(spot, fault.what, fault.rule, fault.why, fault.hint)
            return None, False

    def unused(self, t: Map) -> None:
        used = {name.id for one in _maps(t.get("results")) if (node := _quietly(one)) for name in names(node)}
        for one in (*_maps(t.get("inputs")), *_maps(t.get("constants"))):
            if str(one.get("id")) not in used:
                self.fault(
                    one.at,
                    f'"{one.get("id")}" is used in no formula',
                    "unused-input",
                    "who measures something wants it used",
                    "use it or leave it out",
                )

    def cites(self, t: Map) -> Iterator[Cite]:
        for one in _maps(t.get("sources")):
            yield Cite(str(one.get("cite", "")), str(one.get("at", "")), str(one.get("how", "read")))


def read_or_none(shown: Any, unit: str) -> float | None:
    """A figure in UNIT, or None for what is not one."""
    try:
        return read_quantity(shown if isinstance(shown, (int, float)) else str(shown), unit if unit in UNITS else "")
    except Unreadable:
        return None


def _quietly(t: Map) -> Node | None:
    try:
        return formula(str(t.get("formula", "")))
    except FormulaFault:
        return None


def _decimals(t: Map, unit: str) -> int:
    """Decimals as written; otherwise what the job can use."""
    asked = t.get("decimals")
    if isinstance(asked, int) and 0 <= asked <= 6:
        return int(asked)
    return {
        "mm": 2,
        "mm/m": 3,
        "degC": 0,
        "deg": 2,
        "rpm": 0,
        "kg": 0,
        "l": 1,
        "N": 0,
        "kN": 2,
        "Nm": 1,
        "percent": 1,
    }.get(unit, 2)


def _slug(place: str) -> str:
    slug = "".join(sign if sign.isalnum() and sign.isascii() else "_" for sign in place.lower()).strip("_")
    return slug if slug and not slug[0].isdigit() else f"at_{slug}"


def _optional(t: Map, key: str) -> Text | None:
    return text(str(t[key])) if t.get(key) is not None else None


def _maps(value: Any) -> list[Map]:
    return [one for one in value if isinstance(one, Map)] if isinstance(value, Seq) else []
