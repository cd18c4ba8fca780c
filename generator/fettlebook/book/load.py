"""From the folder of a shop to its Book, with every fault on the way."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator, Mapping
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from fettlebook.book.assembly import Shared, assembled, assembled_caution
from fettlebook.book.book import Book
from fettlebook.book.cache import Cache, digest, program_digest
from fettlebook.book.computed import Shop
from fettlebook.book.groups import GROUPS
from fettlebook.book.leniently import map_of
from fettlebook.book.places import Finding, Place
from fettlebook.book.procedure import Caution, Procedure
from fettlebook.book.shapes import shape_findings
from fettlebook.book.shop import Machine, Record
from fettlebook.book.shop_files import machine_of, terms_of, workshop_of
from fettlebook.book.strict_yaml import LARGEST_FILE, Map, file_bytes, read_bytes
from fettlebook.book.worksheet_assembly import worksheet
from fettlebook.book.worksheets import Worksheet

SHAPES = {"workshop.yml": "workshop", "glossary.yml": "glossary", "cautions.yml": "cautions", "steps.yml": "steps"}
"""Files of shop/ and the shape of each; machines/, worksheets/ and records/ hold one thing a file."""
FOLDERS = {"machines": ".yml", "worksheets": ".yml", "records": ".json"}


def load(root: Path, cache: Cache | None = None) -> tuple[Book, list[Finding]]:
    """The book in ROOT (the folder that holds procedures/), and every fault found while reading it, sorted by place.

    A damaged procedure is not among the book's procedures and is reported. Never raises for what a person may have written.
    With a CACHE, procedures that have not changed are taken from it.
    """
    return _Reading(root, cache).loaded()


def book_files(root: Path, onerror: Callable[[OSError], None] | None = None) -> Iterator[tuple[str, Path]]:
    """Every file of the book: its name in findings (from ROOT, with /) and its path, in order of name.

    onerror  is told of folders that cannot be read
    """
    found = []
    for folder, folders, files in os.walk(root / "procedures", onerror=onerror, followlinks=False):
        folders[:] = sorted(one for one in folders if not one.startswith("."))
        for file in files:
            path = Path(folder) / file
            if not file.startswith((".", "~", "#")) and path.suffix in {".yml", ".yaml", ".json"}:
                found.append((path.relative_to(root).as_posix(), path))
    yield from sorted(found)


class _Reading:
    def __init__(self, root: Path, cache: Cache | None) -> None:
        self.root, self.cache = root, cache
        self.findings: list[Finding] = []
        self.shop_name = ""
        self.files = dict(book_files(root, self.unreadable))
        self.findings += self.linked_folders()
        self.shop = {name: path for name, path in self.files.items() if name.startswith("procedures/shop/")}

    def loaded(self) -> tuple[Book, list[Finding]]:
        if not (self.root / "procedures").is_dir():
            place = Place("procedures")
            self.findings.append(
                Finding(place, "there is no folder procedures/ here", "no-folder", "", "go to the folder that holds it")
            )
        trees = {file: self.tree(f"procedures/shop/{file}", shape) for file, shape in SHAPES.items()}
        machines = dict(self.machines())
        self.findings += self.unread()
        workshop = workshop_of(map_of(trees["workshop.yml"]))
        shop = Shop(workshop.defaults, {id: machine.data for id, machine in machines.items()})
        shared = Shared(shop, map_of(trees["cautions.yml"]), map_of(trees["steps.yml"]), dict(self.worksheets(shop)))
        whole, damaged = self.procedures(shared)
        book = Book(
            self.root, _in_order(whole), workshop, machines, tuple(terms_of(trees["glossary.yml"])),
            dict(_shared_cautions(shared.cautions)), tuple(self.records()), damaged, tuple(shared.steps), shared.worksheets,
            tuple(self.files),
        )  # fmt: skip
        if self.cache is not None:
            self.cache.sweep()
        return book, sorted(set(self.findings))

    def unreadable(self, fault: OSError) -> None:
        """A folder that cannot be looked into; that there is no procedures/ at all is said elsewhere."""
        name = Path(fault.filename).relative_to(self.root).as_posix()
        if name != "procedures" or not isinstance(fault, FileNotFoundError):
            what = f"this folder cannot be read ({fault.strerror or 'unknown reason'})"
            self.findings.append(Finding(Place(name), what, "unreadable"))

    def linked_folders(self) -> Iterator[Finding]:
        """Links to folders, which are not followed, so that nothing in them is taken for read."""
        for folder, folders, _ in os.walk(self.root / "procedures"):
            for path in (Path(folder) / one for one in sorted(folders)):
                if path.is_symlink() and not path.name.startswith("."):
                    what, why = "this folder is a link, which is not followed", "nothing outside the book is read"
                    name = path.relative_to(self.root).as_posix()
                    yield Finding(Place(name), what, "outside", why, "put the folder itself here")

    def unread(self) -> Iterator[Finding]:
        """Files under shop/ that nothing would ever read."""
        for name in self.shop:
            folder, _, file = name.removeprefix("procedures/shop/").rpartition("/")
            if file in SHAPES if not folder else FOLDERS.get(folder) == Path(file).suffix:
                continue
            near = get_close_matches(file, SHAPES, 1, 0.6) if not folder else get_close_matches(folder, FOLDERS, 1, 0.6)
            hint = (
                f"did you mean {near[0]}?"
                if near
                else f"shop/ holds {', '.join([*SHAPES, *(f'{one}/' for one in FOLDERS)])}"
            )
            yield Finding(
                Place(name), "nothing reads this file", "unread", "a name in shop/ says what a file holds", hint
            )

    def tree(self, name: str, shape: str) -> Any:
        """The content of the file NAME, with its faults reported; None if there is no such file or it cannot be read."""
        if name not in self.files:
            return None
        tree, findings = self.read(name)
        if tree is not None:
            findings = [*findings, *shape_findings(tree, shape, name)]
        self.findings += findings
        return tree

    def read(self, name: str) -> tuple[Any, list[Finding]]:
        content, findings = self.bytes_of(name)
        return (None, findings) if content is None else read_bytes(content, name)

    def bytes_of(self, name: str) -> tuple[bytes | None, list[Finding]]:
        """The bytes of a file of the book; None, and why, if it may not or cannot be read."""
        path = self.files[name]
        if path.is_symlink() and not _inside(path, self.root / "procedures"):
            what, why = "this link leads out of procedures/, or nowhere", "nothing outside the book is read"
            return None, [Finding(Place(name), what, "outside", why, "put the file itself here")]
        if path.suffix == ".yaml":
            hint = f"call it {path.stem}.yml"
            return None, [Finding(Place(name), "the name ends in .yaml", "file-name", "one ending for all", hint)]
        return file_bytes(path, name)

    def procedures(self, shared: Shared) -> tuple[dict[str, Procedure], dict[str, Procedure]]:
        whole: dict[str, Procedure] = {}
        damaged: dict[str, Procedure] = {}
        for name, path in self.files.items():
            if name in self.shop or path.suffix == ".json":
                continue
            procedure, findings = self.kept_or_read(name, path.stem, shared)
            if path.stem in whole or path.stem in damaged:
                what, why = f'there is another procedure "{path.stem}"', {**whole, **damaged}[path.stem].place.file
                self.findings.append(
                    Finding(Place(name), what, "twice", f"it stands in {why}", "give this file another name")
                )
            elif procedure is not None:
                (damaged if findings else whole)[path.stem] = procedure
            self.findings += findings
        return whole, damaged

    def kept_or_read(self, name: str, id: str, shared: Shared) -> tuple[Procedure | None, list[Finding]]:
        """The procedure in the file NAME from the cache, if neither it nor the shop nor the program has changed."""
        if self.cache is None:
            return self.procedure(name, id, shared)
        content, findings = self.bytes_of(name)
        if content is None:
            return None, findings
        key = digest(self.shop_digest(), name, content)
        kept = self.cache.get(key)
        if kept is None:
            kept = self.procedure(name, id, shared)
            self.cache.put(key, kept)
        return kept

    def shop_digest(self) -> str:
        """A digest of the program and of every file under shop/ that a procedure may use."""
        if not self.shop_name:
            used = [name for name in self.shop if not name.endswith(".json")]
            self.shop_name = digest(
                program_digest(), *(part for name in used for part in (name, self.bytes_of(name)[0] or b""))
            )
        return self.shop_name

    def procedure(self, name: str, id: str, shared: Shared) -> tuple[Procedure | None, list[Finding]]:
        tree, findings = self.read(name)
        if tree is None:
            return None, findings
        findings += shape_findings(tree, "procedure", name)
        if not isinstance(tree, Map):
            return None, findings
        procedure, more = assembled(tree, id, name, shared)
        return procedure, [*findings, *more]

    def machines(self) -> Iterator[tuple[str, Machine]]:
        for name, id in self.under("machines", ".yml"):
            tree = self.tree(name, "machine")
            if isinstance(tree, Map):
                yield id, machine_of(tree, id, name)

    def worksheets(self, shop: Shop) -> Iterator[tuple[str, Worksheet | None]]:
        """The shop's worksheets by id; None for a damaged one, which is reported here and not again where it is used."""
        for name, id in self.under("worksheets", ".yml"):
            before = len(self.findings)
            tree = self.tree(name, "worksheet")
            if not isinstance(tree, Map) or len(self.findings) > before:
                yield id, None
                continue
            found, findings = worksheet(tree, id, name, shop)
            self.findings += findings
            yield id, found

    def records(self) -> Iterator[Record]:
        for name, _ in self.under("records", ".json"):
            content, findings = _read_json(self.files[name], name)
            findings += shape_findings(content, "record", name) if not findings else []
            self.findings += [Finding(Place(name), one.what, one.rule, one.why, one.hint) for one in findings]
            if not findings:
                yield Record(Path(name).name, content, Place(name))

    def under(self, folder: str, ending: str) -> Iterator[tuple[str, str]]:
        start = f"procedures/shop/{folder}/"
        yield from (
            (name, path.stem) for name, path in self.shop.items() if name.startswith(start) and path.suffix == ending
        )


