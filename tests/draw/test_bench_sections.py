"""Drawings of sections and test bars: their figures are those of geometry, and nonsense is refused in words."""

from math import sqrt

import pytest

from fettlebook.draw.belt import give_mm
from fettlebook.draw.catalogue import drawings
from fettlebook.draw.weld_groove import groove_width_mm
from fettlebook.tables.definition import BadValues


def test_groove_of_sixty_degrees_is_two_over_root_three_of_the_thickness_wide_over_its_root():
    """Geometry: 2 t tan 30 degrees = 2 t / sqrt 3."""
    assert groove_width_mm(6, 60, 2) == pytest.approx(2 + 12 / sqrt(3))
    assert groove_width_mm(10, 90, 0) == pytest.approx(20)


def test_a_belt_gives_a_sixty_fourth_of_its_span():
    """Common practice: 1/64 inch to an inch of span."""
    assert give_mm(25.4 * 64) == pytest.approx(25.4)
    assert "gives 7.5" in drawings()["belt-span"].svg({"span": "480 mm"})


@pytest.mark.parametrize("name, given, shown", [
    ("weld-groove", {"thickness": "6 mm", "angle": "60 deg", "root": "2 mm"}, ["60°", "root 2", ">8.9<", ">6<"]),
    ("collar-bar", {"held": "chuck", "distance": "150 mm", "diameter": "50 mm", "out": "190 mm"}, [">150<", "Ø50", "190 out of the jaws", "chuck"]),
    ("collar-bar", {"held": "centres", "distance": "280 mm", "diameter": "40 mm"}, [">280<", "carrier", "tailstock this way if"]),
    ("split-nut", {"thread": "12 mm", "head": "18 mm", "nut": "24 mm"}, ["thread Ø12", "Ø24", "slit half way between two jaws"]),
    ("turned-bar", {}, ["bar Ø40", "Ø37", "Ø35", ">20<", ">15<"]),
    ("bush-section", {"inner": "20.95 mm"}, ["old plug Ø20.95", "bush Ø30", "flange 3"]),
    ("test-bar", {"over": "300 mm"}, [">300<", "top", "side"]),
    ("gib-section", {}, ["gib screw", "lock nut", "rock"]),
    ("spindle-direction", {}, ["operator", "the top of the chuck comes towards the operator"]),
])  # fmt: skip
def test_a_drawing_shows_the_figures_that_it_was_given(name, given, shown):
    svg = drawings()[name].svg(given)
    assert [words for words in shown if words not in svg] == []


def test_forward_is_anticlockwise_from_the_tailstock_with_the_operator_at_the_left():
    """The operator stands at the left of who looks from the tailstock; the arrow's head ends on their side, over the chuck."""
    import re

    svg = drawings()["spindle-direction"].svg({})
    (tip,) = [
        tuple(map(float, m))
        for m in re.findall(r'<path d="M([\d.]+),([\d.]+)L[\d.]+,[\d.]+L[\d.]+,[\d.]+Z" fill="currentColor"', svg)
    ][:1]
    assert tip[0] < 96 - 20 and tip[1] < 46


@pytest.mark.parametrize("name, given, said", [
    ("weld-groove", {"thickness": "3 mm", "root": "5 mm"}, "root: a gap of 5 mm is wider than the plate is thick (3 mm)"),
    ("split-nut", {"thread": "20 mm", "head": "18 mm"}, "head: a head of 18 mm has no shoulder over a thread of 20 mm"),
    ("split-nut", {"thread": "12 mm", "nut": "13 mm"}, "nut: 13 mm leaves less than a fifth of 12 mm as wall"),
    ("collar-bar", {"distance": "150 mm", "out": "100 mm"}, "out: 100 mm outside the jaws do not hold two collars 150 mm apart"),
    ("turned-bar", {"first": "41 mm"}, "second: diameters of 40, 41 and 35 mm do not get smaller towards the end"),
    ("turned-bar", {"second_length": "25 mm"}, "second_length: 25 mm leaves nothing of the first diameter, which is 20 mm long"),
    ("bush-section", {"outer": "22 mm"}, "outer: a bush of 22 mm over a thread of 20.95 mm has less than 2 mm of wall"),
    ("belt-span", {"span": "0 mm"}, "span: "),
])  # fmt: skip
def test_what_cannot_be_is_refused(name, given, said):
    with pytest.raises(BadValues) as told:
        drawings()[name].svg(given)
    assert [str(one) for one in told.value.faults][0].startswith(said)
