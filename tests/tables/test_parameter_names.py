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
