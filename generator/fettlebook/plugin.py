"""The only file that knows MkDocs: it hands the computed pages and files to the builder and takes nothing back.

Pages reach MkDocs as ready HTML (a Page that neither reads nor converts Markdown); hand-written pages under docs/ stay
Markdown. In `serve` a fault in YAML becomes a page and a log line, since a raised error would freeze the server.
"""

from __future__ import annotations

import html
import logging
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal

from mkdocs.commands.build import build
from mkdocs.commands.serve import serve
from mkdocs.config import config_options, load_config
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError, PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as MkDocsPage
from mkdocs.structure.toc import get_toc

from fettlebook.book.book import Book
from fettlebook.book.load import load
from fettlebook.book.places import Finding
from fettlebook.check.report import report_lines
from fettlebook.check.rules import check_book
from fettlebook.handout import shelf
from fettlebook.handout.press import SheetFault
from fettlebook.pages import site
from fettlebook.pages.clean import clean
from fettlebook.pages.offline import hashed, manifest, service_worker
from fettlebook.pages.page import Findable, Page
from fettlebook.pages.search_index import search_index

log = logging.getLogger("mkdocs.plugins.fettlebook")
THEME = Path(__file__).parent / "theme"
LEFTOVERS = re.compile(
    r'<input class="md-toggle".*?(?=<div data-md-component="skip">)|<div class="md-dialog".*?</div>\s*</div>', re.S
)
"""Parts of the theme's skeleton that only its own scripts use."""


class ReadyPage(MkDocsPage):
    """A page whose HTML is ready: nothing is read, no Markdown is run."""

    def __init__(self, page: Page, file: File, config: MkDocsConfig) -> None:
        super().__init__(page.title, file, config)
        self.ready = page
        self.fettlebook_section = page.section
        self.fettlebook_scripts = page.scripts

    def read_source(self, config: MkDocsConfig) -> None:
        self.markdown = ""
        self.meta = {"description": self.ready.description, "title": self.ready.title}

    def render(self, config: MkDocsConfig, files: Files) -> None:
        self.content = self.ready.html
        self.toc = get_toc([_toc(self.ready)])
        self.present_anchor_ids = set(re.findall(r'\bid="([^"]+)"', self.ready.html))
        self.links_to_anchors = {}


def _toc(page: Page) -> Any:
    """The list of contents as MkDocs' get_toc wants it."""
    top: dict[str, Any] = {"level": 1, "id": "top", "name": html.escape(page.title), "children": []}
    for heading in page.headings:
        entry = {"level": heading.level, "id": heading.id, "name": html.escape(heading.words), "children": []}
        into = top["children"][-1]["children"] if heading.level == 3 and top["children"] else top["children"]
        into.append(entry)
    return top


class Settings(Config):
    """Settings in mkdocs.yml: where the book's procedures lie, beside mkdocs.yml."""

    procedures = config_options.Type(str, default="procedures")


