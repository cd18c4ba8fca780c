"""A procedure as an object, from what its file says.

It also takes what has faults of shape, as far as it goes: a missing part becomes empty, so that the rules of check/ can
still say everything else that is wrong in one run. Such a procedure never reaches the book.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from fettlebook.book.computed import Shop, computed_numbers, with_machine
from fettlebook.book.durations import HINT, UnreadableDuration, duration_s
from fettlebook.book.leniently import is_number, map_of, maps_in, spotted, words_in, words_of
from fettlebook.book.places import Finding, Place
from fettlebook.book.procedure import (
    Caution,
    Figure,
    Needed,
    Numbers,
    Procedure,
    Question,
    Reading,
    Reference,
    Revision,
    SourceNote,
    Stage,
    Step,
    Trouble,
    Value,
    Who,
)
from fettlebook.book.strict_yaml import BROKEN, Map, Spot
from fettlebook.book.text import Text, text
from fettlebook.book.worksheet_assembly import worksheet
from fettlebook.book.worksheets import Worksheet
from fettlebook.draw.catalogue import drawings
from fettlebook.tables.definition import BadValue, BadValues
from fettlebook.tables.quantities import Unreadable, convert, unit_named

NONE = Text("", ())


@dataclass
class Shared:
    """What procedures take from shop/ by `use`: the content of cautions.yml, steps.yml and worksheets/."""

    shop: Shop = field(default_factory=Shop)
    cautions: Mapping[str, Any] = field(default_factory=dict)
    steps: Mapping[str, Any] = field(default_factory=dict)
    worksheets: Mapping[str, Worksheet | None] = field(default_factory=dict)


def assembled(tree: Map, id: str, name: str, shared: Shared) -> tuple[Procedure, list[Finding]]:
    """The procedure called ID that TREE, the content of the file NAME, describes; and what is wrong with its numbers."""
    work = _Assembly(name, shared)
    return work.procedure(tree, id), work.findings


def assembled_caution(tree: Map, id: str, name: str) -> Caution:
    """A shared caution, from its part of shop/cautions.yml."""
    return _Assembly(name, Shared()).caution(tree, id)


class _Assembly:
    def __init__(self, name: str, shared: Shared) -> None:
        self.name, self.shared = name, shared
        self.findings: list[Finding] = []
        self.references: list[Reference] = []
        self.values: dict[str, Value] = {}
        self.worksheet_ids: set[str] = set()
        """Worksheets that the procedure lists, damaged ones included."""
        self.instead: Spot | None = None
        """Where a shared step is used: its parts are found there, not in the shop's file."""

    def procedure(self, t: Map, id: str) -> Procedure:
        machines = self.names(t, "machines", "machine")
        numbers = tuple(self.numbers(t, machines))
        self.values = {value.name: value for one in numbers for value in one.values}
        ready, time = map_of(t.get("ready")), map_of(t.get("time"))
        found = Procedure(
            id=id, title=words_of(t.get("title")), group=words_of(t.get("group")), also=words_in(t.get("also")),
            summary=self.text(t, "summary"), when=self.text(t, "when"), symptoms=words_in(t.get("symptoms")), machines=machines,
            hands_on=words_of(time.get("hands_on")), waiting=words_of(time.get("waiting")), every=words_of(t.get("every")),
            setting=words_of(t.get("setting")), who=self.who(map_of(t.get("who"))), cautions=tuple(self.cautions(t)),
            conditions=self.needs(ready, "conditions"), protection=self.needs(ready, "protection"),
            tools=self.needs(ready, "tools"), materials=self.needs(ready, "materials"), first=self.names(ready, "first", "first"),
            numbers=numbers, worksheets=tuple(self.worksheets(t)), stages=tuple(self.stages(t)),
            afterwards=self.texts(t, "afterwards"), trouble=tuple(self.trouble(t)), questions=tuple(self.questions(t)),
            sources=tuple(self.sources(t)), revision=_revision(map_of(t.get("revision"))), place=Place(self.name, 1, 1),
        )  # fmt: skip
        return Procedure(**{**found.__dict__, "references": tuple(self.references), "spots": dict(self.spots(t))})

    def spots(self, t: Map) -> Iterator[tuple[str, Place]]:
        """Where single values stand that have no object of their own."""
        for part in (t, *(map_of(t.get(key)) for key in ("time", "who", "revision"))):
            yield from ((key, Place(self.name, *spot)) for key, spot in part.values_at.items())

    # Words and names

    def place(self, spot: Spot) -> Place:
        return Place(self.name, *(self.instead or spot))

    def words(self, written: Any, spot: Spot) -> Text:
        """A text, with everything it points to remembered."""
        if not isinstance(written, (str, int, float)) or isinstance(written, bool):
            return NONE
        found = text(str(written))
        if len(found.parts) == 1 and found.parts[0].kind == "plain":
            return found
        for name in found.named:
            self.refer("value", name, spot)
        for target in found.targets:
            self.refer(*_target(target), spot)
        return found

    def text(self, t: Map, key: str) -> Text:
        return self.words(t[key], t.values_at[key]) if key in t else NONE

    def optional(self, t: Map, key: str) -> Text | None:
        return self.words(t[key], t.values_at[key]) if key in t else None

    def texts(self, t: Map, key: str) -> tuple[Text, ...]:
        return tuple(self.words(one, spot) for one, spot in spotted(t.get(key)))

    def names(self, t: Map, key: str, kind: str) -> tuple[str, ...]:
        """A list of ids, each remembered as a reference of KIND."""
        found = [(one, spot) for one, spot in spotted(t.get(key)) if isinstance(one, str)]
        for one, spot in found:
            self.refer(kind, one, spot)
        return tuple(one for one, _ in found)

    def refer(self, kind: str, target: str, spot: Spot) -> None:
        self.references.append(Reference(kind, target, self.place(spot)))

    def fault(self, spot: Spot, what: str, rule: str, why: str = "", hint: str = "") -> None:
        self.findings.append(Finding(self.place(spot), what, rule, why, hint))

    # Sections

    def who(self, t: Map) -> Who:
        people = t.get("people")
        return Who(self.text(t, "may"), int(people) if is_number(people) else 1, self.optional(t, "licensed"))

    def cautions(self, t: Map) -> Iterator[Caution]:
        for one in maps_in(t.get("cautions")):
            if "use" in one:
                id, spot = words_of(one["use"]), one.values_at["use"]
                self.refer("shared-caution", id, spot)
                if isinstance(self.shared.cautions.get(id), Map):
                    self.instead = spot
                    yield self.caution(self.shared.cautions[id], id)
                    self.instead = None
            else:
                yield self.caution(one, words_of(one.get("id")))

    def caution(self, t: Map, id: str) -> Caution:
        if isinstance(t.get("sign"), str):
            self.refer("sign", t["sign"], t.values_at["sign"])
        return Caution(id, words_of(t.get("signal")), words_of(t.get("sign")), self.text(t, "hazard"), self.text(t, "harm"),
                       self.text(t, "avoid"), self.place(t.at))  # fmt: skip

    def needs(self, t: Map, key: str) -> tuple[Needed, ...]:
        return tuple(self.need(one, spot) for one, spot in spotted(t.get(key)))

    def need(self, one: Any, spot: Spot) -> Needed:
        if not isinstance(one, Map):
            return Needed(self.words(one, spot), place=self.place(spot))
        if isinstance(one.get("sign"), str):
            self.refer("sign", one["sign"], one.values_at["sign"])
        return Needed(
            self.text(one, "name"),
            words_of(one.get("count")),
            self.optional(one, "note"),
            words_of(one.get("sign")),
            self.place(spot),
        )

    def numbers(self, t: Map, machines: tuple[str, ...]) -> Iterator[Numbers]:
        for one in maps_in(t.get("numbers")):
            if isinstance(one.get("table"), str):
                self.refer("table", one["table"], one.values_at["table"])
            found, findings = computed_numbers(one, self.name, self.shared.shop, machines)
            self.findings += findings
            yield found

    def worksheets(self, t: Map) -> Iterator[Worksheet]:
        for one in maps_in(t.get("worksheets")):
            id = words_of(one.get("use") or one.get("id"))
            if "use" in one:
                self.refer("shared-worksheet", id, one.values_at["use"])
                found = self.shared.worksheets.get(id)
            else:
                found, findings = worksheet(one, id, self.name, self.shared.shop)
                self.findings += findings
            self.worksheet_ids.add(id)
            if found is not None:
                yield found

    def trouble(self, t: Map) -> Iterator[Trouble]:
        for one in maps_in(t.get("trouble")):
            yield Trouble(
                self.text(one, "seen"),
                self.text(one, "cause"),
                self.text(one, "do"),
                self.names(one, "see", "procedure"),
                self.place(one.at),
            )

    def questions(self, t: Map) -> Iterator[Question]:
        for one in maps_in(t.get("questions")):
            yield Question(self.text(one, "ask"), self.text(one, "answer"))

    def sources(self, t: Map) -> Iterator[SourceNote]:
        for one in maps_in(t.get("sources")):
            if isinstance(one.get("cite"), str):
                self.refer("source", one["cite"], one.values_at["cite"])
            self.text(one, "text")
            yield SourceNote(
                words_of(one.get("cite")),
                words_of(one.get("at")),
                words_of(one.get("took")),
                words_of(one.get("text")),
                self.place(one.at),
            )

    # Stages and steps

    def stages(self, t: Map) -> Iterator[Stage]:
        for n, one in enumerate(maps_in(t.get("stages")), 1):
            id = words_of(one.get("id"))
            steps = tuple(self.steps(one, n, id))
            after = self.names(one, "after", "stage") if "after" in one else None
            yield Stage(id, words_of(one.get("title")), self.optional(one, "intro"), steps, self.place(one.at), after)

    def steps(self, t: Map, stage: int, stage_id: str) -> Iterator[Step]:
        for n, one in enumerate(maps_in(t.get("steps")), 1):
            number = f"{stage}.{n}"
            if "use" not in one:
                yield self.step(one, number, words_of(one.get("id")) or f"{stage_id}-{n}")
                continue
            id, spot = words_of(one["use"]), one.values_at["use"]
            self.refer("shared-step", id, spot)
            shared = self.shared.steps.get(id)
            if isinstance(shared, Map):
                self.instead = spot
                yield self.step(shared, number, id)
                self.instead = None

    def step(self, t: Map, number: str, id: str) -> Step:
        timer = map_of(t.get("timer"))
        worksheet_id = words_of(t.get("worksheet"))
        if worksheet_id and worksheet_id not in self.worksheet_ids:
            self.refer("worksheet", worksheet_id, t.values_at["worksheet"])
        return Step(
            id=id, number=number, do=self.text(t, "do"), check=self.optional(t, "check"), why=self.optional(t, "why"),
            cautions=self.names(t, "cautions", "caution"), figure=self.figure(t.get("figure")), timer=self.timer(timer),
            timer_for=words_of(timer.get("for")), readings=tuple(self.reading(one) for one in maps_in(t.get("readings"))),
            hold=self.optional(t, "hold"), numbers=self.names(t, "numbers", "numbers"), worksheet=worksheet_id,
            see=self.names(t, "see", "procedure"), place=self.place(t.values_at.get("do", t.at)),
        )  # fmt: skip

    def timer(self, t: Map) -> float | None:
        if not isinstance(t.get("lasts"), str):
            return None
        try:
            return duration_s(t["lasts"])
        except UnreadableDuration as fault:
            self.fault(t.values_at["lasts"], str(fault), "duration", hint=HINT)
            return None

    def figure(self, t: Any) -> Figure | None:
        if not isinstance(t, Map):
            return None
        for key, kind in (("draw", "drawing"), ("image", "image")):
            if isinstance(t.get(key), str):
                self.refer(kind, t[key], t.values_at[key])
        return Figure(words_of(t.get("alt")), self.optional(t, "caption"), words_of(t.get("draw")), self.figure_parameters(t),
                      words_of(t.get("image")), self.place(t.at))  # fmt: skip

    def figure_parameters(self, t: Map) -> Mapping[str, Any]:
        """The parameters of a drawing, a machine's id replaced by its data; tried out, so that every page can draw it."""
        given, name = dict(map_of(t.get("with"))), words_of(t.get("draw"))
        if name not in drawings() or BROKEN in given.values():
            return given
        try:
            given = with_machine(name, drawings()[name].parameters, given, self.shared.shop.machines)
            drawings()[name].svg(given)
        except BadValue as fault:
            self.bad_figure(t, fault)
        except BadValues as faults:
            for one in faults.faults:
                self.bad_figure(t, one)
        except Exception as fault:  # a drawing that fails is our own mistake, and still no reason to stop the book
            self.fault(t.at, f"the drawing {name} failed on these parameters ({type(fault).__name__})", "drawing-failed",
                       "this is a mistake of the program", "report it, with this part of the file")  # fmt: skip
        return given

    def bad_figure(self, t: Map, fault: BadValue) -> None:
        given = map_of(t.get("with"))
        spot = given.values_at.get(fault.parameter) or t.keys_at.get("with", t.at)
        self.fault(spot, f"{fault.parameter}: {fault.what}", "parameter", hint=fault.hint)

    def reading(self, t: Map) -> Reading:
        low, high = self.limit(t, "low"), self.limit(t, "high")
        if low is not None and high is not None and low > high:
            self.fault(
                t.values_at["low"],
                f"low {low:g} is above high {high:g}",
                "limits",
                "no reading could ever be right",
                "change them over",
            )
        decimals = t.get("decimals")
        return Reading(
            id=words_of(t.get("id")), name=self.text(t, "name"), unit=words_of(t.get("unit")), decimals=int(decimals) if is_number(decimals) else 0,
            low=low, high=high, at=words_in(t.get("at")), outside=self.optional(t, "outside"), kind=words_of(t.get("kind")) or "number",
            place=self.place(t.at),
        )  # fmt: skip

    def limit(self, t: Map, key: str) -> float | None:
        """A limit in the reading's unit: a number, or a named figure."""
        written = t.get(key)
        if is_number(written):
            return float(written)
        if not isinstance(written, str):
            return None
        name = written.strip()[1:-1]
        spot = t.values_at[key]
        if written.strip() != f"{{{name}}}":
            self.fault(
                spot,
                f'{key} "{written[:40]}" is neither a number nor a named figure',
                "limits",
                hint='write a number in the unit, or "{name}"',
            )
            return None
        self.refer("value", name, spot)
        return self.figure_in_unit(self.values[name], words_of(t.get("unit")), spot) if name in self.values else None

    def figure_in_unit(self, value: Value, unit: str, spot: Spot) -> float | None:
        """A named figure in the unit of the reading that it limits."""
        if not value.column:
            return None
        if not is_number(value.value):
            self.fault(
                spot,
                f"{{{value.name}}} is {value.shown}, which is no limit",
                "limits",
                hint="name a figure that is a number",
            )
            return None
        try:
            return (
                convert(value.value, unit_named(value.unit), unit_named(unit))
                if value.unit and unit
                else float(value.value)
            )
        except Unreadable as fault:
            if value.unit == unit:
                return float(value.value)
            self.fault(
                spot,
                f"{{{value.name}}} is in {value.unit}, the reading in {unit}",
                "limits",
                str(fault),
                "give the reading the same unit",
            )
            return None


def _target(target: str) -> tuple[str, str]:
    """What a link leads to: (kind of reference, name)."""
    start, colon, rest = target.partition(":")
    if colon and start in {"table", "machine"}:
        return "linked-table" if start == "table" else start, rest
    if colon:
        return ("address" if start.lower() in {"https", "http", "mailto"} else "other"), target
    if target.startswith("#"):
        return "step", target[1:]
    return ("other" if "/" in target or not target else "procedure"), target


def _revision(t: Map) -> Revision:
    number = t.get("number")
    return Revision(
        int(number) if is_number(number) else 0,
        words_of(t.get("date")),
        words_of(t.get("by")),
        words_of(t.get("checked_by")),
        words_of(t.get("changes")),
    )
