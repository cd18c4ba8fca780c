"""A parameter's name is understood with a hyphen as well as with an underscore, and only once."""

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues


def test_hyphen_and_underscore_name_the_same_parameter():
    table = table_named("oil-for-climate")
    written = {"grade": "ISO VG 32", "here": 35}
    assert table.given(written | {"designed-for": 20}) == table.given(written | {"designed_for": 20})


def test_a_parameter_given_in_both_spellings_is_refused():
    with pytest.raises(BadValues, match="designed_for: is given twice; write designed_for once"):
        table_named("oil-for-climate").given({"grade": "ISO VG 32", "here": 35, "designed-for": 20, "designed_for": 25})


def test_a_list_of_grades_is_parted_by_commas_alone_and_one_of_numbers_by_spaces_too():
    table = table_named("oil-for-climate")
    base = {"grade": "ISO VG 32", "designed_for": "15 30", "here": 35}
    assert table.given(base | {"store": "ISO VG 46"})["store"] == ("ISO VG 46",)
    assert table.given(base | {"store": "ISO VG 46; SAE 30"})["store"] == ("ISO VG 46", "SAE 30")
    assert table.given(base)["designed_for"] == (15, 30)
