"""The parser's complaints in plain words, with what usually caused them."""

from __future__ import annotations

import re
from typing import Any

from fettlebook.book.places import Finding, Place

DOCUMENTS = "a file holds one procedure; nothing may follow after ---"

PLAIN = (
    ("mapping values are not allowed", 'a second ": " stands in this line', "put quotes around the whole value"),
    ("cannot start any token", "a value may not start with this sign", "put quotes around the value"),
    ("found undefined alias", '"*" at the start of a value makes an alias', "put quotes around the value"),
    ("expected a single document", "a second document starts here", DOCUMENTS),
    ("but found another document", "a second document starts here", DOCUMENTS),
    ("exceeded maximum nesting depth", "lists inside lists go too deep here", "write them out less deeply"),
    ("found unexpected end of stream", "a quotation mark, bracket or brace is never closed", "close it"),
    ("found unknown escape character", "a backslash in double quotes starts a special sign", "use single quotes"),
    ("could not find expected ':'", 'a ":" is missing after a key', "write `key: value`, or indent a line that belongs to the text above"),
    ("block sequence entries are not allowed", "a list may not start here", "write each - in a line of its own under its key"),
    ("did not find expected ',' or", "a bracket or brace is not closed, or a comma is missing", "put quotes around a value that holds , [ ] { or }"),
    ("did not find expected '-' indicator", "this line does not continue the list above", "give every - of a list the same indent"),
    ("did not find expected key", "the indent of this line fits nothing above, or a quotation mark is not closed", "line it up with its neighbours; put quotes around a whole value, not a part of it"),
    ("control characters are not allowed", "there is a sign that cannot be seen", "delete it"),
)  # fmt: skip


def syntax_finding(fault: Exception, text: str, name: str) -> Finding:
    """One finding for FAULT, which stopped the parser in TEXT of the file NAME."""
    problem = str(getattr(fault, "problem", None) or getattr(fault, "reason", None) or "")
    place = _place(fault, text, name)
    line = text.split("\n")[place.line - 1] if 0 < place.line <= text.count("\n") + 1 else ""
    if re.search(r":\s+\{[^}]*\}\s*\S", line) or re.search(r"^\s*-\s+\{[a-z0-9-]+\}\s*\S", line):
        return Finding(
            place,
            "a value starts with a brace",
            "syntax",
            "YAML takes it for a mapping",
            "put quotes around the whole value",
        )
    for sign, what, hint in PLAIN:
        if sign in problem:
            return Finding(place, what, "syntax", "the rest of the file could not be read", hint)
    why = f"the parser says: {problem}" if problem else "the rest of the file could not be read"
    return Finding(place, "this is not YAML", "syntax", why, "compare with a procedure that works")


def _place(fault: Any, text: str, name: str) -> Place:
    mark = getattr(fault, "problem_mark", None) or getattr(fault, "context_mark", None)
    lines = text.split("\n")
    if mark is None:
        return Place(name)
    line, column = mark.line, mark.column
    if line >= len(lines) or (line == len(lines) - 1 and not lines[line]):
        line = max(0, len(text.rstrip("\n").split("\n")) - 1)
        column = len(lines[line])
    return Place(name, line + 1, column + 1)
