"""The definition of a drawing, and every drawing in the catalogue."""

import re
from math import cos, radians, sin
from xml.etree import ElementTree

import pytest

from fettlebook.draw.catalogue import drawing_named, drawings
from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, text_width
from fettlebook.tables.definition import BadValue, BadValues, Parameter

SVG = "{http://www.w3.org/2000/svg}"


def plate(width_mm, words):
    d = Drawing("plate", "A plate", 120, 60, {"width": width_mm})
    d.rectangle(10, 10, width_mm, 20)
    d.text((10, 50), words)
    return d.svg()


PLATE = Drawn(
    "plate",
    "A plate",
    (Parameter("width", "Width", unit="mm", low=1, high=100, example="60 mm"), Parameter("words", "Words", kind="text", default="steel")),
    plate,
    lambda width_mm, words: f"A plate {width_mm:g} mm wide, of {words} & more",
)  # fmt: skip


def test_parameters_are_read_as_a_table_reads_them():
    root = ElementTree.fromstring(PLATE.svg({"width": "2 in"}))
    assert root.find(f"{SVG}rect").get("width") == "50.8"
    assert root.find(f"{SVG}desc").text == "A plate 50.8 mm wide, of steel & more"
    assert ElementTree.fromstring(PLATE.svg({"width": 20}, "Just so")).find(f"{SVG}desc").text == "Just so"


def test_every_fault_is_told_at_once():
    with pytest.raises(BadValues) as told:
        PLATE.svg({"widht": 3, "words": ""})
    assert [str(fault) for fault in told.value.faults] == [
        'widht: the drawing plate has no such parameter; did you mean "width"?',
        "width: must be given; for example 60 mm",
        "words: nothing is written here",
    ]


def test_an_unknown_drawing_is_told_with_its_neighbours():
    with pytest.raises(BadValue, match="there is no drawing"):
        drawing_named("no-such-drawing")


def sticks_out(text, width, height):
    """Whether words run over the edge of the sheet, by the pen's own estimate of their width."""
    x, y, size = float(text.get("x")), float(text.get("y")), float(text.get("font-size", 4.2))
    long = text_width(text.text, size)
    start = {"middle": -long / 2, "end": -long}.get(text.get("text-anchor"), 0)
    turned = re.search(r"rotate\((-?[\d.]+)", text.get("transform") or "rotate(0")
    c, s = cos(radians(float(turned[1]))), sin(radians(float(turned[1])))
    corners = [(x + u * c - v * s, y + u * s + v * c) for u in (start, start + long) for v in (0, -0.7 * size)]
    return not all(0 <= a <= width and 0 <= b <= height for a, b in corners)


@pytest.mark.parametrize("drawn", drawings().values(), ids=drawings().keys())
def test_every_drawing_keeps_the_rules_of_the_sheet(drawn):
    examples = {p.name: p.example for p in drawn.parameters if p.required}
    svg = drawn.svg(examples)
    assert svg == drawn.svg(examples)
    root = ElementTree.fromstring(svg)
    assert root.get("role") == "img" and root.find(f"{SVG}title").text and len(drawn.words(examples)) > 20
    x, y, width, height = (float(n) for n in root.get("viewBox").split())
    assert (x, y) == (0, 0) and 90 <= width <= 180 and height <= 240
    sizes = [float(e.get("font-size", root.get("font-size"))) for e in root.iter(f"{SVG}text")]
    assert all(size >= 3.5 for size in sizes)
    assert not {e.tag for e in root.iter()} & {f"{SVG}script", f"{SVG}style", f"{SVG}foreignObject", f"{SVG}image"}
    assert [e.text for e in root.iter(f"{SVG}text") if sticks_out(e, width, height)] == []
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids)) and all(each.startswith(f"{drawn.name}-") for each in ids)
