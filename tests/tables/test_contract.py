"""What readers may count on: the smallest and largest value that each parameter takes, what it takes when nothing is given, and how
fine each column is shown. contract.yml holds them apart from the code, so that a slip of a figure there does not pass in silence.

When a change is meant, look at it and write the file anew: python tests/tables/test_contract.py
"""

from contextlib import suppress
from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from fettlebook.tables.catalogue import tables
from fettlebook.tables.definition import BadValue, BadValues

FILE = Path(__file__).with_suffix("").parent / "contract.yml"
SAY = "if the change is meant, run: python tests/tables/test_contract.py"


def plain(value):
    """A default as YAML holds it."""
    return [plain(one) for one in value] if isinstance(value, tuple | list) else value


def columns(definition):
    """The columns of a table, and those that it has instead when another of its choices is taken."""
    found = {column.name: column for column in definition.columns}
    for parameter in definition.parameters:
        for choice in parameter.choices:
            given = {**(dict(definition.examples[0]) if definition.examples else {}), parameter.name: choice}
            with suppress(BadValues):
                found |= {column.name: column for column in definition.table(given).columns}
    return found.values()


def contract():
    """The contract as the code has it now."""
    return {
        name: {
            "takes": {
                p.name: {
                    "from": p.low,
                    "to": p.high,
                    "else": "must be given" if p.required else plain(p.default),
                }
                for p in definition.parameters
                if p.kind != "mapping"
            },
            "shows": {
                column.name: [column.decimals, column.inch_decimals, column.significant]
                for column in columns(definition)
                if (column.decimals, column.inch_decimals, column.significant) != (None, None, None)
            },
        }
        for name, definition in sorted(tables().items())
    }


KEPT = yaml.safe_load(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}
TAKEN = [(table, name, known) for table, kept in KEPT.items() for name, known in kept["takes"].items()]
ENDS = [
    (table, name, known[end], beyond)
    for table, name, known in TAKEN
    for end, beyond in (("from", -1), ("to", 1))
    if known[end] is not None
]


def written(figure):
    """A figure as a person writes it, without a power of ten."""
    return f"{Decimal(str(figure)):f}"


@pytest.mark.parametrize(("table", "name", "end", "beyond"), ENDS, ids=lambda part: str(part))
def test_a_parameter_takes_its_ends_and_nothing_beyond(table, name, end, beyond):
    parameter = tables()[table].parameter(name)
    taken = parameter.read(written(end))
    assert (taken[0] if parameter.many else taken) == pytest.approx(end, rel=1e-12), SAY
    step = 1 if parameter.kind == "whole" else abs(end) * 1e-6 or 1e-6
    with pytest.raises(BadValue, match="that holds here"):
        parameter.read(written(end + beyond * step))


@pytest.mark.parametrize("table", KEPT)
def test_what_is_taken_when_nothing_is_given(table):
    now = contract()[table]["takes"]
    kept = {name: known["else"] for name, known in KEPT[table]["takes"].items()}
    assert {name: now[name]["else"] for name in kept} == kept, SAY


@pytest.mark.parametrize("table", KEPT)
def test_how_fine_a_column_is_shown(table):
    now = contract()[table]["shows"]
    assert {name: now.get(name) for name in KEPT[table]["shows"]} == KEPT[table]["shows"], SAY


def test_every_table_is_in_the_contract():
    assert sorted(KEPT) == sorted(tables()), SAY


if __name__ == "__main__":
    words = "# What readers may count on of each table: parameters from, to and else; columns with decimals, in inches, significant.\n# Written by test_contract.py; look at every difference.\n"
    FILE.write_text(words + yaml.safe_dump(contract(), sort_keys=False, default_flow_style=None, width=140, allow_unicode=True), encoding="utf-8")  # fmt: skip
