"""What a drawing is to the rest of the program: its name, its parameters, the function that draws it, and its words.

A module of this folder ends with `FIGURES = (Drawn(...), ...)`; the catalogue finds it there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any
from xml.sax.saxutils import escape

from fettlebook.tables.definition import BadValue, BadValues, Parameter


@dataclass(frozen=True)
class Drawn:
    """A drawing that is computed from parameters.

    name        as in YAML and in file names
    title       what is to be seen, as a heading
    parameters  as for a table; `draw` and `alt` take them by Parameter.keyword
    draw        gives the SVG
    alt         what somebody who cannot see it must know, as text or as a function of the same parameters
    tables      names of the tables on whose page it is shown
    """

    name: str
    title: str
    parameters: tuple[Parameter, ...]
    draw: Callable[..., str]
    alt: Callable[..., str] | str
    tables: tuple[str, ...] = ()

    def keywords(
        self, written: Mapping[str, Any] | None = None, shop: Mapping[str, Any] | None = None
    ) -> dict[str, Any]:
        """The parameters as `draw` takes them: as WRITTEN, else the SHOP's own, else the default.

        Raises BadValues holding every fault.
        """
        faults: list[BadValue] = []
        values: dict[str, Any] = {}
        known = {parameter.name: parameter for parameter in self.parameters}
        for name in written or {}:
            if name not in known:
                faults.append(self._unknown(name))
        for parameter in self.parameters:
            try:
                values[parameter.keyword] = _value(parameter, written or {}, shop or {})
            except BadValue as fault:
                faults.append(fault)
        if faults:
            raise BadValues(faults)
        return values

    def svg(
        self, written: Mapping[str, Any] | None = None, alt: str = "", shop: Mapping[str, Any] | None = None
    ) -> str:
        """The drawing for the parameters as WRITTEN, with its words inside (ALT instead, if given). Raises BadValues."""
        keywords = self.keywords(written, shop)
        try:
            picture = self.draw(**keywords)
        except BadValue as fault:
            raise BadValues([fault]) from fault
        return picture.replace("</title>", f"</title><desc>{escape(alt or self.words(written, shop))}</desc>", 1)

    def words(self, written: Mapping[str, Any] | None = None, shop: Mapping[str, Any] | None = None) -> str:
        """The alternative text for the parameters as WRITTEN. Raises BadValues."""
        if isinstance(self.alt, str):
            return self.alt
        keywords = self.keywords(written, shop)
        try:
            return self.alt(**keywords)
        except BadValue as fault:
            raise BadValues([fault]) from fault

    def _unknown(self, name: str) -> BadValue:
        names = [parameter.name for parameter in self.parameters]
        near = get_close_matches(name, names, 1, 0.4)
        guess = f'did you mean "{near[0]}"?' if near else f"it takes {', '.join(names) or 'no parameters'}"
        return BadValue(name, f"the drawing {self.name} has no such parameter", guess)


def _value(parameter: Parameter, written: Mapping[str, Any], shop: Mapping[str, Any]) -> Any:
    if parameter.name in written:
        return parameter.read(written[parameter.name])
    if parameter.shop and parameter.shop in shop:
        return parameter.read(shop[parameter.shop])
    if parameter.required:
        raise BadValue(parameter.name, "must be given", f"for example {parameter.example}" if parameter.example else "")
    return parameter.default
