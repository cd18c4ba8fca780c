"""The page that says what each rule asks for, made from the rules themselves: docs/rules.md.

python -m fettlebook.check.reference > docs/rules.md
"""

from __future__ import annotations

from collections.abc import Iterator

from fettlebook.check.rules import OF_PROCEDURES, OF_THE_BOOK

READING = {
    "anchor": "no value starts with &, * or ! unless it is in quotes: every value is written out where it is used",
    "braces": "a named figure at the start of a value stands in quotes: \"{name} mm\"",
    "comma": "between { and } a text with a comma stands in quotes, since a comma starts a new key there",
    "comment": "a # after a space starts a comment; a text that holds one (`thread: \"#10-32\"`) stands in quotes",
    "deep": "lists and keys do not go more than 24 levels deep",
    "empty": "a file has something in it",
    "encoding": "a file is UTF-8 text",
    "key": "a key is plain words",
    "large": "a file has at most a million bytes",
    "no-folder": "there is a folder procedures/",
    "nothing": "no value is left empty",
    "number": "a number has at most thirty digits",
    "outside": "no link of the file system leads out of procedures/",
    "syntax": "the file is YAML (a record is JSON)",
    "tab": "spaces make the indents, never tabs",
    "twice": "a key, a name or a file's id stands once",
    "unread": "every file under shop/ has a name that says what it holds",
    "unreadable": "a file can be read",
    "unseen": "no sign is invisible or turns the direction of writing",
}  # fmt: skip
"""Rules of reading, kept by book/strict_yaml.py and book/load.py."""

SHAPE = {
    "choice": "a word is one of those allowed",
    "kind": "words, numbers, lists and keys stand where they belong",
    "long": "a text or list is not longer than fits",
    "missing": "every key that is needed is there",
    "one-of": "of several keys of which one is wanted, exactly one is there",
    "pattern": "ids, signs and dates are written as the schema says",
    "range": "a number lies within its limits",
    "short": "a text is long enough to say something",
    "unknown-key": "every key is one that the schema knows",
}
"""Rules of shape, kept by book/shapes.py from the JSON Schemas."""

NUMBERS = {
    "drawing-failed": "never your fault: a drawing could not be made; please report it",
    "limits": "limits are numbers, or named figures in the reading's unit, the low one below the high one",
    "many-rows": "`where` leaves one row for a named figure, or `first: true` takes the first",
    "no-row": "`where` leaves at least one row",
    "parameter": "every parameter of a table or drawing can be read and lies in the range in which the table holds",
    "table-failed": "never your fault: a table could not be computed; please report it",
    "unknown-column": "every column that is named is one of the table's",
    "unknown-parameter": "every parameter that is given is one of the table's",
    "unknown-table": "every table that is asked for exists",
}
"""Rules of numbers, kept by book/computed.py and book/assembly.py while tables are computed."""

WORKSHEETS = {
    "example": "the worked example has a figure for every input and gives a result",
    "factor": "a formula converts its units: no factor of ten is missing or bare",
    "figure": "a figure can be read in its unit",
    "formula": "a formula is ordinary arithmetic in names that exist",
    "no-option": "the worked example chooses something that is there",
    "no-result": "a worksheet works something out",
    "reserved-name": "no input is called like a function or constant of the formula language",
    "units": "what a formula measures is what its result is shown in",
    "unknown-unit": "a unit is known",
    "unused-input": "an input is used in some formula",
}
"""Rules of worksheets, kept by book/worksheet_assembly.py and book/formula_check.py."""


def rules_page() -> str:
    """The page in Markdown."""
    return "\n".join(_lines()) + "\n"


def all_rules() -> dict[str, str]:
    """Every rule by name, with what it asks."""
    found = {**READING, **SHAPE, **NUMBERS, **WORKSHEETS}
    for module in (*OF_PROCEDURES, *OF_THE_BOOK):
        found |= {name: asks for name, asks in module.RULES.items() if name not in found}
    return found


def _lines() -> Iterator[str]:
    yield "# What each rule asks for"
    yield ""
    yield "`fettlebook check` names a rule in brackets at the end of a message. Advice is said and stops nothing; everything else"
    yield "must be put right before the book is built. This page is made from the rules themselves."
    for title, rules in (("Reading", READING), ("Shape", SHAPE), ("Numbers", NUMBERS), ("Worksheets", WORKSHEETS)):
        yield from ("", f"## {title}", "")
        yield from _table(rules)
    for module in (*OF_PROCEDURES, *OF_THE_BOOK):
        first, _, rest = (module.__doc__ or "").partition("\n\n")
        title, _, sentence = first.partition(": ")
        yield from ("", f"## {title}", "", f"{sentence[:1].upper()}{sentence[1:]}")
        yield from ("", rest.strip(), "") if rest.strip() else ("",)
        yield from _table(module.RULES)


def _table(rules: dict[str, str]) -> Iterator[str]:
    yield "| rule | asks that |"
    yield "| --- | --- |"
    yield from (f"| `{name}` | {asks} |" for name, asks in rules.items())


if __name__ == "__main__":
    print(rules_page(), end="")
