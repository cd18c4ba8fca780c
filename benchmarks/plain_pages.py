"""The pages of a built book as ready Markdown, as somebody without this program would have to write them by hand.

Words, headings, lists, tables, links, emphasis and cautions are kept; drawings, signs, tick boxes and fields are dropped, and of
a figure in two units the metric one alone is kept. So the plain site has less to do than ours, never more.
"""

from __future__ import annotations

import posixpath
import re
from html.parser import HTMLParser
from pathlib import Path

VOID = {"img", "input", "br", "hr", "meta", "link", "rect", "path", "col", "wbr"}
DROPPED = {"svg", "script", "style", "button", "form", "input", "select", "nav", "header", "footer"}
BLOCKS = {"p", "dt", "dd", "summary", "figcaption", "caption", "legend", "label", "output"}
MARKS = {"strong": "**", "b": "**", "em": "*", "i": "*", "code": "`"}
MARKDOWN = re.compile(r"([\\`*_\[\]<>|#])")


class Plain(HTMLParser):
    """Turns the main part of one page into Markdown."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks: list[str] = []
        self.words: list[str] = []
        self.lists: list[str] = []
        self.rows: list[list[str]] = []
        self.dropped: list[str] = []
        self.inset = False
        self.heading = 0
        self.href = ""

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        known = {name: value or "" for name, value in attributes}
        if self.dropped or tag in DROPPED or known.get("class") == "us":
            if tag not in VOID:
                self.dropped.append(tag)
        elif tag in MARKS:
            self.words.append(MARKS[tag])
        elif tag == "a":
            self.href = re.sub(r"\.html(?=#|$)", ".md", known.get("href", ""))
            self.words.append("[")
        elif re.fullmatch("h[1-6]", tag):
            self.flush()
            self.heading = int(tag[1])
        elif tag in {"ul", "ol"}:
            self.flush()
            self.lists.append("- " if tag == "ul" else "1. ")
        elif tag == "table":
            self.flush()
            self.rows = []
        elif tag == "tr":
            self.rows.append([])
        elif tag in {"td", "th"}:
            self.words = []
        elif tag == "div" and "caution--" in known.get("class", ""):
            self.flush()
            self.blocks.append("!!! warning")
            self.inset = True
        elif tag in {*BLOCKS, "li", "div", "section"} and not self.rows:
            self.flush()

    def handle_endtag(self, tag: str) -> None:
        if self.dropped:
            if tag == self.dropped[-1]:
                self.dropped.pop()
        elif tag in MARKS:
            self.words.append(MARKS[tag])
        elif tag == "a":
            self.words.append(f"]({self.href})")
        elif tag in {"ul", "ol"}:
            self.flush()
            self.lists.pop()
        elif tag in {"td", "th"}:
            self.rows[-1].append(self.taken())
        elif tag == "table":
            self.table()
        elif tag in {*BLOCKS, "li", "div", "section"} or re.fullmatch("h[1-6]", tag):
            if not self.rows:
                self.flush()
            self.inset = self.inset and tag != "section"

    def handle_data(self, words: str) -> None:
        if not self.dropped:
            self.words.append(MARKDOWN.sub(r"\\\1", words))

    def taken(self) -> str:
        found = " ".join("".join(self.words).split())
        self.words = []
        return found

    def flush(self) -> None:
        """What was gathered becomes a block of its own."""
        if not (words := self.taken()):
            return
        if self.heading:
            self.blocks.append(f"{'#' * self.heading} {words}")
            self.heading = 0
        elif self.lists:
            self.blocks.append(f"{'    ' * (len(self.lists) - 1)}{self.lists[-1]}{words}")
        else:
            self.blocks.append(f"{'    ' if self.inset else ''}{words}")

    def table(self) -> None:
        rows, self.rows = [row for row in self.rows if row], []
        if not rows:
            return
        width = max(map(len, rows))
        lines = [f"| {' | '.join([*row, *([''] * (width - len(row)))])} |" for row in rows]
        self.blocks.append("\n".join([lines[0], f"|{' --- |' * width}", *lines[1:]]))


def markdown(html: str) -> str:
    """The Markdown of a page's main part."""
    plain = Plain()
    plain.feed(html)
    plain.flush()
    return "\n\n".join(plain.blocks) + "\n"


def write_plain_site(root: Path, pages: list[tuple[str, str]], name: str) -> None:
    """A plain site in ROOT from (uri, html) of every page: the theme's own navigation, pruned, and its own search."""
    for uri, html in pages:
        path = root / "docs" / posixpath.splitext(uri)[0]
        path.parent.mkdir(parents=True, exist_ok=True)
        path.with_name(f"{path.name}.md").write_text(markdown(html), encoding="utf-8")
    (root / "mkdocs.yml").write_text(
        f"site_name: {name}\ntheme:\n  name: material\n  font: false\n  features: [navigation.prune]\nplugins: [search]\n"
        "markdown_extensions: [admonition, tables, toc]\nvalidation: {links: {anchors: ignore, not_found: ignore, unrecognized_links: ignore}, nav: {omitted_files: ignore}}\n",
        encoding="utf-8",
    )
