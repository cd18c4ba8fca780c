"""The map of an order: every box is there once, under what it waits for, and every line leads to the right one."""

import re
from xml.etree import ElementTree

import pytest

from fettlebook.draw.order_map import Box, order_map

SVG = "{http://www.w3.org/2000/svg}"
DIAMOND = (
    Box(1, "Start"),
    Box(2, "Left", (1,)),
    Box(3, "Right", (1,), True),
    Box(4, "Join", (2, 3), False, "#stage-join"),
)
LONG = (*DIAMOND, Box(5, "After all of that, with a name of many words", (1, 4)), Box(6, "Beside", (1,)))


def shown(boxes):
    """(root, {number: (x, y, width, height)} of the wide frames, in the order of the texts)."""
    root = ElementTree.fromstring(order_map("Order", boxes))
    frames = [e for e in root.iter(f"{SVG}rect") if e.get("stroke-width") == "0.7"]
    numbers = [int(m[1]) for e in root.iter(f"{SVG}text") if (m := re.match(r"(\d+) ", e.text))]
    return root, dict(zip(numbers, [tuple(float(f.get(k)) for k in ("x", "y", "width", "height")) for f in frames], strict=True))  # fmt: skip


@pytest.mark.parametrize(
    "boxes", [DIAMOND, LONG, tuple(Box(n, "One", (n - 1,) if n > 1 else ()) for n in range(1, 13))]
)
def test_each_box_stands_under_what_it_waits_for_and_none_touches_another(boxes):
    root, frames = shown(boxes)
    assert sorted(frames) == [box.number for box in boxes]
    for box in boxes:
        assert all(frames[m][1] + frames[m][3] < frames[box.number][1] for m in box.after)
    for n, (x, y, w, h) in frames.items():
        for m, (u, v, s, t) in frames.items():
            assert n == m or x + w < u or u + s < x or y + h < v or v + t < y
    _, _, width, height = (float(v) for v in root.get("viewBox").split())
    assert all(x >= 0 and y >= 0 and x + w <= width and y + h <= height for x, y, w, h in frames.values())


def test_an_arrow_ends_at_every_box_that_waits_and_at_no_other():
    root, frames = shown(LONG)
    heads = [p.get("d") for p in root.iter(f"{SVG}path") if p.get("fill") == "currentColor"]
    tips = sorted(tuple(float(v) for v in re.match(r"M([\d.]+),([\d.]+)", d).groups()) for d in heads)
    assert tips == sorted({(round(x + w / 2, 2), y) for n, (x, y, w, _) in frames.items() if n != 1})


def test_a_line_past_a_row_goes_through_no_box():
    root, frames = shown(LONG)
    for path in root.iter(f"{SVG}path"):
        points = [tuple(map(float, p.split(","))) for p in re.findall(r"[\d.]+,[\d.]+", path.get("d"))]
        if path.get("fill") == "currentColor":
            continue
        for (a, b), (c, d) in zip(points, points[1:], strict=False):
            for x, y, w, h in frames.values():
                inside = x < max(a, c) and min(a, c) < x + w and y + 0.1 < max(b, d) and min(b, d) < y + h - 0.1
                assert not inside, f"the line {a},{b} to {c},{d} runs through a box"


def test_a_signed_box_has_two_frames_and_a_box_that_leads_somewhere_is_a_link():
    root, frames = shown(DIAMOND)
    inner = [e for e in root.iter(f"{SVG}rect") if e.get("stroke-width") is None and e.get("stroke") is None]
    assert len(inner) == 1 and frames[3][0] < float(inner[0].get("x")) < frames[3][0] + frames[3][2]
    (link,) = root.iter(f"{SVG}a")
    assert link.get("href") == "#stage-join" and [t.text for t in link.iter(f"{SVG}text")] == ["4 Join"]


def test_same_order_same_bytes():
    assert order_map("Order", LONG) == order_map("Order", LONG)
