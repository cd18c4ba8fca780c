"""No figure of a table changes unnoticed: the tables' examples, and each parameter at its ends and in each of its choices.

Whether a figure is right is for tests/published/ to say, which holds it against sources from outside. This holds each figure against
what it was: kept_figures.yml has, for each table and what it is given, a check sum of all its numbers to eight digits, those in its
words included, and one of its words (a caution on the wrong row is as bad as a wrong figure), or which parameter is refused; and
one of what its page is given to work with. When a change is meant, look at the tables named and write the file anew:
python tests/tables/test_kept_figures.py
"""

import json
import re
import zlib
from pathlib import Path

import pytest
import yaml

from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import BadValues
from fettlebook.tables.writing import as_csv, as_text

SIMULATED = {"levelling-rounds"}
"""Tables of results that a benchmark writes anew."""
FIGURE = re.compile(r"\d+(?:\.\d+)?")
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
    return FIGURE.findall(value) if isinstance(value, str) else []


def to_eight_digits(value):
    if isinstance(value, float):
        return f"{value:.8g}"
    if isinstance(value, dict):
        return {str(key): to_eight_digits(one) for key, one in value.items()}
    return [to_eight_digits(one) for one in value] if isinstance(value, list | tuple) else value


def check_sum(value):
    return f"{zlib.crc32(' '.join(numbers(value)).encode()):08x}"


def told(definition, given):
    """The check sum of the figures of a table, or what it refuses."""
    try:
        table = definition.table(given)
    except BadValues as refused:
        return "refuses " + ", ".join(fault.parameter for fault in refused.faults)
    said = f"{len(table.notes)} notes, {len(table.warnings)} warnings"
    everything = [[dict(row) for row in table.rows], table.notes, table.warnings]
    words = zlib.crc32(json.dumps(to_eight_digits(everything), sort_keys=True, ensure_ascii=False).encode())
    return f"{len(table.rows)} rows, {said}, figures {check_sum(everything)}, words {words:08x}"


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


def kept_of(definition):
    """Every check sum of one table; what its page is given is data, so that its words count too."""
    sums = {words: told(definition, given) for words, given in cases(definition)}
    shown = definition.table(next(iter(cases(definition)))[1])
    for words, content in (("in a terminal", as_text(definition, shown)), ("as CSV", as_csv(shown))):
        sums[words] = f"{zlib.crc32(content.encode()):08x}"
    if definition.browser_data is not None:
        data = json.dumps(to_eight_digits(definition.browser_data()), sort_keys=True, ensure_ascii=False)
        sums["given to the page"] = f"{zlib.crc32(data.encode()):08x}"
    return sums


def kept():
    return {name: kept_of(one) for name, one in sorted(tables().items()) if name not in SIMULATED}


KEPT = yaml.safe_load(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


@pytest.mark.parametrize("table", KEPT)
def test_the_figures_are_what_they_were(table):
    now = kept_of(tables()[table])
    changed = {words: (was, now.get(words)) for words, was in KEPT[table].items() if now.get(words) != was}
    assert not changed, "if the change is meant, run: python tests/tables/test_kept_figures.py"


if __name__ == "__main__":
    words = "# Check sums of the figures of each table, or what it refuses. Written by test_kept_figures.py.\n"
    FILE.write_text(words + yaml.safe_dump(kept(), sort_keys=False, width=140, allow_unicode=True), encoding="utf-8")
