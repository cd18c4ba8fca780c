"""Worksheets in the hand: what is typed, what is shown in both systems of units, what is kept, in a job and without one, and with scripts off."""

from pathlib import Path

import pytest
import yaml
from at_machine import begin, kept, to_step, to_steps

from fettlebook.book.formula_values import NoAnswer, value
from fettlebook.book.load import load
from fettlebook.book.worksheets import shown
from fettlebook.tables.quantities import UNITS, read_quantity

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "worksheets.yml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def worksheets(root):
    return load(root)[0].worksheets


def words(page, place):
    return page.inner_text(place).replace("\u00a0", " ").strip()


def enter(page, key, typed):
    field = page.locator(f'.field[data-key="{key}"]')
    if field.locator("select").count():
        field.locator("select").select_option(label=str(typed))
    else:
        field.locator("input").fill(str(typed))


def fill_in(page, sheet, typed):
    for one in sheet.inputs:
        if one.id in typed and one.at:
            for slug, reading in zip(one.at, typed[one.id], strict=True):
                enter(page, f"{one.id}.{slug}", reading)
        elif one.id in typed:
            enter(page, one.id, typed[one.id])


def by_python(sheet, typed):
    """Every result as Python shows it, with its limits."""
    known = {c.id: c.value for c in sheet.constants}
    for one in sheet.inputs:
        given, unit = typed.get(one.id, one.default), one.unit if one.unit in UNITS else ""
        if one.kind == "choice":
            known[one.id] = next(dict(o.values) for o in one.options if o.label == str(given))
        elif one.kind == "flag":
            known[one.id] = given == "yes"
        else:
            known[one.id] = (
                dict(zip(one.at, [read_quantity(g, unit) for g in given], strict=True))
                if one.at
                else read_quantity(given, unit)
            )
    for result in sheet.results:
        try:
            known[result.id] = value(result.formula, known)
        except NoAnswer as fault:
            known[result.id] = None
            yield result, str(fault)
        else:
            yield result, shown(known[result.id], result)


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_a_published_case_typed_into_the_page_shows_what_python_gives(tablet, site, worksheets, case):
    sheet = worksheets[case["worksheet"]]
    tablet.goto((site / f"worksheets/{sheet.id}.html").as_uri())
    fill_in(tablet, sheet, case["with"])
    out = []
    for result, wanted in by_python(sheet, case["with"]):
        box = f'[data-result="{result.id}"]'
        assert words(tablet, f"{box} output") == wanted, result.id
        assert words(tablet, f"{box} .put-in").startswith("="), result.id
        verdict = words(tablet, f"{box} .verdict")
        assert bool(verdict) == (result.low is not None or result.high is not None)
        if "OUT OF LIMITS" in verdict:
            assert result.outside.plain in verdict
            out.append(result.id)
    assert out == case.get("out", [])
    assert tablet.locator(".fault:visible").count() == 0 and tablet.errors == [] and tablet.outside == []


TYPED = [
    ("12.7", "= 12.70 mm (0.5000 in)"), ("0.5 in", "= 12.70 mm (0.5000 in)"), ('1/2"', "= 12.70 mm (0.5000 in)"), ("12,7 mm", "= 12.70 mm (0.5000 in)"), ("12,7", "= 12.70 mm (0.5000 in)"),
    ("3 thou", "= 0.08 mm (0.0030 in)"), ("1 1/2 in", "= 38.10 mm (1.5000 in)"), ("1-1/2 in", "= 38.10 mm (1.5000 in)"), ("½ in", "= 12.70 mm (0.5000 in)"), ("1½″", "= 38.10 mm (1.5000 in)"),
    ("½", "= 0.50 mm (0.0197 in)"), ("  7  MM ", "= 7.00 mm (0.2756 in)"), (".5 IN", "= 12.70 mm (0.5000 in)"), ("0.01 m", "= 10.00 mm (0.3937 in)"), ("500 µm", "= 0.50 mm (0.0197 in)"), ("1e1", "= 10.00 mm (0.3937 in)"),
]  # fmt: skip
REFUSED = [
    ("blunt", "does not start with a number"), ("1,234", "could be a thousand or a decimal comma"), ("5 kg", "measures mass"), ("12.7.3", "is not"), ("1/0", "divides by zero"),
    ("12 qq", '"qq" is not a unit known here'), ("200", "above 150"), ("-1", "below 0"), ("--", "does not start with a number"), ("1 2", "is not one number"), ("1e999", "not a finite number"),
    ("<b>1</b>", "does not start with a number"), ("NaN", "does not start with a number"), ("12'6\"", "is not a unit"),
]  # fmt: skip


@pytest.mark.parametrize("typed, wanted", TYPED)
def test_a_figure_is_understood_and_shown_in_both_systems(tablet, site, typed, wanted):
    tablet.goto((site / "worksheets/touch-off-flats.html").as_uri())
    enter(tablet, "cut", typed)
    assert words(tablet, ".field[data-key=cut] .echo") == wanted
    assert not tablet.locator(".field[data-key=cut] .fault").is_visible()


@pytest.mark.parametrize("typed, wanted", REFUSED)
def test_what_is_not_a_figure_is_refused_in_words_and_nothing_is_guessed(tablet, site, typed, wanted):
    tablet.goto((site / "worksheets/touch-off-flats.html").as_uri())
    fill = {"bar": "20", "across": "14", "cut": typed}
    for key, text in fill.items():
        enter(tablet, key, text)
    assert wanted in words(tablet, ".field[data-key=cut] .fault").replace(" mm", "")
    assert tablet.get_attribute(".field[data-key=cut] input", "aria-invalid") == "true"
    assert words(tablet, "[data-result=left] output") == "waits for: Depth cut so far"
    assert words(tablet, "[data-result=depth] output") == "3.00 mm (0.1181 in)", "the others are worked all the same"
    enter(tablet, "cut", "  ")
    assert words(tablet, "[data-result=left] output") == "3.00 mm (0.1181 in)", (
        "nothing written takes the default, which is said"
    )


