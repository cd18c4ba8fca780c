import re
from math import cos, hypot, log10, radians
from xml.etree import ElementTree

import pytest

from fettlebook.draw import geometry
from fettlebook.draw.sheet import Drawing, Scale, View, arc_points, box, regular_polygon

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing):
    return ElementTree.fromstring(drawing.svg())


def lines_of(path):
    """The straight lines of a path that is made of M and L only."""
    numbers = [[float(n) for n in re.findall(r"-?[\d.]+", run)] for run in path.split("M") if run]
    return [((x1, y1), (x2, y2)) for x1, y1, x2, y2 in numbers]


def test_a_sheet_is_an_image_with_a_title_and_millimetres():
    root = parsed(Drawing("plug", "Plug & seal", 120, 80))
    assert root.get("viewBox") == "0 0 120 80" and root.get("width") == "120mm" and root.get("role") == "img"
    assert root.find(f"{SVG}title").text == "Plug & seal"
    assert root.get("aria-labelledby") == root.find(f"{SVG}title").get("id")


def test_same_calls_give_same_bytes_and_other_parameters_other_ids():
    def made(given):
        d = Drawing("strip", "A strip", 100, 20, given)
        d.strip(0, 0, 80, 10, [(0, "#000000"), (1, "#ffffff")])
        return d.svg()

    assert made({"minutes": 5, "steel": "C45"}) == made({"steel": "C45", "minutes": 5})
    ids = [set(re.findall(r'id="([^"]+)"', made({"minutes": m}))) for m in (5, 60)]
    assert len(ids[0]) == 2 and not ids[0] & ids[1]


def test_ink_is_the_colour_of_the_text_around_and_nothing_is_painted_over():
    d = Drawing("all", "Everything", 200, 200)
    (
        d.rectangle(20, 20, 60, 30),
        d.circle((50, 35), 8),
        d.centre_mark((50, 35), 8),
        d.arc((80, 80), 10, 0, 200, "hidden"),
    )
    (
        d.hatch(box(20, 20, 60, 30)),
        d.dim_horizontal((20, 50), (80, 50), 62, "60"),
        d.leader([(30, 30), (90, 90)], "web", "dot"),
    )
    (
        d.dim_angle((100, 100), 20, 10, 70, "60°"),
        d.turning_arrow((30, 120), 8, 0, 270),
        d.break_line((10, 150), (60, 150)),
    )
    d.axes(100, 120, 60, 40, Scale(0, 10, "x"), Scale(0, 1, "y")).curve([(0, 0), (10, 1)])
    colours = {e.get(k) for e in parsed(d).iter() for k in ("fill", "stroke")} - {None}
    assert colours == {"none", "currentColor"}
    assert "<style" not in d.svg() and "<script" not in d.svg() and "foreignObject" not in d.svg()


# iso-128-2: two widths, 2 to 1.
def test_two_line_widths_two_to_one():
    d = Drawing("lines", "Lines", 100, 100)
    for y, kind in enumerate(("wide", "narrow", "hidden", "chain", "phantom", "grid")):
        d.line((0, y), (50, y), kind)
    root = parsed(d)
    widths = [float(e.get("stroke-width", root.get("stroke-width"))) for e in root.findall(f"{SVG}path")]
    assert set(widths) == {0.7, 0.35} and widths[0] == 2 * widths[1]
    assert [bool(e.get("stroke-dasharray")) for e in root.findall(f"{SVG}path")] == [
        False,
        False,
        True,
        True,
        True,
        False,
    ]
    with pytest.raises(ValueError, match="dotted is not a kind of line"):
        d.line((0, 0), (1, 1), "dotted")


@pytest.mark.parametrize("angle", [45, 135])
def test_hatching_fills_the_section_and_leaves_holes_and_words_free(angle):
    d = Drawing("hatch", "Section", 100, 100)
    d.hatch(box(20, 20, 60, 30), arc_points((50, 35), 8, 0, 355), gaps=[box(22, 30, 12, 6)], spacing=2.2, angle=angle)
    lines = lines_of(parsed(d).find(f"{SVG}path").get("d"))
    assert len(lines) > 30
    rise = {round((b[1] - a[1]) / (b[0] - a[0]), 1) for a, b in lines if hypot(b[0] - a[0], b[1] - a[1]) > 2}
    assert rise == ({-1.0} if angle == 45 else {1.0})
    for a, b in lines:
        for n in range(1, 10):
            x, y = a[0] + (b[0] - a[0]) * n / 10, a[1] + (b[1] - a[1]) * n / 10
            assert 19.9 <= x <= 80.1 and 19.9 <= y <= 50.1
            assert hypot(x - 50, y - 35) > 7.9
            assert not (22.1 < x < 33.9 and 30.1 < y < 35.9)
    area = 2.2 * sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in lines)
    assert area == pytest.approx(60 * 30 - 3.1416 * 64 - 72, rel=0.03)


