"""From a sheet's plain data to PDF: one Typst compiler, our fonts alone for words, PDF/UA-1, no date inside."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import typst

from fettlebook.handout.glyphs import FONTS, missing
from fettlebook.handout.words import all_breakable

HERE = Path(__file__).parent
PAPERS = {"a4": "a4", "letter": "us-letter", "a3": "a3", "tabloid": "us-tabloid"}
"""Paper as the shop calls it, and as the typesetter does."""


class SheetFault(Exception):
    """A sheet that cannot be printed as it is; the message says what to change."""


def papers(written: str) -> tuple[str, ...]:
    """The papers of a workshop's `paper`, the usual one first.

    >>> papers("A4 and Letter")
    ('a4', 'letter')
    """
    return tuple(name.strip() for name in written.lower().split(" and "))


@cache
def _compiler() -> typst.Compiler:
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(FONTS)])
    return typst.Compiler(root=str(HERE), font_paths=fonts)


def pdf(template: str, data: dict[str, Any]) -> bytes:
    """DATA laid out by TEMPLATE.typ of this folder. The same data give the same bytes.

    Raises SheetFault for a sign that the typeface lacks.
    """
    if lacking := missing(data):
        names = ", ".join(f"{sign} (U+{ord(sign):04X})" for sign in lacking)
        raise SheetFault(f'"{data["title"]}": the printed sheets have no glyph for {names}; write it in other signs')
    inputs = {"data": json.dumps(all_breakable(data), ensure_ascii=False)}
    try:
        made = _compiler().compile(
            input=str(HERE / f"{template}.typ"), format="pdf", sys_inputs=inputs, pdf_standards=["ua-1"]
        )
    except typst.TypstError as fault:
        raise SheetFault(f'"{data["title"]}": {fault.message}') from fault
    assert isinstance(made, bytes)
    return made
