"""The book without a network in each way that people have it: kept by the browser, as one file; and light enough."""

import json
import re
import shutil
from types import SimpleNamespace

import pytest
from at_machine import begin, do_step, finish_and_save, save_so_far, to_steps, work_through
from PIL import Image

from conftest import FLAGS, chromium_path
from fettlebook.pages.offline import bytes_on_request, hashed, service_worker

NAMED = [
    "recommission-an-imported-machine",
    "replace-drain-plug-seals",
    "anneal-and-reharden-a-chuck-key",
    "level-a-machine-on-jacks",
]
KEPT = "The book is kept on this device"


def test_with_the_server_stopped_every_page_opens(browser, site, serve):
    server = serve(site)
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector(f"#keeping:has-text('{KEPT}')", timeout=30000)
    server.shutdown()
    server.server_close()
    failed = []
    page.on("requestfailed", lambda request: failed.append((request.url, request.failure)))
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
    # Going on to the next page before the tab's icon has come breaks its request off; one that the worker cannot answer fails otherwise.
    assert [(url, why) for url, why in failed if why != "net::ERR_ABORTED"] == []
    context.close()


SHELF = [
    "index.html",
    "shop.html",
    "jobs.html",
    "404.html",
    "manifest.webmanifest",
    "assets",
    "procedures/replace-drain-plug-seals.html",
    "single/replace-drain-plug-seals.html",
    "single/anneal-and-reharden-a-chuck-key.html",
    "single/level-a-machine-on-jacks.html",
]
"""A book small enough to be kept twice over in a test."""
LONE = [uri for uri in SHELF if uri.startswith("single/")]
FETCH = """async uri => { const answer = await fetch(uri); return [answer.status, await answer.text()]; }"""


@pytest.fixture
def shelf(site, tmp_path):
    """A small book and its maker: shelf.publish() writes the list of what stands there now."""
    folder = tmp_path / "shelf"
    for uri in SHELF:
        (folder / uri).parent.mkdir(parents=True, exist_ok=True)
        (shutil.copytree if (site / uri).is_dir() else shutil.copy)(site / uri, folder / uri)
    name = re.search(r'"site":"([^"]+)"', (site / "sw.js").read_text(encoding="utf-8"))[1]

    def publish():
        worker = service_worker(name, hashed(folder), bytes_on_request(folder))
        (folder / "sw.js").write_text(worker, encoding="utf-8")

    def rewrite(uri):
        text = (folder / uri).read_text(encoding="utf-8")
        (folder / uri).write_text(text.replace('<h1 id="top">', '<h1 id="top">SECOND '), encoding="utf-8")

    publish()
    return SimpleNamespace(folder=folder, publish=publish, rewrite=rewrite)


def opened(context, server):
    """The front page, with the book kept on the device."""
    page = context.new_page()
    page.set_default_timeout(15000)
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector(f"#keeping:has-text('{KEPT}')", timeout=30000)
    return page


def test_two_editions_are_never_mixed_and_the_new_one_is_offered(browser, shelf, serve):
    server, context = serve(shelf.folder), browser.new_context()
    page = opened(context, server)
    assert page.evaluate(FETCH, LONE[0])[0] == 200
    for uri in ("index.html", "shop.html", LONE[1]):
        shelf.rewrite(uri)
    page.goto(f"{server.address}/shop.html")
    assert "SECOND" not in page.inner_text("h1"), "half a new edition on the server is not shown"
    status, text = page.evaluate(FETCH, LONE[1])
    assert (status, "belongs to another edition" in text) == (504, True), (
        "nor is a file that had not been opened before"
    )
    shelf.publish()
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector("#edition", timeout=30000)
    assert "SECOND" not in page.inner_text("h1"), "it waits until it is asked for"
    page.get_by_role("button", name="Use it now").click()
    page.wait_for_selector("h1:has-text('SECOND')")
    page.goto(f"{server.address}/shop.html")
    assert page.inner_text("h1").startswith("SECOND")
    assert "SECOND" in page.evaluate(FETCH, LONE[1])[1]
    assert len(page.evaluate("caches.keys()")) == 1, "the earlier edition is gone"
    context.close()


def test_printed_sheets_and_lone_files_are_kept_when_asked_for(browser, shelf, serve):
    server, context = serve(shelf.folder), browser.new_context()
    page = opened(context, server)
    page.wait_for_selector("#keeping button:has-text('Keep all printed sheets too (')")
    kept = "async () => (await (await caches.open((await caches.keys())[0])).keys()).map(r => r.url).filter(u => u.includes('/single/')).length"
    assert page.evaluate(kept) == 0, "they are not taken in unasked"
    assert page.evaluate(FETCH, LONE[0])[0] == 200 and page.evaluate(kept) == 1, "one that was opened stays"
    page.get_by_role("button", name="Keep all printed sheets too").click()
    page.wait_for_selector("#keeping:has-text('So are its printed sheets')")
    assert page.evaluate(kept) == 3
    shelf.rewrite("shop.html")
    shelf.publish()
    server.asked.clear()
    page.goto(f"{server.address}/index.html")
    page.wait_for_selector("#edition", timeout=30000)
    fetched = [path for path in server.asked if path not in ("/sw.js", "/shop.html")]
    assert fetched == [], "a new edition takes in only what has changed"
    with page.expect_event("load"):
        page.get_by_role("button", name="Use it now").click()
    page.wait_for_selector("#keeping:has-text('So are its printed sheets')")
    server.shutdown()
    server.server_close()
    assert [page.evaluate(FETCH, uri)[0] for uri in LONE] == [200, 200, 200]
    context.close()


