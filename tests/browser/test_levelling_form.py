"""The levelling form of a machine's page: rounds on the device, from a file, by hand and eye."""

import json
import random
import re

import pytest

from fettlebook.pages.levelling_form import levelling_form
from fettlebook.tables.definition import BadValue
from fettlebook.tables.levelling_layout import layout_from
from fettlebook.tables.levelling_model import beam_matrix

MACHINE = "machines/green-lathe.html"


@pytest.fixture
def tablet(site, page):
    errors = []
    page.on("pageerror", lambda fault: errors.append(str(fault)))
    page.goto((site / MACHINE).as_uri())
    page.fault_list = errors
    yield page
    assert errors == []


def fill(page, readings):
    for station, (long, cross) in readings.items():
        page.get_by_label(f"Station {station}, along the bed").fill(str(long))
        page.get_by_label(f"Station {station}, across").fill(str(cross))


def say(page):
    page.get_by_label("Every foot was tried just now").check()
    page.get_by_role("button", name="Say what to turn").click()


START = {"S1": (1, 0.5), "S2": (1, 1.5), "S3": (0.5, 2.5), "S4": (-0.5, "3 1/4"), "S5": (-1, "3½")}


def test_readings_in_moves_out_and_the_next_round(tablet):
    fill(tablet, START)
    say(tablet)
    assert (
        tablet.locator(".levelling__verdict")
        .inner_text()
        .startswith("Go on: station S5 cross is worst with 3.5 divisions")
    )
    targets = tablet.locator(".levelling .form__answer tbody tr")
    assert targets.count() >= 2 and "cross" in targets.first.inner_text()
    tablet.get_by_role("button", name="Turned; read the next round").click()
    assert tablet.get_by_label("Station S1, along the bed").input_value() == ""
    log = tablet.locator(".levelling__log").inner_text()
    assert "S4: −0.5 / 3 1/4" in log and re.search(r"1 · \d{4}-\d\d-\d\d", log), "a day keeps its hyphens"
    fill(tablet, {"S1": (0.1, 0.2), "S2": (0, 0.1), "S3": (0, 0), "S4": (0.1, -0.2), "S5": (0, 0.3)})
    say(tablet)
    assert tablet.locator(".levelling__verdict").inner_text().startswith("Done, stop turning")
    assert not tablet.get_by_role("button", name="Turned; read the next round").count()


def test_rounds_stay_on_the_device_and_can_be_taken_back_and_saved(tablet):
    fill(tablet, START)
    say(tablet)
    tablet.get_by_label("Turned something else?").fill("Rear tail -0.05 mm, Front tail S5 cross 0.5")
    tablet.get_by_role("button", name="Turned; read the next round").click()
    tablet.reload()
    assert "Rear tail −0.05 mm" in tablet.locator(".levelling__log").inner_text()
    keys = tablet.evaluate("Object.keys(localStorage)")
    assert [key for key in keys if key.endswith(":levelling:green-lathe")] and all(key.count(":") >= 2 for key in keys)
    with tablet.expect_download() as saved:
        tablet.get_by_role("button", name="Save the rounds as a file").click()
    content = json.loads(saved.value.path().read_text())
    assert content["machine"] == "green-lathe" and len(content["log"]) == 1
    tablet.get_by_role("button", name="Take back the last round").click()
    assert tablet.get_by_label("Station S5, across").input_value() == "3½"
    assert not tablet.locator(".levelling__log table").count()


def test_a_loose_foot_and_words_that_are_not_understood(tablet):
    tablet.locator("input[name=loose]").first.check()
    fill(tablet, START)
    say(tablet)
    assert tablet.locator(".levelling__verdict").inner_text().startswith("First seat foot Front head")
    tablet.locator("input[name=loose]").first.uncheck()
    tablet.get_by_label("Station S2, across").fill("much")
    say(tablet)
    assert (
        'readings: station S2 cross: "much" does not start with a number'
        in tablet.locator(".levelling form .fault").inner_text()
    )
    tablet.get_by_label("Station S2, across").fill("1.5")
    say(tablet)
    tablet.get_by_label("Turned something else?").fill("some jack")
    tablet.get_by_role("button", name="Turned; read the next round").click()
    assert "log:" in tablet.locator(".levelling form .fault").inner_text()
    assert not tablet.locator(".levelling__log table").count()


