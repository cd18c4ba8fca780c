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


@pytest.mark.parametrize(
    "table, name, written, read",
    [
        ("thread-sizes", "family", "Whitworth", "BSW"), ("thread-sizes", "family", "bspp", "G"), ("thread-sizes", "family", "UNF", "UNF"),
        ("thread-passes", "infeed", "straight", "radial"), ("thread-passes", "infeed", "Compound", "flank"),
        ("thread-finder", "side", "hole", "internal"), ("thread-finder", "tpi", "19 TPI", 19), ("cutting-speeds", "tool", "high speed steel", "HSS"),
        ("indexing", "circles", "[15, 16, 17]", (15, 16, 17)),
    ],
)  # fmt: skip
def test_what_the_trade_also_calls_it_is_understood(table, name, written, read):
    assert table_named(table).parameter(name).read(written) == read


def test_threads_per_inch_in_place_of_a_pitch_are_sent_to_their_field():
    with pytest.raises(BadValues, match="threads per inch have a place of their own, tpi"):
        table_named("change-gears").table({"pitch": "19 tpi", "leadscrew": "6 mm"})


def test_a_series_given_as_the_family_is_that_series():
    table = table_named("thread-sizes")
    assert table.table({"family": "UNF"}).rows == table.table({"family": "UN", "series": "UNF"}).rows


def test_both_classes_of_a_pipe_thread_can_be_asked_for():
    rows = table_named("thread-limits").table({"thread": "G 1/2", "class": "A/B"}).rows
    assert [(row["side"], row["class"]) for row in rows] == [
        ("external", "A"),
        ("external", "B"),
        ("internal", "single"),
    ]
