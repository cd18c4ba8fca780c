"""The commands."""

from __future__ import annotations

import argparse
import json
import os
import re
import shutil
import sys
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.cache import Cache
from fettlebook.book.computed import ID, with_machine
from fettlebook.book.load import load
from fettlebook.book.skeleton import CannotStart, kinds, new_procedure
from fettlebook.check.command import NoBook, book_root
from fettlebook.check.command import run as run_check
from fettlebook.check.report import report_lines, summary_line, wants_colour
from fettlebook.check.rules import check_book
from fettlebook.progress import Progress
from fettlebook.publish import beside, put_in_place
from fettlebook.tables.catalogue import table_named, tables
from fettlebook.tables.definition import BadValue, BadValues, Definition
from fettlebook.tables.quantities import UNITS
from fettlebook.tables.writing import as_csv, as_json, as_text

DONE, FAULTS, WRONG_USE = 0, 1, 2


def table_command(args: argparse.Namespace) -> int:
    """Print one table for the parameters given."""
    try:
        definition = table_named(args.name)
        written = _with_shop_machine(definition, dict(_pair(text) for text in args.given))
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


def _with_shop_machine(definition: Definition, written: dict[str, Any]) -> dict[str, Any]:
    """The parameters, with the id of a machine of the book in this folder replaced by what its file says."""
    mappings = [p.name for p in definition.parameters if p.kind == "mapping" and p.name in written]
    if not any(ID.fullmatch(str(written[name])) for name in mappings) or not Path("procedures").is_dir():
        return written
    machines = {machine.id: machine.data for machine in load(Path.cwd())[0].machines.values()}
    return with_machine(definition.name, definition.parameters, written, machines)


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


def build_command(args: argparse.Namespace) -> int:
    """Check the book, build the whole site beside the old one, and put it in place in one stroke."""
    try:
        root = book_root([args.book])
    except NoBook as fault:
        print(f"fettlebook: {fault}", file=sys.stderr)
        return WRONG_USE
    book, found = load(root, Cache(root))
    faults = sorted({*found, *check_book(book)})
    if faults:
        print(*report_lines(faults, root, wants_colour(sys.stderr)), sep="\n", file=sys.stderr)
        print(
            f"{summary_line(faults, len(book.procedures) + len(book.damaged))}\nThe site is left as it was.",
            file=sys.stderr,
        )
        return FAULTS
    site = Path(args.into) if args.into else root / "site"
    return built(root, site.absolute(), book, not args.without_sheets)


def built(root: Path, site: Path, book: Book, with_sheets: bool = True) -> int:
    """Build BOOK's site beside SITE and put it in place; whatever goes wrong is said in a line and leaves the old site whole."""
    from fettlebook.plugin import BuildFailed, build_site

    aside = None
    try:
        site.parent.mkdir(parents=True, exist_ok=True)
        aside = beside(site)
        with Progress(sys.stderr) as progress:
            build_site(root, aside, book, progress, with_sheets)
        put_in_place(aside, site)
    except BuildFailed as fault:
        print(f"fettlebook: {fault}; the site is left as it was", file=sys.stderr)
        return FAULTS
    except OSError as fault:
        print(f"fettlebook: {fault.filename or site}: {fault.strerror}; the site is left as it was", file=sys.stderr)
        return FAULTS
    except KeyboardInterrupt:
        print("fettlebook: stopped; the site is left as it was", file=sys.stderr)
        return FAULTS
    finally:
        if aside is not None:
            shutil.rmtree(aside, ignore_errors=True)
    print(f"{len(book.procedures)} procedures and {len(tables())} tables are in {site}; open {site / 'index.html'}")
    return DONE


def handout_command(args: argparse.Namespace) -> int:
    """Print procedures, wall charts or the whole book as PDF files."""
    from fettlebook.handout.printing import UnknownSheet, printed

    try:
        root = book_root([args.book])
        book, _ = load(root)
        wanted = printed(book, args.ids, args.reader, args.paper or "", _site_url(root))
    except (NoBook, UnknownSheet) as fault:
        print(f"fettlebook: {fault}", file=sys.stderr)
        return WRONG_USE
    return _written_out(wanted, Path(args.into))


def _site_url(root: Path) -> str:
    """The site's address in mkdocs.yml, for the square code on sheets; "" where none is set."""
    settings = root / "mkdocs.yml"
    found = re.search(r"^site_url:\s*(\S+)", settings.read_text(encoding="utf-8"), re.M) if settings.is_file() else None
    return found[1].strip("'\"") if found else ""


