"""The order of a procedure's stages: what waits for what, and what can be done side by side."""

from __future__ import annotations

from dataclasses import dataclass

from fettlebook.book.procedure import Procedure, Stage


@dataclass(frozen=True)
class Turn:
    """One stage's place in the order.

    number  as on the page
    after   numbers of the stages that it waits for directly; one that waits already in another's chain is left out
    beside  numbers of the stages that neither come before it nor wait for it
    signed  whether a second person signs in it
    """

    stage: Stage
    number: int
    after: tuple[int, ...]
    beside: tuple[int, ...]
    signed: bool


def has_order(procedure: Procedure) -> bool:
    """Whether the procedure says more than "one after the other": then its order is worth a map."""
    return any(stage.after is not None for stage in procedure.stages)


def order(procedure: Procedure) -> tuple[Turn, ...]:
    """Every stage with what it waits for, in the order of the page."""
    direct = {n: _waits_for(procedure, n) for n in range(1, len(procedure.stages) + 1)}
    before: dict[int, set[int]] = {}
    for n, numbers in direct.items():
        before[n] = set(numbers).union(*(before.get(m, set()) for m in numbers))
    turns = []
    for n, stage in enumerate(procedure.stages, 1):
        after = tuple(m for m in direct[n] if not any(m in before[k] for k in direct[n]))
        beside = tuple(m for m in direct if m != n and m not in before[n] and n not in before[m])
        turns.append(Turn(stage, n, after, beside, any(step.hold for step in stage.steps)))
    return tuple(turns)


def _waits_for(procedure: Procedure, n: int) -> tuple[int, ...]:
    """Numbers of the stages before stage N that it names, or the one before it; what is not there is a fault said elsewhere."""
    after = procedure.stages[n - 1].after
    if after is None:
        return (n - 1,) if n > 1 else ()
    numbers = {stage.id: m for m, stage in enumerate(procedure.stages[: n - 1], 1)}
    return tuple(sorted({numbers[id] for id in after if id in numbers}))
