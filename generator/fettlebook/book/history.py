"""What the records of finished jobs say together: each machine's history, readings over time, and what is due next."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from fettlebook.book.book import Book
from fettlebook.book.durations import UnreadableDuration, duration_range_s
from fettlebook.book.shop import Record


@dataclass(frozen=True)
class Job:
    """One record as the pages show it.

    day       when it was finished, or begun if it was not
    revision  edition that was followed; older says that the book now has a later one
    open      steps marked not right or left out, as (number, words, state, reason)
    out       readings out of limits, in words
    rounds    rounds of levelling that belong to it, and what the page said in the last one
    """

    record: Record
    procedure: str
    title: str
    machine: str
    day: date
    finished: bool
    by: str
    name: str
    revision: int
    older: bool
    open: tuple[tuple[str, str, str, str], ...]
    out: tuple[str, ...]
    rounds: int
    last_round: str


@dataclass(frozen=True)
class Due:
    """A procedure that comes round again on a machine: when it was last done and when it is next due."""

    procedure: str
    machine: str
    last: date
    next: date


@dataclass(frozen=True)
class Series:
    """One reading over time: (day, value), in its unit, with its limits as they stood last."""

    name: str
    unit: str
    low: float | None
    high: float | None
    points: tuple[tuple[date, float], ...]


def jobs(book: Book) -> list[Job]:
    """Every record as a job, latest first."""
    return sorted(
        (_job(book, record) for record in book.records), key=lambda j: (j.day, j.procedure, j.record.file), reverse=True
    )


def due(book: Book) -> list[Due]:
    """What comes round again, soonest first, from the last finished job of each procedure on each machine."""
    last: dict[tuple[str, str], date] = {}
    for job in jobs(book):
        if job.finished and job.procedure in book.procedures:
            last.setdefault((job.procedure, job.machine), job.day)
    found = []
    for (procedure, machine), day in last.items():
        if (days := _interval_days(book.procedures[procedure].every)) is not None:
            found.append(Due(procedure, machine, day, day + timedelta(days=days)))
    return sorted(found, key=lambda d: (d.next, d.procedure, d.machine))


def series(these: Iterable[Job]) -> list[Series]:
    """Readings that were taken in at least two of the jobs, each over time."""
    found: dict[tuple[str, str], list[tuple[date, dict[str, Any]]]] = defaultdict(list)
    for job in sorted(these, key=lambda j: j.day):
        readings = job.record.content.get("readings")
        for id, reading in readings.items() if isinstance(readings, dict) else ():
            if isinstance(reading, dict) and _number(reading.get("value")) is not None:
                found[(job.procedure, id)].append((job.day, reading))
    return [_series(points) for _, points in sorted(found.items()) if len(points) > 1]


def _series(points: list[tuple[date, dict[str, Any]]]) -> Series:
    latest = points[-1][1]
    place = latest.get("place")
    name = f"{latest.get('name') or ''}{f', {place}' if place else ''}"
    values = tuple((day, float(reading["value"])) for day, reading in points)
    return Series(name, str(latest.get("unit") or ""), _number(latest.get("low")), _number(latest.get("high")), values)


def _job(book: Book, record: Record) -> Job:
    content = record.content
    procedure = str(content.get("procedure", ""))
    known = book.procedures.get(procedure)
    revision = int(content.get("revision") or 0)
    finished = content.get("finished")
    rounds = content.get("levelling") or []
    return Job(
        record, procedure, known.title if known else str(content.get("title") or procedure), str(content.get("machine") or ""),
        _day(finished or content.get("started")), bool(finished), str(content.get("by") or ""), str(content.get("name") or ""), revision,
        bool(known and revision < known.revision.number), tuple(_open(content)), tuple(_out(content)),
        len(rounds), str(rounds[-1].get("said") or "") if rounds else "",
    )  # fmt: skip


def _open(content: Any) -> Iterable[tuple[str, str, str, str]]:
    steps = content.get("steps")
    for id, step in steps.items() if isinstance(steps, dict) else ():
        if isinstance(step, dict) and step.get("state") in {"not-right", "left-out"}:
            why = "; ".join(str(step[key]) for key in ("reason", "note") if step.get(key))
            yield str(step.get("number") or id), str(step.get("words") or ""), str(step["state"]).replace("-", " "), why


def _out(content: Any) -> Iterable[str]:
    readings = content.get("readings")
    for id, reading in readings.items() if isinstance(readings, dict) else ():
        if isinstance(reading, dict) and reading.get("verdict") == "out":
            yield f"{reading.get('name') or id} {reading.get('shown') or reading.get('value')} ({reading.get('limits') or 'limits not kept'})"


def _interval_days(every: str) -> int | None:
    try:
        return round(duration_range_s(every)[0] / 86400) if every else None
    except UnreadableDuration:
        return None


def _day(written: Any) -> date:
    try:
        return date.fromisoformat(str(written)[:10])
    except ValueError:
        return date(1970, 1, 1)


def _number(value: Any) -> float | None:
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None
