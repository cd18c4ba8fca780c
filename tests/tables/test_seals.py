"""What a seal's choice must not get wrong: a ring without a gland, a washer sunk in its recess, the wrong rubber."""

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.o_rings import depth_for_mm, rings, squeeze_percent
from fettlebook.tables.seals import material_for

PLUG = table_named("seal-for-plug")


def kinds(**given):
    return {row["kind"]: row for row in reversed(PLUG.table(given).rows)}


def test_an_o_ring_on_a_flat_face_is_called_wrong():
    row = kinds(thread="G 1/2")["O-ring"]
    assert not row["fits"] and row["verdict"].startswith("wrong: on a flat face without a gland")


def test_an_o_ring_is_wrong_where_the_head_goes_into_the_recess():
    row = kinds(thread="G 1/2", counterbore_diameter=30, counterbore_depth=2, head_diameter=28)["O-ring"]
    assert not row["fits"] and "the head goes into the recess" in row["verdict"]


def test_the_ring_for_a_measured_recess_is_squeezed_within_the_handbook():
    rows = [
        r
        for r in PLUG.table({"thread": "G 1/2", "counterbore_diameter": 30, "counterbore_depth": 2}).rows
        if r["kind"] == "O-ring"
    ]
    assert rows[0]["size"] == "117" and rows[0]["fits"]
    for row in rows:
        assert 18 <= row["squeeze_min_percent"] < row["squeeze_percent"] < row["squeeze_max_percent"] <= 30
        assert row["stretch_percent"] <= 5 and row["fill_percent"] <= 85


def test_a_washer_thinner_than_its_recess_is_called_wrong():
    assert (
        "lands before it is squeezed"
        in kinds(thread="G 1/2", counterbore_diameter=30, counterbore_depth=2)["copper washer"]["verdict"]
    )
    assert kinds(thread="G 1/2", counterbore_diameter=30, counterbore_depth=1)["copper washer"]["fits"]


def test_a_seal_wider_than_the_recess_is_called_wrong():
    assert (
        "does not go into the recess"
        in kinds(thread="G 1/2", counterbore_diameter=27, counterbore_depth=1)["bonded seal"]["verdict"]
    )


# By hand: a 2.62 ring in a gland 2 mm deep and 3 mm wide fills 5.391/6 = 90 %; 85 % takes 3.17 mm, a recess of 22.35 mm round M16.
def test_a_recess_too_narrow_says_how_wide_it_must_be():
    narrow = kinds(thread="M16x1.5", counterbore_diameter=22, counterbore_depth=2)["O-ring"]
    assert not narrow["fits"] and "fill the recess to 90 %; open the recess to 22.4 mm" in narrow["verdict"]
    opened = kinds(thread="M16x1.5", counterbore_diameter=22.4, counterbore_depth=2)["O-ring"]
    assert opened["fits"] and opened["thickness_mm"] == 2.62


def test_a_flat_ring_goes_on_every_pitch_of_its_thread():
    fine, coarse = (kinds(thread=thread) for thread in ("M14x1.5", "M14x2"))
    assert fine["copper washer"]["size"] == coarse["copper washer"]["size"] == "14 × 18 × 1.5"
    assert fine["bonded seal"]["size"] == "14.7 × 22 × 1.5"
    assert coarse["copper washer"]["torque_nm"] is None, "the torque is for the fine thread alone"


@pytest.mark.parametrize("oil, t, rubber", [("mineral", 60, "NBR"), ("mineral", 120, "HNBR"), ("mineral", 180, "FKM"), ("ester", 60, "FKM"),
                                            ("coolant", 60, "NBR"), ("mineral", -38, None), ("ester", -20, None)])  # fmt: skip
def test_the_rubber_follows_oil_and_heat(oil, t, rubber):
    assert material_for(oil, t) == rubber


def test_a_taper_plug_gets_sealant_and_nothing_else():
    rows = PLUG.table({"thread": "1/2 NPT"}).rows
    assert [row["kind"] for row in rows] == ["sealant in the thread"]


@pytest.mark.parametrize("given, words", [
    ({"thread": "G 1/2", "counterbore_depth": 2}, "counterbore_diameter: a recess has a diameter and a depth; only one is given"),
    ({"thread": "G 1/2", "counterbore_diameter": 21, "counterbore_depth": 2}, "leaves no room round G 1/2, which is 20.95 mm"),
    ({"thread": "sky hook"}, "thread: "),
    ({"thread": "G 1/2", "counterbore_diameter": -3, "counterbore_depth": 2}, "counterbore_diameter: -3 is below"),
    ({"thread": "G 1/2", "oil": "olive"}, 'oil: "olive" is not one of'),
])  # fmt: skip
def test_what_makes_no_sense_is_refused_in_words(given, words):
    with pytest.raises(BadValues) as caught:
        PLUG.table(given)
    assert words in str(caught.value)


def test_squeeze_and_depth_are_inverse():
    for ring in rings():
        assert squeeze_percent(ring.section_mm, depth_for_mm(ring.section_mm, 24)) == pytest.approx(24)


def test_stretch_needs_both_diameters():
    with pytest.raises(BadValues, match="bore: stretch needs both"):
        table_named("o-ring-fit").table({"section": 2.62, "over": 12})
