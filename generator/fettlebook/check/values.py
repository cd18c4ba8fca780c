"""Named figures: what text calls {name} is picked from one of the procedure's tables, and has a value.

A name that is picked and never used is said as advice.
"""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Procedure
from fettlebook.check.known import Known, nearest

RULES = {
    "no-value": "a named figure in text is among the values of the procedure's numbers",
    "empty-value": "a named figure has a value",
    "unused-value": "a named figure is used somewhere (advice)",
}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Names in text that are not picked, picked names without a value or without a use."""
    values = procedure.values
    used = set()
    for reference in procedure.references:
        if reference.kind != "value":
            continue
        used.add(reference.target)
        if reference.target not in values:
            hint = nearest(
                reference.target,
                values,
                f"values: gives {', '.join(sorted(values)) or 'none'}; a brace that is meant as such is written \\{{",
            )
            yield Finding(
                reference.place,
                f"there is no figure called {{{reference.target}}}",
                "no-value",
                "text takes figures from values: under numbers:",
                hint,
            )
        elif values[reference.target].value is None and values[reference.target].column:
            yield Finding(reference.place, f"{{{reference.target}}} has no value for these parameters", "empty-value",
                          "the table has none in that row and column", "pick another row, or say it without a figure")  # fmt: skip
    for numbers in procedure.numbers:
        for value in numbers.values:
            if value.name not in used:
                yield Finding(
                    value.place,
                    f"{{{value.name}}} is picked and never used",
                    "unused-value",
                    hint="use it or take it out",
                    mild=True,
                )
