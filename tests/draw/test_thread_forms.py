"""The drawn profile of each form is the form, and the drawings keep to the sheet."""

import pytest

from fettlebook.draw import thread_forms as drawn
from fettlebook.draw.catalogue import drawing_named
from fettlebook.draw.pen import Pen
from fettlebook.tables.definition import BadValues
from fettlebook.tables.thread_forms import BRITISH_ASSOCIATION, FORMS, ISO, NPT, WHITWORTH

FIVE = list(dict.fromkeys(FORMS.values()))


@pytest.mark.parametrize("form", FIVE, ids=lambda form: form.name)
def test_the_profile_has_the_depth_and_the_pitch_of_its_form(form):
    points = drawn.profile(form)
    heights = [y for _, y in points]
    assert max(heights) - min(heights) == pytest.approx(form.root_depth, abs=1e-6)
    assert points[-1][0] - points[0][0] == pytest.approx(2, abs=0.03)
    assert [x for x, _ in points] == sorted(x for x, _ in points)


@pytest.mark.parametrize("form", FIVE, ids=lambda form: form.name)
def test_the_groove_is_half_a_pitch_wide_on_the_pitch_line(form):
    # the definition of the pitch diameter, ISO 5408: thread and groove are of equal width there
    points = drawn.profile(form)
    crossings = [
        x1 + (x2 - x1) * y1 / (y1 - y2) for (x1, y1), (x2, y2) in zip(points, points[1:], strict=False) if y1 * y2 < 0
    ]
    widths = [b - a for a, b in zip(crossings, crossings[1:], strict=False)]
    assert len(crossings) == 4 and widths == pytest.approx([0.5, 0.5, 0.5], abs=1e-6)


def test_radii_that_follow_from_the_geometry_are_the_standard_ones():
    # ISO 68-1: H/6; BS 84: 0.137329 P; BS 93: 0.1808 P for 0BA
    assert drawn._root_radius(ISO) == pytest.approx(ISO.sharp_height / 6, rel=1e-9)
    assert drawn._radius(WHITWORTH) == pytest.approx(0.137329, abs=2e-6)
    assert drawn._radius(BRITISH_ASSOCIATION) == pytest.approx(0.1808, abs=1e-4)


def test_an_american_pipe_thread_is_cut_off_by_the_least_truncation():
    # ASME B1.20.1: crest and root truncated by at least 0.033 P
    assert drawn.crest_cut(NPT) == pytest.approx(0.033, abs=5e-5)


@pytest.mark.parametrize(
    "thread", ["M1", "M150x8", "1/2-13", "6 BSW", "0BA", "16BA", "G 1/8", "R 1/2", "12 NPT", "0-80"]
)
def test_every_size_fits_on_the_sheet(thread, monkeypatch):
    over = []
    svg = Pen.__init__
    monkeypatch.setattr(
        Pen, "__init__", lambda self, *args, **kwargs: (svg(self, *args, **kwargs), over.append(self))[0]
    )
    drawn.thread_form(thread)
    if thread in {"R 1/2", "12 NPT"}:
        drawn.taper_thread(thread)
    assert over and all(pen.overrun() == 0 for pen in over)


def test_figures_of_the_drawing_are_those_of_the_thread():
    svg = drawing_named("thread-form").svg({"thread": "1/2-13"})
    assert "1/2-13 UNC: major 12.700, pitch diameter 11.431, minor 10.585 mm" in svg
    assert "20.443" not in svg and "60°" in svg


def test_a_parallel_thread_has_no_gauge_plane():
    with pytest.raises(BadValues, match="G 1/2 has no taper; take an R or NPT thread"):
        drawing_named("taper-thread").svg({"thread": "G 1/2"})
    assert "20.955" in drawing_named("taper-thread").svg({"thread": "Rc 1/2"})
