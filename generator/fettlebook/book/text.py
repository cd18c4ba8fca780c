"""Words with a little inline Markdown, parsed once into parts that pages and sheets write in their own way.

Understood: *emphasis*, **strong**, `code`, [words](procedure-id), [words](https://...), ~sub~, ^super^, and {name} for a
named figure. Raw HTML is shown as the text it is.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from markdown_it import MarkdownIt
from markdown_it.token import Token

from fettlebook.book.compact import compact
from fettlebook.tables.quantities import UNITS

MARKED = re.compile(r"[*_`\[\]{}~^\\<&!]")
"""Signs that may be markup. A text without any of them is not parsed at all: most texts, and it saves most of the time."""

NAMED = re.compile(r"\{([a-z][a-z0-9-]*)\}")
SCRIPT = re.compile(r"~([^~\s]{1,20})~|\^([^\^\s]{1,20})\^")

BESIDE_A_FIGURE = re.compile(
    r"(?<=\d) (?=(?:"
    + "|".join(re.escape(unit.written) for unit in UNITS.values())
    + r")(?![\w/²]))|(?<=\d) (?=×)|(?<=×) (?=\d)"
)
"""The space between a figure and its unit, or around the sign between two sizes."""


def kept_together(words: str) -> str:
    """WORDS as they are set in lines: no line ends between a figure and its unit, nor within 12 × 1.5."""
    return BESIDE_A_FIGURE.sub("\u00a0", words)


@compact
@dataclass(frozen=True, slots=True)
class Part:
    """A run of words. kind: plain, emphasis, strong, code, link, sub, super, value.

    words   what is read (for a value: its name)
    target  where a link leads: a procedure's id, `table:NAME`, `machine:ID`, `#fragment`, or an https address
    parts   what stands inside emphasis, strong and link
    """

    kind: str
    words: str = ""
    target: str = ""
    parts: tuple[Part, ...] = ()


@compact
@dataclass(frozen=True, slots=True)
class Text:
    """Words as written and as parts."""

    written: str
    parts: tuple[Part, ...]

    @property
    def plain(self) -> str:
        """The words alone; a named figure stays as {name}."""
        return _plain(self.parts)

    @property
    def named(self) -> tuple[str, ...]:
        """The named figures used, in order."""
        return tuple(_named(self.parts))

    @property
    def targets(self) -> tuple[str, ...]:
        """Where its links lead."""
        return tuple(_targets(self.parts))


def text(written: str) -> Text:
    """WRITTEN as a Text."""
    written = " ".join(written.split())
    if not MARKED.search(written):
        return Text(written, (Part("plain", written),))
    tokens = _parser().parseInline(written)[0].children or []
    parts, _ = _parts(tokens, 0, "")
    return Text(written, tuple(parts))


@cache
def _parser() -> MarkdownIt:
    return MarkdownIt("zero", {"html": False}).enable(["emphasis", "backticks", "link", "escape", "entity"])


def _parts(tokens: list[Token], start: int, end: str) -> tuple[list[Part], int]:
    """Parts from token START up to the closing token of type END."""
    found: list[Part] = []
    n = start
    while n < len(tokens) and tokens[n].type != end:
        token = tokens[n]
        if token.type in {"em_open", "strong_open", "link_open"}:
            inside, n = _parts(tokens, n + 1, token.type.replace("open", "close"))
            kind = {"em_open": "emphasis", "strong_open": "strong", "link_open": "link"}[token.type]
            found.append(Part(kind, target=str(token.attrs.get("href", "")), parts=tuple(inside)))
        elif token.type == "code_inline":
            found.append(Part("code", token.content))
        elif token.content:
            found.extend(_split(token.content))
        n += 1
    return found, n


def _split(words: str) -> list[Part]:
    """Plain words cut at named figures, subscripts and superscripts."""
    found: list[Part] = []
    for n, piece in enumerate(NAMED.split(words)):
        if n % 2:
            found.append(Part("value", piece))
        else:
            found.extend(_scripts(piece))
    return found


def _scripts(words: str) -> list[Part]:
    found: list[Part] = []
    last = 0
    for match in SCRIPT.finditer(words):
        if match.start() > last:
            found.append(Part("plain", words[last : match.start()]))
        found.append(Part("sub", match[1]) if match[1] is not None else Part("super", match[2]))
        last = match.end()
    if words[last:]:
        found.append(Part("plain", words[last:]))
    return found


def _plain(parts: tuple[Part, ...]) -> str:
    return "".join(f"{{{p.words}}}" if p.kind == "value" else p.words or _plain(p.parts) for p in parts)


def _named(parts: tuple[Part, ...]) -> list[str]:
    return [name for p in parts for name in ([p.words] if p.kind == "value" else _named(p.parts))]


def _targets(parts: tuple[Part, ...]) -> list[str]:
    return [t for p in parts for t in ([p.target] if p.kind == "link" else []) + _targets(p.parts)]
