"""The shop's own values and its machines' feet are tried whether or not a procedure asks for them."""

import json

import pytest

from fettlebook.book.load import load
from fettlebook.check.own_values import value_faults
from fettlebook.check.rules import check_book
from fettlebook.handout.press import SheetFault
from fettlebook.handout.printing import printed
from fettlebook.pages import site
from fettlebook.pages.site import SHAPES

LATHE, WORKSHOP = "shop/machines/blue-lathe.yml", "shop/workshop.yml"

VALUES = [
    ("  level_mm_per_m: 0.05\n", "  level_mm_per_m: half a hair\n", "half", "does not start with a number"),
    ("  level_mm_per_m: 0.05\n", "  level_mm_per_m: 0\n", "0\n", "below the smallest value"),
    ("  drills: [3, 3.3, 4.2, 5, 6.8, 8.5]\n", "  drills: []\n", "[]", "the list is empty"),
    ("  gears: [20, 24, 30, 40, 50, 60, 127]\n", "  gears: [20, 24.5]\n", "[20, 24.5]", "whole"),
    ("  cross_slide_dial: diameter\n", "  cross_slide_dial: sideways\n", "sideways", "sideways"),
    ("  air_c: 9\n", "  air_c: -400\n", "-400", "-400"),
    ("  air_c: 9\n", "  air: 9\n", "9\n  humidity", 'no table reads a value "air"'),
]

FEET = [
    ("jack: true, screw_pitch_mm: 2}\n    - {name: Rear head, x_mm: 0,", "jack: perhaps, screw_pitch_mm: 2}\n    - {name: Rear head, x_mm: 0,",
     "{name: Front head", "foot Front head: jack is neither true nor false"),
    ("{name: Rear head, x_mm: 0, y_mm: 200,", "{name: Rear head, x_mm: 0,", "{name: Rear head", "foot Rear head has no y_mm"),
    ("{name: Rear head, x_mm: 0, y_mm: 200,", "{name: Front head, x_mm: 0, y_mm: 200,", "feet:", 'two feet are called "Front head"'),
    ("    - {name: S2, x_mm: 1100}", "    - S2 at 1100 mm", "S2 at", "station 2 is not a mapping with name and x_mm"),
]  # fmt: skip


@pytest.mark.parametrize("there, put, mark, what", VALUES, ids=[one[1].strip() for one in VALUES])
def test_a_value_of_the_shop_that_cannot_be_read_is_said_where_it_stands(demo, spoil, there, put, mark, what):
    line, column = spoil(there, put, mark, WORKSHOP)
    found = check_book(load(demo)[0])
    assert [(one.place.file, one.place.line, one.place.column, one.rule) for one in found] == [
        ("procedures/" + WORKSHOP, line, column, "shop-value")]  # fmt: skip
    assert what in found[0].what


def test_a_misspelt_name_is_met_with_the_nearest(demo, spoil):
    spoil("  gears: [20", "  gear: [20", name=WORKSHOP)
    assert [one.hint for one in check_book(load(demo)[0])] == ['did you mean "gears"?']


@pytest.mark.parametrize("there, put, mark, what", FEET, ids=[one[3] for one in FEET])
def test_a_machine_that_cannot_be_levelled_is_said_and_the_preview_goes_on(demo, spoil, there, put, mark, what):
    line, column = spoil(there, put, mark, LATHE)
    book, faults = load(demo)
    found = [one for one in check_book(book) if one.place.file == "procedures/" + LATHE]
    assert faults == []
    assert [(one.place.line, one.place.column, one.what, one.rule) for one in found] == [
        (line, column, what, "machine-levelling")
    ]
    page = next(page for page in site.pages(book) if page.uri == "machines/blue-lathe.html")
    assert what.replace('"', "&#34;") in page.html and "data-levelling" not in page.html


def test_every_foot_that_is_wrong_is_said_in_one_run(demo, spoil):
    spoil("{name: Rear head, x_mm: 0,", "{name: Rear head, x_mm: nought,", name=LATHE)
    spoil("{name: Rear tail, x_mm: 1200,", "{name: Rear tail,", name=LATHE)
    spoil("{name: S1, x_mm: 100}", "{name: S1}", name=LATHE)
    rules = [one.rule for one in check_book(load(demo)[0]) if one.place.file == "procedures/" + LATHE]
    assert rules == ["machine-levelling"] * 3


def test_a_chart_of_such_a_machine_says_why_it_cannot_be_printed(demo, spoil):
    spoil("{name: Rear head, x_mm: 0,", "{name: Rear head, x_mm: nought,", name=LATHE)
    wanted = printed(load(demo)[0], ["chart-levelling-blue-lathe"], "bench", "a4")
    with pytest.raises(SheetFault, match="foot Rear head: x_mm"):
        next(iter(wanted.values()))()


def test_names_of_values_come_from_the_tables_themselves():
    read, refused = value_faults({})
    assert {"drills", "gears", "circles", "level_mm_per_m", "feeler_mm"} <= read
    assert refused == {}
    shape = json.loads((SHAPES / "workshop.json").read_text(encoding="utf-8"))
    assert shape["properties"]["defaults"]["properties"].keys() == read, "an editor offers the names that are read"


def test_what_the_shape_gives_as_an_example_can_be_read():
    shape = json.loads((SHAPES / "workshop.json").read_text(encoding="utf-8"))["properties"]["defaults"]["properties"]
    for name, described in shape.items():
        for example in described["examples"]:
            assert value_faults({name: example})[1] == {}


def test_only_the_tables_that_read_a_value_are_made_again_for_it(demo, spoil):
    from fettlebook.book.kept import Kept

    kept = Kept(keeping=True)
    before = {page.uri: page for page in site.pages(load(demo)[0], kept=kept)}
    spoil("  air_c: 9\n", "  air_c: 9.0\n", name=WORKSHOP)
    after = {page.uri: page for page in site.pages(load(demo)[0], kept=kept)}
    changed = {uri for uri in after if uri.startswith("tables/") and after[uri] is not before[uri]}
    assert changed == {"tables/dew-point.html", "tables/warm-up-time.html"}


def test_a_person_needs_no_role(demo, spoil):
    spoil("{name: R. Okell, role: keeps the shop}", "{name: R. Okell}", name=WORKSHOP)
    book, faults = load(demo)
    assert (faults, check_book(book)) == ([], [])
    assert "R. Okell</li>" in next(page for page in site.pages(book) if page.uri == "shop.html").html