def _written_out(wanted: Mapping[str, Callable[[], bytes]], folder: Path) -> int:
    from fettlebook.handout.press import SheetFault

    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, make in wanted.items():
            (folder / name).write_bytes(make())
            print(folder / name)
    except SheetFault as fault:
        print(f"fettlebook: {fault}", file=sys.stderr)
        return FAULTS
    except OSError as fault:
        print(f"fettlebook: {fault.filename or folder}: {fault.strerror}", file=sys.stderr)
        return WRONG_USE
    return DONE


def serve_command(args: argparse.Namespace) -> int:
    """Show the book at a local address and refresh it when a file is saved; faults are shown and do not stop it."""
    from fettlebook.plugin import serve_site

    try:
        serve_site(book_root([args.book]), args.address)
    except NoBook as fault:
        print(f"fettlebook: {fault}", file=sys.stderr)
        return WRONG_USE
    return DONE


def new_command(args: argparse.Namespace) -> int:
    """Write the skeleton of a new procedure and say where it is."""
    try:
        root = book_root([args.book])
        path = new_procedure(root, args.title, args.kind or _asked_kind(), args.by or "the shop", date.today())
    except (NoBook, CannotStart) as fault:
        print(f"fettlebook: {fault}", file=sys.stderr)
        return WRONG_USE
    print(f"{path}: fill it in from the top; `fettlebook check` says what is missing")
    return DONE


def _asked_kind() -> str:
    """The kind of procedure, asked for on a terminal; repair where nobody can answer."""
    if not sys.stdin.isatty():
        return "repair"
    for name, kind in kinds().items():
        print(f"  {name}: {kind['about']}")
    try:
        return input("Which kind? ").strip().lower() or "repair"
    except EOFError:
        return "repair"


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
    check = commands.add_parser("check", help="say every fault, with its line and what to write instead")
    check.add_argument("paths", nargs="*", metavar="PATH", help="files or folders; the whole book without any")
    form = check.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="for an editor")
    form.add_argument("--github", action="store_true", help="as annotations of a change")
    check.set_defaults(run=lambda args: run_check(args.paths, args.json, args.github))
    new = commands.add_parser(
        "new", help="start a procedure: a commented file to fill in, without a fault from the start"
    )
    new.add_argument("title", metavar="TITLE")
    new.add_argument("--kind", choices=tuple(kinds()), help="what it is about (asked for on a terminal)")
    new.add_argument("--by", default="", metavar="NAME", help="who writes it")
    new.add_argument("--book", default=".", metavar="FOLDER", help="folder that holds procedures/ (this one)")
    new.set_defaults(run=new_command)
    build = commands.add_parser(
        "build", help="check, then build the whole site; a failed build leaves the old site as it was"
    )
    build.add_argument("--into", metavar="FOLDER", help="where the site goes (site/ in the book's folder)")
    build.add_argument("--without-sheets", action="store_true", help="leave out the printed sheets, which take longest")
    build.add_argument(
        "--book", default=".", metavar="FOLDER", help="folder that holds procedures/ and mkdocs.yml (this one)"
    )
    build.set_defaults(run=build_command)
    handout = commands.add_parser("handout", help="print procedures, wall charts or the whole book as PDF")
    handout.add_argument("ids", nargs="+", metavar="ID", help="a procedure, chart-NAME for a wall chart, or book")
    handout.add_argument("--paper", choices=("a4", "letter"), help="paper (the workshop's own)")
    handout.add_argument(
        "--for", dest="reader", choices=("bench", "trainee"), default="bench", help="who works from it (bench)"
    )
    handout.add_argument("-o", dest="into", default=".", metavar="DIR", help="folder for the files (this one)")
    handout.add_argument("--book", default=".", metavar="FOLDER", help="folder that holds procedures/ (this one)")
    handout.set_defaults(run=handout_command)
    serve = commands.add_parser("serve", help="live preview: saving a YAML file refreshes the page")
    serve.add_argument("--address", default="127.0.0.1:8000", metavar="HOST:PORT")
    serve.add_argument("--book", default=".", metavar="FOLDER")
    serve.set_defaults(run=serve_command)
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit status is 0 done, 1 faults in what the shop wrote, 2 wrong use."""
    args = parser().parse_args(argv)
    try:
        status: int = args.run(args)
        sys.stdout.flush()
    except BrokenPipeError:
        # Who reads, such as `head`, has seen enough. Python would still complain when it closes its output.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return status
