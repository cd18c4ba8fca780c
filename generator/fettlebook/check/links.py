"""Links: everything that a procedure points to is there.

Procedures named under `see`, `first` or in a link, machines, tables, steps (`#id`), cautions, numbers, worksheets, shared
cautions and steps. An address on the web starts with https:// (or http://, mailto:); anything else that runs, such as
`javascript:`, is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure, Reference
from fettlebook.check.known import Known, nearest

RULES = {
    "no-procedure": "a procedure that is pointed to exists", "no-machine": "a machine that is named exists",
    "no-table": "a table that is linked exists", "no-step": "a step that is linked exists",
    "no-caution": "a caution that is named is among the procedure's cautions, a shared one in shop/cautions.yml",
    "no-numbers": "numbers that a step shows are among the procedure's numbers", "no-worksheet": "a worksheet that is used exists",
    "no-shared-step": "a shared step that is used exists in shop/steps.yml", "bad-link": "a link leads to something in the book or to a web address",
}  # fmt: skip


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """References that lead nowhere."""
    places = _places(procedure, known)
    for reference in procedure.references:
        if reference.kind == "other":
            yield _bad_link(reference)
        elif reference.kind in places:
            rule, what, names, otherwise = places[reference.kind]
            target, _, fragment = reference.target.partition("#")
            if target not in names:
                yield Finding(
                    reference.place, f'there is no {what} "{target[:60]}"', rule, hint=nearest(target, names, otherwise)
                )
            elif (
                fragment
                and reference.kind == "procedure"
                and fragment not in (there := fragments(known.procedures[target]))
            ):
                what, hint = (
                    f'"{target}" has no step "{fragment[:60]}"',
                    nearest(fragment, there, "give that step an id"),
                )
                yield Finding(reference.place, what, "no-step", hint=hint)


def fragments(procedure: Procedure) -> list[str]:
    """Every place in a procedure that a link may lead to, by its id."""
    return [*(step.id for step in procedure.steps), *(f"stage-{stage.id}" for stage in procedure.stages)]


def _places(procedure: Procedure, known: Known) -> Mapping[str, tuple[str, str, Iterable[str], str]]:
    """For each kind of reference: the rule, what it is called, the names there are, and a hint if none is near."""
    cautions = [one.id for one in procedure.cautions]
    worksheets = [one.id for one in procedure.worksheets]
    numbers = [one.id for one in procedure.numbers]
    return {
        "procedure": ("no-procedure", "procedure", known.procedures, "write it first, or take this out"),
        "first": ("no-procedure", "procedure", known.procedures, "write it first, or take this out"),
        "machine": ("no-machine", "machine", known.machines, f"shop/machines/ holds {', '.join(sorted(known.machines)) or 'none'}"),
        "step": ("no-step", "step", fragments(procedure), "give the step an id"),
        "caution": ("no-caution", "caution", cautions, f"the cautions of this procedure are {', '.join(cautions) or 'none'}"),
        "numbers": ("no-numbers", "table of numbers", numbers, f"under numbers: there is {', '.join(numbers) or 'none'}"),
        "worksheet": ("no-worksheet", "worksheet", worksheets, "list it under worksheets:"),
        "shared-caution": ("no-caution", "shared caution", known.cautions, "write it in shop/cautions.yml"),
        "shared-step": ("no-shared-step", "shared step", known.steps, "write it in shop/steps.yml"),
        "shared-worksheet": ("no-worksheet", "shared worksheet", known.worksheets, "write it in shop/worksheets/"),
        "linked-table": ("no-table", "table", known.tables, "`fettlebook tables` lists them"),
    }  # fmt: skip


def _bad_link(reference: Reference) -> Finding:
    what = f'a link may not lead to "{reference.target[:60]}"'
    hint = "write a procedure's id, table:NAME, machine:ID, #step-id or an https address"
    return Finding(
        reference.place, what, "bad-link", "links lead into the book or to a web page, and never run anything", hint
    )
