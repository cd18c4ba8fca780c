"""YAML read plainly: what a person wrote stays what they wrote, and what YAML lets slip is a fault with its place.

Only `true`, `false`, `null` and plain decimals (`12`, `-0.500`) are not text; `60:40`, `012`, `no`, `1/2-13` and
`2026-11-25` are. A decimal keeps its digits. Equal keys, tabs, anchors, aliases, tags, several documents, values left
empty, and a comment that swallows the rest of a value (`thread: #10-32`) are refused. All faults come in one run; only
one that stops the parser hides those after it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import yaml

from fettlebook.book.places import Finding, Place
from fettlebook.book.syntax_faults import syntax_finding

LARGEST_FILE = 1_000_000
"""Bytes; a procedure has some ten thousand."""
DEEPEST = 24
"""Mappings and lists inside one another; a procedure needs about eight."""

DECIMAL = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
WORDS: dict[str, bool | None] = {"true": True, "false": False, "null": None}
UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]")
GLUED = re.compile(r"(?<=[ \t])#(?=\w)")
LONGEST_NUMBER = 30

Spot = tuple[int, int]
"""Line and column, both from 1."""


class Loader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """The parser, without its own ideas of what is a number, a date or a yes."""

    yaml_implicit_resolvers: dict[str, Any] = {}

    def resolve(self, kind: type, value: Any, implicit: Any) -> str:
        """Every value is text so far; what it means is decided by _Builder. Saves a tenth of the time."""
        return "tag:yaml.org,2002:str"

    def descend_resolver(self, current_node: Any, current_index: Any) -> None:
        """Nothing depends on the path."""

    def ascend_resolver(self) -> None:
        """Nothing depends on the path."""


class Whole(int):
    """A whole number that keeps its digits."""

    written: str

    def __new__(cls, written: str) -> Whole:
        self = super().__new__(cls, written)
        self.written = written
        return self

    def __str__(self) -> str:
        return self.written

    def __reduce__(self) -> tuple[Any, ...]:
        return Whole, (self.written,)


class Decimal(float):
    """A number with decimals that keeps them: 0.50 and 0.500 differ on a drawing."""

    written: str

    def __new__(cls, written: str) -> Decimal:
        self = super().__new__(cls, written)
        self.written = written
        return self

    def __str__(self) -> str:
        return self.written

    def __reduce__(self) -> tuple[Any, ...]:
        return Decimal, (self.written,)


class Map(dict[str, Any]):
    """A mapping that knows where it starts, and where each key and each value stands.

    raw  a value as it stands in the file, quotes and all, where it is quoted or runs over several lines (scalar_places.py)
    """

    __slots__ = ("at", "keys_at", "raw", "values_at")

    def __init__(self, at: Spot = (0, 0)) -> None:
        super().__init__()
        self.at = at
        self.keys_at: dict[str, Spot] = {}
        self.values_at: dict[str, Spot] = {}
        self.raw: dict[str, str] = {}


class Seq(list[Any]):
    """A list that knows where it starts and where each of its values stands."""

    __slots__ = ("at", "values_at")

    def __init__(self, at: Spot = (0, 0)) -> None:
        super().__init__()
        self.at = at
        self.values_at: list[Spot] = []


class Broken:
    """Stands where something was refused, so that nothing else is said about it."""

    def __repr__(self) -> str:
        return "BROKEN"


BROKEN = Broken()


def file_bytes(path: Path, name: str) -> tuple[bytes | None, list[Finding]]:
    """The bytes of the file PATH, called NAME in findings; None, and why, if it cannot be read or is too large."""
    try:
        if not path.is_file():
            return None, [_whole(name, "this is not a file", "unreadable")]
        size = path.stat().st_size
        if size > LARGEST_FILE:
            return None, [_whole(name, f"the file has {size:,} bytes", "large", "a million is the most that is read")]
        return path.read_bytes(), []
    except OSError as fault:
        return None, [_whole(name, f"the file cannot be read ({fault.strerror or 'unknown reason'})", "unreadable")]


def read_file(path: Path, name: str) -> tuple[Any, list[Finding]]:
    """The content of the YAML file PATH, called NAME in findings, and every fault in it (content None if unreadable)."""
    content, findings = file_bytes(path, name)
    return (None, findings) if content is None else read_bytes(content, name)


def read_bytes(content: bytes, name: str) -> tuple[Any, list[Finding]]:
    """The same for bytes in hand."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        before = content[: fault.start].decode("utf-8", "replace")
        place = Place(name, before.count("\n") + 1, len(before) - before.rfind("\n"))
        return None, [Finding(place, "this is not UTF-8 text", "encoding", hint="save the file as UTF-8")]
    return read_text(text, name)


