"""The commands."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from typing import Any

from fettlebook.tables.catalogue import table_named, tables
from fettlebook.tables.definition import BadValue, BadValues
from fettlebook.tables.quantities import UNITS
from fettlebook.tables.writing import as_csv, as_json, as_text

DONE, FAULTS, WRONG_USE = 0, 1, 2


def table_command(args: argparse.Namespace) -> int:
    """Print one table for the parameters given."""
    try:
        definition = table_named(args.name)
        written = dict(_pair(text) for text in args.given)
        given = definition.given(written)
        table = definition.table(written)
    except BadValue as fault:
        return _refuse([fault])
    except BadValues as faults:
        return _refuse(faults.faults)
    if args.json:
        print(json.dumps(as_json(definition, table, given), ensure_ascii=False, indent=2))
    elif args.csv:
        print(as_csv(table), end="")
    else:
        print(as_text(definition, table), end="")
    return DONE


def tables_command(args: argparse.Namespace) -> int:
    """List the tables with their parameters and units."""
    for definition in tables().values():
        print(f"{definition.name}: {definition.title}")
        for p in definition.parameters:
            unit = f" [{UNITS[p.unit].written}]" if p.unit in UNITS else ""
            words = f" ({', '.join(p.choices)})" if p.choices else ""
            print(
                f"    {p.name}{unit}{' (list)' if p.many else ''}: {p.label}{words}{'' if p.required else ' (optional)'}"
            )
    return DONE


def _pair(text: str) -> tuple[str, Any]:
    name, equals, value = text.partition("=")
    if not equals:
        raise BadValue("--with", f'"{text}" has no "="', "write --with KEY=VALUE")
    return name.strip(), value


def _refuse(faults: Sequence[BadValue]) -> int:
    for fault in faults:
        print(f"fettlebook: {fault}", file=sys.stderr)
    return WRONG_USE


def parser() -> argparse.ArgumentParser:
    """The command line, as `fettlebook --help` prints it."""
    top = argparse.ArgumentParser(prog="fettlebook", description="A workshop's own book of procedures.")
    commands = top.add_subparsers(dest="command", required=True)
    table = commands.add_parser("table", help="print any table for any parameters")
    table.add_argument("name", metavar="NAME")
    table.add_argument("--with", dest="given", action="append", default=[], metavar="KEY=VALUE")
    form = table.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true")
    form.add_argument("--csv", action="store_true")
    table.set_defaults(run=table_command)
    listing = commands.add_parser("tables", help="list the tables, their parameters and units")
    listing.set_defaults(run=tables_command)
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit status is 0 done, 1 faults in what the shop wrote, 2 wrong use."""
    args = parser().parse_args(argv)
    return args.run(args)
