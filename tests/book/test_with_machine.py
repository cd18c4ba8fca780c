"""A machine's name stands for its data where a machine is wanted, and nowhere else."""

import pytest

from fettlebook.book.computed import with_machine
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValue, BadValues

MOVES = table_named("jack-moves")
MACHINES = {"blue-lathe": {"levelling": {"feet": [], "stations": []}}, "hearth": {}}


def given(**written):
    return with_machine("jack-moves", MOVES.parameters, written, MACHINES)


def test_a_machine_is_named_by_its_id():
    assert given(machine="blue-lathe")["machine"] == MACHINES["blue-lathe"]["levelling"]
    assert given(machine="feet=4 length=1600 width=450")["machine"] == "feet=4 length=1600 width=450"
    with pytest.raises(BadValue, match='machine: there is no machine "red-lathe"'):
        given(machine="red-lathe")
    with pytest.raises(BadValue, match='machine: machine "hearth" has no levelling:'):
        given(machine="hearth")


def test_readings_that_look_like_a_name_are_called_what_they_are():
    written = given(machine="feet=4 length=1600 width=450", readings="abc")
    with pytest.raises(BadValues, match='readings: "abc" has no ":" after the station; for example'):
        MOVES.table(written)
