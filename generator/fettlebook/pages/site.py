"""The whole site as pages and files, before any site builder has seen it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

import rjsmin

from fettlebook.book.book import Book
from fettlebook.pages import lists, shop_pages
from fettlebook.pages.counts_page import counts_page
from fettlebook.pages.drawings import picture_files, sign_files
from fettlebook.pages.page import Page
from fettlebook.pages.procedure_page import procedure_page, sheet_key
from fettlebook.pages.script_data import script_data
from fettlebook.pages.single import single_page
from fettlebook.pages.symptoms_page import symptoms_page
from fettlebook.pages.table_page import downloads, table_pages
from fettlebook.pages.units_script import units_script
from fettlebook.pages.worksheets import worksheet_page, worksheet_script
from fettlebook.tables.catalogue import tables

Downloads = Mapping[str, tuple[tuple[str, str], ...]]
ASSETS = Path(__file__).parent / "assets"
SHAPES = Path(__file__).parent.parent / "book" / "shapes"


def pages(
    book: Book,
    hand_written: tuple[tuple[str, str], ...] = (),
    downloads: Downloads | None = None,
    printed: tuple[tuple[str, str], ...] = (),
) -> list[Page]:
    """Every computed page of the book, front page first.

    hand_written  (title, uri) of the pages that stand beside the computed ones
    downloads     for each procedure, (label, uri) of its printed sheets and of the procedure as one file
    printed       (label, uri) of the whole book and the wall charts on paper
    """
    sheets = downloads or {}
    made = [
        shop_pages.front_page(book, hand_written, printed),
        lists.procedures_page(book),
        symptoms_page(book),
        lists.needs_page(book),
    ]
    made += [procedure_page(book, p, sheets.get(p.id, ())) for p in book.procedures.values()]
    made += [
        lists.tables_page(book, printed),
        *(page for definition in tables().values() for page in table_pages(book, definition)),
    ]
    made += [worksheet_page(book, sheet) for sheet in book.worksheets.values() if sheet]
    made += [shop_pages.shop_page(book), *(shop_pages.machine_page(book, m) for m in book.machines.values())]
    made += [lists.glossary_page(book), lists.sources_page(book), counts_page(book), lists.jobs_page(book)]
    return made


def files(book: Book) -> dict[str, bytes]:
    """Every other file of the site by uri: scripts, styles, fonts, downloads, schemas. The search index comes last, elsewhere."""
    made = {
        f"assets/{path.relative_to(ASSETS).as_posix()}": _asset(path)
        for path in sorted(ASSETS.rglob("*"))
        if path.is_file()
    }
    made["assets/units.js"] = units_script().encode()
    for definition in tables().values():
        made |= {uri: text.encode() for uri, text in downloads(definition, book.workshop.defaults).items()}
        if definition.browser and definition.browser_data:
            made[f"assets/tables/{definition.name}.data.js"] = _figures_script(
                definition.name, definition.browser_data()
            ).encode()
    made |= {uri: svg.encode() for uri, svg in sign_files().items()}
    made |= picture_files(book)
    made |= {f"assets/worksheets/{key}.js": script.encode() for key, script in _worksheet_scripts(book)}
    made |= {f"schemas/{path.name}": path.read_bytes() for path in sorted(SHAPES.glob("*.json"))}
    return made


def single_files(made: list[Page], site: str, name: str, known: Mapping[str, bytes]) -> dict[str, bytes]:
    """Each procedure among the pages MADE as one self-contained file; KNOWN are the site's other files."""
    return {
        f"single/{page.uri.rpartition('/')[2]}": single_page(page, site, name, known).encode()
        for page in made
        if page.uri.startswith("procedures/") and page.findable and page.findable.kind == "procedure"
    }


def _worksheet_scripts(book: Book) -> Iterator[tuple[str, str]]:
    for sheet in book.worksheets.values():
        if sheet:
            yield sheet.id, worksheet_script(sheet, sheet.id)
    for procedure in book.procedures.values():
        for sheet in procedure.worksheets:
            if (key := sheet_key(book, procedure, sheet)) != sheet.id:
                yield key, worksheet_script(sheet, key)


def _asset(path: Path) -> bytes:
    content = path.read_bytes()
    return rjsmin.jsmin(content.decode()).encode() + b"\n" if path.suffix == ".js" else content


def _figures_script(name: str, figures: object) -> str:
    written = script_data(figures, sort_keys=True, default=list)
    return f"(window.fettlebookFigures=window.fettlebookFigures||{{}})[{script_data(name)}]={written};\n"
