"""A computed table as text for a terminal, as CSV and as the JSON of the command line."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from typing import Any

from fettlebook import data
from fettlebook.tables.definition import Cite, Column, Definition, Table
from fettlebook.tables.figures import significant, written
from fettlebook.tables.quantities import UNITS


def cell(value: Any, column: Column) -> str:
    """VALUE as it is shown in its column, in the unit used inside; a dash where there is none."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (list, tuple)):
        return " × ".join(cell(part, column) for part in value)
    if isinstance(value, (int, float)):
        if column.significant is not None:
            return significant(value, column.significant)
        if column.decimals is not None:
            return written(value, column.decimals)
        return f"{value:g}" if isinstance(value, float) else str(value)
    return str(value)


def heading(column: Column) -> str:
    """A column's label with its unit."""
    unit = UNITS[column.unit].written if column.unit in UNITS else column.unit
    return f"{column.label} [{unit}]" if unit else column.label


def source_line(cite: Cite) -> str:
    """A source as one line: title, place, and a word where the figure was not read in it."""
    known = data.sources().get(cite.key, {})
    how = {
        "memory": "from memory",
        "secondary": "as quoted elsewhere",
        "computed": "computed",
        "practice": "common practice",
    }.get(cite.how, "")
    return ", ".join(part for part in (known.get("title", cite.key), cite.at, how) if part)


def short_title(cite: Cite) -> str:
    """What a source is, in a few words for a note: its title up to the first bracket, comma or colon.

    >>> short_title(Cite("eastern-o1"))
    "Steel stockist's O1 data sheet"
    """
    title = str(data.sources().get(cite.key, {}).get("title", cite.key))
    return re.split(r" \(|, |: ", title)[0]


def all_sources(definition: Definition, table: Table) -> tuple[Cite, ...]:
    """The sources of the definition and of these rows, each once."""
    return tuple(dict.fromkeys((*definition.sources, *table.sources)))


def as_json(definition: Definition, table: Table, given: Mapping[str, Any]) -> dict[str, Any]:
    """The object that `fettlebook table NAME --json` prints."""
    return {
        "table": definition.name,
        "given": {name: list(value) if isinstance(value, tuple) else value for name, value in given.items()},
        "columns": [{"name": c.name, "unit": c.unit, "label": c.label} for c in table.columns],
        "rows": [{c.name: row.get(c.name) for c in table.columns} for row in table.rows],
        "warnings": list(table.warnings),
        "notes": list(table.notes),
        "holds": definition.holds,
        "sources": [
            {"key": c.key, "at": c.at, "how": c.how, "title": source_line(c)} for c in all_sources(definition, table)
        ],
    }


def as_csv(table: Table) -> str:
    """The rows as CSV, unrounded, column names in the first line."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([column.name for column in table.columns])
    for row in table.rows:
        values = (row.get(column.name) for column in table.columns)
        writer.writerow(
            ["" if v is None else " ".join(map(str, v)) if isinstance(v, (list, tuple)) else v for v in values]
        )
    return out.getvalue()


def filled_columns(columns: Sequence[Column], rows: Sequence[Mapping[str, Any]]) -> list[Column]:
    """The columns in which some row has something; the first one always, and all of them where there are no rows."""
    return [
        column
        for n, column in enumerate(columns)
        if n == 0 or not rows or any(row.get(column.name) not in (None, "", ()) for row in rows)
    ]


def as_text(definition: Definition, table: Table) -> str:
    """The table for a terminal: warnings first, then aligned columns that hold something, notes, the range, sources."""
    columns = filled_columns(table.columns, table.rows)
    cells = [[heading(column) for column in columns]]
    cells += [[cell(row.get(column.name), column) for column in columns] for row in table.rows]
    widths = [max(len(line[n]) for line in cells) for n in range(len(columns))]
    lines = [definition.title, *(f"! {warning}" for warning in table.warnings), ""]
    for line in cells:
        padded = (
            text.rjust(w) if c.kind == "number" else text.ljust(w)
            for text, w, c in zip(line, widths, columns, strict=True)
        )
        lines.append("  ".join(padded).rstrip())
    lines += ["", *(f"- {note}" for note in table.notes), f"Holds for: {definition.holds}"]
    lines += [f"Source: {source_line(cite)}" for cite in all_sources(definition, table)]
    return "\n".join(lines) + "\n"
