"""A job worked through on a tablet, from a folder and from a server: nothing skipped, nothing lost, and the record comes out whole."""

import contextlib
import json
import re

import pytest
from at_machine import (
    begin,
    do_step,
    finish_and_save,
    forward,
    kept,
    rules_of,
    saved_file,
    step,
    tick_cautions,
    to_step,
    to_steps,
    work_through,
)
from playwright.sync_api import Error

from fettlebook.book.shapes import shape_findings

START = 1795600800
"""A faked time of day, in seconds since 1970."""
SEAL, LEVEL, WARM = "replace-drain-plug-seals", "level-a-machine-on-jacks", "first-start-and-spindle-warm-up"
NAMED = ["recommission-an-imported-machine", SEAL, "anneal-and-reharden-a-chuck-key", LEVEL]


@pytest.mark.parametrize("id", NAMED)
def test_a_whole_job_from_cautions_to_the_record(tablet, at, id):
    begin(tablet, at(f"procedures/{id}.html"))
    cautions = tablet.locator("[data-caution]:visible").count()
    assert cautions >= 3
    forward(tablet)
    assert f"{cautions} cautions are not ticked as read" in tablet.inner_text(".job__says")
    tick_cautions(tablet)
    forward(tablet)
    assert tablet.locator("#ready").is_visible() and not tablet.locator("#cautions").is_visible()
    to_steps(tablet)
    steps = tablet.evaluate("[...document.querySelectorAll('.step')].map(s => s.id)")
    assert work_through(tablet) == steps, "every step comes once, in the order of the page"
    name, text = finish_and_save(tablet)
    record = json.loads(text)
    assert re.fullmatch(rf"20\d\d-\d\d-\d\d-{id}(-[a-z-]+)?-[a-z0-9]+\.json", name)
    assert shape_findings(record, "record", name) == []
    assert [s for s in steps if record["steps"][s]["state"] != "done"] == []
    assert record["by"] == "Perrin Tull" and record["finished"] and len(record["cautions"]) == cautions
    assert len(record["readings"]) == tablet.locator("[data-reading]").count()
    holds = tablet.evaluate("[...document.querySelectorAll('.step[data-hold]')].map(s => s.id)")
    assert {s for s in steps if record["steps"][s].get("second")} == set(holds)
    assert "Every step is marked" in tablet.inner_text(".job-end__body")
    assert tablet.locator(".record-sheet tr").count() > len(steps)
    assert tablet.errors == [] and tablet.outside == []


