"""What the standards on thread tolerances share: a row of limits, the reading of a class, printed rounding."""

from __future__ import annotations

from dataclasses import dataclass, field

from fettlebook.tables.definition import BadValue, Cite
from fettlebook.tables.figures import written


@dataclass(frozen=True)
class Limits:
    """Limits of size of one side of a thread, in millimetres. None where the standard gives no limit.

    side    external or internal
    grade   the tolerance class as the standard writes it
    """

    side: str
    grade: str
    major: tuple[float | None, float | None]
    pitch: tuple[float | None, float | None]
    minor: tuple[float | None, float | None]

    def row(self) -> dict[str, object]:
        """The row of thread-limits."""
        found: dict[str, object] = {"side": self.side, "class": self.grade}
        for name, (low, high) in (("major", self.major), ("pitch_diameter", self.pitch), ("minor", self.minor)):
            found[f"{name}_min_mm"], found[f"{name}_max_mm"] = low, high
        both = None not in self.pitch
        found["pitch_tolerance_mm"] = self.pitch[1] - self.pitch[0] if both else None  # type: ignore[operator]
        return found


@dataclass(frozen=True)
class Pair:
    """Both sides of a thread, and what has to be said with them."""

    external: Limits
    internal: Limits
    notes: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    sources: tuple[Cite, ...] = field(default=())


def printed(value: float, decimals: int) -> float:
    """VALUE as the standard prints it: ties away from zero, taken at two places more, so that 0.91005 is a tie.

    >>> printed(0.9168 - 0.00675, 4)
    0.9101
    """
    return float(written(float(written(value, decimals + 2)) + 1e-12, decimals))


def lacks(grade: str, family: str, has: str) -> BadValue:
    """The refusal of a class that the family does not have."""
    return BadValue("class", f'{family} has no class "{grade}"', f"it has {has}")


def both_sides(grade: str, external: tuple[str, ...], internal: tuple[str, ...]) -> tuple[str, str]:
    """The external and the internal class in GRADE, which names one or both, in any order: "2A", "2B", "2A/2B".

    Gives "" for a side that is not named. Raises ValueError for what is neither.
    """
    sides = ["", ""]
    for part in grade.replace(" ", "").split("/"):
        match = [(0, name) for name in external if name.lower() == part.lower()]
        match += [(1, name) for name in internal if name.lower() == part.lower()]
        free = [pair for pair in match if not sides[pair[0]]]
        if not free:
            raise ValueError(part)
        sides[free[0][0]] = free[0][1]
    return sides[0], sides[1]
