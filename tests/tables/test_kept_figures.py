"""No figure of a table changes unnoticed: the tables' examples, and each parameter at its ends and in each of its choices.

Whether a figure is right is for tests/published/ to say, which holds it against sources from outside. This holds each figure against
what it was: kept_figures.yml has, for each table and what it is given, a check sum of all its numbers to eight digits, or which
parameter is refused. When a change is meant, look at the tables named and write the file anew: python tests/tables/test_kept_figures.py
"""

import zlib
from pathlib import Path

import pytest
import yaml

from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import BadValues

SIMULATED = {"levelling-rounds"}
"""Tables of results that a benchmark writes anew."""
FILE = Path(__file__).with_name("kept_figures.yml")


def numbers(value):
    """Every number in a row, list by list, as text with eight digits."""
    if isinstance(value, bool) or value is None:
        return [str(value)]
    if isinstance(value, int | float):
        return [f"{value:.8g}"]
    if isinstance(value, dict):
        return [one for key in sorted(value, key=str) for one in (str(key), *numbers(value[key]))]
    if isinstance(value, list | tuple):
        return [one for part in value for one in numbers(part)]
    return []


def told(definition, given):
    """The check sum of the figures of a table, or what it refuses."""
    try:
        rows = definition.table(given).rows
    except BadValues as refused:
        return "refuses " + ", ".join(fault.parameter for fault in refused.faults)
    return f"{len(rows)} rows {zlib.crc32(' '.join(numbers([dict(row) for row in rows])).encode()):08x}"


def cases(definition):
    """(words, parameters) of everything that is kept for one table."""
    examples = [dict(example) for example in definition.examples] or [{}]
    for n, example in enumerate(examples, 1):
        yield f"example {n}", example
    for p in definition.parameters:
        ends = [f"{end:f}".rstrip("0").rstrip(".") for end in (p.low, p.high) if end is not None]
        ends += [p.low + (p.high - p.low) * 0.37] if ends and None not in (p.low, p.high) and p.kind != "whole" else []
        for value in [*ends, *p.choices, *(("true", "false") if p.kind == "flag" else ())]:
            yield f"{p.name} {value}", {**examples[0], p.name: value}


def kept():
    return {
        name: {words: told(definition, given) for words, given in cases(definition)}
        for name, definition in sorted(tables().items())
        if name not in SIMULATED
    }


KEPT = yaml.safe_load(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


@pytest.mark.parametrize("table", KEPT)
def test_the_figures_are_what_they_were(table):
    now = {words: told(tables()[table], given) for words, given in cases(tables()[table])}
    changed = {words: (was, now.get(words)) for words, was in KEPT[table].items() if now.get(words) != was}
    assert not changed, "if the change is meant, run: python tests/tables/test_kept_figures.py"


if __name__ == "__main__":
    words = "# Check sums of the figures of each table, or what it refuses. Written by test_kept_figures.py.\n"
    FILE.write_text(words + yaml.safe_dump(kept(), sort_keys=False, width=140, allow_unicode=True), encoding="utf-8")