def test_a_dimension_puts_figures_over_the_line_between_extension_lines_with_a_gap():
    d = Drawing("dim", "Dimension", 100, 100)
    d.dim_horizontal((80, 50), (20, 40), 62, "60")
    paths = [e.get("d") for e in parsed(d).findall(f"{SVG}path")]
    extensions = [lines_of(p)[0] for p in paths[:2]]
    assert extensions == [((20, 40.8), (20, 63.6)), ((80, 50.8), (80, 63.6))]
    text = parsed(d).find(f"{SVG}text")
    assert (text.get("x"), text.get("text-anchor"), text.text) == ("50", "middle", "60") and float(text.get("y")) < 62


# iso-129-1: figures read from the bottom or the right of the sheet.
@pytest.mark.parametrize(
    ("direction", "turn"),
    [
        ((1, 0), 0),
        ((-1, 0), 0),
        ((0, -1), -90),
        ((0, 1), -90),
        ((1, 1), 45),
        ((-1, -1), 45),
        ((1, -1), -45),
        ((-1, 1), -45),
    ],
)
def test_figures_read_from_the_bottom_or_the_right(direction, turn):
    assert geometry.reading_angle(geometry.towards((0, 0), direction)) == pytest.approx(turn)


def test_vertical_figures_stand_left_of_their_line_and_read_from_the_right():
    d = Drawing("dim", "Dimension", 100, 100)
    d.dim_vertical((50, 20), (50, 60), 30, "40")
    text = parsed(d).find(f"{SVG}text")
    assert text.get("transform").startswith("rotate(-90 ") and float(text.get("x")) < 30


def test_a_short_dimension_takes_its_figure_outside():
    d = Drawing("dim", "Dimension", 100, 100)
    d.dim_horizontal((20, 50), (24, 50), 62, "4")
    assert float(parsed(d).find(f"{SVG}text").get("x")) > 24 + 3


def test_a_small_circle_is_dimensioned_from_outside():
    d = Drawing("dim", "Dimension", 100, 100)
    d.dim_diameter((50, 50), 20, 45, "40"), d.dim_diameter((50, 50), 3, 45, "6")
    inside, outside = parsed(d).findall(f"{SVG}text")
    assert inside.text == "Ø40" and hypot(float(inside.get("x")) - 50, float(inside.get("y")) - 50) < 5
    assert outside.text == "Ø6" and float(outside.get("x")) > 53


def test_letters_too_small_to_read_are_refused():
    with pytest.raises(ValueError, match="letters of 3 mm are too small"):
        Drawing("small", "Small", 10, 10).text((1, 5), "x", size=3)


def test_what_stands_over_the_edge_is_told():
    d = Drawing("edge", "Edge", 50, 50)
    d.line((10, 10), (40, 40))
    assert d.overrun() == 0
    d.text((45, 20), "far too long for here")
    assert d.overrun() > 20


def test_axes_place_values_by_their_scale():
    d = Drawing("plot", "Plot", 150, 100)
    ax = d.axes(20, 10, 100, 60, Scale(1, 100, "min", transform=log10), Scale(0, 10, "nm"))
    assert (
        ax.at(10, 5) == pytest.approx((70, 40))
        and ax.at(1, 0) == (20, 70)
        and ax.at(100, 10) == pytest.approx((120, 10))
    )
    assert [words for _, words in ax.across.marks()] == ["1", "2", "5", "10", "20", "50", "100"]
    assert [value for value, _ in ax.up.marks()] == [0, 2, 4, 6, 8, 10]
    falling = Scale(500, 300, transform=lambda c: -1 / (c + 273.15))
    assert falling.place(500) == 0 and falling.place(300) == 1 and falling.place(390) == pytest.approx(0.4754, abs=1e-4)


def test_a_curve_is_cut_off_at_the_frame():
    d = Drawing("plot", "Plot", 150, 100)
    ax = d.axes(20, 10, 100, 60, Scale(0, 10), Scale(0, 10), grid=False)
    before = len(d.pieces)
    ax.curve([(-5, -5), (5, 5), (20, 20)])
    assert d.pieces[before:] == ['<path d="M20,70L70,40L120,10" stroke-width="0.7"/>']


def test_a_view_scales_and_turns_up():
    assert View(10, 50, 2).all([(0, 0), (5, 10)]) == [(10, 50), (20, 30)]


@pytest.mark.parametrize("sides", [4, 6, 8])
def test_a_polygon_has_its_flats_apart(sides):
    corners = regular_polygon((0, 0), 17, sides)
    across = {round(hypot(x, y) * 2 * cos(radians(180 / sides)), 6) for x, y in corners}
    assert across == {17}
    assert max(y for _, y in corners) == pytest.approx(8.5)
    assert 2 * hypot(*corners[0]) == pytest.approx(17 / cos(radians(180 / sides)))
