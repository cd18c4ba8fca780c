"""Reading a composition such as `C 0.45, Si 0.25, Mn 0.65`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from fettlebook.tables.definition import BadValue
from fettlebook.tables.quantities import Unreadable, read_number

ELEMENTS = ("C", "Si", "Mn", "P", "S", "Cr", "Ni", "Mo", "V", "W", "Cu", "Al", "Ti", "Nb", "As", "B", "Co", "N")
EXAMPLE = "C 0.45, Si 0.25, Mn 0.65"


def _figure(element: str, text: Any) -> float:
    try:
        value = float(read_number(str(text).strip().rstrip("%").strip()))
    except Unreadable as fault:
        raise BadValue("composition", f"{element}: {fault}", f"for example {EXAMPLE}") from None
    if not 0 <= value <= 40:
        raise BadValue("composition", f"{element} {value:g} % cannot be; mass percent from 0 to 40 is understood")
    return value


def read_composition(text: str | Mapping[str, Any]) -> dict[str, float]:
    """The mass percent of each element in TEXT. Raises BadValue for an unknown element, two figures or no figure."""
    pairs = (
        list(text.items()) if isinstance(text, Mapping) else re.findall(r"([A-Za-z]+)\s*[:=]?\s*([^,;\sA-Za-z]+)", text)
    )
    leftover = "" if isinstance(text, Mapping) else re.sub(r"([A-Za-z]+)\s*[:=]?\s*([^,;\sA-Za-z]+)|[,;\s%]", "", text)
    if not pairs or leftover:
        raise BadValue(
            "composition", f'"{str(text)[:60]}" is not read as elements with figures', f"for example {EXAMPLE}"
        )
    found: dict[str, float] = {}
    for written, figure in pairs:
        element = next((known for known in ELEMENTS if known.lower() == str(written).lower()), None)
        if element is None:
            raise BadValue(
                "composition", f'"{str(written)[:20]}" is not an element known here', f"one of {', '.join(ELEMENTS)}"
            )
        if element in found:
            raise BadValue("composition", f"{element} is given twice")
        found[element] = _figure(element, figure)
    return found


def alloy_total(composition: Mapping[str, float]) -> float:
    """What is neither iron nor carbon, together [mass %]."""
    return sum(share for element, share in composition.items() if element != "C")
