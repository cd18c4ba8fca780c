"""A record on its way: out of one tablet, into another, and into the book; what is no record is refused in words."""

import json
import shutil

import pytest
from at_machine import begin, do_step, finish_and_save, save_so_far, step, to_steps, work_through

from fettlebook.book.load import load
from fettlebook.book.shapes import shape_findings
from fettlebook.plugin import build_site

SEAL = "replace-drain-plug-seals"
RECORD = "procedures/shop/records/2026-10-05-replace-drain-plug-seals-green-lathe-mgcx40p9.json"
NAMED = ["recommission-an-imported-machine", SEAL, "anneal-and-reharden-a-chuck-key", "level-a-machine-on-jacks"]
EVIL = '<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>'


@pytest.fixture
def good(root):
    return json.loads((root / RECORD).read_text(encoding="utf-8"))


def take_in(page, address, content):
    page.goto(address)
    page.set_input_files("#jobs-file", {"name": "r.json", "mimeType": "application/json", "buffer": content.encode()})
    page.wait_for_selector("#jobs-said:not([hidden])")
    return page.inner_text("#jobs-said")


def test_a_job_goes_on_in_a_fresh_tablet(browser, tablet, at):
    begin(tablet, at(f"procedures/{SEAL}.html"))
    to_steps(tablet)
    do_step(tablet)
    do_step(tablet)
    text = save_so_far(tablet)[1]
    other = browser.new_context()
    page = other.new_page()
    assert take_in(page, at("jobs.html"), text).startswith("Taken in: ")
    page.get_by_role("button", name="Go on").click()
    page.wait_for_selector("body.working")
    assert page.evaluate("Object.keys(fettlebook.job.steps).length") == 2
    other.close()


ROUND = {"S1": ("1", "0.5"), "S2": ("1", "1.5"), "S3": ("0.5", "2.5"), "S4": ("-0.5", "3.25"), "S5": ("-1", "3.5")}


def test_rounds_of_levelling_belong_to_the_job_and_go_with_its_record(browser, tablet, at):
    begin(tablet, at("procedures/level-a-machine-on-jacks.html"))
    to_steps(tablet)
    job = tablet.evaluate("fettlebook.job.job")
    while not tablet.get_by_role("link", name="round by round").is_visible():
        do_step(tablet)
    here = step(tablet)
    tablet.get_by_role("link", name="round by round").click()
    tablet.wait_for_selector(".levelling select#lv-job")
    assert tablet.locator("#lv-job").input_value() == job, "the open job is chosen already"
    for station, (long, cross) in ROUND.items():
        tablet.get_by_label(f"Station {station}, along the bed").fill(long)
        tablet.get_by_label(f"Station {station}, across").fill(cross)
    tablet.locator("input[name=tried]").check()
    tablet.get_by_role("button", name="Say what to turn").click()
    tablet.get_by_role("button", name="Turned; read the next round").click()
    assert "Rounds so far" in tablet.inner_text(".levelling__log")
    tablet.locator("#lv-job").select_option("")
    assert "Rounds so far" not in tablet.inner_text(".levelling__log"), "the machine's own rounds are apart"
    tablet.locator("#lv-job").select_option(job)
    assert "Rounds so far" in tablet.inner_text(".levelling__log")
    tablet.get_by_role("link", name="Back to the job").click()
    tablet.wait_for_selector("body.working")
    assert step(tablet) == here
    text = save_so_far(tablet)[1]
    record = json.loads(text)
    assert shape_findings(record, "record", "r.json") == []
    assert [r["station"] for r in record["levelling"][0]["readings"]] == list(ROUND)
    assert record["levelling"][0]["turned"] and record["levelling"][0]["said"]
    other = browser.new_context()
    page = other.new_page()
    assert take_in(page, at("jobs.html"), text).startswith("Taken in: ")
    page.get_by_role("button", name="Read", exact=True).click()
    assert "S1: 1/0.5" in page.inner_text("#jobs-sheet")
    page.goto(at("machines/green-lathe.html"))
    page.locator("#lv-job").select_option(job)
    assert "Rounds so far" in page.inner_text(".levelling__log"), "the rounds go on in the other tablet"
    other.close()
    assert tablet.errors == []


def test_two_windows_on_the_levelling_form_are_told(browser, site):
    context = browser.new_context()
    one, two = context.new_page(), context.new_page()
    for page in (one, two):
        page.goto((site / "machines/green-lathe.html").as_uri())
    one.get_by_label("Station S1, across").fill("2")
    two.wait_for_selector("text=Changed in another window")
    assert two.get_by_label("Station S1, across").input_value() == "2"
    context.close()


def test_the_shape_of_a_record_is_published_and_linked(page, site):
    page.goto((site / "jobs.html").as_uri())
    address = page.get_by_role("link", name="JSON Schema").get_attribute("href")
    published = json.loads((site / address).read_text(encoding="utf-8"))
    wanted = {
        "procedure",
        "revision",
        "machine",
        "by",
        "started",
        "finished",
        "steps",
        "readings",
        "levelling",
        "worksheets",
    }
    assert wanted <= set(published["properties"])