def test_readings_say_in_or_out_in_words_and_out_asks_for_a_reason(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    to_step(tablet, "warm-enough")
    entry, verdict = tablet.locator(".step:visible [data-reading] input"), tablet.locator(".step:visible .verdict")
    forward(tablet)
    assert "A reading is not written down" in tablet.inner_text(".job__says")
    entry.fill("warm")
    assert "does not start with a number" in verdict.inner_text()
    entry.fill("100 °F")
    assert "in limits" in verdict.inner_text(), "37.8 °C"
    assert kept(tablet)[0]["readings"]["oil-temperature"]["value"] == pytest.approx(37.7778, abs=1e-3)
    entry.fill("46")
    assert "OUT OF LIMITS" in verdict.inner_text() and "Hotter: wait" in verdict.inner_text()
    forward(tablet)
    tablet.get_by_role("button", name="Go on all the same").click()
    assert "Write down why" in tablet.inner_text("dialog .fault")
    tablet.get_by_label("Why it may go on").fill("Cooled while the tray was emptied")
    tablet.get_by_role("button", name="Go on all the same").click()
    assert step(tablet) != "warm-enough"
    one = kept(tablet)[0]
    assert (
        one["steps"]["warm-enough"]["reason"].startswith("Cooled")
        and one["readings"]["oil-temperature"]["verdict"] == "out"
    )


def test_a_hold_point_wants_a_second_name_and_nothing_goes_past_it(tablet, at):
    begin(tablet, at(f"procedures/{WARM}.html"), by="M. Aldous")
    to_steps(tablet)
    to_step(tablet, "fast", second="Joss Wedderly")
    tablet.keyboard.press("ArrowRight")
    assert step(tablet) == "fast" and "hold point" in tablet.inner_text(".job__says")
    tablet.get_by_role("button", name="Stages").click()
    tablet.locator(".stages-list button").last.click()
    assert step(tablet) == "fast", "a jump by stage stops there too"
    for entry, value in zip(tablet.locator(".step:visible [data-reading] input").all(), ["400", "40"], strict=True):
        entry.fill(value)
    forward(tablet)
    assert "out of its limits" in tablet.inner_text("dialog h2"), "a limit is asked about before anyone signs"
    tablet.get_by_label("Why it may go on").fill("Probe touched the motor")
    tablet.get_by_role("button", name="Go on all the same").click()
    name = tablet.get_by_label("Name of the second person")
    for same in ["", "M. Aldous", "m aldous "]:
        name.fill(same)
        tablet.get_by_role("button", name="Seen and right").click()
        assert tablet.locator("dialog .fault").is_visible(), same
    assert "second person" in tablet.inner_text("dialog .fault")
    name.fill("J. Wedderly")
    tablet.get_by_role("button", name="Seen and right").click()
    assert step(tablet) != "fast"
    signed = kept(tablet)[0]["steps"]["fast"]
    assert (signed["second"], signed["reason"], signed["state"]) == ("J. Wedderly", "Probe touched the motor", "done")


def test_not_right_leads_to_causes_and_left_out_asks_why(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    first = step(tablet)
    tablet.get_by_role("button", name="Not right").click()
    tablet.get_by_label("What is not right").fill("Lock does not close")
    tablet.get_by_role("button", name="Write it down").click()
    assert tablet.locator("#trouble").is_visible() and not tablet.locator(".step:visible").count()
    tablet.get_by_role("button", name="Back to the step").click()
    assert step(tablet) == first and "not right" in tablet.inner_text(".job__top")
    do_step(tablet)
    second = step(tablet)
    tablet.get_by_role("button", name="Leave out").click()
    tablet.get_by_role("button", name="Leave it out").click()
    assert "Write down the reason" in tablet.inner_text("dialog .fault")
    tablet.get_by_label("Reason").fill("Sump is dry already")
    tablet.get_by_role("button", name="Leave it out").click()
    steps = kept(tablet)[0]["steps"]
    assert steps[first]["state"] == "done" and steps[first]["note"] == "Lock does not close"
    assert (steps[second]["state"], steps[second]["reason"]) == ("left-out", "Sump is dry already")


def test_the_worksheet_of_a_step_belongs_to_the_job(tablet, at):
    begin(tablet, at(f"procedures/{LEVEL}.html"))
    to_steps(tablet)
    to_step(tablet, "reversal")
    tablet.get_by_role("link", name="Fill in the worksheet").click()
    sheet = tablet.locator("[data-worksheet]:visible")
    assert sheet.count() == 1 and not tablet.locator(".step:visible").count()
    for entry in sheet.locator("input:visible").all():
        entry.fill("0.25")
    assert len(kept(tablet)[0]["worksheets"]["level-reversal"]["inputs"]) >= 2
    tablet.get_by_role("button", name="Back to the step").click()
    assert step(tablet) == "reversal"
    tablet.get_by_role("button", name="Close").click()
    assert tablet.locator("[data-worksheet] input").first.input_value() != "0.25", (
        "outside the job the sheet is its own"
    )


def left(page):
    """Seconds left on the first clock in sight."""
    minutes, seconds = re.match(r"(\d+):(\d\d) left", page.inner_text(".timer")).groups()
    return int(minutes) * 60 + int(seconds)


def test_timers_count_from_the_clock_and_several_run_at_once(browser, at):
    context = browser.new_context(viewport={"width": 810, "height": 1080})
    page = context.new_page()
    page.clock.install(time=START)
    begin(page, at(f"procedures/{SEAL}.html"))
    to_steps(page)
    to_step(page, "drain-oil")
    page.get_by_role("button", name="Start the clock").click()
    assert left(page) == pytest.approx(1200, abs=3)
    page.clock.run_for(60_000)
    assert left(page) == pytest.approx(1140, abs=5)
    page.get_by_role("button", name="Start the clock").click()
    page.clock.run_for(1000)
    assert page.locator(".timer").count() == 2
    address, ends = page.url, kept(page)[0]["timers"][0]["ends"]
    page.close()
    page = context.new_page()
    page.clock.install(time=ends / 1000 - 30)
    page.goto(address)
    assert left(page) == pytest.approx(30, abs=3), "it counted while the page was closed"
    page.clock.fast_forward(45_000)
    first, second = page.locator(".timer").all()
    assert (
        "TIME IS UP" in first.inner_text()
        and re.search(r"0:1\d ago", first.inner_text())
        and "timer--over" in first.get_attribute("class")
    )
    assert "left" in second.inner_text()
    second.get_by_role("button").click()
    assert page.locator(".timer").count() == 2, "one slip of a sleeve does not stop a clock that runs"
    second.get_by_role("button").click()
    first.get_by_role("button").click()
    assert page.locator(".timer").count() == 0 and kept(page)[0]["timers"] == []
    context.close()


def test_a_killed_page_comes_back_as_it_was(browser, at):
    context = browser.new_context(viewport={"width": 810, "height": 1080})
    page = context.new_page()
    begin(page, at(f"procedures/{SEAL}.html"))
    to_steps(page)
    to_step(page, "warm-enough")
    page.locator(".step:visible [data-reading] input").fill("38")
    before = kept(page)[0]["readings"]["oil-temperature"]["at"]
    with contextlib.suppress(Error):
        page.goto("chrome://crash", timeout=5000)
    page.close()
    page = context.new_page()
    page.goto(at("jobs.html"))
    page.get_by_role("button", name="Go on").click()
    page.wait_for_selector("body.working")
    assert step(page) == "warm-enough"
    assert page.locator(".step:visible [data-reading] input").input_value() == "38"
    assert "in limits" in page.inner_text(".step:visible .verdict")
    do_step(page)
    record = kept(page)[0]
    assert record["steps"]["lock-off" if "lock-off" in record["steps"] else "tray"]["state"] == "done"
    assert before <= record["readings"]["oil-temperature"]["at"]
    context.close()


def test_two_windows_are_told_and_overwrite_nothing(browser, at):
    context = browser.new_context(viewport={"width": 810, "height": 1080})
    one = context.new_page()
    begin(one, at(f"procedures/{SEAL}.html"))
    to_steps(one)
    two = context.new_page()
    two.goto(one.url)
    two.wait_for_selector("body.working")
    do_step(one)
    two.wait_for_selector("text=changed in another window")
    marked = kept(one)[0]["steps"]
    do_step(two)
    assert kept(two)[0]["steps"] == marked, "the second window writes nothing over the first"
    two.get_by_role("button", name="Keep this one as a copy").click()
    assert len(kept(two)) == 2
    assert "changed in another window" not in two.inner_text(".job__says")
    context.close()


REFUSE = "() => { Storage.prototype.setItem = function () { throw new DOMException('full', 'QuotaExceededError'); }; }"


def test_a_full_store_is_told_at_once_and_the_file_offered(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    tablet.evaluate(REFUSE)
    do_step(tablet)
    assert "its store is full or refused" in tablet.inner_text(".job__says")
    record = json.loads(saved_file(tablet)[1])
    assert len(record["steps"]) == 1 and shape_findings(record, "record", "f") == []
    tablet.get_by_role("button", name="Close").click()
    assert tablet.locator("body.working").count() == 1, "what is not kept is not thrown away by one touch"
    assert "Save the file before you close it" in tablet.inner_text(".job__says")


def test_an_older_revision_is_said_and_its_new_cautions_are_read(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    address = tablet.url
    tablet.evaluate("""() => { const k = Object.keys(localStorage).find(k => k.includes(':job:')), j = JSON.parse(localStorage.getItem(k));
        j.revision = 99; delete j.cautions[Object.keys(j.cautions)[0]]; localStorage.setItem(k, JSON.stringify(j)); }""")
    tablet.goto("about:blank")
    tablet.goto(address)
    assert "begun with revision 99; the page is revision 1" in tablet.inner_text(".job__says")
    assert "1 caution is not ticked" in tablet.inner_text(".job__says") and tablet.locator("#cautions").is_visible()
    tablet.goto(at("jobs.html"))
    assert "Begun with revision 99; the book now has revision 1." in tablet.inner_text("#jobs")


def test_keys_and_swipes_look_through_and_mark_nothing(browser, at):
    context = browser.new_context(viewport={"width": 810, "height": 1080}, has_touch=True)
    page = context.new_page()
    begin(page, at(f"procedures/{SEAL}.html"))
    to_steps(page)
    first = step(page)
    page.keyboard.press("PageDown")
    second = step(page)
    assert second != first
    page.keyboard.press("ArrowLeft")
    assert step(page) == first
    swipe = """([from, to]) => { const t = x => new Touch({identifier: 1, target: document.querySelector('.step__do:not([hidden])'), clientX: x, clientY: 300});
        document.dispatchEvent(new TouchEvent('touchstart', {touches: [t(from)], changedTouches: [t(from)], bubbles: true}));
        document.dispatchEvent(new TouchEvent('touchend', {touches: [], changedTouches: [t(to)], bubbles: true})); }"""
    swipe = swipe.replace("document.dispatchEvent", "document.querySelector('.md-content').dispatchEvent")
    page.evaluate(swipe, [600, 300])
    assert step(page) == second
    page.evaluate(swipe, [300, 600])
    assert step(page) == first
    page.evaluate(swipe, [300, 340])
    assert step(page) == first, "a short smear is no swipe"
    assert kept(page)[0]["steps"] == {}
    context.close()


def test_readings_of_places_have_their_own_names(tablet, at):
    begin(tablet, at(f"procedures/{LEVEL}.html"))
    to_steps(tablet)
    to_step(tablet, "read")
    assert len({(r["name"], r["place"]) for r in rules_of(tablet)}) == 10
