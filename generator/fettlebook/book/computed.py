"""The computed tables of a procedure: parameters given, rows kept, single figures picked for use in text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from math import isclose
from typing import Any

from fettlebook.book.places import Finding, Place
from fettlebook.book.procedure import Numbers, Value
from fettlebook.book.strict_yaml import BROKEN, Map, Seq, Spot
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValue, BadValues, Column, Definition, Parameter, Table
from fettlebook.tables.figures import in_other_unit, written
from fettlebook.tables.quantities import UNITS, convert
from fettlebook.tables.writing import all_sources, cell

MACHINE_PARTS = {"jack-moves": "levelling", "jacks-plan": "levelling"}
"""The part of a machine's data that a table or drawing takes when `machine` names one; the whole of it otherwise."""
ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass
class Shop:
    """What numbers need to know of the shop: its defaults, and the data of its machines by id.

    made keeps the tables computed already, since many procedures ask for the same.
    """

    defaults: Mapping[str, Any] = field(default_factory=dict)
    machines: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    made: dict[str, Any] = field(default_factory=dict, repr=False)


def computed_numbers(
    written: Map, name: str, shop: Shop, machines: Iterable[str] = ()
) -> tuple[Numbers, list[Finding]]:
    """The Numbers that WRITTEN asks for, and every fault in it. With faults, values are None and rows may be missing.

    machines  ids of the machines that the procedure is for; with a single one, its own data serve before the workshop's
    """
    work = _Work(written, name, shop, [id for id in machines if id in shop.machines])
    return work.numbers(), work.findings