def _read_json(path: Path, name: str) -> tuple[Any, list[Finding]]:
    try:
        if path.stat().st_size > LARGEST_FILE:
            return None, [
                Finding(Place(name), "the file is too large", "large", "a million bytes are the most that is read")
            ]
        return json.loads(path.read_bytes().decode("utf-8-sig"), parse_constant=_refuse_constant), []
    except OSError as fault:
        return None, [
            Finding(Place(name), f"the file cannot be read ({fault.strerror or 'unknown reason'})", "unreadable")
        ]
    except (ValueError, RecursionError):
        return None, [
            Finding(
                Place(name), "this is not JSON as the tablet writes it", "syntax", hint="save it from the tablet again"
            )
        ]


def _refuse_constant(word: str) -> None:
    raise ValueError(word)


def _inside(path: Path, folder: Path) -> bool:
    try:
        return path.resolve(strict=True).is_relative_to(folder.resolve())
    except (OSError, RuntimeError):
        return False


def _in_order(procedures: Mapping[str, Procedure]) -> dict[str, Procedure]:
    """By group as the book shows them, then by title."""
    groups = list(GROUPS)
    return {
        p.id: p for p in sorted(procedures.values(), key=lambda p: (groups.index(p.group), p.title.casefold(), p.id))
    }


def _shared_cautions(trees: Mapping[str, Any]) -> Iterator[tuple[str, Caution]]:
    for id, tree in trees.items():
        if isinstance(tree, Map):
            yield id, assembled_caution(tree, id, "procedures/shop/cautions.yml")
