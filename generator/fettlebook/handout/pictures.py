"""Drawings, signs and the square code for paper, as SVG text with the words for those who cannot see them."""

from __future__ import annotations

import io
import re
from base64 import b64encode
from typing import Any

import segno

from fettlebook.book.book import Book
from fettlebook.book.order import has_order, order
from fettlebook.book.pictures import paper_copy, picture_path
from fettlebook.book.procedure import Figure, Procedure
from fettlebook.draw.catalogue import drawings
from fettlebook.draw.order_map import Box, order_map
from fettlebook.draw.pen import TEXT_SIZE
from fettlebook.draw.signs import sign, signs
from fettlebook.handout.words import Words
from fettlebook.tables.definition import BadValue, BadValues

LEAST_LETTERS_MM = 11.05 * 25.4 / 72
"""Letters in a drawing are no smaller than those of the sheet, 11 point."""
SCALE = LEAST_LETTERS_MM / TEXT_SIZE
"""A drawing is printed as small as its usual letters allow."""
MAP_SCALE = 0.85
"""The map of an order stands on one page of A4 or Letter, with its letters still as large as the sheet's."""
SIZE = re.compile(r'\b(width|height)="([\d.]+)mm"')
LETTERS = re.compile(r'font-size="([\d.]+)"')


def sign_picture(number: str) -> dict[str, str] | None:
    """A safety sign and its words; None for no sign or an unknown one (the check has said so)."""
    try:
        return {"svg": sign(number), "alt": f"Sign {number}: {signs()[number]['title']}"} if number else None
    except BadValue:
        return None


def figure_picture(book: Book, words: Words, figure: Figure | None) -> dict[str, Any] | None:
    """A figure with its caption; None where it cannot be shown (the check has said why)."""
    if figure is None:
        return None
    svg = _photograph(book, figure) if figure.image else _drawn(book, figure)
    return {"svg": svg, "alt": figure.alt, "caption": words.runs(figure.caption)} if svg else None


def order_picture(procedure: Procedure) -> dict[str, str] | None:
    """The map of a procedure's order with its words; None where one stage simply follows the other."""
    if not has_order(procedure):
        return None
    turns = order(procedure)
    alt = ". ".join(
        f"{t.number} {t.stage.title}: {'after ' + ', '.join(map(str, t.after)) if t.after else 'first of all'}"
        for t in turns
    )
    boxes = [Box(t.number, t.stage.title, t.after, t.signed) for t in turns]
    return {"svg": on_paper(order_map(f"Order of work: {procedure.title}", boxes), MAP_SCALE), "alt": alt}


def _drawn(book: Book, figure: Figure) -> str:
    if figure.draw not in drawings():
        return ""
    try:
        return on_paper(drawings()[figure.draw].svg(figure.given, figure.alt, book.workshop.defaults))
    except BadValues:
        return ""


def on_paper(svg: str, scale: float = SCALE) -> str:
    """A drawing sized for a sheet, so that no letter in it is smaller than the words around it."""
    svg = SIZE.sub(lambda found: f'{found[1]}="{float(found[2]) * scale:.2f}mm"', svg, count=2)
    return LETTERS.sub(lambda found: f'font-size="{max(float(found[1]), LEAST_LETTERS_MM / scale):.3g}"', svg)


def _photograph(book: Book, figure: Figure) -> str:
    path = picture_path(book, figure)
    copy = paper_copy(path) if path else None
    if copy is None:
        return ""
    content, ending, wide, high = copy
    kind = {"jpg": "jpeg"}.get(ending, ending)
    size = f'width="{wide:.2f}mm" height="{high:.2f}mm"'
    inside = (
        f'<image width="{wide:.2f}" height="{high:.2f}" href="data:image/{kind};base64,{b64encode(content).decode()}"/>'
    )
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {wide:.2f} {high:.2f}">{inside}</svg>'


def square_code(address: str) -> str:
    """A QR code (ISO/IEC 18004) of ADDRESS, correction level M, as SVG."""
    out = io.BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", border=4, xmldecl=False, omitsize=True)
    return out.getvalue().decode()