def test_the_level_is_checked_first_and_its_error_taken_off(tablet):
    tablet.get_by_label("As laid [divisions]").fill("1")
    tablet.get_by_label("Turned end for end [divisions]").fill("0")
    said = tablet.locator(".levelling__reversal").inner_text()
    assert said.startswith("The spot tilts by +0.50, the level itself is out by +0.50 divisions. More than a quarter")
    fill(tablet, dict.fromkeys(START, (0.5, 0.5)))
    say(tablet)
    assert "worst with 0.0 divisions" in tablet.locator(".levelling__verdict").inner_text()
    tablet.get_by_label("Turned end for end [divisions]").fill("-1")
    assert (
        tablet.locator(".levelling__reversal")
        .inner_text()
        .endswith("out by 0.00 divisions. Good enough; it is taken off every reading and put on every target.")
    )
    assert not tablet.locator(".levelling__verdict").count()  # an answer to other figures is gone
    tablet.get_by_label("Turned end for end [divisions]").fill("left")
    assert '"left" does not start with a number' in tablet.locator(".levelling__reversal").inner_text()


def test_feet_are_asked_for_before_every_round(tablet):
    fill(tablet, START)
    tablet.get_by_role("button", name="Say what to turn").click()
    assert "first try every foot" in tablet.locator(".levelling .fault").first.inner_text()
    say(tablet)
    tablet.get_by_role("button", name="Turned; read the next round").click()
    assert not tablet.get_by_label("Every foot was tried just now").is_checked()


def test_what_was_said_is_there_again_after_the_tablet_slept(tablet):
    fill(tablet, START)
    say(tablet)
    said = tablet.locator(".levelling .form__answer").inner_text()
    tablet.reload()
    assert tablet.locator(".levelling .form__answer").inner_text() == said


def test_rounds_are_brought_in_from_a_file_and_a_wrong_file_changes_nothing(tablet, tmp_path):
    fill(tablet, START)
    say(tablet)
    tablet.get_by_role("button", name="Turned; read the next round").click()
    with tablet.expect_download() as saved:
        tablet.get_by_role("button", name="Save the rounds as a file").click()
    tablet.on("dialog", lambda dialog: dialog.accept())
    tablet.get_by_role("button", name="Begin anew").click()
    log, brought = tablet.locator(".levelling__log"), tablet.locator(".levelling__brought")
    assert not log.locator("table").count()
    tablet.locator("#lv-file").set_input_files(saved.value.path())
    log.locator("table").wait_for()
    assert "S4: −0.5 / 3 1/4" in log.inner_text()
    round_of = {"readings": [{"station": "S1", "long": 1, "cross": 2}]}
    for content, words in (
        ("{", "it is not JSON, or it is damaged"),
        ("[]", "it has no log"),
        (json.dumps({"machine": "blue-lathe", "log": []}), 'These rounds belong to the machine "blue-lathe"'),
        (
            json.dumps({"machine": "green-lathe", "log": [{"readings": [{"station": "S9"}]}]}),
            'there is no station "S9"',
        ),
        (json.dumps({"machine": "green-lathe", "log": [round_of | {"turned": "X9 1 mm"}]}), 'there is no foot "X9"'),
    ):
        file = tmp_path / "rounds.json"
        file.write_text(content)
        tablet.locator("#lv-file").set_input_files(file)
        tablet.get_by_text(words).wait_for()
        assert brought.is_visible() and log.locator("tbody tr").count() == 1
    file.write_text(json.dumps({"machine": "green-lathe", "log": [round_of, round_of | {"at": "<b>now</b>"}]}))
    tablet.locator("#lv-file").set_input_files(file)
    tablet.wait_for_function("document.querySelectorAll('.levelling__log tbody tr').length === 2")
    assert "as advised" in log.inner_text() and not log.locator("b").count() and brought.is_hidden()


