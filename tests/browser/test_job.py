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

from conftest import watch
from fettlebook.book.shapes import shape_findings

START = 1795600800
"""A faked time of day, in seconds since 1970."""
SEAL, LEVEL, WARM = "replace-drain-plug-seals", "level-a-machine-on-jacks", "first-start-and-spindle-warm-up"
NAMED = ["recommission-an-imported-machine", SEAL, "anneal-and-reharden-a-chuck-key", LEVEL]


@pytest.mark.parametrize("id", NAMED)
def test_a_whole_job_from_cautions_through_a_crash_to_the_record_on_another_tablet(browser, at, id):
    context, address = browser.new_context(viewport={"width": 810, "height": 1080}), at(f"procedures/{id}.html")
    first = watch(context.new_page())
    first.clock.install(time=START)
    begin(first, address)
    assert first.url.startswith(f"{address}#do="), "the same page and address, with a fragment"
    cautions = first.locator("[data-caution]:visible").count()
    assert cautions >= 3
    forward(first)
    assert f"{cautions} cautions are not ticked as read" in first.inner_text(".job__says")
    tick_cautions(first)
    forward(first)
    assert first.locator("#ready").is_visible() and not first.locator("#cautions").is_visible()
    to_steps(first)
    steps = first.evaluate("[...document.querySelectorAll('.step')].map(s => s.id)")
    did = work_through(first, steps=len(steps) // 2, clocks=True)
    here, before = step(first), kept(first)
    with contextlib.suppress(Error):
        first.goto("chrome://crash", timeout=5000)
    first.close()

    tablet = watch(context.new_page())
    tablet.clock.install(time=START + 86400)
    tablet.goto(at("jobs.html"))
    tablet.get_by_role("button", name="Go on").click()
    tablet.wait_for_selector("body.working")
    assert step(tablet) == here and kept(tablet)[0]["steps"] == before[0]["steps"]
    assert did + work_through(tablet, clocks=True) == steps, "every step comes once, in the order of the page"
    name, text = finish_and_save(tablet)
    record = json.loads(text)
    assert re.fullmatch(rf"20\d\d-\d\d-\d\d-{id}(-[a-z-]+)?-[a-z0-9]+\.json", name)
    assert shape_findings(record, "record", name) == []
    assert [s for s in steps if record["steps"][s]["state"] != "done"] == []
    assert record["by"] == "Perrin Tull" and record["finished"] and len(record["cautions"]) == cautions
    assert len(record["readings"]) == tablet.locator("[data-reading]").count() and record["timers"] == []
    holds = tablet.evaluate("[...document.querySelectorAll('.step[data-hold]')].map(s => s.id)")
    assert {s for s in steps if record["steps"][s].get("second")} == set(holds)
    assert "Every step is marked" in tablet.inner_text(".job-end__body")
    sheet = tablet.inner_text(".record-sheet")
    assert tablet.locator(".record-sheet tr").count() > len(steps)

    other = browser.new_context(viewport={"width": 810, "height": 1080})
    fresh = watch(other.new_page())
    fresh.goto(at("jobs.html"))
    fresh.set_input_files("#jobs-file", {"name": name, "mimeType": "application/json", "buffer": text.encode()})
    fresh.get_by_role("button", name="Read", exact=True).click()
    assert fresh.inner_text("#jobs-sheet .record-sheet") == sheet, "the same record on a tablet that never saw it"
    assert [p.errors + p.outside for p in (first, tablet, fresh)] == [[], [], []]
    context.close()
    other.close()


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


def test_several_jobs_are_open_and_a_list_shows_them(tablet, at):
    for name in ("Headstock", "Apron"):
        tablet.goto(at(f"procedures/{SEAL}.html"))
        tablet.get_by_role("button", name="Do this at the machine").click()
        tablet.get_by_label("Your name").fill("Perrin Tull")
        tablet.get_by_label("What this job is called").fill(name)
        tablet.get_by_role("button", name="Start", exact=True).click()
        to_steps(tablet)
        tablet.get_by_role("button", name="Close").click()
    tablet.get_by_role("button", name="Do this at the machine").click()
    assert tablet.get_by_role("button", name="Go on with").count() == 2
    tablet.get_by_role("button", name="Go on with Headstock").click()
    do_step(tablet)
    tablet.goto(at("jobs.html"))
    lines = tablet.locator(".job-line")
    assert lines.count() == 2 and "1 step marked" in lines.filter(has_text="Headstock").inner_text()
    away = lines.filter(has_text="Apron").get_by_role("button", name="Throw away")
    away.click()
    assert lines.count() == 2, "one touch throws nothing away"
    lines.filter(has_text="Apron").get_by_role("button", name="Touch again").click()
    assert lines.count() == 1 and len(kept(tablet)) == 1


LOUD = """() => { window.tones = 0; window.AudioContext = class { constructor() { this.state = "running"; this.currentTime = 0; this.destination = {}; }
    resume() {} createGain() { return {gain: {}, connect: x => x}; } createOscillator() { window.tones++; return {frequency: {}, connect: x => x, start() {}, stop() {}}; } };
    window.shaken = 0; navigator.vibrate = () => { window.shaken++; }; }"""


def test_the_end_of_a_timer_sounds_and_flashes_from_any_step(browser, at):
    context = browser.new_context(viewport={"width": 810, "height": 1080})
    page = context.new_page()
    page.add_init_script(f"({LOUD})()")
    page.clock.install(time=START)
    begin(page, at(f"procedures/{SEAL}.html"))
    to_steps(page)
    to_step(page, "drain-oil")
    page.get_by_role("button", name="Start the clock").click()
    do_step(page)
    page.clock.fast_forward(1_150_000)
    assert page.evaluate("tones") == 0 and page.locator(".timer").is_visible(), "still running, seen from the next step"
    page.clock.fast_forward(60_000)
    assert page.evaluate("tones") >= 3 and page.evaluate("shaken") >= 1
    assert page.locator(".timer--over").is_visible() and "TIME IS UP" in page.inner_text(".timer [role=status]")
    flash = "getComputedStyle(document.querySelector('.timer--over')).animationName"
    assert page.evaluate(flash) == "over"
    page.emulate_media(reduced_motion="reduce")
    assert page.evaluate(flash) == "none", "it stands still for those who want no motion, and stays dark on light"
    context.close()


def test_the_screen_is_kept_awake_while_a_job_is_open(page, at):
    page.add_init_script("""window.asked = []; Object.defineProperty(navigator, 'wakeLock', {value: {request: kind => { asked.push(kind);
        return Promise.resolve({release: () => { asked.push('released'); return Promise.resolve(); }}); }}});""")
    begin(page, at(f"procedures/{SEAL}.html"))
    assert page.evaluate("asked") == ["screen"]
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert page.evaluate("asked") == ["screen", "screen"], "asked again after the tablet was put away"
    page.get_by_role("button", name="Close").click()
    assert page.evaluate("asked")[-1] == "released"


def test_by_keyboard_alone(page, at):
    page.goto(at(f"procedures/{SEAL}.html"))
    page.get_by_role("button", name="Do this at the machine").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("Perrin Tull")
    page.keyboard.press("Enter")
    page.wait_for_selector("body.working")

    def tab_to(words):
        for _ in range(60):
            page.keyboard.press("Tab")
            text = page.evaluate(
                "(e => (e.closest('label') || e).textContent + (e.getAttribute('aria-label') || ''))(document.activeElement)"
            )
            if words in text:
                seen = page.evaluate(
                    "(e => { const b = e.getBoundingClientRect(); return document.elementsFromPoint(b.x + b.width / 2, b.y + b.height / 2).includes(e); })(document.activeElement)"
                )
                assert seen, f"{words}: what has the focus is in sight"
                return
        raise AssertionError(words)

    for _ in range(page.locator("[data-caution]").count()):
        tab_to("I have read this")
        page.keyboard.press("Space")
    tab_to("Next")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "ready", "the new part has the focus, so that it is read out"
    tab_to("Next")
    page.keyboard.press("Enter")
    assert "step__do" in page.evaluate("document.activeElement.className")
    assert page.locator(".job__top[role=status]").inner_text().split("\n")[-1].startswith("step 1 of")
    tab_to("Not right")
    page.keyboard.press("Enter")
    page.keyboard.type("Lock does not close")
    page.keyboard.press("Escape")
    page.wait_for_selector("dialog", state="detached")
    assert kept(page)[0]["steps"] == {}
    tab_to("Done, next")
    page.keyboard.press("Enter")
    assert kept(page)[0]["steps"]["lock-off"]["state"] == "done"


def test_results_and_steps_are_read_out(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    to_step(tablet, "warm-enough")
    entry = tablet.locator(".step:visible [data-reading] input")
    entry.fill("99")
    tree = tablet.locator(".step:visible").aria_snapshot()
    assert re.search(r"status.*OUT OF LIMITS", tree), tree
    assert f'textbox "{rules_of(tablet)[0]["name"]} in °C"' in tree, tree
    assert "status" in tablet.locator(".md-content").aria_snapshot() and "step " in tablet.inner_text(".job__top")


def test_a_step_and_the_record_print_at_any_point(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    tablet.emulate_media(media="print")
    assert tablet.locator(".step:visible").count() == 1 and not tablet.locator(".job").is_visible()
    tablet.emulate_media(media="screen")
    tablet.get_by_role("button", name="Stages").click()
    tablet.get_by_role("button", name="The record so far").click()
    tablet.emulate_media(media="print")
    assert (
        tablet.locator(".record-sheet").is_visible()
        and not tablet.get_by_role("button", name="Save the record").is_visible()
    )


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


def test_storage_that_is_refused_is_told_at_the_start_and_the_file_offered(tablet, at):
    tablet.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError'); }});"
    )
    begin(tablet, at(f"procedures/{SEAL}.html"))
    assert "does not keep what you enter" in tablet.inner_text("#notkept")
    assert "its store is full or refused" in tablet.inner_text(".job__says")
    to_steps(tablet)
    do_step(tablet)
    assert len(json.loads(saved_file(tablet)[1])["steps"]) == 1


def test_an_older_revision_is_said_and_its_new_cautions_are_read(tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    address = tablet.url
    tablet.evaluate("""() => { const k = Object.keys(localStorage).find(k => k.includes(':job:')), j = JSON.parse(localStorage.getItem(k));
        j.revision = 99; delete j.cautions[Object.keys(j.cautions)[0]]; localStorage.setItem(k, JSON.stringify(j)); }""")
    tablet.goto("about:blank")
    tablet.goto(address)
    assert re.search(r"begun with revision 99; the page is revision \d+\.", tablet.inner_text(".job__says"))
    assert "1 caution is not ticked" in tablet.inner_text(".job__says") and tablet.locator("#cautions").is_visible()
    tablet.goto(at("jobs.html"))
    assert re.search(r"Begun with revision 99; the book now has revision \d+\.", tablet.inner_text("#jobs"))


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
