"""A procedure as an object: what a YAML file says, joined up, with the place of each part kept.

Everything that a reader sees as words is a Text (book/text.py), parsed once. Pages and sheets are made from these
objects alone. Sections stand in the order in which a person needs them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fettlebook.book.compact import Same, compact
from fettlebook.book.places import Place
from fettlebook.book.text import Text

SIGNALS = ("danger", "warning", "caution", "notice")
"""Signal words of ISO 3864-2 and ANSI Z535.6, gravest first. danger: death or serious injury will follow; warning: may
follow; caution: minor or moderate injury may follow; notice: damage to things only."""


@dataclass(frozen=True)
class Caution:
    """A hazard, what it does to a person (or to the work, for a notice), and how to avoid it.

    id      by which a step names it
    signal  one of SIGNALS
    sign    number of an ISO 7010 sign (`W017`), "" for none
    """

    id: str
    signal: str
    sign: str
    hazard: Text
    harm: Text
    avoid: Text
    place: Place


@compact
@dataclass(frozen=True, slots=True)
class Needed:
    """Something to have ready: a tool, a material, protective equipment (with its ISO 7010 sign) or a condition."""

    name: Text
    count: str = ""
    note: Text | None = None
    sign: str = ""
    place: Place = Place("")


@dataclass(frozen=True)
class Value:
    """A single figure picked from a table, usable in text as {name}.

    value is None where the table has none; shown is in the unit used inside, other in the inch system's (same text when
    there is no other).
    """

    name: str
    value: Any
    unit: str
    shown: str
    shown_unit: str
    other: str
    other_unit: str
    numbers_id: str
    column: str
    place: Place = Place("")


@dataclass(frozen=True)
class Numbers:
    """A computed table that belongs to a procedure.

    table    name in the catalogue
    written  its parameters as written in YAML; given as read
    columns  names of the columns shown, () for all
    rows     rows kept (after `where`), unrounded
    hidden   only its values are used, the table is not shown
    """

    id: str
    title: str
    table: str
    written: Mapping[str, Any]
    given: Mapping[str, Any]
    columns: tuple[Any, ...]
    rows: tuple[Mapping[str, Any], ...]
    notes: tuple[str, ...]
    warnings: tuple[str, ...]
    sources: tuple[Any, ...]
    values: tuple[Value, ...]
    hidden: bool
    place: Place

    def __reduce__(self) -> tuple[Any, ...]:
        """Kept on disk so that procedures which ask for the same table share its rows again when they are read back."""
        shared = self.given, self.columns, self.rows, self.notes, self.warnings, self.sources
        before, after = (self.id, self.title, self.table, self.written), (self.values, self.hidden, self.place)
        return _numbers, (before, Same(shared), after)


def _numbers(before: tuple[Any, ...], shared: tuple[Any, ...], after: tuple[Any, ...]) -> Numbers:
    return Numbers(*before, *shared, *after)


@dataclass(frozen=True)
class Figure:
    """A drawing computed by draw/ (draw and given), or a picture file (image). alt is never empty."""

    alt: str
    caption: Text | None
    draw: str = ""
    given: Mapping[str, Any] = field(default_factory=dict)
    image: str = ""
    place: Place = Place("")


@compact
@dataclass(frozen=True, slots=True)
class Reading:
    """Something to measure and write down. low and high are limits in `unit`, None where there is none.

    at       names of the places where it is repeated, () for a single reading
    outside  what to do if it is out of limits
    kind     number, text or flag
    """

    id: str
    name: Text
    unit: str
    decimals: int
    low: float | None
    high: float | None
    at: tuple[str, ...]
    outside: Text | None
    kind: str
    place: Place


@compact
@dataclass(frozen=True, slots=True)
class Step:
    """One action and how to know that it is right.

    cautions  ids of the procedure's cautions that are said again here
    timer     seconds, None for none; timer_for says what is waited for
    hold      what a second person looks at and signs, None for no hold point
    place     where its action stands
    numbers   ids of Numbers shown here; worksheet the id of a worksheet filled in here
    """

    id: str
    number: str
    do: Text
    check: Text | None
    why: Text | None
    cautions: tuple[str, ...]
    figure: Figure | None
    timer: float | None
    timer_for: str
    readings: tuple[Reading, ...]
    hold: Text | None
    numbers: tuple[str, ...]
    worksheet: str
    see: tuple[str, ...]
    place: Place


@compact
@dataclass(frozen=True, slots=True)
class Stage:
    """Steps that belong together.

    after  ids of the stages that must be done before it; None where nothing is said: it follows the one before it
    """

    id: str
    title: str
    intro: Text | None
    steps: tuple[Step, ...]
    place: Place
    after: tuple[str, ...] | None = None


@dataclass(frozen=True)
class Trouble:
    """What is noticed, what may cause it, what to do, and the procedures that help."""

    seen: Text
    cause: Text
    do: Text
    see: tuple[str, ...]
    place: Place


@dataclass(frozen=True)
class Question:
    """A check question for a trainee and its answer."""

    ask: Text
    answer: Text


@dataclass(frozen=True)
class SourceNote:
    """A source of a procedure: a key of data/sources, or words of the shop's own (key empty)."""

    key: str
    at: str
    took: str
    text: str
    place: Place


