"""The drawings there are: every Drawn that a module of this folder lists in FIGURES."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from importlib import import_module
from pathlib import Path

from fettlebook.draw.definition import Drawn
from fettlebook.tables.definition import BadValue


@cache
def drawings() -> dict[str, Drawn]:
    """Every drawing by name, in order of name."""
    found: dict[str, Drawn] = {}
    for path in sorted(Path(__file__).parent.glob("*.py")):
        if path.stem in {"__init__", "catalogue", "definition"}:
            continue
        for drawn in getattr(import_module(f"fettlebook.draw.{path.stem}"), "FIGURES", ()):
            if drawn.name in found:
                raise ValueError(f"two drawings are called {drawn.name}")
            found[drawn.name] = drawn
    return dict(sorted(found.items()))


def drawing_named(name: str) -> Drawn:
    """The drawing called NAME. Raises BadValue with the nearest name for an unknown one."""
    if name in drawings():
        return drawings()[name]
    near = get_close_matches(name, list(drawings()), 1, 0.4)
    guess = f'did you mean "{near[0]}"?' if near else f"there are {', '.join(drawings()) or 'none'}"
    raise BadValue("draw", f'there is no drawing "{name}"', guess)


def drawings_of(table: str) -> tuple[Drawn, ...]:
    """The drawings that belong on the page of a table."""
    return tuple(drawn for drawn in drawings().values() if table in drawn.tables)
