"""Gear train, hole circle, flats, over wires and infeed: what is drawn agrees with the tables, and stays on its sheet."""

import re
from math import hypot
from xml.etree import ElementTree

import pytest

from fettlebook.draw import flats, gear_train, hole_circle, infeed, over_wires
from fettlebook.draw.catalogue import drawing_named, drawings_of
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues

SVG = "{http://www.w3.org/2000/svg}"


def circles(svg):
    return [tuple(float(e.get(k)) for k in ("cx", "cy", "r")) for e in ElementTree.fromstring(svg).iter(f"{SVG}circle")]


def words(svg):
    return [e.text for e in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def coordinates(svg):
    root = ElementTree.fromstring(svg)
    for path in root.iter(f"{SVG}path"):
        if "A" not in path.get("d"):
            yield from ((float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.get("d")))


@pytest.mark.parametrize(
    "name, given",
    [
        ("gear-train", {}), ("gear-train", {"drivers": "90", "driven": "127"}), ("gear-train", {"drivers": "20", "driven": "120", "idler": "60"}),
        ("hole-circle", {"circle": 15, "holes": 1, "turns": 0}), ("hole-circle", {"circle": 66, "holes": 65, "turns": 2}),
        ("flats-in-bar", {"flats": 3}), ("flats-in-bar", {"flats": 2, "across_flats": "19 mm"}), ("flats-in-bar", {"flats": 5, "across_flats": "24 mm"}),
        ("over-wires", {"thread": "1/2 BSW"}), ("over-wires", {"thread": "2BA"}), ("over-wires", {"thread": "M3", "wire": "0.5 mm"}),
        ("infeed", {"infeed": "radial", "thread": "M6", "passes": 20}), ("infeed", {"thread": "1/2 BSW", "passes": 1}),
    ],
)  # fmt: skip
def test_nothing_runs_over_the_edge_of_the_sheet(name, given):
    svg = drawing_named(name).svg(given)
    width, height = (float(n) for n in ElementTree.fromstring(svg).get("viewBox").split()[2:])
    assert all(0 <= x <= width and 0 <= y <= height for x, y in coordinates(svg))


def test_meshing_wheels_touch_and_keep_their_ratio():
    wheels = [c for c in circles(gear_train.gear_train((50, 127), (100, 60), None)) if c[2] > 2]
    (ax, ay, a), (bx, by, b), (cx, cy, c), (dx, dy, d) = wheels
    assert (bx, by) == (cx, cy)
    assert hypot(ax - bx, ay - by) == pytest.approx(a + b, abs=0.03) and hypot(cx - dx, cy - dy) == pytest.approx(
        c + d, abs=0.03
    )
    assert [b / a, c / a, d / a] == pytest.approx([100 / 50, 127 / 50, 60 / 50], rel=0.005)


def test_the_teeth_are_written():
    said = words(gear_train.gear_train((90,), (127,), None))
    assert "90 teeth" in said and "127 teeth" in said and "of any size" in said


@pytest.mark.parametrize("circle, holes", [(21, 14), (49, 28), (18, 1)])
def test_the_plate_has_its_holes_and_the_arms_count_one_more(circle, holes):
    svg = hole_circle.hole_circle(circle, holes, 0)
    on_circle = [c for c in circles(svg) if hypot(c[0] - 62, c[1] - 66) == pytest.approx(46, abs=0.05)]
    assert len({c[:2] for c in on_circle}) == circle
    assert f"{holes + 1} holes, with" in words(svg)


def test_flats_show_the_figures_of_the_table():
    row = table_named("flats").table({"diameter": "25 mm", "flats": "3"}).rows[0]
    said = " ".join(words(flats.flats_in_bar(25, None, 3)))
    assert f"{row['flat_to_corner_mm']:.3f} flat to corner" in said and f"{row['depth_per_flat_mm']:.3f}" in said


def test_wires_are_drawn_to_the_threads_scale_and_touch_the_anvils():
    wires = [c for c in circles(over_wires.over_wires("M10x1.5", None)) if c[2] > 4]
    assert len(wires) == 3
    assert wires[0][2] * 2 / over_wires.PITCH_ON_PAPER == pytest.approx(0.57735, abs=0.001)
    assert any("over wires 10.325" in text for text in words(over_wires.over_wires("M10x1.5", None)))


@pytest.mark.parametrize("way", ["radial", "flank"])
def test_there_is_a_groove_for_every_pass(way):
    """Each groove is a path of just three points."""
    paths = [p.get("d") for p in ElementTree.fromstring(infeed.infeed("M10", way, 7, None)).iter(f"{SVG}path")]
    assert len([d for d in paths if re.fullmatch(r"M[\d.]+,30L[\d.]+,[\d.]+L[\d.]+,30", d)]) == 7


@pytest.mark.parametrize(
    "table, names",
    [("change-gears", {"gear-train"}), ("indexing", {"hole-circle"}), ("flats", {"flats-in-bar", "touch-off"}), ("thread-wires", {"over-wires"}), ("thread-passes", {"infeed"})],
)  # fmt: skip
def test_every_page_has_its_drawing(table, names):
    assert names <= {drawn.name for drawn in drawings_of(table)}


@pytest.mark.parametrize(
    "name, given, message",
    [
        ("gear-train", {"drivers": "40", "driven": "50, 60"}, "driven: 1 drivers and 2 driven are no train; write one of each, or two of each"),
        ("hole-circle", {"circle": 21, "holes": 30}, "holes: 30 holes are no part of a circle of 21; whole turns are counted apart"),
        ("over-wires", {"thread": "1/2 NPT"}, "thread: 1/2 NPT is taper and is not measured over three wires; take a parallel thread"),
        ("flats-in-bar", {"diameter": "20 mm", "across_flats": "21 mm"},
         "across_flats: 21 mm across flats leaves no flat on a bar of 20 mm; take a larger bar or a smaller width"),
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_is_refused_in_one_line(name, given, message):
    with pytest.raises(BadValues) as caught:
        drawing_named(name).svg(given)
    assert str(caught.value) == message
