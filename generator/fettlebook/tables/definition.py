"""What a table is: its parameters, its columns, the function that computes it, and the one definition that serves
YAML, pages, print, CSV, JSON and the command line.

A table module ends with `TABLES = (Definition(...), ...)`; the catalogue finds it there. A Definition's `compute`
takes its parameters by keyword, with the unit in the name (`diameter_mm`), and gives a Table.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from fettlebook.tables.quantities import UNITS, Unreadable, read_number, read_quantity

REQUIRED: Any = object()
"""The default of a parameter that the reader must give."""

BARE_NUMBERS = re.compile(r"[-+\d.\s]*")

SUFFIX = {"mm": "mm", "in": "in", "degC": "c", "h": "h", "min": "min", "s": "s", "deg": "deg", "kg": "kg", "percent": "percent",
          "Hz": "hz", "V": "v", "mm2/s": "mm2_s", "mm/m": "mm_per_m", "rpm": "rpm", "m/min": "m_min", "Nm": "nm", "bar": "bar",
          "kW": "kw", "l": "l", "N": "n", "kN": "kn", "um": "um", "tpi": "tpi"}  # fmt: skip
"""How a unit is spelled at the end of an argument's name."""


class BadValue(ValueError):
    """A parameter's value that a table refuses. `what` says what is wrong and why, `hint` what to write instead."""

    def __init__(self, parameter: str, what: str, hint: str = "") -> None:
        self.parameter, self.what, self.hint = parameter, " ".join(what.split()), hint  # one line, whatever was pasted
        super().__init__(f"{parameter}: {self.what}" + (f"; {hint}" if hint else ""))


@dataclass(frozen=True)
class Cite:
    """A source: a key of data/sources, the clause, table or page, and how the figure is known.

    how: read (seen in the source), secondary (quoted elsewhere), computed, memory, practice.
    """

    key: str
    at: str = ""
    how: str = "read"


@dataclass(frozen=True)
class Column:
    """A column. `name` ends in its unit (`major_mm`); decimals None leaves text and whole numbers as they are.

    kind: number, text, flag (yes or no), colour (an sRGB value such as #d8d5d2), list.
    inch_decimals overrides the rule of figures.in_other_unit; significant asks for so many significant digits instead.
    """

    name: str
    label: str
    unit: str = ""
    decimals: int | None = None
    kind: str = "number"
    inch_decimals: int | None = None
    significant: int | None = None
    help: str = ""