def test_the_rounds_are_printed_without_the_rest_of_the_page(tablet):
    fill(tablet, START)
    say(tablet)
    tablet.get_by_role("button", name="Turned; read the next round").click()
    tablet.evaluate("window.print = () => { window.printed = document.documentElement.className; }")
    tablet.get_by_role("button", name="Print the rounds").click()
    assert "print-levelling" in tablet.evaluate("window.printed")
    tablet.emulate_media(media="print")
    assert tablet.locator(".levelling__log table").is_visible() and tablet.locator("#levelling").is_visible()
    assert (
        not tablet.locator("#procedures").is_visible() and not tablet.locator(".levelling .button").first.is_visible()
    )
    tablet.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert tablet.locator("#procedures").is_visible()


def test_the_traditional_way_stands_on_the_page_with_an_honest_word(tablet):
    tablet.get_by_text("Without this form: the traditional way").click()
    way = tablet.locator(".levelling__traditional")
    assert way.locator("li").count() == 4 and "Pair 2: cross to 0" in way.inner_text()
    assert "on 6 feet it" in way.inner_text()


def test_what_is_touched_is_large_enough(tablet):
    fill(tablet, START)
    say(tablet)
    small = tablet.evaluate("""() => [...document.querySelectorAll('.levelling .button, .levelling input:not([type=checkbox], [type=file]), .levelling select, .levelling .ticks label, .levelling summary')]
        .filter(e => e.offsetParent).map(e => [e.textContent || e.name, e.getBoundingClientRect().height]).filter(b => b[1] < 48)""")
    assert small == []
    assert tablet.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_a_bed_is_levelled_in_a_few_rounds_through_the_page(tablet):
    """The page's own advice on a bed that gives, read to a tenth of a division and set to the bubble within a tenth."""
    chance = random.Random(3)
    about = json.loads(tablet.locator("[data-levelling] script").text_content())
    layout = layout_from(about["machine"])
    true, half = beam_matrix(layout, 0.3, 30), len(layout.stations)
    shown = [2, 2.5, 1, 0, -1, 4, 3, 1.5, -2, -4]
    rounds = 0
    while rounds < 6:
        fill(
            tablet,
            {
                s.name: (round(shown[m] + chance.gauss(0, 0.1), 1), round(shown[m + half] + chance.gauss(0, 0.1), 1))
                for m, s in enumerate(layout.stations)
            },
        )
        say(tablet)
        if tablet.locator(".levelling__verdict").inner_text().startswith(("Done", "Inside")):
            break
        given = tablet.evaluate(
            "JSON.parse(localStorage[Object.keys(localStorage).find(k => k.endsWith(':levelling:green-lathe'))])"
        )
        table = tablet.evaluate("""given => fettlebook.tables['jack-moves']({machine: JSON.parse(document.querySelector('[data-levelling] script').textContent).machine,
            readings: given.now.readings, division: 0.02, limit: 0.02, goal: 'horizontal', log: given.log.length ? given.log : null, loose: [], stay: [],
            prefer: 'small', zero: 0, 'reading-error': 0.1, vial: 10}, null).turned""", given)  # fmt: skip
        for move in table:
            j = layout.foot(move["jack"], "log")
            if "station" in move:
                row = layout.station(move["station"], "log") + (half if move["way"] == "cross" else 0)
                mm = (move["shows"] + chance.gauss(0, 0.1) - shown[row]) * 0.02 / true[row][j]
            else:
                mm = move["mm"] * chance.uniform(0.8, 1.2)
            shown = [v + true[i][j] * mm / 0.02 for i, v in enumerate(shown)]
        tablet.get_by_role("button", name="Turned; read the next round").click()
        rounds += 1
    assert rounds <= 3 and max(abs(v) for v in shown) <= 1.3


def test_the_form_escapes_names_and_refuses_a_layout_that_does_not_stand():
    feet = [{"name": f"<b>{n}", "x_mm": 1000 * (n // 2), "y_mm": 400 * (n % 2)} for n in range(4)]
    html = levelling_form("x", {"feet": feet, "stations": [{"name": "</script>", "x_mm": 5}]}, {})
    assert "<b>" not in html and html.count("</script>") == 1
    with pytest.raises(BadValue):
        levelling_form("x", {"feet": feet[:2], "stations": [{"name": "1", "x_mm": 0}]}, {})
