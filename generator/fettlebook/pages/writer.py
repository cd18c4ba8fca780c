"""HTML from the book's objects: words, figures and tables. Every text is escaped here or by the template."""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from fettlebook.book.book import Book
from fettlebook.book.procedure import Value
from fettlebook.book.text import Part, Text, kept_together
from fettlebook.book.worksheets import unit_name
from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import Column
from fettlebook.tables.figures import in_other_unit, written
from fettlebook.tables.quantities import UNITS
from fettlebook.tables.writing import cell, filled_columns, source_line

TEMPLATES = Path(__file__).parent / "templates"
TAGS = {"emphasis": "em", "strong": "strong", "code": "code", "sub": "sub", "super": "sup"}


def two_units(si: str, si_unit: str, other: str, other_unit: str) -> Markup:
    """A figure in the unit used inside and in the inch system's; the page shows one of the two, or both with scripts off."""
    if si_unit == other_unit:
        return Markup('<span class="figure">{}</span>').format(_with_unit(si, si_unit))
    return Markup('<span class="figure"><span class="si">{}</span><span class="us">{}</span></span>').format(
        _with_unit(si, si_unit), _with_unit(other, other_unit)
    )


def _with_unit(figure: str, unit: str) -> str:
    figure = figure.replace("-", "−") if figure[:1] == "-" else figure
    return f"{figure}{unit}" if unit in {"°", "′", "″"} else f"{figure}\u00a0{unit}".strip()


def figure_cell(value: Any, column: Column) -> Markup:
    """A table's cell: numbers of a length, temperature ... in both systems, colours as a swatch with their value."""
    if column.kind == "colour" and value:
        return Markup(
            '<svg class="swatch" viewBox="0 0 10 10" preserveAspectRatio="none" aria-hidden="true"><rect width="10" height="10" fill="{0}"/></svg> <code>{0}</code>'
        ).format(value)
    si = cell(value, column)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or column.decimals is None:
        return escape(si)
    us, unit = in_other_unit(value, column.unit, column.decimals)
    if UNITS[column.unit].written == unit if column.unit in UNITS else True:
        return escape(si.replace("-", "−"))
    if column.inch_decimals is not None and column.unit == "mm":
        us = written(value / 25.4, column.inch_decimals)
    return two_units(si, "", us, "") if si != us else escape(si)


def column_unit(column: Column) -> Markup:
    """The unit of a column's heading, in both systems."""
    if not column.unit:
        return Markup("")
    si = UNITS[column.unit].written if column.unit in UNITS else column.unit
    other = in_other_unit(0.0, column.unit, 0)[1]
    if column.decimals is None or other == si:
        return Markup('<span class="unit">{}</span>').format(si)
    return Markup('<span class="unit"><span class="si">{}</span><span class="us">{}</span></span>').format(si, other)


LONG_TEXT, LONG_AMONG_MANY, MANY = 30, 18, 8
"""Letters beyond which a cell's words stand under their row, across the whole table, instead of in a narrow column; beyond which they do in
a table of many columns, where they would break to a word a line; and how many columns are many."""


def long_columns(columns: Sequence[Column], rows: Sequence[Mapping[str, Any]]) -> list[Column]:
    """Columns whose words are too long to stand beside the others, the first one excepted."""
    most = LONG_TEXT if len(columns) < MANY else LONG_AMONG_MANY
    return [c for c in columns[1:] if c.kind == "text" and any(len(str(row.get(c.name) or "")) > most for row in rows)]


MIDDLING_TEXT = 9
"""Letters beyond which a column of words keeps some width, so that it is not squeezed to a word a line."""

GROUP_TEXT = 9
"""Letters beyond which words that the first column repeats row for row become a heading over those rows."""


def width_class(column: Column, rows: Sequence[Mapping[str, Any]]) -> str:
    """The class of a column's cells."""
    if column.kind == "number":
        return "num"
    if column.kind == "list":
        return "txt txt--list"
    middling = column.kind == "text" and any(len(str(row.get(column.name) or "")) > MIDDLING_TEXT for row in rows)
    return "txt txt--wide" if middling else "txt"


