"""Where a sign of a value stands in the file: quotes, doubled quotes, backslashes and folded lines put it elsewhere than its number says."""

from __future__ import annotations

import re

from fettlebook.book.strict_yaml import Map, Spot

ESCAPE = re.compile(r"\\(?:x[0-9a-fA-F]{2}|u[0-9a-fA-F]{4}|U[0-9a-fA-F]{8}|\n[ ]*|.)", re.S)
"""A backslash and what it makes one sign (or none, at the end of a line) between double quotes."""


def spot_in(t: Map, key: str, value: str, at: int) -> Spot:
    """Line and column of sign AT (from 0) of VALUE, which the file holds under KEY of T.

    A value that is written in a way not foreseen here gives the place where it starts.
    """
    start = t.values_at.get(key, t.at)
    raw = t.raw.get(key)
    if raw is None:
        return start[0], start[1] + at
    before = raw[: _index(raw, value, at)]
    lines = before.count("\n")
    return (start[0] + lines, len(before) - before.rfind("\n")) if lines else (start[0], start[1] + len(before))


def _index(raw: str, value: str, at: int) -> int:
    """The place in RAW of sign AT of VALUE; 0 where the two do not run alike.

    White space in RAW may be more than in VALUE (a folded line and its indent) or another one; every other sign is there in both.
    """
    style = raw[:1]
    here = raw.find("\n") + 1 if style in {"|", ">"} else 1 if style in {'"', "'"} else 0
    for number, sign in enumerate(value):
        if not sign.isspace():
            here = _past_white_space(raw, here, style)
        if number == at:
            return here
        width = _width(raw, here, style)
        if not sign.isspace() and width == 1 and raw[here : here + 1] != sign:
            return 0
        here += width if not sign.isspace() or raw[here : here + 1].isspace() or width > 1 else 0
    return here


def _past_white_space(raw: str, here: int, style: str) -> int:
    while raw[here : here + 1].isspace() or (style == '"' and raw[here : here + 2] == "\\\n"):
        here += 2 if raw[here] == "\\" else 1
    return here


def _width(raw: str, here: int, style: str) -> int:
    """How many signs of RAW make the one that stands HERE."""
    if style == '"' and (found := ESCAPE.match(raw, here)):
        return len(found[0])
    return 2 if style == "'" and raw[here : here + 2] == "''" else 1
