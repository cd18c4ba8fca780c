"""Hazards: a step that speaks of one has a caution for it in its procedure.

The words are in data/hazard-words.yml: hoists and slings, red heat and quenching, mains, gas, grinding, solvents and so on.
A caution answers for a hazard by its sign or by the words of its hazard and harm. Work on terminals and live conductors
also asks for `licensed` under `who`: local rules decide, and a licensed person does it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from fettlebook import data
from fettlebook.book.places import Finding
from fettlebook.book.procedure import Caution, Procedure, Step
from fettlebook.check.known import Known

RULES = {
    "hazard": "a step that speaks of a hazard has a caution for it in its procedure",
    "licence": "work on mains terminals names the licensed person under who:",
}


@dataclass(frozen=True)
class Hazard:
    """A hazard as the data file has it, ready to be looked for."""

    name: str
    words: re.Pattern[str]
    licensed: re.Pattern[str] | None
    signs: frozenset[str]
    said: re.Pattern[str]

    def answered_by(self, caution: Caution) -> bool:
        """Whether CAUTION warns of it."""
        words = f"{caution.hazard.written} {caution.harm.written}".lower()
        return caution.sign in self.signs or bool(self.said.search(words))


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """For each hazard without a caution, the first step that speaks of it; for each licensed job, the same."""
    spoken = [
        (step, step.do.written.lower()) for step in procedure.steps if _any_word().search(step.do.written.lower())
    ]
    for hazard in _hazards() if spoken else ():
        said = [(step, match[0]) for step, words in spoken if (match := hazard.words.search(words))]
        if said and not any(hazard.answered_by(caution) for caution in procedure.cautions):
            yield _without_caution(hazard, *said[0])
        if hazard.licensed and procedure.who.licensed is None:
            yield from _without_licence(hazard.licensed, spoken)


def _without_caution(hazard: Hazard, step: Step, word: str) -> Finding:
    signs = f" (signs that fit: {', '.join(sorted(hazard.signs))})" if hazard.signs else ""
    return Finding(step.place, f'step {step.number} says "{word}" and no caution speaks of {hazard.name}', "hazard",
                   "who does it must know beforehand what can happen", f"write a caution for it{signs} and name it at the step")  # fmt: skip


def _without_licence(words: re.Pattern[str], spoken: Iterable[tuple[Step, str]]) -> Iterator[Finding]:
    for step, text in spoken:
        if match := words.search(text):
            yield Finding(step.place, f'step {step.number} says "{match[0]}" and nobody licensed is named', "licence",
                          "local rules decide who may do it", "write licensed: under who:, and whom to call for what")  # fmt: skip
            return


@cache
def _hazards() -> tuple[Hazard, ...]:
    return tuple(
        Hazard(row["hazard"], _pattern(row["words"]), _pattern(row["licensed"]) if "licensed" in row else None,
               frozenset(row["signs"]), _pattern(f"{start}*" for start in row["said"]))
        for row in data.rows("hazard-words")
    )  # fmt: skip


@cache
def _any_word() -> re.Pattern[str]:
    rows = data.rows("hazard-words")
    return _pattern([word for row in rows for word in (*row["words"], *row.get("licensed", ()))])


def _pattern(words: Iterable[str]) -> re.Pattern[str]:
    each = (re.escape(word.removesuffix("*")) + (r"\w*" if word.endswith("*") else r"\b") for word in words)
    return re.compile(rf"\b(?:{'|'.join(each)})")