def same_columns(columns: Sequence[Column], rows: Sequence[Mapping[str, Any]]) -> list[Column]:
    """Columns of a few words, the first one excepted, that say the same in every row: said once over the table.

    A label in small letters goes on from the column before it (feed from, to, per) and stays where it is.
    """
    if len(rows) < 2:
        return []
    texts = [c for c in columns[1:] if c.kind == "text" and c.label[:1].isupper()]
    return [
        c
        for c in texts
        if 0 < len(str(rows[0].get(c.name) or "")) <= LONG_TEXT and len({str(row.get(c.name)) for row in rows}) == 1
    ]


def group_column(columns: Sequence[Column], rows: Sequence[Mapping[str, Any]]) -> Column | None:
    """The first column, if its words are long and stand over several rows each: a steel's name over all its operations."""
    first = columns[0] if columns else None
    if first is None or first.kind != "text" or len(columns) < 2 or len(rows) < 2:
        return None
    values = [str(row.get(first.name) or "") for row in rows]
    starts = sum(n == 0 or value != values[n - 1] for n, value in enumerate(values))
    return first if max(map(len, values)) > GROUP_TEXT and 2 * starts <= len(rows) else None


_GRIDS: dict[tuple[Any, ...], Markup] = {}
MOST_GRIDS = 500
"""Written tables that are kept, since many procedures of a book show the same one."""


def grid(
    columns: Sequence[Column], rows: Sequence[Mapping[str, Any]], caption: str = "", titled: bool = False
) -> Markup:
    """A table with its heading, which is left out where the page has one (TITLED); the same is written once for many pages."""
    key = (tuple(columns), repr(rows), caption, titled)
    if key not in _GRIDS:
        if len(_GRIDS) >= MOST_GRIDS:
            _GRIDS.clear()
        _GRIDS[key] = environment().get_template("parts.html").module.grid(columns, rows, caption, titled)  # type: ignore[attr-defined]
    return _GRIDS[key]


@lru_cache(20_000)
def _relative(path: str, folder: str) -> str:
    """The way from FOLDER of the site to PATH; a book's pages ask for the same ones again and again."""
    return posixpath.relpath("/" + path, "/" + folder)


@dataclass(frozen=True)
class Writer:
    """Writes for one page: knows the book, the page's own address, and the named figures that its texts may use."""

    book: Book
    uri: str
    values: Mapping[str, Value]
    met: set[str] = field(default_factory=set)
    """Words of the glossary that this page has marked already; each is marked once."""

    def url(self, uri: str) -> str:
        """The relative address of another page or file of the site."""
        path, hash_sign, fragment = uri.partition("#")
        if not path:
            return uri
        return _relative(path, posixpath.dirname(self.uri)) + hash_sign + fragment

    def link(self, target: str) -> str:
        """The address for a link as written in a text; "" when it leads nowhere in this book."""
        if target.startswith("#"):
            return target
        if target.startswith(("https://", "http://")):
            return target
        kind, colon, name = target.partition(":")
        name, _, fragment = (name if colon else kind).partition("#")
        end = f"#{fragment}" if fragment else ""
        if colon and kind == "table" and name in tables():
            return self.url(f"tables/{name}.html{end}")
        if colon and kind == "machine" and name in self.book.machines:
            return self.url(f"machines/{name}.html{end}")
        if not colon and name in self.book.procedures:
            return self.url(f"procedures/{name}.html{end}")
        return ""

    def words(self, text: Text | None) -> Markup:
        """A text with its emphasis, links and named figures."""
        return Markup("").join(self._part(part) for part in text.parts) if text else Markup("")

    def explained(self, text: Text | None) -> Markup:
        """A text in which words of the glossary lead to what they mean, each at its first place on the page."""
        if text is None:
            return Markup("")
        return Markup("").join(
            self._marked(kept_together(p.words)) if p.kind == "plain" else self._part(p) for p in text.parts
        )

    def _marked(self, words: str) -> Markup:
        known = glossary_words(self.book)
        if not known.pattern:
            return escape(words)
        out, last = Markup(""), 0
        for match in known.pattern.finditer(words):
            term = known.terms[match[0].lower()]
            if term in self.met:
                continue
            self.met.add(term)
            out += escape(words[last : match.start()])
            out += Markup('<a class="term" href="{}">{}</a>').format(
                self.url(f"glossary.html#{word_id(term)}"), match[0]
            )
            last = match.end()
        return out + escape(words[last:])

    def _part(self, part: Part) -> Markup:
        if part.kind == "plain":
            return escape(kept_together(part.words))
        if part.kind == "value":
            return self._value(part.words)
        inside = Markup("").join(self._part(p) for p in part.parts) if part.parts else escape(part.words)
        if part.kind == "link":
            address = self.link(part.target)
            return Markup('<a href="{}">{}</a>').format(address, inside) if address else inside
        tag = TAGS[part.kind]
        return Markup("<{0}>{1}</{0}>").format(Markup(tag), inside)

    def _value(self, name: str) -> Markup:
        value = self.values.get(name)
        if value is None:
            return Markup("<code>{{{}}}</code>").format(name)
        return Markup('<a class="value" href="#numbers-{}">{}</a>').format(
            value.numbers_id, two_units(value.shown, value.shown_unit, value.other, value.other_unit)
        )

    def plain(self, text: Text | None) -> str:
        """A text's words with its named figures put in, without markup."""
        if text is None:
            return ""
        return "".join(self._plain_part(part) for part in text.parts)

    def _plain_part(self, part: Part) -> str:
        if part.kind == "value" and part.words in self.values:
            value = self.values[part.words]
            return _with_unit(value.shown, value.shown_unit)
        return part.words or "".join(self._plain_part(p) for p in part.parts)

    def render(self, template: str, **known: Any) -> str:
        """One of the templates, with this writer as `w`."""
        return environment().get_template(template).render(w=self, book=self.book, **known)

    @property
    def title_of(self) -> Mapping[str, str]:
        """Titles of procedures by id."""
        return self.book.titles


