"""How the many small things of a book are kept on disk, so that a book read back takes no more memory than one just parsed.

An object that is restored attribute by attribute carries a dict of its own, several times its size; one that is made by its
class from its fields does not.
"""

from __future__ import annotations

import pickle
from dataclasses import fields
from functools import lru_cache
from operator import attrgetter
from typing import Any, TypeVar

Kind = TypeVar("Kind", bound=type)


def compact(cls: Kind) -> Kind:
    """Restore objects of CLS, a dataclass with at least two fields, by calling it with them."""
    values = attrgetter(*(field.name for field in fields(cls)))

    def made_again(self: Any) -> tuple[Any, ...]:
        return cls, values(self)

    cls.__reduce__ = made_again  # type: ignore[assignment]
    return cls


class Same:
    """CONTENT that many objects share: read back once, and shared again."""

    def __init__(self, content: Any) -> None:
        self.content = content

    def __reduce__(self) -> tuple[Any, tuple[bytes]]:
        return _read_back, (pickle.dumps(self.content, protocol=5),)


@lru_cache(maxsize=300)
def _read_back(content: bytes) -> Any:
    return pickle.loads(content)
