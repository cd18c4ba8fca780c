"""The page gives the same temper colours as the program, on a thousand times, and its slider moves strip and rows."""

import json
import random

from parity import assert_same, in_python, with_defaults

from fettlebook.pages.scripts import shipped_script
from fettlebook.pages.units_script import units_script
from fettlebook.tables.catalogue import table_named

TEMPER = table_named("temper-colours")


def test_page_and_program_give_the_same_temper_colours(run_in_browser):
    chance = random.Random(5)
    times = [1.0, 5.0, 240.0, 60.0, *(240 ** chance.random() for _ in range(1000))]
    there = run_in_browser("temper-colours", [with_defaults(TEMPER, {"time": time}) for time in times])
    for time, theirs in zip(times, there, strict=True):
        assert_same(in_python(TEMPER, {"time": time}), theirs, {"time": time})


def test_the_slider_moves_the_strip_and_the_time_of_the_form(page):
    page.set_content(
        '<!doctype html><title>t</title><form data-table="temper-colours"><input name="time" value="5 min">'
        '<div class="form__answer"></div></form>'
    )
    page.add_script_tag(content=units_script())
    page.add_script_tag(content=shipped_script("base.js"))
    page.add_script_tag(content=shipped_script("tables/temper-colours.js"))
    page.evaluate(
        f"window.figures = {json.dumps(TEMPER.browser_data())}; fettlebook.tables['temper-colours']({{time: 5}}, figures)"
    )
    before = page.inner_html(".temper-slide svg")
    page.evaluate(
        """() => { const slide = document.querySelector('.temper-slide input');
            slide.value = Math.log(60) / Math.log(240); slide.dispatchEvent(new Event('input', {bubbles: true})); }"""
    )
    assert page.input_value("[name=time]") == "60 min"
    page.evaluate("fettlebook.tables['temper-colours']({time: 60}, figures)")
    assert page.inner_html(".temper-slide svg") != before
    assert page.get_attribute(".temper-slide input", "aria-valuetext") == "60 min"
    # Dark blue in an hour lies at 219 to 230 degC, by the program; its name stands under that place of the strip.
    where = page.evaluate(
        "[...document.querySelectorAll('.temper-slide text')].find(t => t.textContent === 'dark blue').getCTM().e"
    )
    blue = next(row for row in TEMPER.table({"time": 60}).rows if row["colour"] == "dark blue")
    expected = 14 + 772 * ((blue["computed_low_c"] + blue["computed_high_c"]) / 2 - 120) / 300 - 5
    width = page.evaluate("document.querySelector('.temper-slide svg').getBoundingClientRect().width")
    assert abs(where - expected * width / 800) < 2
