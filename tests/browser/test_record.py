"""A record on its way: out of one tablet, into another, and into the book; what is no record is refused in words."""

import json
import shutil

import pytest
from at_machine import begin, do_step, to_steps

from fettlebook.book.load import load
from fettlebook.plugin import build_site

SEAL = "replace-drain-plug-seals"
RECORD = "procedures/shop/records/2026-10-05-replace-drain-plug-seals-green-lathe-mgcx40p9.json"
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
    with tablet.expect_download() as coming:
        tablet.evaluate("() => fettlebook.record.saveFile(fettlebook.job)")
    text = coming.value.path().read_text(encoding="utf-8")
    other = browser.new_context()
    page = other.new_page()
    assert take_in(page, at("jobs.html"), text).startswith("Taken in: ")
    page.get_by_role("button", name="Go on").click()
    page.wait_for_selector("body.working")
    assert page.evaluate("Object.keys(fettlebook.job.steps).length") == 2
    other.close()


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


def test_a_record_put_into_the_book_is_on_the_machines_page(page, root, tmp_path, good):
    for part in ("procedures", "docs"):
        shutil.copytree(root / part, tmp_path / part)
    shutil.copy(root / "mkdocs.yml", tmp_path / "mkdocs.yml")
    good.update(
        job="later1",
        started="2026-11-22T08:00:00.000Z",
        finished="2026-11-22T10:00:00.000Z",
        name="Weep again",
        by=EVIL,
    )
    good["readings"]["oil-temperature"].update(value=47, shown="47 °C", written="47", verdict="out")
    (tmp_path / "procedures/shop/records/new.json").write_text(json.dumps(good), encoding="utf-8")
    book, findings = load(tmp_path)
    assert [f for f in findings if "records" in f.place.file] == []
    build_site(tmp_path, tmp_path / "out", book)
    page.goto((tmp_path / "out/machines/green-lathe.html").as_uri())
    history = page.inner_text("section[aria-labelledby=records]")
    assert (
        "Weep again" in history
        and EVIL in history
        and "Out of limits: Temperature of the oil in the tray 47 °C" in history
    )
    assert "2028-11-2" in page.inner_text("#due + ul"), "every 24 months, counted from the last finished job"
    assert page.locator("#readings-over-time ~ figure svg").count() >= 10
    assert page.evaluate("window.hurt") is None
    page.goto((tmp_path / "out/index.html").as_uri())
    assert "2026-11-22" in page.inner_text("section[aria-labelledby=due]")
