"""A pair of hands for the view at the machine: does what somebody with a tablet does, by what they see."""

import json
import re

READY = "Do this at the machine"


def begin(page, address, by="Perrin Tull", machine=True):
    """Open the procedure at ADDRESS and start a job; the first screen is the cautions."""
    page.goto(address)
    page.get_by_role("button", name=READY).click()
    page.get_by_label("Your name").fill(by)
    options = page.locator("dialog select option")
    if machine and options.count() > 1:
        page.locator("dialog select").select_option(index=1)
    page.get_by_role("button", name="Start", exact=True).click()
    page.wait_for_selector("body.working")


def forward(page):
    page.locator(".job__next").click()


def tick_cautions(page):
    for box in page.locator("[data-caution]:visible").all():
        box.check()


def to_steps(page):
    """Through cautions and what to have ready, to the first step."""
    tick_cautions(page)
    forward(page)
    while not page.locator(".step:visible").count():
        forward(page)


def step(page):
    """The id of the one step in sight."""
    seen = page.locator(".step:visible")
    assert seen.count() == 1, seen.count()
    return seen.get_attribute("id")


def to_step(page, wanted, **how):
    while step(page) != wanted:
        do_step(page, **how)


def rules_of(page):
    return [json.loads(cell.get_attribute("data-rules")) for cell in page.locator(".step:visible [data-reading]").all()]


def good_value(rules):
    """What a careful hand would write down: within the limits."""
    if rules["kind"] == "flag":
        return "yes"
    if rules["kind"] == "text":
        return "seen, clean"
    low, high = rules["low"], rules["high"]
    value = (
        (low + high) / 2
        if None not in (low, high)
        else low + 1
        if low is not None
        else high * 0.9
        if high is not None
        else 1
    )
    return f"{value:.6f}".rstrip("0").rstrip(".")


def fill_readings(page):
    for cell in page.locator(".step:visible [data-reading]").all():
        rules, entry = json.loads(cell.get_attribute("data-rules")), cell.locator("input,select")
        if rules["kind"] == "flag":
            entry.select_option("yes")
        else:
            entry.fill(good_value(rules))
        if rules["kind"] == "number" and (rules["low"] is not None or rules["high"] is not None):
            assert "in limits" in cell.locator(".verdict").inner_text(), rules


def do_step(page, second="Ida Penrow"):
    """Readings in their limits, done, and the second name where one is asked for."""
    fill_readings(page)
    forward(page)
    dialog = page.locator("dialog[open]")
    if dialog.count():
        assert "Hold point" in dialog.inner_text()
        dialog.get_by_label("Name of the second person").fill(second)
        dialog.get_by_role("button", name="Seen and right").click()


def run_the_clock(page):
    """Where the step has a clock: start it, let its time go by (the page's clock is faked), see its end, stop it."""
    start = page.locator(".step:visible").get_by_role("button", name="Start the clock")
    if start.count():
        start.click()
        seconds = float(page.locator(".step:visible").get_attribute("data-timer"))
        page.clock.fast_forward(int(seconds * 1000) - 2000)
        assert "left" in page.inner_text(".timer"), "it does not end early"
        page.clock.fast_forward(4000)
        assert "TIME IS UP" in page.inner_text(".timer")
        page.locator(".timer").get_by_role("button").click()


def work_through(page, steps=None, clocks=False):
    """So many STEPS, or every step to the last screen; the ids of the steps, in the order in which they came."""
    did = []
    while page.locator(".step:visible").count():
        did.append(step(page))
        if clocks:
            run_the_clock(page)
        do_step(page)
        if len(did) == steps:
            return did
    while not page.locator("#job-finish:visible").count():
        forward(page)
    return did


def finish_and_save(page):
    """The finished record as (suggested name, text of the file)."""
    page.get_by_role("button", name="Mark the job finished").click()
    return saved_file(page)


def saved_file(page):
    with page.expect_download() as coming:
        page.get_by_role("button", name=re.compile("^Save the (record as a )?file")).first.click()
    return coming.value.suggested_filename, coming.value.path().read_text(encoding="utf-8")


def save_so_far(page):
    """The record of a job that is not finished: (suggested name, text of the file)."""
    page.get_by_role("button", name="Stages").click()
    page.get_by_role("button", name="The record so far").click()
    saved = saved_file(page)
    page.get_by_role("button", name="Back to the step").click()
    return saved


def kept(page):
    """The job as the device keeps it now."""
    return page.evaluate(
        "(() => { const k = Object.keys(localStorage).filter(k => k.includes(':job:')); return k.map(x => JSON.parse(localStorage.getItem(x))); })()"
    )
