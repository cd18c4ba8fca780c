"""The search index: a small inverted index that loads as a plain script, so that it works from a folder.

Tokens keep digits and the signs . / - inside them, so that `1/2-13`, `M10x1.5` and `0.02` are words. Each word's postings
say in which pages and in how strong a place it stands: title, other names and symptoms, headings and tools, body.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable
from functools import lru_cache, partial
from itertools import groupby
from operator import itemgetter, sub

from fettlebook.book.kept import Kept
from fettlebook.book.shop import Term
from fettlebook.pages.page import Findable
from fettlebook.pages.script_data import script_data

STRENGTH = {"title": 3, "other name": 2, "symptom": 2, "word": 2, "machine": 2}
"""Strength of a place: 3 title, 2 names and symptoms, 1 tools, headings, rows, 0 body."""

TOKEN = re.compile(r"[^\W_]+(?:[./×-][^\W_]+)*|#\d[\w./-]*")
STOP = frozenset(
    [
        "a",
        "an",
        "and",
        "are",
        "as",
        "at",
        "be",
        "by",
        "for",
        "from",
        "in",
        "is",
        "it",
        "its",
        "of",
        "on",
        "or",
        "so",
        "than",
        "that",
        "the",
        "this",
        "to",
        "with",
    ]
)


def folded(text: str) -> str:
    """TEXT in lower case without accents; vulgar fractions and the times sign as people type them."""
    spread = re.sub(r"(\d)([¼-¾⅐-⅞])", r"\1 \2", text)
    plain = unicodedata.normalize("NFKD", spread).replace("⁄", "/").replace("×", "x").replace("−", "-")
    return "".join(sign for sign in plain if not unicodedata.combining(sign)).lower()


def tokens(text: str) -> list[str]:
    """The words of TEXT for search; a word joined by - or / stands whole and in its parts."""
    found = []
    for token in TOKEN.findall(folded(text)):
        found.append(token)
        if "-" in token or "/" in token:
            found += [part for part in re.split(r"[-/]", token) if len(part) > 2 and not part[0].isdigit()]
    return [token for token in found if token not in STOP]


def synonyms(glossary: Iterable[Term]) -> dict[str, list[str]]:
    """For each word or phrase of the glossary, its other names on both sides of the Atlantic."""
    found: dict[str, set[str]] = defaultdict(set)
    for term in glossary:
        names = {" ".join(tokens(name)) for name in (term.term, term.british, term.american, *term.also) if name} - {""}
        for name in names:
            found[name] |= names - {name}
    return {name: sorted(others) for name, others in sorted(found.items()) if others}


def search_index(pages: Iterable[tuple[str, str, Findable]], glossary: Iterable[Term], kept: Kept | None = None) -> str:
    """The script `search-index.js` for (uri, title, findable) of every page.

    A few long texts, which a browser reads sooner than many small lists; they are taken apart where a question needs them.
    pages: a line each, "kind, uri, title, why, words, why, words, ..." parted by tabs, in the order of their titles, in which
    equally good answers are shown. words: for each first letter a line with its words in order, then a line for each of
    them, "page*4+strength" in base 36, as differences.
    kept: words of pages that were read before, for a preview
    """
    kept = kept or Kept()
    lines, places = [], defaultdict(list)
    for number, (uri, title, findable) in enumerate(sorted(pages, key=itemgetter(1, 0))):
        line, words = kept.get(("words", uri), (title, findable), partial(_read, uri, title, findable))
        lines.append(line)
        for word, strength in words.items():
            places[word].append(number * 4 + strength)
    letters = groupby(sorted(places, key=_as_browsers_compare), key=itemgetter(0))
    known = {
        "pages": "\n".join(lines),
        "words": {letter: _written(list(words), places) for letter, words in letters},
        "other": synonyms(glossary),
    }
    return f"window.fettlebookIndex={script_data(known, ensure_ascii=True)};\n"


def _read(uri: str, title: str, findable: Findable) -> tuple[str, dict[str, int]]:
    """A page's line in the index, and its words."""
    fields = [part for field in findable.fields if field[0] not in {"title", "row"} for part in field]
    line = "\t".join(" ".join(part.split()) for part in (findable.kind, uri, title, *fields))
    return line, words_of(findable)


def _as_browsers_compare(word: str) -> bytes:
    """Scripts compare texts by units of UTF-16, in which a sign beyond U+FFFF comes before one just below it."""
    return word.encode("utf-16-be", "surrogatepass")


def _written(words: list[str], places: dict[str, list[int]]) -> str:
    """The words with one first letter and where each stands."""
    return "\n".join([" ".join(words), *(_packed(places[word]) for word in words)])


def words_of(findable: Findable) -> dict[str, int]:
    """Every word of a page with the strongest place in which it stands."""
    found: dict[str, int] = {}
    for why, words in findable.fields:
        for token in tokens(words):
            found[token] = max(found.get(token, 0), _strength(why, token))
    for token in tokens(findable.body):
        found.setdefault(token, 0)
    return found


def _strength(why: str, token: str) -> int:
    """How much a word in such a place counts; a size in a table's row (`M10x1.5`) as much as another name."""
    return 2 if why == "row" and any(sign.isdigit() for sign in token) else STRENGTH.get(why, 1)


def _packed(at: list[int]) -> str:
    """Postings as space-joined base-36 differences of page*4+strength, in order of page, which is that of AT."""
    return " ".join(map(_base36, map(sub, at, [0, *at])))


@lru_cache(maxsize=20_000)
def _base36(value: int) -> str:
    digits = "0123456789abcdefghijklmnopqrstuvwxyz"
    out = ""
    while value or not out:
        value, rest = divmod(value, 36)
        out = digits[rest] + out
    return out
