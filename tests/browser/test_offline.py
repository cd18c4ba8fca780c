"""The book without a network in each way that people have it: kept by the browser, as one file; and light enough."""

import re
import shutil

import pytest
from at_machine import begin, finish_and_save, to_steps, work_through

NAMED = [
    "recommission-an-imported-machine",
    "replace-drain-plug-seals",
    "anneal-and-reharden-a-chuck-key",
    "level-a-machine-on-jacks",
]
KEPT = "The whole book is kept on this device"


def test_with_the_server_stopped_every_page_opens(browser, site, serve):
    server = serve(site)
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector(f"#keeping:has-text('{KEPT}')", timeout=30000)
    server.shutdown()
    server.server_close()
    failed = []
    page.on("requestfailed", lambda request: failed.append(request.url))
    for uri in [
        "index.html",
        "jobs.html",
        "symptoms.html",
        "tables/index.html",
        "machines/green-lathe.html",
        *(f"procedures/{id}.html" for id in NAMED),
    ]:
        assert page.goto(f"{server.address}/{uri}").ok, uri
        assert page.locator("h1").count() == 1
    page.goto(f"{server.address}/index.html")
    page.fill("#book-find", "drain plug", timeout=5000)
    page.wait_for_selector("#book-found a")
    begin(page, f"{server.address}/procedures/replace-drain-plug-seals.html")
    assert failed == []
    context.close()


def test_two_editions_are_never_mixed_and_the_new_one_is_offered(browser, site, serve, tmp_path):
    from fettlebook.pages.offline import hashed, service_worker

    shelf = tmp_path / "shelf"
    shutil.copytree(site, shelf)
    server, name = serve(shelf), re.search(r'"site":"([^"]+)"', (shelf / "sw.js").read_text(encoding="utf-8"))[1]
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector(f"#keeping:has-text('{KEPT}')", timeout=30000)
    for uri in ("index.html", "shop.html"):
        (shelf / uri).write_text(
            (shelf / uri).read_text(encoding="utf-8").replace('<h1 id="top">', '<h1 id="top">SECOND '), encoding="utf-8"
        )
    page.goto(f"{server.address}/shop.html")
    assert "SECOND" not in page.inner_text("h1"), "half a new edition on the server is not shown"
    (shelf / "sw.js").write_text(service_worker(name, hashed(shelf)), encoding="utf-8")
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector("#edition", timeout=30000)
    assert "SECOND" not in page.inner_text("h1"), "it waits until it is asked for"
    page.get_by_role("button", name="Use it now").click()
    page.wait_for_selector("h1:has-text('SECOND')")
    page.goto(f"{server.address}/shop.html")
    assert page.inner_text("h1").startswith("SECOND")
    context.close()


def test_one_file_alone_works_through(tablet, site, tmp_path):
    lone = tmp_path / "lone.html"
    shutil.copy(site / "single/replace-drain-plug-seals.html", lone)
    begin(tablet, lone.as_uri())
    to_steps(tablet)
    work_through(tablet)
    assert '"finished": "20' in finish_and_save(tablet)[1]
    assert tablet.outside == [] and tablet.errors == []


@pytest.mark.parametrize("id", NAMED)
def test_one_file_names_no_other_file(site, id):
    text = (site / f"single/{id}.html").read_text(encoding="utf-8")
    body = re.sub(r"<script.*?</script>|<style.*?</style>", "", text, flags=re.S)
    assert re.findall(r'(?:src|href)="(?!data:|#|https?://)[^"]*"', body) == []


@pytest.mark.parametrize("id", NAMED)
def test_the_scripts_of_a_procedures_page_stay_light(site, id):
    page = (site / f"procedures/{id}.html").read_text(encoding="utf-8")
    scripts = re.findall(r'<script src="\.\./(assets/[^"]+)"', page)
    sizes = {uri: (site / uri).stat().st_size for uri in scripts}
    assert len(sizes) >= 7 and sum(sizes.values()) < 60_000, sizes


# Everything that a hand meets while it works: buttons, fields, ticks (a tick is touched on its whole line) and ways onward.
TOUCHED = """() => [...document.querySelectorAll('.job button, .job__top button, dialog button, dialog input, dialog select, dialog textarea, .step button, [data-reading] input, [data-reading] select, .step a.button, .tick')]
    .filter(e => e.offsetParent).map(e => { const b = e.getBoundingClientRect(); return [e.textContent || e.tagName, b.width, b.height]; }).filter(b => b[1] < 48 || b[2] < 48)"""


@pytest.mark.parametrize("width, height", [(810, 1080), (390, 844), (1280, 900)])
def test_targets_are_large_enough_for_gloves_and_nothing_sticks_out(page, site, width, height):
    page.set_viewport_size({"width": width, "height": height})
    page.goto((site / "procedures/level-a-machine-on-jacks.html").as_uri())
    page.get_by_role("button", name="Do this at the machine").click()
    assert page.evaluate(TOUCHED) == []
    page.get_by_label("Your name").fill("P")
    page.get_by_role("button", name="Start", exact=True).click()
    assert page.evaluate(TOUCHED) == []
    to_steps(page)
    for _ in range(12):
        assert page.evaluate(TOUCHED) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), page.url
        page.keyboard.press("PageDown")