def test_a_record_made_with_an_older_revision_says_so_on_the_machines_page(page, site):
    page.goto((site / "machines/green-lathe.html").as_uri())
    line = page.locator(".job-line", has_text="2026-10-05")
    assert "Made with revision 1; the book now has revision " in line.inner_text()


def spoiled(good, **changes):
    return json.dumps({**good, **changes})


BAD = {
    "not json": lambda g: "hello",
    "a list": lambda g: "[]",
    "another program's": lambda g: '{"version": 2, "jobs": []}',
    "huge": lambda g: spoiled(g, note="x" * 2_000_001),
    "wrong name": lambda g: spoiled(g, job="../../x"),
    "revision in words": lambda g: spoiled(g, revision="one"),
    "steps a list": lambda g: spoiled(g, steps=[1]),
    "a state that is none": lambda g: spoiled(g, steps={"a": {"state": EVIL}}),
    "a reading without name": lambda g: spoiled(g, readings={"a": {"value": 1, "verdict": "in"}}),
    "a reading inside a reading": lambda g: spoiled(
        g, readings={"a": {"name": "x", "value": {"a": 1}, "verdict": "in"}}
    ),
    "a timer that is none": lambda g: spoiled(g, timers=[None]),
    "rounds that are none": lambda g: spoiled(g, levelling=[{"readings": "S1"}]),
    "no date": lambda g: spoiled(g, started="yesterday"),
}


@pytest.mark.parametrize("kind", BAD)
def test_what_is_no_record_is_refused_in_words_by_page_and_book(tablet, site, good, root, tmp_path, kind):
    content = BAD[kind](good)
    said = take_in(tablet, (site / "jobs.html").as_uri(), content)
    assert said.startswith("This ") and "record" in said
    assert "No job is kept" in tablet.inner_text("#jobs") and tablet.errors == []
    folder = tmp_path / "procedures" / "shop" / "records"
    folder.mkdir(parents=True)
    (folder / "r.json").write_text(content, encoding="utf-8")
    book, findings = load(tmp_path)
    own = [f for f in findings if f.place.file.endswith("r.json")]
    assert own and all(f.what for f in own) and book.records == ()


def test_hostile_words_are_shown_as_words(tablet, site, good):
    good.update(name=EVIL, by=EVIL, note=EVIL, title=EVIL)
    for reading in good["readings"].values():
        reading["name"] = reading["shown"] = EVIL
    assert take_in(tablet, (site / "jobs.html").as_uri(), json.dumps(good)).startswith("Taken in")
    tablet.get_by_role("button", name="Read", exact=True).click()
    assert EVIL in tablet.inner_text("#jobs-sheet")
    assert tablet.evaluate("window.hurt") is None and tablet.errors == []


def real_record(page, address):
    """A job worked through from ADDRESS: the file that it gives."""
    begin(page, address)
    to_steps(page)
    work_through(page)
    return finish_and_save(page)


def test_records_put_into_the_book_are_on_the_machines_page_after_a_build(page, site, root, tmp_path, good):
    for part in ("procedures", "docs"):
        shutil.copytree(root / part, tmp_path / part)
    shutil.copy(root / "mkdocs.yml", tmp_path / "mkdocs.yml")
    shelf = tmp_path / "procedures/shop/records"
    taken = {}
    for id in NAMED:
        name, text = real_record(page, (site / f"procedures/{id}.html").as_uri())
        (shelf / name).write_text(text, encoding="utf-8")
        taken[id] = json.loads(text)
    good.update(
        job="later1",
        started="2026-11-22T08:00:00.000Z",
        finished="2026-11-22T10:00:00.000Z",
        name="Weep again",
        by=EVIL,
        levelling=[{"readings": [{"station": "S1", "long": "1"}], "turned": "F1 +0.1 mm", "said": "Out of level."}],
    )
    good["readings"]["oil-temperature"].update(value=47, shown="47 °C", written="47", verdict="out")
    (shelf / "new.json").write_text(json.dumps(good), encoding="utf-8")
    book, findings = load(tmp_path)
    assert [f for f in findings if "records" in f.place.file] == []
    build_site(tmp_path, tmp_path / "out", book)
    page.goto((tmp_path / "out/machines/green-lathe.html").as_uri())
    history = page.inner_text("section[aria-labelledby=records]")
    for id, record in taken.items():
        assert record["machine"] == "green-lathe", id
        line = page.locator(".job-line", has_text=record["finished"][:10]).filter(has_text=record["title"]).first
        assert "finished, by Perrin Tull" in line.inner_text(), id
    assert (
        "Weep again" in history
        and EVIL in history
        and "Out of limits: Temperature of the oil in the tray 47 °C" in history
        and "Levelled in 1 round; the last said: Out of level." in history
    )
    done = max(record["finished"][:10] for record in (taken[SEAL], good))
    due = page.locator("#due + ul li", has_text=taken[SEAL]["title"])
    assert f"last done {done}" in due.inner_text() and str(int(done[:4]) + 2) in due.inner_text(), "every 24 months"
    assert page.locator("#readings-over-time ~ figure svg").count() >= 10
    assert page.evaluate("window.hurt") is None
    page.goto((tmp_path / "out/index.html").as_uri())
    assert done in page.inner_text("section[aria-labelledby=due]")