def test_a_sheet_that_is_not_there_says_so_in_words(browser, shelf, serve):
    server, context = serve(shelf.folder), browser.new_context()
    page = opened(context, server)
    server.shutdown()
    server.server_close()
    page.goto(f"{server.address}/{LONE[0]}")
    assert page.inner_text("h1") == "Not on this device" and "front page" in page.inner_text("body")
    context.close()


def test_it_can_be_installed_with_name_and_icons(site):
    about = json.loads((site / "manifest.webmanifest").read_text(encoding="utf-8"))
    assert about["name"] and about["display"] == "standalone" and (site / about["start_url"]).exists()
    sizes = {}
    for icon in about["icons"]:
        if icon["type"] == "image/png":
            with Image.open(site / icon["src"]) as picture:
                sizes[icon["sizes"]] = f"{picture.width}x{picture.height}"
    assert {"192x192", "512x512"} <= set(sizes) and all(said == found for said, found in sizes.items())


def test_plain_http_in_the_shop_says_what_it_lacks_and_the_ways_out(browser, shop_server):
    """A name that is not this machine's own: the browser gives such a page neither a worker nor a wake lock."""
    lan = browser.browser_type.launch(
        executable_path=chromium_path(), args=[*FLAGS, "--host-resolver-rules=MAP shop.test 127.0.0.1"]
    )
    page = lan.new_page()
    page.set_default_timeout(8000)
    address = shop_server.address.replace("localhost", "shop.test")
    page.goto(f"{address}/index.html")
    said = page.inner_text("#keeping")
    assert "plain http" in said and "folder" in said and "one file" in said and "https" in said
    begin(page, f"{address}/procedures/replace-drain-plug-seals.html")
    assert "does not let a page keep the screen on" in page.inner_text(".job__says")
    to_steps(page)
    page.reload()
    assert page.locator(".step:visible").count() == 1, "what is entered is kept there too"
    lan.close()


def test_one_file_alone_works_through(tablet, site, tmp_path):
    lone = tmp_path / "lone.html"
    shutil.copy(site / "single/replace-drain-plug-seals.html", lone)
    begin(tablet, lone.as_uri())
    to_steps(tablet)
    work_through(tablet)
    assert '"finished": "20' in finish_and_save(tablet)[1]
    assert tablet.outside == [] and tablet.errors == []


def test_a_record_goes_into_and_out_of_one_file_alone(browser, site, tmp_path):
    """From one lone file to the same file on another tablet, where the job goes on and is finished."""
    lone, other = (site / f"single/{id}.html" for id in NAMED[1:3])
    first, second = (browser.new_context(viewport={"width": 810, "height": 1080}) for _ in range(2))
    page = first.new_page()
    begin(page, lone.as_uri())
    to_steps(page)
    do_step(page)
    record = save_so_far(page)[1]
    first.close()
    page = second.new_page()
    page.set_default_timeout(8000)

    def give(uri, text):
        page.goto(uri)
        page.get_by_role("button", name="Do this at the machine").click()
        page.get_by_label("Or take in a record").set_input_files(
            {"name": "r.json", "mimeType": "application/json", "buffer": text.encode()}
        )

    give(other.as_uri(), record)
    page.wait_for_selector("dialog .fault:has-text('It goes on where that procedure is open')")
    give(lone.as_uri(), "hello")
    page.wait_for_selector("dialog .fault:has-text('not a record')")
    give(lone.as_uri(), record)
    page.wait_for_selector("body.working")
    assert page.evaluate("Object.keys(fettlebook.job.steps).length") == 1
    work_through(page)
    assert '"finished": "20' in finish_and_save(page)[1]
    page.get_by_role("button", name="Close").click()
    page.get_by_role("button", name="Do this at the machine").click()
    page.get_by_role("button", name="Finished: ").click()
    assert page.locator(".record-sheet").is_visible(), "a finished record can be read again without the list of jobs"
    second.close()


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


# Pairs of targets with less than 6 px between them. A tick's whole line is its target, so lines of ticks may touch. What scrolls
# away under a bar that stands, or lies behind an open question, is no neighbour of what stands in front.
CROWDED = (
    TOUCHED.split(".map(")[0]
    + """.filter(e => !e.matches('.tick')).map(e => [e, e.getBoundingClientRect()]).flatMap(([e, a], n, all) => all.slice(n + 1)
    .filter(([f, b]) => e.closest('.job,.job__top,dialog') === f.closest('.job,.job__top,dialog') && !e.contains(f) && !f.contains(e) && Math.max(a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom) < 6)
    .map(([f]) => [e.textContent, f.textContent]))"""
)


@pytest.mark.parametrize("width, height", [(810, 1080), (390, 844), (1280, 900)])
def test_targets_are_large_enough_for_gloves_and_nothing_sticks_out(page, site, width, height):
    page.set_viewport_size({"width": width, "height": height})
    page.goto((site / "procedures/level-a-machine-on-jacks.html").as_uri())
    page.get_by_role("button", name="Do this at the machine").click()
    assert page.evaluate(TOUCHED) == [] and page.evaluate(CROWDED) == []
    page.get_by_label("Your name").fill("P")
    page.get_by_role("button", name="Start", exact=True).click()
    assert page.evaluate(TOUCHED) == [] and page.evaluate(CROWDED) == []
    to_steps(page)
    page.get_by_role("button", name="Stages").click()
    assert page.evaluate(TOUCHED) == [] and page.evaluate(CROWDED) == []
    page.keyboard.press("Escape")
    for _ in range(12):
        assert page.evaluate(TOUCHED) == [] and page.evaluate(CROWDED) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), page.url
        page.keyboard.press("PageDown")
