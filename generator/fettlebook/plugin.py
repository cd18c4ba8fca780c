"""The only file that knows MkDocs: it hands the computed pages and files to the builder and takes nothing back.

Pages reach MkDocs as ready HTML (a Page that neither reads nor converts Markdown); hand-written pages under docs/ stay
Markdown. In `serve` a fault in YAML becomes a page and a log line, since a raised error would freeze the server.
"""

from __future__ import annotations

import gc
import html
import logging
import re
import sys
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, Literal

import mkdocs
from jinja2 import Environment, FileSystemLoader
from jinja2.bccache import Bucket, BytecodeCache
from mkdocs.commands.build import build
from mkdocs.commands.serve import serve
from mkdocs.config import config_options, load_config
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError, PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as MkDocsPage
from mkdocs.structure.toc import get_toc

from fettlebook.book.book import Book
from fettlebook.book.cache import Cache
from fettlebook.book.kept import Kept
from fettlebook.book.load import load
from fettlebook.book.places import Finding
from fettlebook.check.report import report_lines
from fettlebook.check.rules import check_book
from fettlebook.handout import shelf
from fettlebook.handout.press import SheetFault
from fettlebook.pages import site
from fettlebook.pages.clean import clean
from fettlebook.pages.offline import bytes_on_request, hashed, manifest, service_worker
from fettlebook.pages.page import Findable, Page
from fettlebook.pages.search_index import search_index
from fettlebook.pages.single import single_files

log = logging.getLogger("mkdocs.plugins.fettlebook")
THEME = Path(__file__).parent / "theme"
INSTALLED = Path(mkdocs.__file__).parent.parent
"""Where themes are installed, which ship more than a page of ours needs."""
LEFTOVERS = re.compile(
    r'<input class="md-toggle".*?(?=<div data-md-component="skip">)|<div class="md-dialog".*?</div>\s*</div>', re.S
)
"""Parts of the theme's skeleton that only its own scripts use."""
ID = re.compile(r' id="([^"]+)"')
LOOK_EVERY_S = 0.15
"""A reader notices a wait of a second; looking costs some ten milliseconds in a book of a thousand procedures."""


class ReadyPage(MkDocsPage):
    """A page whose HTML is ready: nothing is read, no Markdown is run.

    Its HTML is kept packed, since MkDocs has every page in memory before it writes the first one.
    """

    _packed: bytes | None = None
    _open: str | None = None
    """The HTML last given out, so that taking it back unchanged costs nothing."""

    def __init__(self, page: Page, file: MadeFile, config: MkDocsConfig) -> None:
        super().__init__(page.title, file, config)
        self.content = page.html
        self.ready = replace(page, html="")
        self.fettlebook_section = page.section
        self.fettlebook_scripts = page.scripts
        self.links_to_anchors = {}

    @property
    def present_anchor_ids(self) -> set[str]:
        """Places that a link may lead to, for MkDocs' look at links."""
        return set(ID.findall(self.content or ""))

    @present_anchor_ids.setter
    def present_anchor_ids(self, ids: set[str]) -> None:
        """MkDocs clears them; they follow from the page."""

    @property
    def content(self) -> str | None:
        if self._open is None and self._packed is not None:
            self._open = zlib.decompress(self._packed).decode("utf-8", "surrogatepass")
        return self._open

    @content.setter
    def content(self, content: str | None) -> None:
        if content is None or content is not self._open:
            self._packed = None if content is None else zlib.compress(content.encode("utf-8", "surrogatepass"), 1)
        self.close()

    def whole(self) -> Page:
        """The page with its HTML."""
        whole = replace(self.ready, html=self.content or "")
        self.close()
        return whole

    def close(self) -> None:
        """Keep the HTML packed alone."""
        self._open = None

    def read_source(self, config: MkDocsConfig) -> None:
        self.markdown = ""
        self.meta = {"description": self.ready.description, "title": self.ready.title}

    def render(self, config: MkDocsConfig, files: Files) -> None:
        self.toc = get_toc([_toc(self.ready)])


class MadeFile(File):
    """A file that was made here. `same`: it is what the preview has written already."""

    same = False

    def is_modified(self) -> bool:
        return not self.same