def read_text(text: str, name: str) -> tuple[Any, list[Finding]]:
    """The content of TEXT, and every fault in it. Content is None when there is nothing that can be read."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    findings = list(_unseen(text, name))
    if any(finding.rule == "unseen" for finding in findings) or re.search(r"^ *\t", text, re.M):
        return None, findings
    loader = Loader(text.replace("\t", " "))
    try:
        root = loader.get_single_node()
    except (yaml.YAMLError, RecursionError, ValueError) as fault:
        return None, [*findings, syntax_finding(fault, text, name)]
    finally:
        loader.dispose()
    if root is None:
        return None, [*findings, _whole(name, "the file is empty", "empty")]
    builder = _Builder(text, name)
    value = builder.build(root, 0)
    findings += builder.findings
    return value, sorted(set(findings))


def _unseen(text: str, name: str) -> Iterator[Finding]:
    """Tabs and signs that cannot be seen: one finding for each line."""
    if "\t" not in text and not UNSEEN.search(text):
        return
    for number, line in enumerate(text.split("\n"), 1):
        if "\t" in line:
            place = Place(name, number, line.index("\t") + 1)
            yield Finding(place, "there is a tab", "tab", "YAML measures indents in spaces", "write spaces instead")
        if found := UNSEEN.search(line):
            place = Place(name, number, found.start() + 1)
            what = f"there is a sign that cannot be seen (U+{ord(found[0]):04X})"
            yield Finding(place, what, "unseen", "it could hide or turn round what is read", "delete it")


def _whole(name: str, what: str, rule: str, why: str = "") -> Finding:
    return Finding(Place(name), what, rule, why)


class _Builder:
    """Turns the parser's nodes into plain values with their places."""

    def __init__(self, text: str, name: str) -> None:
        self.text, self.name = text, name
        self.findings: list[Finding] = []
        self.glued = [(text.count("\n", 0, m.start()), m.start()) for m in GLUED.finditer(text)]
        self.covered: set[int] = set()
        self.kinds: dict[type, Callable[[Any, int], Any]] = {
            yaml.ScalarNode: self._scalar,
            yaml.MappingNode: self._mapping,
            yaml.SequenceNode: self._sequence,
        }

    def build(self, root: Any, depth: int) -> Any:
        value = self._value(root, depth)
        for line, index in self.glued:
            if index not in self.covered and self.text[self.text.rfind("\n", 0, index) + 1 : index].strip():
                self._glued(line, index)
        return value

    def _value(self, node: Any, depth: int) -> Any:
        mark = node.start_mark
        sign = self.text[mark.index : mark.index + 1]
        if sign and sign in "&*!":
            return self._refused(mark, sign)
        return self.kinds[type(node)](node, depth)

    def _scalar(self, node: Any, depth: int) -> Any:
        value = node.value
        if self.glued:
            self._cover(node)
        if node.style:
            if UNSEEN.search(value) or "\t" in value:
                what = "a sign that cannot be seen is written with a backslash here"
                return self._fault(node.start_mark, what, "unseen", "it could hide what is read", "write words")
            return value
        if not value:
            after = self.text[node.end_mark.index :].split("\n", 1)[0]
            return BROKEN if re.match(r"\s*#\w", after) else self._empty(node.start_mark)
        if value in WORDS:
            return WORDS[value]
        if DECIMAL.fullmatch(value):
            if len(value) > LONGEST_NUMBER:
                return self._fault(
                    node.start_mark, "this number has too many digits", "number", hint="put it in quotes if it is text"
                )
            return Decimal(value) if "." in value else Whole(value)
        return value

    def _mapping(self, node: Any, depth: int) -> Any:
        mark = node.start_mark
        if depth > DEEPEST:
            return self._fault(mark, f"this is more than {DEEPEST} levels deep", "deep")
        if node.flow_style and len(node.value) == 1 and _is_empty(node.value[0][1]):
            return self._braces(node)
        found = Map((mark.line + 1, mark.column + 1))
        for key_node, value_node in node.value:
            if node.flow_style and _is_empty(value_node) and self._after(key_node) != ":":
                self._comma(key_node)
                continue
            key = self._key(key_node)
            value = self._value(value_node, depth + 1)
            if key is None:
                continue
            spot = (key_node.start_mark.line + 1, key_node.start_mark.column + 1)
            if key in found:
                first = found.keys_at[key][0]
                self._fault(
                    key_node.start_mark,
                    f'"{_cut(key)}" is written twice',
                    "twice",
                    f"it stands in line {first} already",
                    "keep one of them",
                )
                continue
            found[key] = value
            found.keys_at[key] = spot
            start, end = value_node.start_mark, value_node.end_mark
            found.values_at[key] = (start.line + 1, start.column + 1)
            if type(value_node) is yaml.ScalarNode and (value_node.style or start.line != end.line):
                found.raw[key] = self.text[start.index : end.index]
        return found

    def _key(self, node: Any) -> str | None:
        mark = node.start_mark
        if type(node) is not yaml.ScalarNode:
            self._fault(
                mark, "a key must be plain words", "key", hint="put quotes around a value that starts with { or ["
            )
            return None
        if self.text[mark.index : mark.index + 1] in {"&", "*", "!"}:
            self._refused(mark, self.text[mark.index])
            return None
        if self.glued:
            self._cover(node)
        if not node.value or (node.value == "<<" and not node.style):
            self._fault(mark, f'"{node.value}" cannot be a key', "key", hint="write the name of what follows")
            return None
        return node.value

    def _sequence(self, node: Any, depth: int) -> Any:
        mark = node.start_mark
        if depth > DEEPEST:
            return self._fault(mark, f"this is more than {DEEPEST} levels deep", "deep")
        found = Seq((mark.line + 1, mark.column + 1))
        for child in node.value:
            found.append(self._value(child, depth + 1))
            found.values_at.append((child.start_mark.line + 1, child.start_mark.column + 1))
        return found

    def _cover(self, node: Any) -> None:
        """Remember each # that belongs to a value and is not a comment."""
        start, end = node.start_mark.index, node.end_mark.index
        self.covered.update(index for _, index in self.glued if start <= index < end)

    def _fault(self, mark: Any, what: str, rule: str, why: str = "", hint: str = "") -> Broken:
        self.findings.append(Finding(Place(self.name, mark.line + 1, mark.column + 1), what, rule, why, hint))
        return BROKEN

    def _refused(self, mark: Any, sign: str) -> Broken:
        kind = {"&": "an anchor", "*": "an alias", "!": "a tag"}[sign]
        why = "every value is written out where it is used"
        return self._fault(
            mark,
            f'"{sign}" at the start of a value makes {kind}',
            "anchor",
            why,
            "put quotes around a text that starts so",
        )

    def _empty(self, mark: Any) -> Broken:
        return self._fault(
            mark,
            "nothing is written here",
            "nothing",
            "an empty value says nothing",
            "write the value, or leave the key out",
        )

    def _braces(self, node: Any) -> Broken:
        name = getattr(node.value[0][0], "value", "")
        name = name if isinstance(name, str) else "..."
        why = "braces at the start of a value make a mapping"
        return self._fault(
            node.start_mark, f"{{{_cut(name)}}} stands without quotes", "braces", why, f'write "{{{_cut(name)}}}"'
        )

    def _after(self, node: Any) -> str:
        """The first sign after NODE that is not white space."""
        return self.text[node.end_mark.index : node.end_mark.index + 200].lstrip()[:1]

    def _comma(self, node: Any) -> None:
        words = _cut(str(node.value)) if isinstance(node.value, str) else "..."
        self._fault(node.start_mark, f'"{words}" is cut off from the value before it', "comma", "between { and } a comma starts a new key",
                    "put quotes around the whole value")  # fmt: skip

    def _glued(self, line: int, index: int) -> None:
        column = index - self.text.rfind("\n", 0, index)
        lost = _cut(self.text[index:].split("\n", 1)[0])
        self.findings.append(Finding(Place(self.name, line + 1, column), f'"{lost}" is read as a comment and lost', "comment",
                                     "a # after a space starts one", "put quotes around the whole value, or a space after # if a comment is meant"))  # fmt: skip


def _is_empty(node: Any) -> bool:
    return type(node) is yaml.ScalarNode and not node.style and not node.value


def _cut(words: str) -> str:
    return words if len(words) <= 40 else words[:39] + "…"
