"""Where the letters of a PDF page stand, how large they are and which glyphs they use, read from its content stream.

PDF 32000-1: text size is the size of Tf times the text matrix times the current matrix; the advance of a glyph is its width in /W, in
thousandths, less the adjustments in TJ. Enough of the language is read for what the typesetter writes; anything else fails loudly.
"""

import math
import re
from dataclasses import dataclass

TOKEN = re.compile(
    rb"\(|<<|>>|<[0-9A-Fa-f\s]*>|/[^\s()<>\[\]/]*|\[|\]|[-+]?\d*\.?\d+|[A-Za-z'\"*][A-Za-z0-9'\"*]*", re.S
)
ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.S)
NAMED = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
NUMBER = re.compile(rb"[-+]?\d*\.?\d+")
IDENTITY = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@dataclass(frozen=True)
class Letters:
    """A run of letters: size [pt], where it begins and ends [pt from the lower left corner], its glyphs, its font."""

    size: float
    begins: tuple[float, float]
    ends: tuple[float, float]
    glyphs: tuple[int, ...]
    font: str


def letters(page):
    """Every run of letters on a page."""
    return list(_runs(page.get_contents().get_data(), page["/Resources"], IDENTITY))


def _runs(content, resources, matrix):
    fonts = {name.encode(): _font(font.get_object()) for name, font in resources.get("/Font", {}).items()}
    forms = resources.get("/XObject", {})
    stack, kept, font, size, text = [], [], None, 0.0, IDENTITY
    for token in _tokens(content):
        first = token[:1]
        if first in b"(<[]/>" or NUMBER.fullmatch(token):
            kept.append(token)
            continue
        if token == b"q":
            stack.append(matrix)
        elif token == b"Q":
            matrix = stack.pop()
        elif token == b"cm":
            matrix = _times(_numbers(kept, 6), matrix)
        elif token == b"BT":
            text = IDENTITY
        elif token == b"Tf":
            font, size = fonts[kept[-2]], float(kept[-1])
        elif token == b"Tm":
            text = _numbers(kept, 6)
        elif token in (b"Tj", b"TJ"):
            yield _shown(kept, font, size, _times(text, matrix))
        elif token == b"Do" and (form := forms[kept[-1].decode()].get_object())["/Subtype"] == "/Form":
            inner = _times(tuple(float(x) for x in form.get("/Matrix", IDENTITY)), matrix)
            yield from _runs(form.get_data(), form.get("/Resources", resources), inner)
        elif token in (b"Td", b"TD", b"T*", b"Tc", b"Tw", b"Tz", b"'", b'"'):
            raise AssertionError(f"{token!r} is not read here")
        kept = []


def _tokens(content):
    place = 0
    while found := TOKEN.search(content, place):
        place = found.end() if found[0] != b"(" else _string_end(content, found.start())
        yield content[found.start() : place]


def _string_end(content, start):
    """Parentheses that balance stand in a string as they are."""
    depth, place = 0, start
    while True:
        sign = content[place : place + 1]
        depth += (sign == b"(") - (sign == b")")
        place += 2 if sign == b"\\" else 1
        if depth == 0:
            return place


def _numbers(kept, count):
    return tuple(float(token) for token in kept[-count:])


def _times(a, b):
    return (a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
            a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5])  # fmt: skip


def _font(font):
    inner = font["/DescendantFonts"][0].get_object()
    widths, listed, n = {}, inner.get("/W", []), 0
    while n < len(listed):
        if isinstance(listed[n + 1], list):
            widths |= {int(listed[n]) + k: float(w) for k, w in enumerate(listed[n + 1])}
            n += 2
        else:
            widths |= {code: float(listed[n + 2]) for code in range(int(listed[n]), int(listed[n + 1]) + 1)}
            n += 3
    return str(inner["/BaseFont"]), widths, float(inner.get("/DW", 1000))


def _shown(kept, font, size, place):
    name, widths, usual = font
    glyphs, along = [], 0.0
    for token in kept:
        if token[:1] == b"(":
            raw = ESCAPE.sub(_escaped, token[1:-1])
            codes = [int.from_bytes(raw[n : n + 2], "big") for n in range(0, len(raw), 2)]
            glyphs += codes
            along += sum(widths.get(code, usual) for code in codes)
        elif NUMBER.fullmatch(token):
            along -= float(token)
    along *= size / 1000
    ends = (place[4] + along * place[0], place[5] + along * place[1])
    return Letters(size * math.hypot(place[0], place[1]), place[4:], ends, tuple(glyphs), name)


def _escaped(found):
    code = found[1]
    return bytes([int(code, 8) & 255]) if code.isdigit() else NAMED.get(code, code)