class _Work:
    def __init__(self, written: Map, name: str, shop: Shop, machines: list[str]) -> None:
        self.written, self.name, self.shop = written, name, shop
        self.own = shop.machines[machines[0]] if len(machines) == 1 else {}
        self.findings: list[Finding] = []

    def numbers(self) -> Numbers:
        w = self.written
        given_map = _map(w.get("with"))
        definition = self._definition()
        given, table = self._table(definition, given_map) if definition else ({}, None)
        columns: tuple[Column, ...] = ()
        rows: tuple[Mapping[str, Any], ...] = ()
        if table is not None:
            columns = self._columns(table)
            rows = tuple(self._kept(table.rows, w.get("where"), table, w.values_at.get("where", w.at)))
        return Numbers(
            id=str(w.get("id", "")), title=str(w.get("title") or (definition.title if definition else "")), table=str(w.get("table", "")),
            written=dict(given_map), given=given, columns=columns, rows=rows, notes=table.notes if table else (),
            warnings=table.warnings if table else (), sources=all_sources(definition, table) if definition and table else (),
            values=tuple(self._values(table)), hidden=w.get("hidden") is True, place=Place(self.name, *w.at),
        )  # fmt: skip

    def _definition(self) -> Definition | None:
        name = self.written.get("table")
        if not isinstance(name, str):
            return None
        try:
            return table_named(name)
        except BadValue as fault:
            self._fault(self.written.values_at["table"], fault.what, "unknown-table", hint=fault.hint)
            return None

    def _table(self, definition: Definition, given_map: Map) -> tuple[Mapping[str, Any], Table | None]:
        if any(value is BROKEN for value in given_map.values()):
            return {}, None
        try:
            given_map = self._with_machine(definition, given_map)
            own = {p.shop: self.own[p.shop] for p in definition.parameters if p.shop and p.shop in self.own}
            defaults = {**self.shop.defaults, **own}
            key = repr((definition.name, _plain(given_map), own))
            if key not in self.shop.made:
                self.shop.made[key] = (definition.given(given_map, defaults), definition.table(given_map, defaults))
            return self.shop.made[key]
        except BadValue as fault:
            self._bad(definition, given_map, fault)
        except BadValues as faults:
            unknown = [one.parameter for one in faults.faults if one.parameter in given_map]
            for one in faults.faults:
                if one.parameter in given_map or not get_close_matches(one.parameter, unknown, 1, 0.6):
                    self._bad(definition, given_map, one)
        except Exception as fault:  # a table that fails is our own mistake, and still no reason to stop the book
            self._fault(self.written.at, f"the table {definition.name} failed on these parameters ({type(fault).__name__})",
                        "table-failed", "this is a mistake of the program", "report it, with this part of the file")  # fmt: skip
        return {}, None

    def _with_machine(self, definition: Definition, given_map: Map) -> Map:
        out = Map(given_map.at)
        out.keys_at, out.values_at = given_map.keys_at, given_map.values_at
        out.update(with_machine(definition.name, definition.parameters, given_map, self.shop.machines))
        return out

    def _bad(self, definition: Definition, given_map: Map, fault: BadValue) -> None:
        as_written = {name.replace("-", "_"): name for name in given_map}
        name = as_written.get(fault.parameter.replace("-", "_"), "")
        unknown = bool(name) and all(p.name.replace("-", "_") != name.replace("-", "_") for p in definition.parameters)
        spots = given_map.keys_at if unknown else given_map.values_at
        spot = spots.get(name) or self.written.keys_at.get("with", self.written.at)
        what = f"{fault.parameter}: {fault.what}"
        if not name and any(p.name == fault.parameter and p.shop in self.shop.defaults for p in definition.parameters):
            what += " (the shop's own value)"
        self._fault(spot, what, "unknown-parameter" if unknown else "parameter", hint=fault.hint)

    def _columns(self, table: Table) -> tuple[Column, ...]:
        asked = self.written.get("columns")
        if not isinstance(asked, Seq):
            return tuple(table.columns)
        by_name = {column.name: column for column in table.columns}
        kept = []
        for name, spot in zip(asked, asked.values_at, strict=True):
            if isinstance(name, str) and name in by_name:
                kept.append(by_name[name])
            elif isinstance(name, str):
                self._unknown_column(name, spot, table)
        return tuple(kept)

    def _unknown_column(self, name: str, spot: Spot, table: Table) -> None:
        names = [column.name for column in table.columns]
        self._fault(
            spot,
            f'{self.written["table"]} has no column "{name}"',
            "unknown-column",
            hint=_near(name, names, "its columns are"),
        )

    def _kept(self, rows: Iterable[Mapping[str, Any]], where: Any, table: Table, spot: Spot) -> list[Mapping[str, Any]]:
        """ROWS in which the columns have the values that WHERE asks for."""
        kept = list(rows)
        names = {column.name for column in table.columns}
        for name, value in where.items() if isinstance(where, Map) else ():
            if value is BROKEN:
                return []
            if name not in names:
                self._unknown_column(name, where.keys_at[name], table)
                return []
            there = [row.get(name) for row in kept]
            kept = [row for row in kept if same(row.get(name), value)]
            if not kept:
                shown = [_short(one) for one in dict.fromkeys(map(_short, there))]
                hint = f"there is {', '.join(shown[:12])}{' …' if len(shown) > 12 else ''}" if shown else ""
                self._fault(where.values_at[name], f'no row has {name} "{value}"', "no-row", hint=hint)
                return []
        return kept

    def _values(self, table: Table | None) -> Iterable[Value]:
        wanted = _map(self.written.get("values"))
        for name, asked in wanted.items():
            column = None
            row: Mapping[str, Any] = {}
            if table is not None and isinstance(asked, Map):
                column = self._column(asked, table)
                row = self._row(name, asked, table, wanted.values_at[name]) if column else {}
            yield _value(
                name,
                str(self.written.get("id", "")),
                column if row else None,
                row,
                Place(self.name, *wanted.keys_at[name]),
            )

    def _column(self, asked: Map, table: Table) -> Column | None:
        name = asked.get("column")
        found = next((column for column in table.columns if column.name == name), None)
        if found is None and isinstance(name, str):
            self._unknown_column(name, asked.values_at["column"], table)
        return found

    def _row(self, name: str, asked: Map, table: Table, spot: Spot) -> Mapping[str, Any]:
        before = len(self.findings)
        rows = self._kept(table.rows, self.written.get("where"), table, spot) if self._where_holds(table) else []
        rows = self._kept(rows, asked.get("where"), table, spot) if rows else []
        if len(rows) > 1 and asked.get("first") is not True:
            self._fault(
                spot,
                f"{len(rows)} rows are left for {{{name}}}",
                "many-rows",
                "a named figure is a single one",
                "narrow it with where:, or write first: true",
            )
        elif not rows and len(self.findings) == before and self._where_holds(table):
            self._fault(spot, f"no row is left for {{{name}}}", "no-row", hint="compare with the table on its own page")
        return rows[0] if rows else {}

    def _where_holds(self, table: Table) -> bool:
        where = self.written.get("where")
        return not isinstance(where, Map) or any(
            all(same(row.get(n), v) for n, v in where.items()) for row in table.rows
        )

    def _fault(self, spot: Spot, what: str, rule: str, why: str = "", hint: str = "") -> None:
        self.findings.append(Finding(Place(self.name, *spot), what, rule, why, hint))


