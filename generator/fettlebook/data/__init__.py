"""Figures that others published, as YAML beside this file: the only code that opens them.

A data file says what it holds, where each figure comes from and how it is known:

    about: ...                     what the file holds
    sources: [{cite: KEY, at: PLACE, took: WHAT}]
    how_known: read | computed | memory
    rows: [...]                    or named groups of rows

KEY is a key of sources.yml, which lists every source once.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import yaml

HERE = Path(__file__).parent


class Loader(yaml.CSafeLoader):
    """YAML in which only true and false are not text: `on`, `off`, `yes` and `no` stay words."""


Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in known if tag != "tag:yaml.org,2002:bool" or first in "tTfF"]
    for first, known in yaml.CSafeLoader.yaml_implicit_resolvers.items()
}


@cache
def read(name: str) -> dict[str, Any]:
    """The content of data file NAME.yml, read once. Callers must not change it.

    Raises FileNotFoundError for an unknown name.
    """
    with (HERE / f"{name}.yml").open(encoding="utf-8") as file:
        return yaml.load(file, Loader=Loader)


def rows(name: str, group: str = "rows") -> list[dict[str, Any]]:
    """The rows of a data file, or of one named group in it."""
    return read(name)[group]


@cache
def sources() -> dict[str, dict[str, Any]]:
    """Every source under its short key: title, kind, and how far it was seen (read, secondary, memory).

    Each subject keeps its sources in data/sources/SUBJECT.yml; a key stands in one file only (a test keeps that).
    """
    found: dict[str, dict[str, Any]] = {}
    for path in sorted((HERE / "sources").glob("*.yml")):
        for key, source in (yaml.load(path.read_text(encoding="utf-8"), Loader=Loader) or {}).items():
            found.setdefault(key, source)
    return found