def test_inches_first_when_the_reader_wants_inches(tablet, site):
    tablet.goto((site / "worksheets/touch-off-flats.html").as_uri())
    enter(tablet, "bar", "1 in")
    enter(tablet, "across", "3/4 in")
    assert words(tablet, "[data-result=depth] output") == "3.18 mm (0.1250 in)"
    tablet.locator("[data-does=units]").first.click()
    assert words(tablet, "[data-result=depth] output") == "0.1250 in (3.18 mm)"


def test_a_choice_says_what_it_brings_and_an_empty_place_is_named(tablet, site):
    tablet.goto((site / "worksheets/bolt-torque.html").as_uri())
    enter(tablet, "thread", "M12x1.75")
    assert (
        words(tablet, ".field[data-key=thread] .echo")
        == "major diameter d = 12.000 mm (0.47244 in), pitch P = 1.750 mm (0.06890 in)"
    )
    tablet.goto((site / "worksheets/spindle-warm-up.html").as_uri())
    enter(tablet, "front.start", "20")
    assert words(tablet, "[data-result=apart] output") == "waits for: Front bearing, 60 min"


def test_a_last_bit_does_not_put_a_reading_out_of_its_limits(tablet, site):
    tablet.goto((site / "worksheets/chuck-only-taper.html").as_uri())
    for key, typed in {
        "near_a": "49.623",
        "near_b": "49.620",
        "free_a": "49.63",
        "free_b": "49.63",
        "distance": "150",
    }.items():
        enter(tablet, key, typed)
    assert "in limits" in words(tablet, "[data-result=round_near] .verdict"), "49.623 - 49.620 is 0.0030000000000001"
    enter(tablet, "near_a", "49.6231")
    assert "OUT OF LIMITS" in words(tablet, "[data-result=round_near] .verdict")


BACKLASH = {
    "one.front": "0",
    "one.middle": "0",
    "one.rear": "0",
    "back.front": "0.10",
    "back.middle": "0.30",
    "back.rear": "5 thou",
}


def test_in_a_job_it_is_kept_with_the_job_and_comes_back_after_a_reload(tablet, at):
    address = at("procedures/gibs-and-backlash.html")
    tablet.goto(address)
    enter(tablet, "one.front", "7")
    begin(tablet, address)
    to_steps(tablet)
    to_step(tablet, "backlash")
    tablet.locator(".step:visible").get_by_role("link", name="Fill in the worksheet").click()
    section = '[data-worksheet="backlash"]'
    assert tablet.locator(section).is_visible() and not tablet.locator(".step:visible").count()
    assert tablet.input_value('.field[data-key="one.front"] input') == "", (
        "what was tried outside a job is not the job's"
    )
    for key, typed in BACKLASH.items():
        enter(tablet, key, typed)
    assert "OUT OF LIMITS" in words(tablet, f"{section} [data-result=middle] .verdict")
    record = kept(tablet)[0]["worksheets"]["backlash"]
    assert (
        record["inputs"]["back.rear"] == "5 thou"
        and record["shown"]["Lost motion at the rear"].replace("\u00a0", " ") == "0.13 mm (0.0050 in)"
    )
    tablet.get_by_role("button", name="Back to the step").click()
    tablet.reload()
    tablet.wait_for_selector("body.working")
    tablet.locator(".step:visible").get_by_role("link", name="Fill in the worksheet").click()
    assert tablet.input_value('.field[data-key="back.middle"] input') == "0.30"
    assert words(tablet, f"{section} [data-result=most] output") == "0.30 mm (0.0118 in)"
    clear = tablet.locator(f"{section} [data-clear]")
    clear.click()
    assert tablet.input_value('.field[data-key="back.middle"] input') == "0.30", "one touch clears nothing"
    clear.click()
    assert tablet.input_value('.field[data-key="back.middle"] input') == "" and kept(tablet)[0]["worksheets"][
        "backlash"
    ]["inputs"] == {"diameter": "no"}
    tablet.get_by_role("button", name="Back to the step").click()
    tablet.get_by_role("button", name="Close").click()
    assert tablet.input_value('.field[data-key="one.front"] input') == "7", "and the page has its own again"
    assert tablet.errors == [] and tablet.outside == []


def test_every_worksheet_fits_a_phone_and_its_targets_fit_a_thumb(browser, site, worksheets):
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    for id in worksheets:
        page.goto((site / f"worksheets/{id}.html").as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= 390, id
        sizes = page.evaluate(
            "[...document.querySelectorAll('.field input, .field select, [data-clear]')].map(e => e.getBoundingClientRect().height)"
        )
        assert min(sizes) >= 48, id
        modes = page.evaluate("[...document.querySelectorAll('.field input')].map(e => e.inputMode)")
        assert set(modes) <= {"decimal"}, id
    context.close()


def test_with_scripts_off_every_worksheet_has_formulas_blanks_and_a_worked_example(browser, site, worksheets):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for id, sheet in worksheets.items():
        page.goto((site / f"worksheets/{id}.html").as_uri())
        assert page.locator(".result math:visible").count() == len(sheet.results)
        assert page.locator(".result .blank-line:visible").count() == len(sheet.results)
        assert page.locator(".result output:visible").count() == 0
        page.locator("summary", has_text="Worked example").click()
        text = words(page, "details.fold")
        for result in sheet.results:
            assert shown(result.example, result) in text, f"{id}: {result.id}"
    context.close()
