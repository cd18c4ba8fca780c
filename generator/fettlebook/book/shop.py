"""The shop's own things: workshop, machines, words, and records of finished jobs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fettlebook.book.places import Place
from fettlebook.book.text import Text


@dataclass(frozen=True)
class Oil:
    """An oil in the store, named by its standard grade."""

    id: str
    grade: str
    kind: str
    litres: float | None
    index: float | None
    note: str


@dataclass(frozen=True)
class Workshop:
    """workshop.yml. `defaults` are the shop's own values for table parameters, by the key that Parameter.shop names:
    drills, gears, circles, spindle_speeds_rpm, oils, level_mm_per_m, feeler_mm, air_c ... `spots` says where each of them stands.
    """

    name: str
    town: str
    about: Text
    paper: str
    units: str
    oils: tuple[Oil, ...]
    defaults: Mapping[str, Any]
    emergency: tuple[Text, ...]
    people: tuple[Mapping[str, str], ...]
    place: Place
    spots: Mapping[str, Place]


@dataclass(frozen=True)
class Machine:
    """One machine of the shop. `facts` are shown as they are (label, value); `feet`, `stations`, `sumps`, `gears`, `plates`
    and `spindle_speeds_rpm` feed tables and drawings. `spots` says where its levelling stands: "levelling", "feet 0",
    "stations 2" ...
    """

    id: str
    name: str
    kind: str
    about: Text
    came_from: str
    serial: str
    facts: tuple[tuple[str, str], ...]
    data: Mapping[str, Any]
    place: Place
    spots: Mapping[str, Place]


@dataclass(frozen=True)
class Term:
    """A word of the glossary with its other names: `also` on the same side, `british` and `american` where they differ."""

    term: str
    means: Text
    british: str
    american: str
    also: tuple[str, ...]
    place: Place


@dataclass(frozen=True)
class Record:
    """A finished or unfinished job as it came out of the tablet (the published record schema), read from records/."""

    file: str
    content: Mapping[str, Any]
    place: Place