@dataclass(frozen=True)
class Parameter:
    """Something the reader gives.

    name      as in YAML and after --with
    kind      quantity (a figure with UNIT), number, whole, text, choice, flag, mapping (only from YAML or the shop)
    unit      key of quantities.UNITS, the unit in which `compute` gets it; a bare number is taken to be in it
    many      a list of them: commas or spaces between, or a YAML list
    default   REQUIRED, or what is taken when nothing is given (already in `unit`)
    low, high smallest and largest value allowed, both included
    choices   the words allowed, for kind choice
    spellings other words for them in lower case, each with the word that compute gets
    shop      key of the shop's own default, such as "drills", "gears", "circles", "spindle_speeds_rpm", "oils"
    argument  keyword that compute takes; by default the name with the unit's suffix, - as _
    """

    name: str
    label: str
    kind: str = "quantity"
    unit: str = ""
    many: bool = False
    default: Any = REQUIRED
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    spellings: tuple[tuple[str, str], ...] = ()
    shop: str = ""
    argument: str = ""
    help: str = ""
    example: str = ""

    @property
    def keyword(self) -> str:
        """The keyword under which compute takes the value."""
        if self.argument:
            return self.argument
        plain = self.name.replace("-", "_")
        return f"{plain}_{SUFFIX.get(self.unit, self.unit)}" if self.unit else plain

    @property
    def required(self) -> bool:
        return self.default is REQUIRED

    @property
    def spaced(self) -> bool:
        """Whether one of several texts may hold spaces, like ISO VG 46: its example shows it. Then only commas part them."""
        return self.kind == "text" and " " in self.example.split(",")[0].strip()

    def read(self, value: Any) -> Any:
        """VALUE as compute wants it. Raises BadValue, in words, for whatever a person may have written."""
        if not self.many:
            return self._read_one(value)
        parts = value
        if isinstance(value, str):
            value = re.sub(r"^\s*\[(.*)\]\s*$", r"\1", value)  # a list in brackets is the same list
            together = self.kind == "quantity" and not BARE_NUMBERS.fullmatch(value)  # "0.9 mm" is one figure, not two
            by_comma = together or self.spaced or "," in value or ";" in value
            parts = [part for part in value.replace(";", ",").split("," if by_comma else None) if part.strip()]
        if not isinstance(parts, (list, tuple)):
            parts = [parts]
        if not parts:
            raise BadValue(self.name, "the list is empty", f"write values with commas between, like {self.example}")
        return tuple(self._read_one(part) for part in parts)

    def _read_one(self, value: Any) -> Any:
        if value is None or (isinstance(value, str) and not value.strip()):
            raise BadValue(self.name, "nothing is written here", f"for example {self.example}" if self.example else "")
        reader = {
            "text": self._read_text,
            "choice": self._read_choice,
            "flag": self._read_flag,
            "mapping": lambda x: x,
        }.get(self.kind)
        return reader(value) if reader else self._read_figure(value)

    def _read_text(self, value: Any) -> str:
        if isinstance(value, (dict, list)):
            raise BadValue(self.name, "one piece of text is wanted here")
        text = str(value).strip()
        if len(text) > 200:
            raise BadValue(
                self.name,
                "more than 200 characters are too long",
                f"for example {self.example}" if self.example else "",
            )
        return text

    def _read_choice(self, value: Any) -> str:
        text = str(value).strip()
        for choice in self.choices:
            if text.lower() == choice.lower():
                return choice
        for spelling, meant in self.spellings:
            if " ".join(text.lower().split()) == spelling:
                if " or " in meant:
                    raise BadValue(self.name, f'"{text[:40]}" can mean {meant}', "write which one")
                return meant
        near = get_close_matches(text.lower(), [choice.lower() for choice in self.choices], 1, 0.5)
        guess = f'; did you mean "{next(c for c in self.choices if c.lower() == near[0])}"?' if near else ""
        raise BadValue(self.name, f'"{text[:40]}" is not one of {", ".join(self.choices)}{guess}')

    def _read_flag(self, value: Any) -> bool:
        if isinstance(value, bool):
            return value
        text = str(value).strip().lower()
        if text in {"true", "yes", "1", "on"}:
            return True
        if text in {"false", "no", "0", "off"}:
            return False
        raise BadValue(self.name, f'"{text[:40]}" is neither yes nor no', "write true or false")

    def _read_figure(self, value: Any) -> float | int:
        if isinstance(value, (dict, list)):
            raise BadValue(
                self.name, "one figure is wanted here", f"for example {self.example}" if self.example else ""
            )
        try:
            figure = read_quantity(value, self.unit) if self.kind == "quantity" else read_number(str(value))
        except Unreadable as fault:
            hint = f"for example {self.example}" if self.example else ""
            raise BadValue(self.name, str(fault), self._hint_for(str(fault)) or hint) from None
        except OverflowError:
            raise BadValue(self.name, "that number is too large") from None
        if self.kind == "whole" and figure != int(figure):
            raise BadValue(self.name, f"{value} is not a whole number")
        self._keep_within(figure, value)
        return int(figure) if self.kind == "whole" else figure

    def _hint_for(self, fault: str) -> str:
        """What to write instead where the fault itself shows what was meant."""
        return (
            "threads per inch have a place of their own, tpi" if self.unit == "mm" and "thread count" in fault else ""
        )

    def _keep_within(self, figure: float, as_written: Any) -> None:
        unit = f" {UNITS[self.unit].written}" if self.unit in UNITS else ""
        if not abs(figure) < 1e15:
            raise BadValue(self.name, f"{as_written} is out of all proportion")
        if self.low is not None and figure < self.low:
            raise BadValue(self.name, f"{as_written} is below the smallest value that holds here, {self.low:g}{unit}")
        if self.high is not None and figure > self.high:
            raise BadValue(self.name, f"{as_written} is above the largest value that holds here, {self.high:g}{unit}")


