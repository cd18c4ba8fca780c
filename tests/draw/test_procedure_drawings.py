"""The drawings that procedures need: what they say is what the tables say, and nonsense is refused in words."""

import re
from math import cos, radians, sin, sqrt
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml

from fettlebook.draw.catalogue import drawing_named
from fettlebook.draw.chuck_key import rounded_square
from fettlebook.draw.drift_and_socket import wall_mm
from fettlebook.draw.jacks_plan import Plan
from fettlebook.draw.sling_angle import share
from fettlebook.draw.touch_off import cut_outline
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.levelling_layout import layout_from

SVG = "{http://www.w3.org/2000/svg}"
MACHINE = {
    "feet": [
        {"name": "Front head", "x_mm": 0, "y_mm": -210}, {"name": "Rear head", "x_mm": 0, "y_mm": 210},
        {"name": "Front tail", "x_mm": 1560, "y_mm": -210, "jack": False}, {"name": "Rear tail", "x_mm": 1560, "y_mm": 210},
    ],
    "stations": [{"name": "S1", "x_mm": 200}, {"name": "S2", "x_mm": 780}],
}  # fmt: skip


def words_of(name, given=None):
    return [e.text for e in ElementTree.fromstring(drawing_named(name).svg(given)).iter(f"{SVG}text")]


def refusal(name, given):
    with pytest.raises(BadValues) as told:
        drawing_named(name).svg(given)
    return [str(fault) for fault in told.value.faults]


def test_a_plan_stands_feet_and_stations_where_the_machine_file_says():
    plan = Plan(layout_from(MACHINE))
    (x1, rear), (x2, front) = plan(0, 210), plan(1560, -210)
    assert x1 < x2 and rear < front  # headstock end left, operator below
    assert plan(780, 0) == pytest.approx(((x1 + x2) / 2, (rear + front) / 2))
    words = words_of("jacks-plan", {"machine": MACHINE})
    assert {"Front head", "Rear head", "Front tail", "Rear tail", "S1", "S2", "200", "780", "1560", "420"} <= set(words)
    root = ElementTree.fromstring(drawing_named("jacks-plan").svg({"machine": MACHINE}))
    assert len(root.findall(f"{SVG}circle")) == 3  # three jacks, one fixed foot


def test_a_plan_without_feet_is_refused_in_words():
    assert refusal("jacks-plan", {"machine": {"feet": []}})[0].startswith("machine: it lists no feet")


def test_crowded_names_of_feet_do_not_run_into_each_other():
    many = "feet=20 length=3000 width=500"
    d = ElementTree.fromstring(drawing_named("jacks-plan").svg({"machine": many}))
    names = [(float(e.get("x")), float(e.get("y"))) for e in d.iter(f"{SVG}text") if re.fullmatch(r"[FR]\d+", e.text)]
    assert len(names) == 20
    for n, (x, y) in enumerate(names):
        assert all(abs(x - a) > 6 or abs(y - b) > 3 for a, b in names[n + 1 :])


def test_a_seal_section_names_what_is_not_given_and_figures_what_is():
    assert {"recess diameter", "recess depth", "G 1/2"} <= set(words_of("seal-section", {"thread": "G 1/2"}))
    given = {"thread": "M24x1.5", "counterbore_diameter": "30 mm", "counterbore_depth": "2.2 mm"}
    assert {"recess Ø30.0", "2.20", "M24x1.5"} <= set(words_of("seal-section", given))
    assert refusal("seal-section", {"thread": "G 1/2", "counterbore_diameter": "21 mm"}) == [
        "counterbore_diameter: 21.0 mm leaves no room for a seal beside a thread of 20.95 mm; measure the recess, not the hole"
    ]


# Statics: each of two legs of a load W pulls W / (2 sin a). Printed in rigging cards as 0.5, 0.577, 0.707, 1 for 90, 60, 45, 30 degrees.
@pytest.mark.parametrize(("angle", "printed"), [(90, 0.5), (60, 0.577), (45, 0.707), (30, 1.0)])
def test_share_of_a_sling_leg(angle, printed):
    assert share(angle) == pytest.approx(printed, abs=0.0005)
    assert share(angle) * sin(radians(angle)) * 2 == pytest.approx(1)