def _toc(page: Page) -> Any:
    """The list of contents as MkDocs' get_toc wants it."""
    top: dict[str, Any] = {"level": 1, "id": "top", "name": html.escape(page.title), "children": []}
    for heading in page.headings:
        entry = {"level": heading.level, "id": heading.id, "name": html.escape(heading.words), "children": []}
        into = top["children"][-1]["children"] if heading.level == 3 and top["children"] else top["children"]
        into.append(entry)
    return top


def _without_its_files(environment: Callable[[], Environment]) -> Callable[[], Environment]:
    """The theme's templates without its list of files: the pages use none of its thousands of scripts, styles and icons."""

    def made() -> Environment:
        env = environment()
        assert isinstance(env.loader, FileSystemLoader)
        own = FileSystemLoader([path for path in env.loader.searchpath if not Path(path).is_relative_to(INSTALLED)])
        env.loader.list_templates = own.list_templates  # type: ignore[method-assign]
        return env

    return made


class Templates(BytecodeCache):
    """The theme's templates as they were compiled before, for the next run of a preview."""

    def __init__(self) -> None:
        self.compiled: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self.compiled:
            bucket.bytecode_from_string(self.compiled[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.compiled[bucket.key] = bucket.bytecode_to_string()


@cache
def _leave_alone_what_stays() -> None:
    """Once, keep the collector of garbage from going through the whole book at each save; it looks at what comes later only."""
    gc.collect()
    gc.freeze()


class Settings(Config):
    """Settings in mkdocs.yml: where the book's procedures lie, beside mkdocs.yml."""

    procedures = config_options.Type(str, default="procedures")


class FettlebookPlugin(BasePlugin[Settings]):
    """Puts the book's pages and files into the site."""

    book: Book | None = None
    """A book that has been read and checked already; otherwise it is read here."""
    with_sheets = True

    def __init__(self) -> None:
        self.serving = False
        self.findable: dict[str, tuple[str, Findable]] = {}
        self.kept = Kept()
        self.templates = Templates()
        self.cache: Cache | None = None
        self.written: dict[str, Page | bytes] = {}
        self.files: dict[str, MadeFile] = {}
        self.frame: object = None
        self.progress: Callable[..., None] = lambda *_: None
        self.done = 0

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        self.serving = command == "serve"
        self.kept = Kept(keeping=self.serving)

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Callable[..., None]
    ) -> LiveReloadServer:
        """Look for saved files more often than MkDocs does, which looks twice in a second."""
        watched = [path for path in (config.docs_dir, config.config_file_path) if path]
        for path in watched:
            server.unwatch(path)
        server.observer = type(server.observer)(timeout=LOOK_EVERY_S)
        server.build_delay = LOOK_EVERY_S / 2
        for path in watched:
            server.watch(path)
        return server

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        self.root = Path(config.config_file_path).parent if config.config_file_path else Path.cwd()
        config.watch.append(str(self.root / self.config.procedures))
        config.theme.dirs.insert(0, str(THEME))
        config.theme.static_templates.discard("sitemap.xml")
        config.theme.get_env = _without_its_files(config.theme.get_env)  # type: ignore[method-assign]
        config.use_directory_urls = False
        config.extra.setdefault(
            "fettlebook_site", re.sub(r"[^a-z0-9]+", "-", config.site_name.lower()).strip("-") or "book"
        )
        config.extra["fettlebook_preview"] = self.serving
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        self.cache = self.cache or Cache(self.root)
        book, findings = (self.book, []) if self.book else _checked(self.root, self.cache, self.kept)
        if findings:
            self._refuse_or_log(findings)
        for file in list(files):
            if file.src_uri.startswith(("assets/javascripts", "assets/stylesheets", "assets/images")):
                files.remove(file)
        self._forget_other_frame(config)
        self.shown = book
        self.making: dict[str, Page | bytes] = {}
        for page in self._pages(book, tuple(_hand_written(files)), findings):
            self._add_page(page, files, config)
        self.others = site.files(book, self.kept)
        self.others["manifest.webmanifest"] = manifest(config.site_name, config.extra["fettlebook_site"]).encode()
        if self.serving:
            self.others["assets/reload.js"] = (THEME / "reload.js").read_bytes()
        for uri, content in self.others.items():
            files.append(self._made_file(uri, content, config))
        config.nav = None
        return files

    def _pages(self, book: Book, hand_written: tuple[tuple[str, str], ...], findings: list[Finding]) -> Iterator[Page]:
        """Every computed page; in the preview without printed sheets, which would slow every save."""
        downloads = {} if self.serving else _downloads(book, self.with_sheets)
        printed = shelf.wall_links(book) if self.with_sheets and not self.serving else ()
        for page in site.pages(book, hand_written, downloads, printed, self.kept):
            yield _with_faults(page, findings, self.root) if findings and page.uri == "index.html" else page

    def _forget_other_frame(self, config: MkDocsConfig) -> None:
        """Write every page anew when what stands around them has changed in mkdocs.yml."""
        frame = (config.site_name, config.site_url, dict(config.extra), config.site_dir)
        if frame != self.frame:
            self.written, self.frame = {}, frame

    def _made_file(self, uri: str, made: Page | bytes, config: MkDocsConfig) -> MadeFile:
        """The file as MkDocs wants it; in the preview the one of the last run, if it has been written as it is."""
        before = self.written.get(uri) if self.serving else None
        if before is not None and (before is made if isinstance(made, Page) else before == made):
            self.making[uri], self.files[uri].same = made, True
            return self.files[uri]
        if isinstance(made, Page):
            file = MadeFile.generated(config, uri.removesuffix(".html") + ".md", content="")
        else:
            file = MadeFile.generated(config, uri, content=made)
        assert isinstance(file, MadeFile)
        if isinstance(made, Page):
            file.page = ReadyPage(made, file, config)
        if self.serving:
            self.making[uri], self.files[uri] = made, file
        return file

    def _refuse_or_log(self, findings: list[Finding]) -> None:
        lines = "\n".join(report_lines(findings, self.root))
        if not self.serving:
            raise PluginError(f"\n{lines}")
        log.error("faults in what is written:\n%s", lines)

    def _add_page(self, page: Page, files: Files, config: MkDocsConfig) -> None:
        file = self._made_file(page.uri, page, config)
        if existing := files.get_file_from_path(file.src_uri):
            files.remove(existing)
        files.append(file)

    def on_page_content(self, content: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
        if not isinstance(page, ReadyPage):
            title = str(page.title or "")
            content = clean(content)
            known = Findable("page", (("title", title),), re.sub(r"<[^>]+>", " ", content))
            self.findable[page.file.dest_uri] = (title, known)
        return content

    def on_post_page(self, output: str, *, page: MkDocsPage, config: MkDocsConfig) -> str:
        if isinstance(page, ReadyPage):
            page.close()
        self.done += 1
        self.progress("page", self.done, len(self.pages))
        return LEFTOVERS.sub("", output)

    def on_post_template(self, output_content: str, *, template_name: str, config: MkDocsConfig) -> str:
        return LEFTOVERS.sub("", output_content)

    def on_env(self, env: Any, *, config: MkDocsConfig, files: Files) -> Any:
        env.bytecode_cache = self.templates
        self.pages = [file.page for file in files.documentation_pages() if file.page]
        return env

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        folder = Path(config.site_dir)
        index = search_index(self._found(), self.shown.glossary, self.kept)
        _write(folder, "assets/search-index.js", index.encode())
        if self.serving:
            for uri in self.written.keys() - self.making.keys():
                (folder / uri).unlink(missing_ok=True)
                del self.files[uri]
            self.written = self.making
            self.kept.forget()
            _leave_alone_what_stays()
            return
        for uri, content in self._at_last(config):
            _write(folder, uri, content)
        worker = service_worker(config.extra["fettlebook_site"], hashed(folder), bytes_on_request(folder))
        _write(folder, "sw.js", worker.encode())

    def _found(self) -> Iterator[tuple[str, str, Findable]]:
        """What search knows of each page, the computed ones first."""
        ready = [page.ready for page in self.pages if isinstance(page, ReadyPage)]
        yield from ((page.uri, page.title, page.findable) for page in ready if page.findable)
        there = {page.file.dest_uri for page in self.pages if not isinstance(page, ReadyPage)}
        yield from ((uri, *self.findable[uri]) for uri in sorted(there & self.findable.keys()))

    def _at_last(self, config: MkDocsConfig) -> Iterator[tuple[str, bytes]]:
        """What is written one by one, since all of it together would fill the memory."""
        made = (page for page in self.pages if isinstance(page, ReadyPage) and site.is_procedure(page.ready))
        pages = (page.whole() for page in made)
        yield from single_files(pages, config.extra["fettlebook_site"], config.site_name, self.others)
        if self.with_sheets:
            yield from _sheets(self.shown, config.site_url or "", self.progress)


def _write(folder: Path, uri: str, content: bytes) -> None:
    path = folder / uri
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


def _checked(root: Path, cache: Cache, kept: Kept) -> tuple[Book, list[Finding]]:
    book, findings = load(root, cache)
    return book, sorted({*findings, *check_book(book, kept)})


def build_site(
    root: Path, target: Path, book: Book, progress: Callable[..., None] | None = None, with_sheets: bool = True
) -> None:
    """The whole site of a checked BOOK into TARGET, by the mkdocs.yml in ROOT. Raises BuildFailed in words.

    progress     is called with what is being made, its number and how many there are
    with_sheets  printed sheets too
    """
    said = _Said()
    logging.getLogger("mkdocs").addHandler(said)
    try:
        config = load_config(str(root / "mkdocs.yml"), site_dir=str(target))
        plugin = config.plugins["fettlebook"]
        assert isinstance(plugin, FettlebookPlugin)
        plugin.book, plugin.with_sheets = book, with_sheets
        plugin.progress = progress or plugin.progress
        build(config)
    except ConfigurationError as fault:
        raise BuildFailed(f"mkdocs.yml: {fault}") from fault
    except Abort as fault:
        raise BuildFailed(said.last or f"mkdocs.yml: {fault}") from fault
    finally:
        logging.getLogger("mkdocs").removeHandler(said)


class _Said(logging.Handler):
    """Passes on what the builder warns of, and keeps back its faults, which are told once, at the end."""

    last = ""

    def emit(self, record: logging.LogRecord) -> None:
        if record.levelno >= logging.ERROR:
            self.last = record.getMessage().strip()
        elif record.levelno >= logging.WARNING:
            print(f"fettlebook: {record.getMessage()}", file=sys.stderr)


def serve_site(root: Path, address: str) -> None:
    """The live preview at ADDRESS until it is interrupted. Only what a change touches is written anew."""
    logging.getLogger("mkdocs.commands.build").addFilter(lambda record: "'dirty' build" not in record.getMessage())
    serve(config_file=str(root / "mkdocs.yml"), dev_addr=address, build_type="dirty")


class BuildFailed(Exception):
    """The site could not be built; the message says why."""


def _downloads(book: Book, with_sheets: bool) -> dict[str, tuple[tuple[str, str], ...]]:
    """What each procedure's page offers to take away."""
    sheets: Mapping[str, tuple[tuple[str, str], ...]] = shelf.procedure_links(book) if with_sheets else {}
    return {id: (*sheets.get(id, ()), ("As one file", f"single/{id}.html")) for id in book.procedures}


def _sheets(book: Book, site_url: str, progress: Callable[..., None]) -> Iterator[tuple[str, bytes]]:
    """Every printed sheet by uri."""
    wanted = sum(map(len, shelf.procedure_links(book).values())) + len(shelf.wall_links(book))
    try:
        for n, sheet in enumerate(shelf.sheets(book, site_url), 1):
            progress("printed sheet", n, max(wanted, n))
            yield sheet
    except SheetFault as fault:
        raise PluginError(str(fault)) from fault


def _hand_written(files: Files) -> list[tuple[str, str]]:
    """(title, uri) of the pages under docs/, from their first heading."""
    found = []
    for file in files.documentation_pages():
        heading = re.search(r"^# (.+)$", file.content_string, re.M)
        found.append((heading[1] if heading else file.name, file.dest_uri))
    return found


def _with_faults(page: Page, findings: list[Finding], root: Path) -> Page:
    """The front page with the faults above everything, for the preview."""
    lines = "".join(f"<li><code>{html.escape(line)}</code></li>" for line in report_lines(findings, root))
    box = f'<section class="flag"><h2 id="faults">Faults in what is written</h2><ul>{lines}</ul></section>'
    return replace(page, html=box + page.html)
