"""Which signs the printed sheets' typeface has. Typst prints a box for a missing one and says nothing, so it is asked first."""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

FONTS = Path(__file__).parent / "fonts"
SILENT = {"\n", "\t", "\u200b", "\u00ad"}
SVG_WORDS = re.compile(r"<text[^>]*>(.*?)</text>", re.S)
ENTITIES = {"&lt;": "<", "&gt;": ">", "&amp;": "&", "&quot;": '"', "&#39;": "'"}


@cache
def signs_of_the_typeface() -> frozenset[int]:
    """Code points that every style of the typeface has."""
    found = [_code_points(path.read_bytes()) for path in sorted(FONTS.glob("*.ttf"))]
    return frozenset(set.intersection(*found))


def missing(data: Any) -> str:
    """The signs in DATA, a sheet's plain data with its drawings, for which there is no glyph, in order."""
    used = {sign for words in _words(data) for sign in words} - SILENT
    return "".join(sorted(sign for sign in used if ord(sign) not in signs_of_the_typeface()))


def _words(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in {"colour", "formula"}:
                yield from _words(value)
    elif isinstance(data, (list, tuple)):
        for one in data:
            yield from _words(one)
    elif isinstance(data, str) and data.lstrip().startswith("<svg"):
        for inside in SVG_WORDS.findall(data):
            words = re.sub(r"<[^>]+>", "", inside)
            for entity, sign in ENTITIES.items():
                words = words.replace(entity, sign)
            yield words
    elif isinstance(data, str):
        yield data


def _code_points(font: bytes) -> set[int]:
    """The code points in a TrueType font's cmap (OpenType specification, subtables of format 4 and 12)."""
    tables = struct.unpack(">H", font[4:6])[0]
    start = next(
        struct.unpack(">I", font[12 + 16 * n + 8 :][:4])[0] for n in range(tables) if font[12 + 16 * n :][:4] == b"cmap"
    )
    found: set[int] = set()
    for n in range(struct.unpack(">H", font[start + 2 : start + 4])[0]):
        at = start + struct.unpack(">I", font[start + 4 + 8 * n + 4 :][:4])[0]
        form = struct.unpack(">H", font[at : at + 2])[0]
        if form == 12:
            found |= _format_12(font, at)
        elif form == 4:
            found |= _format_4(font, at)
    return found


def _format_12(font: bytes, at: int) -> set[int]:
    groups = struct.unpack(">I", font[at + 12 : at + 16])[0]
    spans = (struct.unpack(">III", font[at + 16 + 12 * n :][:12]) for n in range(groups))
    return {code for first, last, glyph in spans for code in range(first, last + 1) if glyph + code - first}


def _format_4(font: bytes, at: int) -> set[int]:
    count = struct.unpack(">H", font[at + 6 : at + 8])[0] // 2
    ends, starts, deltas, offsets = (
        struct.unpack(f">{count}H", font[at + 14 + skip :][: 2 * count])
        for skip in (0, 2 * count + 2, 4 * count + 2, 6 * count + 2)
    )
    found = set()
    for n in range(count):
        for code in range(starts[n], min(ends[n], 0xFFFE) + 1):
            if offsets[n]:
                spot = at + 14 + 6 * count + 2 + 2 * n + offsets[n] + 2 * (code - starts[n])
                glyph = struct.unpack(">H", font[spot : spot + 2])[0]
            else:
                glyph = (code + deltas[n]) & 0xFFFF
            if glyph:
                found.add(code)
    return found
