"""Safety signs by their number in ISO 7010: the shapes and colours of ISO 3864-1 around pictograms of our own.

A triangle on yellow warns, a white picture on a blue disc orders, a red ring with a bar forbids. Besides the swatches these are
the only drawings with colours of their own; black outlines keep them readable in grey print.
"""

from __future__ import annotations

from functools import cache
from typing import Any
from xml.sax.saxutils import escape

from fettlebook import data
from fettlebook.draw.pictograms import GROUND, INK, PICTOGRAMS
from fettlebook.tables.definition import BadValue

YELLOW, BLUE, RED, BLACK, WHITE = "#f9a800", "#005387", "#9b2423", "#000000", "#ffffff"
"""Safety colours near RAL 1003, 5005 and 3001, which ISO 3864 is commonly printed in. From memory."""

KINDS = {"W": "warning", "M": "mandatory", "P": "prohibition"}

TRIANGLE = "M50,5Q54,5 56,8.5L96.5,83Q100,90 92,90.5H8Q0,90 3.5,83L44,8.5Q46,5 50,5Z"


@cache
def signs() -> dict[str, dict[str, Any]]:
    """Every sign by number: title, kind (warning, mandatory, prohibition), in the order of the standard."""
    return {row["number"]: {"title": row["title"], "kind": KINDS[row["number"][0]]} for row in data.rows("signs")}


@cache
def sign(number: str) -> str:
    """The SVG of a sign by its number in ISO 7010, such as W012. Raises BadValue for one that is not in the list."""
    if number not in signs():
        raise BadValue("sign", f'there is no sign "{number}" here', f"there are {', '.join(signs())}")
    title = escape(f"{number} {signs()[number]['title']}")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" width="20mm" height="20mm" role="img"><title>{title}</title>'
        + FRAMES[number[0]](PICTOGRAMS.get(number, ""))
        + "</svg>\n"
    )


def _coloured(picture: str, ink: str, ground: str) -> str:
    return picture.replace(f'"{INK}"', f'"{ink}"').replace(f'"{GROUND}"', f'"{ground}"')


def _warning(picture: str) -> str:
    edge = f'<path d="{TRIANGLE}" fill="{BLACK}"/>'
    inside = f'<path d="{TRIANGLE}" transform="translate(50 55) scale(0.86) translate(-50 -55)" fill="{YELLOW}"/>'
    return edge + inside + _coloured(picture, BLACK, YELLOW)


def _mandatory(picture: str) -> str:
    disc = f'<circle cx="50" cy="50" r="47.5" fill="{BLUE}" stroke="{BLACK}" stroke-width="2"/>'
    return disc + _coloured(picture, WHITE, BLUE)


def _prohibition(picture: str) -> str:
    disc = f'<circle cx="50" cy="50" r="47.5" fill="{WHITE}" stroke="{BLACK}" stroke-width="2"/>'
    halo = f'<path d="M20,20L80,80" stroke="{WHITE}" stroke-width="11.5"/>' if picture else ""
    bar = f'{halo}<path d="M20,20L80,80" stroke="{RED}" stroke-width="8"/>'
    ring = f'<circle cx="50" cy="50" r="42" fill="none" stroke="{RED}" stroke-width="9"/>'
    return disc + _coloured(picture, BLACK, WHITE) + bar + ring


FRAMES = {"W": _warning, "M": _mandatory, "P": _prohibition}