def test_a_sling_drawing_tells_the_conventions_apart_and_refuses_flat_legs():
    words = words_of("sling-angle", {"angle": "45 deg", "mass": "1850 kg"})
    assert {
        "from the horizontal",
        "from the vertical 45°",
        "between legs 90°",
        "1850 kg on the hook: as 1308 kg on each leg",
    } <= set(words)
    assert refusal("sling-angle", {"angle": "25 deg"}) == [
        "angle: 25 deg is below the smallest value that holds here, 30 °"
    ]


def test_wall_of_a_socket_and_what_a_drift_cannot_do():
    assert wall_mm(24, 34) == pytest.approx((34 - 24 * 2 / sqrt(3)) / 2)
    assert refusal("drift-and-socket", {"outside": "30 mm"})[0].startswith(
        "outside: a hexagon of 24.15 mm leaves a wall of 1.06 mm over its corners in 30 mm, less than 2 mm"
    )
    assert "never smaller" in refusal("drift-and-socket", {"was": "25 mm"})[0]
    assert "more than one size" in refusal("drift-and-socket", {"was": "19 mm"})[0]


@pytest.mark.parametrize("flats", [2, 3, 4, 6, 8])
@pytest.mark.parametrize("across", [10.0, 10.9, 13.0])
def test_what_is_left_of_a_round_keeps_flats_and_round(flats, across):
    points = cut_outline((0, 0), across, 14.5, flats)
    assert max(sqrt(x * x + y * y) for x, y in points) <= 14.5 / 2 + 1e-9
    # The first flat lies on top, half the width across flats from the axis where flats face each other.
    assert min(y for _, y in points) == pytest.approx(-across / 2) or flats == 3
    for x, y in points:
        for n in range(flats):
            angle = radians(90 + 360 / flats * n)
            if flats != 3:
                assert x * cos(angle) - y * sin(angle) <= across / 2 + 1e-9


def test_a_square_keeps_its_corners_when_the_round_holds_them():
    assert len(rounded_square((0, 0), 10, 14.5)) == 4 and len(rounded_square((0, 0), 11, 14.5)) > 8
    assert max(x for x, _ in rounded_square((0, 0), 11, 14.5)) == pytest.approx(5.5)


def test_chuck_key_and_touch_off_say_what_the_table_of_flats_says():
    row = next(
        iter(table_named("flats").table({"diameter": 14.5, "across_flats": 11, "flats": 4, "feeler": 0.05}).rows)
    )
    assert row["depth_per_flat_mm"] == pytest.approx(1.75) and row["table_move_mm"] == pytest.approx(1.8)
    assert {"1.75", "11", "Ø14.5", "cut back 8"} <= set(words_of("chuck-key"))
    assert {"1.75", "11 across flats", "feeler 0.05", "table up by 0.05 + 1.75 = 1.8 mm"} <= set(words_of("touch-off"))
    assert "table up by 1.75 mm" in words_of("touch-off", {"feeler": 0})
    assert "nothing to mill" in refusal("chuck-key", {"square": "15 mm"})[0]
    assert "nothing to cut" in refusal("touch-off", {"across_flats": "14.5 mm"})[0]


def test_a_stop_line_stands_one_and_a_half_pitches_off_unless_told():
    assert {"2.63", "30", "M12x1.75"} <= set(words_of("stop-line"))
    assert "4" in words_of("stop-line", {"thread": "M12x1.75", "stop": "4 mm"})
    assert "less than one pitch" in refusal("stop-line", {"stop": "1 mm"})[0]
    assert "leaves nothing of a thread" in refusal("stop-line", {"stop": "30 mm"})[0]


def test_every_drawing_that_procedures_ask_of_these_can_be_drawn():
    mine = {
        "seal-section",
        "sling-angle",
        "drift-and-socket",
        "chuck-key",
        "touch-off",
        "stop-line",
        "temper-strip",
        "heat-strip",
    }
    found = 0
    for path in sorted((Path(__file__).parent.parent.parent / "procedures").glob("*.yml")):
        for line in re.findall(r"figure: (\{draw: .*\})$", path.read_text(encoding="utf-8"), re.MULTILINE):
            figure = yaml.safe_load(line)
            if figure["draw"] in mine:
                found += 1
                drawing_named(figure["draw"]).svg(figure.get("with"), figure["alt"])
    assert found >= 5