@dataclass(frozen=True)
class GlossaryWords:
    """One pattern for every name in the glossary, and the term that each name belongs to."""

    pattern: re.Pattern[str] | None
    terms: Mapping[str, str]


def glossary_words(book: Book) -> GlossaryWords:
    """The glossary ready for marking, made once for each book."""
    if id(book) not in _WORDS:
        names: dict[str, str] = {}
        for term in book.glossary:
            for name in (term.term, term.british, term.american, *term.also):
                if len(name) > 3:
                    names.setdefault(name.lower(), term.term)
        longest_first = sorted(names, key=len, reverse=True)
        pattern = (
            re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, longest_first))})(?![\w-])", re.I) if names else None
        )
        _WORDS.clear()
        _WORDS[id(book)] = GlossaryWords(pattern, names)
    return _WORDS[id(book)]


_WORDS: dict[int, GlossaryWords] = {}


def word_id(term: str) -> str:
    """The place of a term on the page of words."""
    return "word-" + re.sub(r"[^a-z0-9]+", "-", term.lower()).strip("-")


_ENVIRONMENT: list[Environment] = []


def environment() -> Environment:
    """The templates, set up once."""
    if not _ENVIRONMENT:
        made = Environment(
            loader=FileSystemLoader(TEMPLATES),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        made.filters.update(
            cell=figure_cell,
            unit=column_unit,
            source=source_line,
            unit_name=unit_name,
        )
        made.globals.update(
            grid=grid,
            two_units=two_units,
            filled_columns=filled_columns,
            long_columns=long_columns,
            width_class=width_class,
            group_column=group_column,
            same_columns=same_columns,
            word_id=word_id,
        )
        _ENVIRONMENT.append(made)
    return _ENVIRONMENT[0]


def json_block(content: Any) -> Markup:
    """Data for a script, safe inside a script element: no tag can end it."""
    return Markup(json.dumps(content, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c"))


def duration(seconds: float) -> str:
    """A span of time in words: 90 s, 20 min, 1 h 30 min."""
    if seconds < 120:
        return f"{seconds:g} s"
    hours, minutes = divmod(round(seconds / 60), 60)
    return " ".join(part for part in (f"{hours} h" if hours else "", f"{minutes} min" if minutes else "") if part)
