"""No barrier on any kind of page: every rule of axe-core (WCAG 2.2 A and AA, and good practice), in light, dark and high contrast."""

import pytest
from at_machine import begin, fill_readings, forward, tick_cautions, to_step, to_steps, work_through
from axe_playwright_python.sync_playwright import Axe

EVERY = {"rules": {"target-size": {"enabled": True}}}
"""Every rule that is on by itself, and the one of WCAG 2.2 that is not."""
COLOUR = {"runOnly": ["color-contrast", "link-in-text-block"]}
KINDS = [
    "index.html",
    "procedures/index.html",
    "procedures/level-a-machine-on-jacks.html",
    "tables/index.html",
    "tables/levels.html",
    "tables/thread-finder.html",
    "tables/jack-moves.html",
    "tables/temper-colours.html",
    "machines/green-lathe.html",
    "worksheets/level-reversal.html",
    "jobs.html",
    "glossary.html",
    "symptoms.html",
    "needs.html",
    "sources.html",
    "shop.html",
    "on-the-tablet.html",
    "404.html",
    "single/replace-drain-plug-seals.html",
]
SEAL = "procedures/replace-drain-plug-seals.html"
WARM = "procedures/first-start-and-spindle-warm-up.html"


def barriers(page, where):
    """What axe finds on the page as it stands now, one line each: every rule in light, those of colour again in the dark."""
    axe, found = Axe(), []
    for light, rules in (("light", EVERY), ("dark", COLOUR)):
        page.emulate_media(color_scheme=light)
        for v in axe.run(page, options={"resultTypes": ["violations"], **rules}).response["violations"]:
            found += [f"{where}, {light}: {v['id']} at {n['target']}: {n['failureSummary']}" for n in v["nodes"]]
    return found


@pytest.mark.parametrize("part", range(2))
def test_no_kind_of_page_has_a_barrier(page, shop_server, part):
    found = []
    for uri in KINDS[part::2]:
        page.goto(f"{shop_server.address}/{uri}")
        found += barriers(page, uri)
    assert found == []


def test_no_screen_of_a_job_has_a_barrier(page, site):
    found = []

    def look(where):
        found.extend(barriers(page, where))

    page.goto((site / SEAL).as_uri())
    page.get_by_role("button", name="Do this at the machine").click()
    look("asked for a name")
    begin(page, (site / SEAL).as_uri())
    forward(page)
    look("cautions not read")
    tick_cautions(page)
    forward(page)
    look("have ready")
    to_steps(page)
    to_step(page, "warm-enough")
    page.locator(".step:visible [data-reading] input").fill("99")
    look("a reading out of its limits")
    forward(page)
    look("asked why")
    page.get_by_role("button", name="Back to the step").click()
    to_step(page, "drain-oil")
    page.get_by_role("button", name="Start the clock").click()
    look("a step with a clock")
    page.get_by_role("button", name="Not right").click()
    page.get_by_role("button", name="Write it down").click()
    look("what may be wrong")
    page.get_by_role("button", name="Back to the step").click()
    page.get_by_role("button", name="Stages").click()
    look("stages")
    page.keyboard.press("Escape")
    work_through(page)
    look("finish")
    page.goto((site / "jobs.html").as_uri())
    look("a job in the list")
    page.get_by_role("button", name="Read", exact=True).click()
    page.evaluate("scrollTo(0, 0)")  # a target half under the bar that stands would count as a small one
    look("its record")
    assert found == []


def test_high_contrast_has_no_barrier_and_a_hold_point_neither(page, site):
    begin(page, (site / WARM).as_uri())
    page.evaluate("document.documentElement.dataset.light = 'contrast'")
    to_steps(page)
    found = barriers(page, "a step")
    to_step(page, "fast")
    found += barriers(page, "a hold point")
    fill_readings(page)
    forward(page)
    found += barriers(page, "the second name")
    assert found == []
