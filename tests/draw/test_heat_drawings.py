"""Tempering curves, the heating plan by the clock, and the hearth from above."""

from xml.etree import ElementTree

import pytest

from fettlebook.draw.catalogue import drawing_named
from fettlebook.tables.definition import BadValues

SVG = "{http://www.w3.org/2000/svg}"
LONG = [
    {"name": f"a part with a rather long name {n}", "steel": steel, "section": f"{2 + n} mm"}
    for n, steel in enumerate(["O1", "W1", "C45", "5160", "EN45", "A2", "D2", "42CrMo4", "8620", "silver steel"])
]


def texts(name, **given):
    root = ElementTree.fromstring(drawing_named(name).svg(given))
    return [text.text for text in root.iter(f"{SVG}text")]


def test_the_wanted_hardness_is_marked_with_its_temperature():
    # The O1 sheet has 59 HRC at 260 °C and 56 at 315 °C after 2 h, so 58 at 278 °C; after 1 h a little hotter.
    assert "58 HRC at 278 °C" in texts("tempering-curves", steel="O1", hardness=58, time="2 h")
    assert "58 HRC at 286 °C" in texts("tempering-curves", steel="O1", hardness=58)


def test_with_several_steels_the_temperatures_stand_in_the_key():
    words = texts("tempering-curves", steel="C45, O1", hardness=50)
    assert [w for w in words if "50 HRC at" in w] == [
        "C45 / 1045: 50 HRC at 318 °C",
        "O1 (gauge plate, oil-hardening drill rod): 50 HRC at 416 °C",
    ]


def test_several_steels_share_a_plot_and_too_many_are_refused():
    assert {"C45 / 1045", "O1 (gauge plate, oil-hardening drill rod)"} <= set(
        texts("tempering-curves", steel="C45, O1")
    )
    with pytest.raises(BadValues, match="too many to tell apart"):
        drawing_named("tempering-curves").svg({"steel": "C45, O1, A2, D2, EN31"})


@pytest.mark.parametrize("name", ["heating-plan", "hearth"])
@pytest.mark.parametrize(
    "parts",
    [LONG, LONG[:1], [{"name": "w", "steel": "O1", "section": "300 mm", "count": 3}]],
    ids=["many", "one", "thick"],
)
def test_nothing_stands_over_the_edge(name, parts):
    drawn = drawing_named(name)
    root = ElementTree.fromstring(drawn.svg({"parts": parts}))
    width, height = map(float, root.get("viewBox").split()[2:])
    for text in root.iter(f"{SVG}text"):
        assert 0 <= float(text.get("x")) <= width
        assert 0 <= float(text.get("y")) <= height
    assert drawn.words({"parts": parts})


def test_the_hearth_numbers_its_parts_by_their_turn():
    words = texts("hearth")
    assert [w for w in words if w in {"3  punch", "2  key", "1  scriber"}] == ["3  punch", "2  key", "1  scriber"]
    with pytest.raises(BadValues, match="there is no heating 9; this plan has 2"):
        drawing_named("hearth").svg({"heating": 9})
    with pytest.raises(BadValues, match="nothing here hardens"):
        drawing_named("hearth").svg({"parts": [{"name": "w", "steel": "mild", "section": 3}]})


def test_a_batch_that_does_not_harden_has_a_plan_that_says_so():
    assert "Nothing here hardens." in texts("heating-plan", parts=[{"name": "w", "steel": "mild", "section": 3}])
