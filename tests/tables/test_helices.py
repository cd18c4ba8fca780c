"""Gears for milling a helix: what holds for every train that is shown, and what is refused."""

from math import pi, radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.gear_trains import Stand, compound_fits

HELIX = table_named("helix-leads")


def train(row):
    return (row["gear_on_screw"], *(row["stud_gears"] or ()), row["gear_on_head"])


@settings(max_examples=60, deadline=None)
@given(st.floats(5, 2500), st.sampled_from(["4 tpi", "5 mm", "6 mm"]), st.booleans())
def test_every_train_gives_its_lead_and_fits(lead, screw, direct):
    screw_mm = 6.35 if screw == "4 tpi" else float(screw.split()[0])
    for row in HELIX.table({"lead": lead, "screw": screw, "direct": direct, "diameter": 30}).rows:
        gears = train(row)
        # One turn of the screw turns the first gear once; counted mesh by mesh, independently of the product formula.
        head = gears[0] / gears[1] if len(gears) == 2 else gears[0] / gears[1] * gears[2] / gears[3]
        work = head / (1 if direct else 40)
        assert row["lead_mm"] == pytest.approx(screw_mm / work, rel=1e-9)
        assert tan(radians(row["angle_deg"])) * row["lead_mm"] == pytest.approx(pi * 30, rel=1e-9)
        assert len(gears) == 2 or compound_fits(gears, Stand())


@pytest.mark.parametrize("divisions", [2, 3, 5, 7, 9, 11, 25, 43])
def test_with_the_worm_out_only_gears_that_divide_the_work_are_shown(divisions):
    for row in HELIX.table({"lead": "8 mm", "direct": True, "divisions": divisions}).rows:
        assert row["gear_on_head"] == divisions * row["teeth_to_advance"]


def test_a_short_lead_through_the_worm_and_a_steep_angle_are_warned_of():
    said = " ".join(HELIX.table({"lead": "20 mm", "diameter": "50 mm"}).warnings)
    assert "put the gears on the spindle itself" in said and "must swing 82.7°" in said


@pytest.mark.parametrize("given, message", [
    ({"lead": "0"}, "lead: 0 is below the smallest value that holds here, 1 mm"),
    ({"lead": "1e9"}, "lead: 1e9 is above the largest value that holds here, 5000 mm"),
    ({"lead": "long"}, 'lead: "long" does not start with a number; write one like 12.7 mm; for example 250 mm'),
    ({"lead": "3 kg"}, "lead: kg measures mass, mm measures length; for example 250 mm"),
    ({"lead": "20", "screw": "5"}, 'screw: "5" could be millimetres or threads per inch; for example "6 mm" or "8 tpi"'),
    ({"lead": "20", "gears": "24"}, "gears: 1 gears are given; from 2 to 16 can be searched; list the gears of your head"),
    ({"lead": "20", "direct": "true", "divisions": 37}, "divisions: no gear on the spindle is a multiple of 37; then the work cannot be indexed by "
     "its teeth; use another gear or a short-lead attachment"),
])  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        HELIX.table(given)
    assert str(caught.value) == message
