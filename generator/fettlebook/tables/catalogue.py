"""The tables there are: every Definition that a module of this folder lists in TABLES."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from importlib import import_module
from pathlib import Path

from fettlebook.tables.definition import BadValue, Definition


@cache
def tables() -> dict[str, Definition]:
    """Every table by name, in order of name."""
    found: dict[str, Definition] = {}
    for path in sorted(Path(__file__).parent.glob("*.py")):
        if path.stem.startswith("_") or path.stem in {"catalogue", "definition", "figures", "quantities"}:
            continue
        for definition in getattr(import_module(f"fettlebook.tables.{path.stem}"), "TABLES", ()):
            if definition.name in found:
                raise ValueError(f"two tables are called {definition.name}")
            found[definition.name] = definition
    return dict(sorted(found.items()))


def table_named(name: str) -> Definition:
    """The table called NAME. Raises BadValue with the nearest name for an unknown one."""
    if name in tables():
        return tables()[name]
    near = get_close_matches(name, list(tables()), 1, 0.55)
    raise BadValue(
        "table",
        f'there is no table "{name}"',
        f'did you mean "{near[0]}"?' if near else "`fettlebook tables` lists them",
    )
