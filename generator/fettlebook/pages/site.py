"""The whole site as pages and files, before any site builder has seen it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.kept import Kept
from fettlebook.pages import lists, shop_pages
from fettlebook.pages.counts_page import counts_page
from fettlebook.pages.drawings import picture_files, sign_files
from fettlebook.pages.made_from import listed, procedure_sources, shop_sources
from fettlebook.pages.page import Page
from fettlebook.pages.procedure_page import procedure_page, sheet_key
from fettlebook.pages.script_data import script_data
from fettlebook.pages.scripts import ASSETS, shipped_script
from fettlebook.pages.symptoms_page import symptoms_page
from fettlebook.pages.table_page import downloads, table_pages, values_read
from fettlebook.pages.units_script import units_script
from fettlebook.pages.worksheets import worksheet_page, worksheet_script
from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import Definition

Downloads = Mapping[str, tuple[tuple[str, str], ...]]
SHAPES = Path(__file__).parent.parent / "book" / "shapes"


def pages(
    book: Book,
    hand_written: tuple[tuple[str, str], ...] = (),
    downloads: Downloads | None = None,
    printed: tuple[tuple[str, str], ...] = (),
    kept: Kept | None = None,
) -> Iterator[Page]:
    """Every computed page of the book, front page first, each made when it is asked for.

    hand_written  (title, uri) of the pages that stand beside the computed ones
    downloads     for each procedure, (label, uri) of its printed sheets and of the procedure as one file
    printed       (label, uri) of the whole book and the wall charts on paper
    kept          pages made before, for a preview
    """
    kept, sheets, shop = kept or Kept(), downloads or {}, shop_sources(book)
    beside = tuple(map(listed, book.procedures.values())), shop, hand_written, printed

    def lists_of(name: str, make: Callable[[], Iterable[Page]]) -> Iterable[Page]:
        return kept.get(name, beside, lambda: tuple(make()))

    yield from lists_of("front", lambda: (shop_pages.front_page(book, hand_written, printed), *_ways_in(book)))
    for p in book.procedures.values():
        links = tuple(sheets.get(p.id, ()))
        sources = procedure_sources(book, p), shop, links
        yield kept.get(("procedure", p.id), sources, partial(procedure_page, book, p, links))
    yield kept.get("tables", (dict(book.worksheets), printed), partial(lists.tables_page, book, printed))
    for definition in tables().values():
        values = values_read(definition, book.workshop.defaults)
        yield from kept.get(("table", definition.name), values, partial(table_pages, book, definition))
    yield from lists_of("shop", lambda: _of_the_shop(book))
    yield kept.get("counts", (tuple(book.procedures.values()), shop), partial(counts_page, book, kept))


def _ways_in(book: Book) -> Iterator[Page]:
    yield from (lists.procedures_page(book), symptoms_page(book), lists.needs_page(book))


def _of_the_shop(book: Book) -> Iterator[Page]:
    yield from (worksheet_page(book, sheet) for sheet in book.worksheets.values() if sheet)
    yield shop_pages.shop_page(book)
    yield from (shop_pages.machine_page(book, m) for m in book.machines.values())
    yield from (lists.glossary_page(book), lists.sources_page(book), lists.jobs_page(book))


def files(book: Book, kept: Kept | None = None) -> dict[str, bytes]:
    """Every other file of the site by uri: scripts, styles, fonts, downloads, schemas. The search index comes last, elsewhere."""
    kept = kept or Kept()
    made = kept.get("files", (), _same_for_every_book)
    downloaded = {
        uri: content
        for definition in tables().values()
        for uri, content in _downloads(definition, book.workshop.defaults, kept).items()
    }
    scripts = {f"assets/worksheets/{key}.js": script.encode() for key, script in _worksheet_scripts(book)}
    return {**made, **downloaded, **picture_files(book), **scripts}


def _downloads(definition: Definition, defaults: Mapping[str, Any], kept: Kept) -> dict[str, bytes]:
    def made() -> dict[str, bytes]:
        return {uri: text.encode() for uri, text in downloads(definition, defaults).items()}

    return kept.get(("downloads", definition.name), values_read(definition, defaults), made)


def _same_for_every_book() -> dict[str, bytes]:
    made = {
        f"assets/{path.relative_to(ASSETS).as_posix()}": _asset(path)
        for path in sorted(ASSETS.rglob("*"))
        if path.is_file()
    }
    made["assets/units.js"] = units_script().encode()
    for definition in tables().values():
        if definition.browser and definition.browser_data:
            made[f"assets/tables/{definition.name}.data.js"] = _figures_script(
                definition.name, definition.browser_data()
            ).encode()
    made |= {uri: svg.encode() for uri, svg in sign_files().items()}
    return made | {f"schemas/{path.name}": path.read_bytes() for path in sorted(SHAPES.glob("*.json"))}


def is_procedure(page: Page) -> bool:
    """Whether PAGE shows a procedure."""
    return page.findable is not None and page.findable.kind == "procedure"


def _worksheet_scripts(book: Book) -> Iterator[tuple[str, str]]:
    for sheet in book.worksheets.values():
        if sheet:
            yield sheet.id, worksheet_script(sheet, sheet.id)
    for procedure in book.procedures.values():
        for sheet in procedure.worksheets:
            if (key := sheet_key(book, procedure, sheet)) != sheet.id:
                yield key, worksheet_script(sheet, key)


def _asset(path: Path) -> bytes:
    return shipped_script(path.relative_to(ASSETS).as_posix()).encode() if path.suffix == ".js" else path.read_bytes()


def _figures_script(name: str, figures: object) -> str:
    written = script_data(figures, sort_keys=True, default=list)
    return f"(window.fettlebookFigures=window.fettlebookFigures||{{}})[{script_data(name)}]={written};\n"
