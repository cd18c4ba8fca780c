"""Words for paper: a Text as runs of plain data, figures with their unit, cells of a table. No markup leaves this file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.procedure import Reading, Value
from fettlebook.book.text import Part, Text, kept_together
from fettlebook.tables.definition import Column
from fettlebook.tables.figures import in_other_unit, written
from fettlebook.tables.quantities import UNITS
from fettlebook.tables.writing import cell

LONGEST_WORD = 24
"""Letters after which a word without a hyphen may be broken anywhere: no line of a narrow column is longer."""

BREAK_HERE = "\u200b"
CLOSE_UNITS = {"°", "′", "″"}

Run = dict[str, str]


def breakable(words: str) -> str:
    """WORDS with places to break inside any word that would not fit in a column; those that have them already stay as they are."""
    return re.sub(rf"\S{{{LONGEST_WORD},}}", lambda found: _broken(found[0].replace(BREAK_HERE, "")), words)


def _broken(word: str) -> str:
    return BREAK_HERE.join(word[n : n + 10] for n in range(0, len(word), 10))


NOT_WORDS = {"svg", "code", "formula", "formula_words", "alt", "colour", "id", "paper", "reader", "signal", "address"}
"""Keys of a sheet's data whose text is not set in lines."""


def all_breakable(data: Any) -> Any:
    """A sheet's data with every text in it breakable."""
    if isinstance(data, dict):
        return {key: value if key in NOT_WORDS else all_breakable(value) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [all_breakable(one) for one in data]
    return breakable(data) if isinstance(data, str) else data


def with_unit(figure: str, unit: str) -> str:
    """A figure and its unit that stay on one line."""
    figure = figure.replace("-", "−") if figure[:1] == "-" else figure
    return f"{figure}{unit}" if unit in CLOSE_UNITS else f"{figure}\u00a0{unit}".strip("\u00a0")


def unit_name(unit: str) -> str:
    """A unit as written."""
    return UNITS[unit].written if unit in UNITS else unit


def duration(seconds: float) -> str:
    """A span of time in words: 90 s, 20 min, 1 h 30 min."""
    if seconds < 120:
        return f"{seconds:g} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    return " ".join(part for part in (f"{hours} h" if hours else "", f"{minutes} min" if minutes else "") if part)


@dataclass(frozen=True)
class Words:
    """Writes for one sheet: the book, the named figures that its texts may use, and whether the shop works in inches."""

    book: Book
    values: Mapping[str, Value]

    @property
    def inch(self) -> bool:
        return self.book.workshop.units not in {"metric", ""}

    def runs(self, text: Text | None) -> list[Run]:
        """A text as runs: {t: words, s: how they are set (emphasis, strong, code, sub, super, link)}."""
        return [run for part in text.parts for run in self._runs(part, "")] if text else []

    def _runs(self, part: Part, style: str) -> list[Run]:
        if part.kind == "value":
            return [{"t": self._value(part.words), "s": "strong"}]
        style = style if part.kind == "plain" else part.kind
        found = [run for inner in part.parts for run in self._runs(inner, style)] or [
            {"t": breakable(part.words if part.kind == "code" else kept_together(part.words)), "s": style}
        ]
        if part.kind == "link" and part.target.startswith("http"):
            found.append({"t": breakable(f" ({part.target})"), "s": "plain"})
        return found

    def _value(self, name: str) -> str:
        value = self.values.get(name)
        if value is None:
            return f"{{{name}}}"
        return with_unit(value.other, value.other_unit) if self.inch else with_unit(value.shown, value.shown_unit)

    def plain(self, text: Text | None) -> str:
        """A text's words alone, its figures put in."""
        return "".join(run["t"] for run in self.runs(text)).replace(BREAK_HERE, "")

    def figure(self, value: float, unit: str, decimals: int) -> str:
        """A figure in the shop's own units."""
        if self.inch:
            return with_unit(*in_other_unit(value, unit, decimals))
        return with_unit(written(value, decimals), unit_name(unit))

    def limits(self, low: float | None, high: float | None, unit: str, decimals: int, none: str = "–") -> str:
        """Limits in words."""
        lowest, highest = (None if x is None else self.figure(x, unit, decimals) for x in (low, high))
        if lowest and highest:
            return f"{lowest} to {highest}"
        return f"at least {lowest}" if lowest else f"at most {highest}" if highest else none

    def reading_limits(self, reading: Reading) -> str:
        """A reading's limits in words, or how it is answered."""
        none = {"flag": "yes or no", "text": "in words"}.get(reading.kind, "–")
        return self.limits(reading.low, reading.high, reading.unit, reading.decimals, none)

    def cell(self, value: Any, column: Column) -> dict[str, str]:
        """A table's cell: {t: words} or {colour: sRGB}."""
        if column.kind == "colour" and value:
            return {"colour": str(value)}
        shown = cell(value, column)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            if self.inch and column.decimals is not None:
                shown = in_other_unit(value, column.unit, column.decimals)[0]
                if column.inch_decimals is not None and column.unit == "mm":
                    shown = written(value / 25.4, column.inch_decimals)
            shown = shown.replace("-", "−")
        return {"t": breakable(shown)}

    def column(self, column: Column) -> dict[str, Any]:
        """A column's heading and how it is aligned."""
        unit = unit_name(column.unit)
        if self.inch and column.unit and column.decimals is not None:
            unit = in_other_unit(0.0, column.unit, 0)[1]
        return {"label": breakable(column.label), "unit": unit, "number": column.kind == "number"}
