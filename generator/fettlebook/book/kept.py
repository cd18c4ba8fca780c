"""What was made before: in the preview only what depends on a change is made anew."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

Made = TypeVar("Made")


class Kept:
    """What was made, each beside everything that it was made from.

    A build asks once for each and gains nothing; a preview keeps one for as long as it runs. What a thing was made from is
    compared part by part, and a part that is the same object is not looked into: procedures come from the cache of the book.
    """

    def __init__(self, keeping: bool = False) -> None:
        self.keeping = keeping
        self._made: dict[Hashable, tuple[Any, Any]] = {}
        self._asked: set[Hashable] = set()

    def get(self, name: Hashable, sources: Any, make: Callable[[], Made]) -> Made:
        """What MAKE gives for NAME, made again only if SOURCES are not what they were."""
        if not self.keeping:
            return make()
        self._asked.add(name)
        if name not in self._made or self._made[name][0] != sources:
            self._made[name] = (sources, make())
        return self._made[name][1]

    def forget(self) -> None:
        """Drop what the last run did not ask for."""
        self._made = {name: made for name, made in self._made.items() if name in self._asked}
        self._asked = set()
