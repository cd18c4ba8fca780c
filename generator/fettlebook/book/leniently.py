"""Parts of a file taken as they should be, or as nothing: what is missing or of another kind has been reported already."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, TypeGuard

from fettlebook.book.strict_yaml import Map, Seq, Spot


def is_number(value: Any) -> TypeGuard[float]:
    """Whether VALUE is a number; true and false are none."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def words_of(value: Any) -> str:
    """Words or the written digits of a number, white space made single; "" for anything else."""
    return " ".join(str(value).split()) if isinstance(value, str) or is_number(value) else ""


def words_in(value: Any) -> tuple[str, ...]:
    """The words in a list."""
    return tuple(words_of(one) for one in value if words_of(one)) if isinstance(value, list) else ()


def map_of(value: Any) -> Map:
    """A mapping; an empty one for anything else."""
    return value if isinstance(value, Map) else Map()


def maps_in(value: Any) -> Iterable[Map]:
    """The mappings in a list."""
    return [one for one in value if isinstance(one, Map)] if isinstance(value, list) else ()


def spotted(value: Any) -> Iterable[tuple[Any, Spot]]:
    """The parts of a list with their places."""
    return zip(value, value.values_at, strict=True) if isinstance(value, Seq) else ()


def without_places(value: Any) -> Any:
    """Plain mappings and lists; numbers keep their digits."""
    if isinstance(value, dict):
        return {key: without_places(one) for key, one in value.items()}
    return [without_places(one) for one in value] if isinstance(value, list) else value
