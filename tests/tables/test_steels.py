"""Finding a steel by any of its names, and what must be said first."""

import pytest

from fettlebook import data
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValue, BadValues
from fettlebook.tables.steel_data import meanings, one, steels

# Names side by side as BS 970, EN 10083, SAE and JIS sheets print them (from memory, common knowledge of the trade).
SAME = {
    "42crmo4": ["4140", "EN19", "en 19", "709M40", "1.7225", "SCM440", "AISI 4140", "42CrMo4+QT", "W.Nr. 1.7225", "SAE-4140"],
    "c45": ["1045", "C45E", "Ck45", "S45C", "1.0503", "EN 10083-2 C45", "080M46"],
    "en8": ["EN8", "en-8", "080M40", "BS 970 080M40", "C40", "S40C", "EN8 round bar"],
    "o1": ["O1", "o-1", "BO1", "SKS3", "1.2510", "gauge plate", "O1 tool steel", "ground flat stock"],
    "d2": ["D2", "SKD11", "1.2379", "12379", "X153CrMoV12"],
    "a2": ["A2", "SKD12", "1.2363"],
    "w1": ["W1", "SK3", "1.1545", "C105U"],
    "en24": ["EN24T", "817M40", "34CrNiMo6"],
    "4340": ["4340", "SNCM439"],
    "8620": ["8620", "805M20", "SNCM220", "21NiCrMo2"],
    "silver-steel": ["BS 1407"],
    "115crv3": ["1.2210", "Silberstahl"],
    "mild": ["mild steel", "A36", "S235JR", "EN3B", "SS400", "1018"],
    "cast-iron": ["cast iron", "GG25", "FC250"],
}  # fmt: skip


@pytest.mark.parametrize("steel, name", [(key, name) for key, names in SAME.items() for name in names])
def test_every_country_calls_it_by_its_own_name(steel, name):
    assert [found.id for found in meanings(name)] == [steel]


def test_a_shelf_name_gives_every_steel_that_it_may_be():
    assert [s.id for s in meanings("Silver Steel")] == ["silver-steel", "115crv3"]
    assert [s.id for s in meanings("drill rod")] == ["w1", "o1", "a2"]
    warnings = table_named("heat-treatment").table({"steel": "drill rod"}).warnings
    assert warnings[0].startswith("Drill rod is a finish, not a steel. W1 hardens in water, O1 in oil, A2 in air")


def test_a_relative_in_brackets_is_not_taken_for_the_steel():
    assert [s.id for s in meanings("4340")] == ["4340"]
    assert "(4340)" in one("EN24").names("us")


def test_one_steel_is_asked_for_when_the_meanings_harden_differently():
    assert one("silver steel").id == "silver-steel"
    with pytest.raises(BadValue, match='write which: "W1" or "O1" or "A2"'):
        one("drill rod")


@pytest.mark.parametrize(
    "name, words",
    [
        (
            "1046",
            'steel: "1046" is not a steel known here; did you mean "1045" or "1040" or "1016"? for an unmarked piece write unknown: a trial piece comes first',
        ),
        (
            "EN88",
            'steel: "EN88" is not a steel known here; did you mean "EN8" or "EN8D" or "EN48"? for an unmarked piece write unknown: a trial piece comes first',
        ),
        (
            "☃",
            'steel: "☃" is not a steel known here; the table `steels` lists those known; for an unmarked piece write unknown: a trial piece comes first',
        ),
    ],
)
def test_an_unknown_name_is_told_with_the_nearest(name, words):
    with pytest.raises(BadValues) as told:
        table_named("steels").table({"steel": name})
    assert str(told.value) == words


def test_what_does_not_harden_comes_first_in_the_list():
    hardens = [row["hardenable"] for row in table_named("steels").table({}).rows]
    assert hardens == sorted(hardens, key=["no", "not known", "only its carburised skin", "yes"].index)
    assert len(hardens) == len(steels())


def test_mild_steel_says_first_that_it_does_not_harden():
    table = table_named("heat-treatment").table({"steel": "mild steel"})
    assert table.warnings[0] == "Mild steel: it does not harden: too little carbon; only its skin after carburising."
    with pytest.raises(BadValues, match="Mild steel does not harden, so there is nothing to temper"):
        table_named("tempering").table({"steel": "mild steel"})


def test_an_unknown_piece_gets_tests_instead_of_temperatures():
    rows = table_named("heat-treatment").table({"steel": "unknown"}).rows
    assert [(row["operation"], row["way"], row.get("low_c")) for row in rows] == [
        ("test", "spark", None),
        ("test", "file and trial piece", None),
        ("test", "break", None),
    ]


def test_every_name_of_the_data_finds_its_steel():
    for steel in steels():
        for name in steel.spellings():
            assert steel in meanings(name), name
    for group in data.rows("steels", "groups"):
        assert [s.id for s in meanings(group["name"])] == group["means"]