class FettlebookPlugin(BasePlugin[Settings]):
    """Puts the book's pages and files into the site."""

    book: Book | None = None
    """A book that has been read and checked already; otherwise it is read here."""

    def __init__(self) -> None:
        self.serving = False
        self.findable: list[tuple[str, str, Findable]] = []
        self.progress: Callable[..., None] = lambda *_: None
        self.pages = self.written = 0

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        self.serving = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        self.root = Path(config.config_file_path).parent if config.config_file_path else Path.cwd()
        config.watch.append(str(self.root / self.config.procedures))
        config.theme.dirs.insert(0, str(THEME))
        config.theme.static_templates.discard("sitemap.xml")
        config.use_directory_urls = False
        config.extra.setdefault(
            "fettlebook_site", re.sub(r"[^a-z0-9]+", "-", config.site_name.lower()).strip("-") or "book"
        )
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        book, findings = (self.book, []) if self.book else _checked(self.root)
        if findings:
            self._refuse_or_log(findings)
        for file in list(files):
            if file.src_uri.startswith(("assets/javascripts", "assets/stylesheets", "assets/images")):
                files.remove(file)
        hand_written = tuple(_hand_written(files))
        self.glossary = book.glossary
        self.findable = []
        printed = () if self.serving else shelf.wall_links(book)
        made = site.pages(book, hand_written, {} if self.serving else _downloads(book), printed)
        if findings:
            made = [_with_faults(page, findings, self.root) if page.uri == "index.html" else page for page in made]
        for page in made:
            self._add_page(page, files, config)
        known = site.files(book)
        if not self.serving:
            known |= site.single_files(made, config.extra["fettlebook_site"], config.site_name, known)
        if not self.serving:
            known |= _sheets(book, config.site_url or "", self.progress)
        self.pages = len(made) + len(hand_written)
        known["manifest.webmanifest"] = manifest(config.site_name, config.extra["fettlebook_site"]).encode()
        for uri, content in known.items():
            files.append(File.generated(config, uri, content=content))
        config.nav = None
        return files

    def _refuse_or_log(self, findings: list[Finding]) -> None:
        lines = "\n".join(report_lines(findings, self.root))
        if not self.serving:
            raise PluginError(f"\n{lines}")
        log.error("faults in what is written:\n%s", lines)

    def _add_page(self, page: Page, files: Files, config: MkDocsConfig) -> None:
        file = File.generated(config, page.uri.removesuffix(".html") + ".md", content="")
        if existing := files.get_file_from_path(file.src_uri):
            files.remove(existing)
        file.page = ReadyPage(page, file, config)
        files.append(file)
        if page.findable:
            self.findable.append((page.uri, page.title, page.findable))

    def on_page_content(self, content: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
        if not isinstance(page, ReadyPage):
            title = str(page.title or "")
            content = clean(content)
            self.findable.append(
                (page.file.dest_uri, title, Findable("page", (("title", title),), re.sub(r"<[^>]+>", " ", content)))
            )
        return content

    def on_post_page(self, output: str, *, page: MkDocsPage, config: MkDocsConfig) -> str:
        self.written += 1
        self.progress("page", self.written, self.pages)
        return LEFTOVERS.sub("", output)

    def on_post_template(self, output_content: str, *, template_name: str, config: MkDocsConfig) -> str:
        return LEFTOVERS.sub("", output_content)

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        target = Path(config.site_dir) / "assets" / "search-index.js"
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(search_index(self.findable, self.glossary), encoding="utf-8")
        folder = Path(config.site_dir)
        if not self.serving:
            worker = service_worker(config.extra["fettlebook_site"], hashed(folder))
            (folder / "sw.js").write_text(worker, encoding="utf-8")


def _checked(root: Path) -> tuple[Book, list[Finding]]:
    book, findings = load(root)
    return book, sorted({*findings, *check_book(book)})


def build_site(root: Path, target: Path, book: Book, progress: Callable[..., None] | None = None) -> None:
    """The whole site of a checked BOOK into TARGET, by the mkdocs.yml in ROOT. Raises BuildFailed in words.

    progress  is called with what is being made, its number and how many there are
    """
    try:
        config = load_config(str(root / "mkdocs.yml"), site_dir=str(target))
        plugin = config.plugins["fettlebook"]
        assert isinstance(plugin, FettlebookPlugin)
        plugin.book = book
        plugin.progress = progress or plugin.progress
        build(config)
    except (Abort, ConfigurationError) as fault:
        raise BuildFailed(f"mkdocs.yml: {fault}") from fault


def serve_site(root: Path, address: str) -> None:
    """The live preview at ADDRESS until it is interrupted."""
    serve(config_file=str(root / "mkdocs.yml"), dev_addr=address)


class BuildFailed(Exception):
    """The site could not be built; the message says why."""


def _downloads(book: Book) -> dict[str, tuple[tuple[str, str], ...]]:
    """What each procedure's page offers to take away."""
    return {id: (*links, ("As one file", f"single/{id}.html")) for id, links in shelf.procedure_links(book).items()}


def _sheets(book: Book, site_url: str, progress: Callable[..., None]) -> dict[str, bytes]:
    """Every printed sheet by uri. Left out of the preview, where they would slow every save."""
    wanted = sum(map(len, shelf.procedure_links(book).values())) + len(shelf.wall_links(book))
    made: dict[str, bytes] = {}
    try:
        for uri, sheet in shelf.sheets(book, site_url):
            made[uri] = sheet
            progress("printed sheet", len(made), max(wanted, len(made)))
    except SheetFault as fault:
        raise PluginError(str(fault)) from fault
    return made


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
    return Page(
        page.uri,
        page.title,
        box + page.html,
        page.headings,
        page.description,
        page.section,
        page.findable,
        page.scripts,
    )