@dataclass(frozen=True)
class Table:
    """A computed table. Rows are mappings by column name, values unrounded; None where there is no value.

    columns   only when they depend on the parameters; otherwise the definition's serve
    notes     plain sentences that belong under the table
    warnings  what must be read before the table is used
    sources   cited for these rows, besides those of the definition
    """

    rows: tuple[Mapping[str, Any], ...]
    notes: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = ()
    columns: tuple[Column, ...] = ()


@dataclass(frozen=True)
class Definition:
    """A table as the whole program knows it.

    name        as in YAML, addresses and on the command line (`thread-sizes`)
    title       heading of its page
    about       what it is for and how to use it, in a few plain sentences
    holds       the range in which it holds, in words
    also        other words under which somebody would look for it
    examples    parameter sets shown on the table's page, the first one being the default view
    browser     name of the script in pages/assets/tables/ that computes the same rows in the browser, if there is one
    browser_data  gives what that script needs to know (plain data for JSON)
    """

    name: str
    title: str
    about: str
    parameters: tuple[Parameter, ...]
    columns: tuple[Column, ...]
    compute: Callable[..., Table]
    sources: tuple[Cite, ...]
    holds: str
    also: tuple[str, ...] = ()
    group: str = ""
    examples: tuple[Mapping[str, Any], ...] = ()
    browser: str = ""
    browser_data: Callable[[], Any] | None = field(default=None, compare=False)

    def parameter(self, name: str) -> Parameter:
        """The parameter called NAME, `-` and `_` alike. Raises BadValue with the nearest names for an unknown one."""
        names = [parameter.name for parameter in self.parameters]
        for parameter in self.parameters:
            if parameter.name.replace("-", "_") == name.replace("-", "_"):
                return parameter
        near = get_close_matches(name, names, 1, 0.4)
        guess = f'did you mean "{near[0]}"?' if near else f"it takes {', '.join(names) or 'no parameters'}"
        raise BadValue(name, f"{self.name} has no such parameter", guess)

    def given(self, written: Mapping[str, Any], shop: Mapping[str, Any] | None = None) -> dict[str, Any]:
        """Every parameter's value by name: what was WRITTEN, else the SHOP's own, else the default.

        Raises BadValues holding every fault, not only the first.
        """
        faults: list[BadValue] = []
        values: dict[str, Any] = {}
        by_name: dict[str, Any] = {}
        for name, value in written.items():
            try:
                known = self.parameter(name).name
                if known in by_name:
                    raise BadValue(name, "is given twice", f"write {known} once")
                by_name[known] = value
            except BadValue as fault:
                faults.append(fault)
        for parameter in self.parameters:
            try:
                values[parameter.name] = self._value(parameter, by_name, shop or {})
            except BadValue as fault:
                faults.append(fault)
        if faults:
            raise BadValues(faults)
        return values

    @staticmethod
    def _value(parameter: Parameter, written: Mapping[str, Any], shop: Mapping[str, Any]) -> Any:
        if parameter.name in written:
            return parameter.read(written[parameter.name])
        if parameter.shop and parameter.shop in shop:
            return parameter.read(shop[parameter.shop])
        if parameter.required:
            raise BadValue(
                parameter.name, "must be given", f"for example {parameter.example}" if parameter.example else ""
            )
        return parameter.default

    def table(self, written: Mapping[str, Any] | None = None, shop: Mapping[str, Any] | None = None) -> Table:
        """The table for the parameters as WRITTEN (text or plain values). Raises BadValues."""
        values = self.given(written or {}, shop)
        keywords = {self.parameter(name).keyword: value for name, value in values.items()}
        try:
            found = self.compute(**keywords)
        except BadValue as fault:
            raise BadValues([fault]) from fault
        return found if found.columns else _with_columns(found, self.columns)


class BadValues(ValueError):
    """Every fault in the parameters of one table, in the order of the parameters."""

    def __init__(self, faults: Iterable[BadValue]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


def _with_columns(table: Table, columns: tuple[Column, ...]) -> Table:
    return Table(table.rows, table.notes, table.warnings, table.sources, columns)