@dataclass(frozen=True)
class Revision:
    """Edition of a procedure: number from 1, date as written (2026-11-25), who wrote and who checked it."""

    number: int
    date: str
    by: str
    checked_by: str
    changes: str


@dataclass(frozen=True)
class Who:
    """Who may do it: what they must know, how many people, and any licensed person that a stage needs."""

    may: Text
    people: int
    licensed: Text | None


@compact
@dataclass(frozen=True, slots=True)
class Reference:
    """Something that a procedure points to, with the exact place where it does.

    kind    procedure, first (a procedure to be done before), step (a #fragment), table (of numbers), linked-table, machine,
            address (http, https, mailto), other (any other link), caution, numbers, worksheet, value, stage (to be done before another), source, sign, image,
            drawing, shared-caution, shared-step, shared-worksheet
    target  its id, name, address or file
    """

    kind: str
    target: str
    place: Place


@dataclass(frozen=True)
class Procedure:
    """One file of procedures/."""

    id: str
    title: str
    group: str
    also: tuple[str, ...]
    summary: Text
    when: Text
    symptoms: tuple[str, ...]
    machines: tuple[str, ...]
    hands_on: str
    waiting: str
    every: str
    setting: str
    who: Who
    cautions: tuple[Caution, ...]
    conditions: tuple[Needed, ...]
    protection: tuple[Needed, ...]
    tools: tuple[Needed, ...]
    materials: tuple[Needed, ...]
    first: tuple[str, ...]
    numbers: tuple[Numbers, ...]
    worksheets: tuple[Any, ...]
    stages: tuple[Stage, ...]
    afterwards: tuple[Text, ...]
    trouble: tuple[Trouble, ...]
    questions: tuple[Question, ...]
    sources: tuple[SourceNote, ...]
    revision: Revision
    place: Place
    references: tuple[Reference, ...] = ()
    spots: Mapping[str, Place] = field(default_factory=dict)

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps in order."""
        return tuple(step for stage in self.stages for step in stage.steps)

    @property
    def company(self) -> str:
        """How many do the job, in words; one person still needs a second where a hold point is signed."""
        if self.who.people != 1:
            return f"{self.who.people} people"
        return "1 person, a second at the hold points" if any(step.hold for step in self.steps) else "1 person"

    def place_of(self, key: str) -> Place:
        """Where the value of KEY stands: a key at the top of the file, or under time, who or revision."""
        return self.spots.get(key, self.place)

    @property
    def values(self) -> dict[str, Value]:
        """Every named figure of the procedure."""
        return {value.name: value for numbers in self.numbers for value in numbers.values}

    def caution(self, id: str) -> Caution:
        """The caution called ID. Raises KeyError; the check has made sure that it is there."""
        return {caution.id: caution for caution in self.cautions}[id]
