"""What a worksheet lets one choose: a list of its own, or the rows of a table, so that a thread brings its pitch and diameters."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any

from fettlebook.book.computed import Shop
from fettlebook.book.strict_yaml import Map, Seq
from fettlebook.book.worksheets import Brought, Option
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValue, BadValues, Table
from fettlebook.tables.quantities import UNITS, Unreadable, read_quantity

Fault = Callable[..., None]
"""(spot, what, rule, why, hint): notes a fault."""
Choices = tuple[tuple[Option, ...], tuple[Brought, ...]]


def choices(t: Map, shop: Shop, fault: Fault) -> Choices:
    """The options of the input T, and the columns that a choice brings; nothing where something is wrong."""
    choose = t["choose"]
    options, columns = _from_table(choose, shop, fault) if isinstance(choose, Map) else _from_list(t, fault)
    signs = _texts(t, "signs")
    for name in signs:
        if name not in [column.name for column in columns] and columns:
            fault(
                t.values_at["signs"],
                f'no choice brings "{name}"',
                "unknown-column",
                "",
                _near(name, [c.name for c in columns]),
            )
    signed = (Brought(c.name, c.label, signs.get(c.name, ""), c.unit, c.decimals) for c in columns)
    return options, tuple(signed)


def _from_list(t: Map, fault: Fault) -> Choices:
    units = _texts(t, "units")
    options = []
    for one in t["choose"] if isinstance(t["choose"], Seq) else []:
        if isinstance(one, Map):
            values = {k: _number(one, k, units.get(k, ""), fault) for k in one if k != "label"}
            options.append(Option(str(one.get("label", "")), values))
    names = dict.fromkeys(k for option in options for k in option.values)
    return tuple(options), tuple(Brought(k, k.replace("_", " "), "", units.get(k, ""), None) for k in names)


def _number(one: Map, key: str, unit: str, fault: Fault) -> float | None:
    try:
        value = one[key]
        return read_quantity(value if isinstance(value, (int, float)) else str(value), unit if unit in UNITS else "")
    except Unreadable as unreadable:
        fault(
            one.values_at[key], f"{key}: {unreadable}", "figure", "", f"write a number{f' in {unit}' if unit else ''}"
        )
        return None


def _from_table(choose: Map, shop: Shop, fault: Fault) -> Choices:
    tables = _tables(choose, shop, fault)
    if not tables:
        return (), ()
    columns = {column.name: column for column in tables[0].columns}
    label = str(choose.get("label") or tables[0].columns[0].name)
    asked = choose.get("columns")
    wanted = (
        [str(c) for c in asked] if isinstance(asked, Seq) else [c.name for c in columns.values() if c.kind == "number"]
    )
    for name in (label, *wanted):
        if name not in columns:
            fault(
                choose.at, f'{choose["table"]} has no column "{name}"', "unknown-column", "", _near(name, list(columns))
            )
            return (), ()
    rows = [row for table in tables for row in table.rows]
    options = tuple(Option(str(row.get(label)), {name: row.get(name) for name in wanted}) for row in rows)
    return options, tuple(Brought(n, columns[n].label, "", columns[n].unit, columns[n].decimals) for n in wanted)


def _tables(choose: Map, shop: Shop, fault: Fault) -> list[Table]:
    """The table that is named, once for each mapping of parameters under `with`; none where something is wrong with it."""
    given = choose.get("with")
    ways = (
        [given]
        if isinstance(given, Map)
        else [one for one in given if isinstance(one, Map)]
        if isinstance(given, Seq)
        else []
    )
    try:
        definition = table_named(str(choose.get("table", "")))
        return [definition.table(one, shop.defaults) for one in ways or [Map()]]
    except BadValue as bad:
        fault(choose.values_at.get("table", choose.at), bad.what, "unknown-table", "", bad.hint)
    except BadValues as several:
        for one in several.faults:
            fault(choose.values_at.get("with", choose.at), str(one), "parameter")
    return []


def _texts(t: Map, key: str) -> Mapping[str, str]:
    found: Any = t.get(key)
    return {str(k): str(v) for k, v in found.items()} if isinstance(found, Map) else {}


def _near(name: str, names: list[str]) -> str:
    near = get_close_matches(name, names, 1, 0.4)
    return f'did you mean "{near[0]}"?' if near else f"there is {', '.join(names)}"
