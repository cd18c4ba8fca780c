"""The forms of the bench tables, filled in and tapped as a reader does: answers, and a message beside a field that is wrong."""

import json

import pytest

FORMS = ("thread-finder", "change-gears", "indexing", "flats")
BAD = ("abc", "-1", "1e9", "1e400", "3 kg", "1,250")


@pytest.fixture
def form(tablet, site):
    """form(name, field=value, ...) -> the page with those fields filled in and worked out."""

    def fill(name, **fields):
        tablet.goto((site / f"tables/{name}.html").as_uri())
        for field, value in fields.items():
            enter(tablet, field if field == "across_flats" else field.replace("_", "-"), value)
        return tablet

    return fill


def enter(page, field, value):
    place = page.locator(f"#f-{field}")
    if place.evaluate("e => e.tagName") == "SELECT":
        place.select_option(value)
    else:
        place.fill(value)
    # The form waits 120 ms for the next key. A clock of the page, set after the form's, rings after it on any machine.
    page.evaluate("() => new Promise(done => setTimeout(done, 150))")


def rows(page):
    """The answer's rows, each by its column's heading."""
    return page.evaluate("""() => {
        const heads = [...document.querySelectorAll('.form__answer thead th')].map(h => h.firstChild.textContent.trim());
        return [...document.querySelectorAll('.form__answer tbody tr:not(.below)')].map(
            tr => Object.fromEntries([...tr.children].map((cell, n) => [heads[n], cell.textContent.trim()])));
    }""")


def fault(page, field):
    return page.locator(f".field:has(#f-{field}) .fault").text_content()


def test_a_worn_bolt_is_named_with_its_look_alike(form):
    page = form("thread-finder", diameter="0.496 in", tpi="12")
    found = rows(page)
    assert (found[0]["Thread"], found[0]["Verdict"]) == ("1/2 BSW", "fits")
    assert {row["Thread"]: row["Verdict"] for row in found}["1/2-13 UNC"] == "look-alike"
    enter(page, "side", "internal")
    assert rows(page)[0]["Thread"] != "1/2 BSW"
    assert page.errors == [] and page.outside == []


def test_wheels_are_found_and_pitch_and_count_together_refused(form):
    page = form("change-gears", pitch="3 mm", leadscrew="6 tpi", gears="30, 60, 90, 127")
    assert (rows(page)[0]["Drivers"], rows(page)[0]["Driven"]) == ("90", "127")
    enter(page, "tpi", "12")
    assert fault(page, "pitch").startswith("give pitch or tpi, not both")
    assert rows(page) == []
    enter(page, "pitch", "")
    assert rows(page)[0]["Threads per inch"].startswith("12.0")
    enter(page, "leadscrew", "6")
    assert "could be millimetres or threads per inch" in fault(page, "leadscrew")
    assert page.locator(".form__answer .flag").text_content().startswith('Leadscrew: "6" could be')
    assert page.errors == []


def test_the_readers_own_circles_count_until_a_set_is_chosen(form):
    page = form("indexing", divisions="6", circles="24")
    assert [row["of circle"] for row in rows(page) if row["Method"] == "plain"] == ["24"]
    enter(page, "plates", "two-sided plate 24 to 66")
    assert "66" in [row["of circle"] for row in rows(page)]
    enter(page, "plates", "")
    assert [row["of circle"] for row in rows(page) if row["Method"] == "plain"] == ["24"]
    enter(page, "divisions", "127")
    assert "nearest" in [row["Method"] for row in rows(page)]
    assert "on a rim of 100.0 mm" in page.locator(".form__answer").text_content()
    enter(page, "divisions", "")
    enter(page, "angle", "48 deg 40 min")
    assert page.locator(".form__answer .flag").count() == 1 and page.errors == []


def test_flats_say_what_is_left_to_take_off(form):
    page = form("flats", diameter="25", across_flats="", flats="4", feeler="0.1 mm", cut="1 mm")
    enter(page, "across_flats", "19")
    (row,) = rows(page)
    assert (row["Table from touch-off"], row["Still to go"]) == ("3.100", "2.100")
    enter(page, "flats", "5")
    assert len(rows(page)) == 1 and page.errors == []


@pytest.mark.parametrize("name", FORMS)
def test_what_cannot_be_meant_is_answered_beside_its_field(form, name):
    page = form(name)
    fields = page.evaluate(
        "() => [...document.querySelectorAll('.field input')].map(i => [i.name, i.value, i.closest('.field').dataset.rules])"
    )
    figures = [(field, value) for field, value, rules in fields if json.loads(rules)["kind"] != "text"]
    assert len(figures) >= 5
    for field, value in figures:
        for bad in BAD:
            enter(page, field, bad)
            said = fault(page, field)
            assert said and "\n" not in said and page.locator(f"#f-{field}").get_attribute("aria-invalid") == "true", (
                field,
                bad,
            )
            assert rows(page) == [], (field, bad)
        enter(page, field, value)
        assert not fault(page, field), field
    assert page.errors == []
