"""The heating plan's form on its page: a batch typed in gives the program's plan, faults stand at their part, the sheet prints alone."""

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.figures import written

PLAN = table_named("heating-plan")
BATCH = (
    {"name": "drift", "steel": "BO1", "section": "1 in", "does": "punches and dies"},
    {"name": "wedge", "steel": "S45C", "section": "12 mm", "hardness": "45", "count": "3"},
    {"name": "pawl", "steel": "EN45", "section": "4", "does": "leaf spring", "thinnest": "1 mm"},
    {"name": "old pin", "steel": "unknown", "section": "8 mm"},
)


def type_in(page, parts):
    page.get_by_role("button", name="Start empty").click()
    for n, part in enumerate(parts):
        if n:
            page.get_by_role("button", name="Add a part").click()
        card = page.locator(".plan__parts > li").nth(n)
        if set(part) & {"hardness", "count", "thinnest"}:
            card.locator("summary").click()
        for key, value in part.items():
            card.locator(f"[data-key={key}]").fill(value)


@pytest.fixture
def at_plan(tablet, site):
    tablet.goto((site / "tables/heating-plan.html").as_uri())
    return tablet


def test_a_batch_typed_in_gives_the_plan_of_the_program(at_plan):
    type_in(at_plan, BATCH)
    at_plan.wait_for_selector(".plan__sheet >> text=old pin, Unknown steel")
    text = at_plan.inner_text(".plan__sheet")
    table = PLAN.table({"parts": [dict(part) for part in BATCH]})
    for row in table.rows:
        if row.get("heating"):
            assert f"Heating {row['heating']}: {written(row['heat_c'], 0)}" in text
            assert row["place"] in text and row["colour"] in text
    assert [words for words in (*table.warnings, *table.notes) if words not in text] == []
    assert "file test" not in text and "Harden a trial piece" in text, "the unknown piece is answered with its trial"
    assert at_plan.locator(".plan__sheet svg path").count() > 10
    assert at_plan.outside == [] and at_plan.errors == []
    at_plan.reload()
    assert at_plan.locator(".plan__parts > li").count() == 4, "the batch is kept on the device"
    assert "wedge × 3" in at_plan.inner_text(".plan__sheet")


@pytest.mark.parametrize(
    "change, words",
    [
        ({"section": "0"}, "section 0 is outside 0.2 to 300 mm"),
        ({"section": "900 mm"}, "section 900 mm is outside 0.2 to 300 mm"),
        ({"section": "thick"}, '"thick" does not start with a number'),
        ({"hardness": "66"}, "does not get 66 HRC by tempering for 1 h"),
        ({"steel": "1046"}, 'did you mean "1045" or "1040" or "1016"? for an unmarked piece write unknown: a trial piece comes first'),
        ({"steel": "drill rod"}, 'write which: "W1" or "O1" or "A2"'),
        ({"section": ""}, "no section"),
    ],
)  # fmt: skip
def test_a_fault_stands_in_words_at_its_own_part(at_plan, change, words):
    type_in(at_plan, (BATCH[1], {**BATCH[0], **change} if "hardness" not in change else {**BATCH[0], **change}))
    second = at_plan.locator(".plan__parts > li").nth(1)
    second.locator(".fault:not([hidden])").wait_for()
    assert words in second.locator(".fault").inner_text()
    assert at_plan.locator(".plan__parts > li").nth(0).locator(".fault").is_hidden()
    assert at_plan.inner_text(".plan__sheet") == ""


def test_a_time_out_of_range_is_refused(at_plan):
    at_plan.fill("#plan-time", "48 h")
    at_plan.wait_for_selector("text=the tempering time must lie between 0.05 and 24 h")
    assert at_plan.inner_text(".plan__sheet") == ""


def test_the_sheet_prints_alone_and_nothing_sticks_out(at_plan):
    at_plan.evaluate("window.print = () => { window.asked = true; }")
    for width in (810, 390):
        at_plan.set_viewport_size({"width": width, "height": 900})
        assert at_plan.evaluate("document.documentElement.scrollWidth <= innerWidth")
        small = at_plan.evaluate(
            """() => [...document.querySelectorAll('.plan button, .plan input, .plan summary')].filter(e => e.offsetParent)
                .map(e => e.getBoundingClientRect()).filter(b => b.width < 48 || b.height < 48).length"""
        )
        assert small == 0
    at_plan.get_by_role("button", name="Print this plan").click()
    assert at_plan.evaluate("window.asked")
    at_plan.emulate_media(media="print")
    assert at_plan.is_visible(".plan__sheet") and at_plan.is_visible(".plan__date")
    assert at_plan.is_hidden(".plan form") and at_plan.is_hidden("#sources") and at_plan.is_hidden("#top")
