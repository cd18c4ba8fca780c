"""Drawings, signs and the square code for paper, as SVG text with the words for those who cannot see them."""

from __future__ import annotations

import base64
import io
from typing import Any

import segno
from PIL import Image

from fettlebook.book.book import Book
from fettlebook.book.order import has_order, order
from fettlebook.book.pictures import clean_copies, picture_path
from fettlebook.book.procedure import Figure, Procedure
from fettlebook.book.text import Text
from fettlebook.draw.catalogue import drawings
from fettlebook.draw.order_map import Box, order_map
from fettlebook.draw.signs import sign, signs
from fettlebook.handout.words import Words
from fettlebook.tables.definition import BadValue, BadValues

PIXELS_PER_MM = 5.0
"""Pixels to a millimetre of paper below which a picture is not blown up, about 130 to the inch."""


def sign_picture(number: str) -> dict[str, str] | None:
    """A safety sign and its words; None for no sign or an unknown one (the check has said so)."""
    try:
        return {"svg": sign(number), "alt": f"Sign {number}: {signs()[number]['title']}"} if number else None
    except BadValue:
        return None


def figure_picture(book: Book, words: Words, figure: Figure | None) -> dict[str, Any] | None:
    """A figure with its caption; None where it cannot be drawn (the check has said why)."""
    if figure is None:
        return None
    svg = _own(book, figure) if figure.image else _drawn(book, figure)
    return {"svg": svg, "alt": figure.alt, "caption": words.runs(_text(figure.caption))} if svg else None


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
    return {"svg": order_map(f"Order of work: {procedure.title}", boxes), "alt": alt}


def _text(text: Text | None) -> Text | None:
    return text


def _drawn(book: Book, figure: Figure) -> str:
    if figure.draw not in drawings():
        return ""
    try:
        return drawings()[figure.draw].svg(figure.given, figure.alt, book.workshop.defaults)
    except BadValues:
        return ""


def _own(book: Book, figure: Figure) -> str:
    """A photograph of the shop's own inside an SVG, 150 mm wide at most, without what the camera wrote into it."""
    path = picture_path(book, figure)
    copies = clean_copies(path) if path else {}
    if not copies:
        return ""
    width = min(copies)
    name, content = copies[width]
    with Image.open(io.BytesIO(content)) as opened:
        height = opened.height
    kind = "png" if name.endswith(".png") else "jpeg"
    wide = min(150.0, width / PIXELS_PER_MM)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{wide:g}mm" height="{wide * height / width:g}mm">'
        f'<image width="{width}" height="{height}" href="data:image/{kind};base64,{base64.b64encode(content).decode()}"/></svg>'
    )


def square_code(address: str) -> str:
    """A QR code (ISO/IEC 18004) of ADDRESS, correction level M, as SVG."""
    out = io.BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", border=4, xmldecl=False, omitsize=True)
    return out.getvalue().decode()
