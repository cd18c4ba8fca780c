"""The whole book: everything joined by id, in one object that is passed on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from fettlebook.book.procedure import Caution, Procedure
from fettlebook.book.shop import Machine, Record, Term, Workshop


@dataclass(frozen=True)
class Book:
    """root is the folder that holds procedures/. Mappings are by id, in the order in which they are shown.

    damaged  procedures with faults, as far as they go: never shown, but the rules say all that is wrong with them
    steps    ids of the shared steps
    files    every file that was looked at, by its name in findings
    """

    root: Path
    procedures: Mapping[str, Procedure]
    workshop: Workshop
    machines: Mapping[str, Machine]
    glossary: tuple[Term, ...]
    cautions: Mapping[str, Caution]
    records: tuple[Record, ...]
    damaged: Mapping[str, Procedure] = field(default_factory=dict)
    steps: tuple[str, ...] = ()
    worksheets: Mapping[str, Any] = field(default_factory=dict)
    files: tuple[str, ...] = ()

    @cached_property
    def titles(self) -> Mapping[str, str]:
        """Titles of procedures by id."""
        return {id: procedure.title for id, procedure in self.procedures.items()}