def with_machine(
    name: str, parameters: Iterable[Parameter], given: Mapping[str, Any], machines: Mapping[str, Mapping[str, Any]]
) -> dict[str, Any]:
    """GIVEN with a machine's id replaced by the machine's data where a machine is wanted.

    name   of the table or drawing, which decides what part of the machine it takes
    gives  the parameters; words that are no id (`feet=4 length=1600`) stay as they are
    Raises BadValue for an id that the shop has not, or a machine without that part.
    """
    mappings = {p.name for p in parameters if p.kind == "mapping" and p.name == "machine"}
    part = MACHINE_PARTS.get(name)
    out = dict(given)
    for parameter, id in given.items():
        if parameter not in mappings or not isinstance(id, str) or not ID.fullmatch(id):
            continue
        if id not in machines:
            raise BadValue(parameter, f'there is no machine "{id}"', _near(id, machines, "shop/machines/ holds"))
        if part and part not in machines[id]:
            raise BadValue(parameter, f'machine "{id}" has no {part}:', f"write {part}: in shop/machines/{id}.yml")
        out[parameter] = machines[id][part] if part else machines[id]
    return out


def same(value: Any, asked: Any) -> bool:
    """Whether a row's VALUE is what is ASKED for: numbers by size, everything else by its letters."""
    if value is None or asked is None or isinstance(value, bool) or isinstance(asked, bool):
        return value is asked
    if isinstance(value, (int, float)):
        try:
            return isclose(value, float(asked), rel_tol=1e-9, abs_tol=1e-12)
        except (TypeError, ValueError):
            return False
    if isinstance(value, (list, tuple)):
        return " ".join(map(str, value)) == str(asked)
    return str(value) == str(asked)


def _value(name: str, numbers_id: str, column: Column | None, row: Mapping[str, Any], place: Place) -> Value:
    if column is None:
        return Value(name, None, "", "–", "", "–", "", numbers_id, "", place)
    found = row.get(column.name)
    shown = cell(found, column)
    unit = UNITS[column.unit].written if column.unit in UNITS else column.unit
    other, other_unit = shown, unit
    if isinstance(found, (int, float)) and not isinstance(found, bool) and column.decimals is not None and column.unit:
        other, other_unit = _other(found, column)
    return Value(name, found, column.unit, shown, unit, other, other_unit, numbers_id, column.name, place)


def _other(found: float, column: Column) -> tuple[str, str]:
    if column.unit == "mm" and column.inch_decimals is not None:
        return written(convert(found, "mm", "in"), column.inch_decimals), UNITS["in"].written
    return in_other_unit(found, column.unit, column.decimals or 0)


def _map(value: Any) -> Map:
    return value if isinstance(value, Map) else Map()


def _plain(value: Any) -> Any:
    """VALUE with its written digits, so that equal parameters have equal keys and 0.5 is not 0.500."""
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    return (type(value).__name__, str(value))


def _near(name: str, names: Iterable[str], otherwise: str) -> str:
    known = list(names)
    near = get_close_matches(name, known, 1, 0.5)
    return f'did you mean "{near[0]}"?' if near else f"{otherwise} {', '.join(known[:20]) or 'none'}"


def _short(value: Any) -> str:
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return text if len(text) <= 30 else text[:29] + "…"
