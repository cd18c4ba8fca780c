"""Cautions: gravest first, with a signal word that fits its sign, and said again where it matters.

danger comes before warning, warning before caution, caution before notice: who reads only the first must have read the
worst. Signs are those of ISO 7010; a sign of protective equipment starts with M.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fettlebook.book.places import Finding
from fettlebook.book.procedure import SIGNALS, Caution, Procedure
from fettlebook.check.known import Known, nearest

RULES = {
    "caution-order": "cautions stand with the gravest first", "no-sign": "a sign is one of ISO 7010",
    "sign-conflict": "no step is told both to wear gloves and not to",
    "protection-sign": "protective equipment has a mandatory sign (M...)",
    "caution-nowhere": "a danger or warning is said again at the step that it belongs to (advice)",
}  # fmt: skip


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Wrong order, unknown signs, dangers that no step names."""
    yield from _order(procedure.cautions)
    yield from _signs(procedure, known)
    yield from _gloves(procedure)
    yield from _nowhere(procedure)


def _order(cautions: Iterable[Caution]) -> Iterator[Finding]:
    before: list[Caution] = []
    for caution in cautions:
        if caution.signal not in SIGNALS:
            continue
        lighter = next((one for one in before if SIGNALS.index(one.signal) > SIGNALS.index(caution.signal)), None)
        if lighter:
            what = f'the {caution.signal} "{caution.id}" comes after the {lighter.signal} "{lighter.id}"'
            yield Finding(
                caution.place,
                what,
                "caution-order",
                "who reads only the first must have read the worst",
                f'move it before "{lighter.id}"',
            )
        before.append(caution)


def _signs(procedure: Procedure, known: Known) -> Iterator[Finding]:
    for reference in procedure.references:
        if reference.kind == "sign" and reference.target not in known.signs:
            hint = nearest(reference.target, known.signs, "W001 is the general warning sign")
            yield Finding(
                reference.place, f'ISO 7010 has no sign "{reference.target}" known here', "no-sign", hint=hint
            )
    for needed in procedure.protection:
        if needed.sign and not needed.sign.startswith("M"):
            yield Finding(needed.place, f"{needed.sign} is no sign of protective equipment", "protection-sign",
                          "what must be worn has a blue sign, and those are called M", "for example M004, wear eye protection")  # fmt: skip


def _gloves(procedure: Procedure) -> Iterator[Finding]:
    sign_of = {caution.id: caution.sign for caution in procedure.cautions}
    for step in procedure.steps:
        if {"M009", "P028"} <= {sign_of.get(id, "") for id in step.cautions}:
            yield Finding(step.place, f"step {step.number} says both wear gloves (M009) and do not (P028)", "sign-conflict",
                          "a glove caught by a turning part takes the hand with it", "make two steps of it")  # fmt: skip


def _nowhere(procedure: Procedure) -> Iterator[Finding]:
    named = {id for step in procedure.steps for id in step.cautions}
    for caution in procedure.cautions:
        if caution.signal in {"danger", "warning"} and caution.id not in named:
            yield Finding(caution.place, f'no step names the {caution.signal} "{caution.id}"', "caution-nowhere",
                          "at the machine only the step is in sight", f"write cautions: [{caution.id}] at the step where it can happen", mild=True)  # fmt: skip
