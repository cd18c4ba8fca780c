"""The whole book: everything joined by id, in one object that is passed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fettlebook.book.procedure import Caution, Procedure
from fettlebook.book.shop import Machine, Record, Term, Workshop


@dataclass(frozen=True)
class Book:
    """root is the folder that holds procedures/. Mappings are by id, in the order in which they are shown."""

    root: Path
    procedures: Mapping[str, Procedure]
    workshop: Workshop
    machines: Mapping[str, Machine]
    glossary: tuple[Term, ...]
    cautions: Mapping[str, Caution]
    records: tuple[Record, ...]
