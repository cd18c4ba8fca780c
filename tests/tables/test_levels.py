"""The level itself: one division first, and the reversal check."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.levels import reversal

LEVELS = table_named("levels")


def test_one_division_comes_first():
    assert [row["divisions"] for row in LEVELS.table({}).rows] == [1, 0.25, 0.5, 2, 5, 10]


@settings(deadline=None)
@given(st.floats(-20, 20), st.floats(-2, 2))
def test_the_reversal_finds_tilt_and_own_error_again(tilt, error):
    assert reversal(tilt + error, -tilt + error) == (pytest.approx(tilt), pytest.approx(error))


def test_a_level_that_is_out_is_said_to_be():
    assert "1.00 divisions" in LEVELS.table({"reading": 3, "reversed": -1}).warnings[0]
    assert not LEVELS.table({"reading": 1, "reversed": -1}).warnings


@pytest.mark.parametrize("given, words", [
    ({"reading": 3}, "reversed: the reversal check needs both readings; read, turn the level end for end, read again"),
    ({"division": 0}, "division: 0 is below the smallest value that holds here, 0.001 mm/m"),
    ({"division": "4 kg"}, "division: kg measures mass, mm/m measures slope; for example 0.02 mm/m"),
])  # fmt: skip
def test_bad_input_is_answered_in_a_line(given, words):
    with pytest.raises(BadValues) as refused:
        LEVELS.table(given)
    assert str(refused.value) == words
