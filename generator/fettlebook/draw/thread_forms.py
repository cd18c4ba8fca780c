"""The profile of a thread with its dimensions, and a taper thread with its gauge plane."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import radians, sin, tan

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, View, arc_points, box, text_width
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.designations import thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.thread_forms import Form
from fettlebook.tables.thread_sizes import thread_length_mm
from fettlebook.tables.threads import Thread, plain

PITCH_ON_PAPER, LEFT, MIDDLE = 50.0, 60.0, 48.0
"""One pitch on paper, the first crest from the left, the pitch line from the top [mm]."""

EXAGGERATED = 3.0
"""How many times steeper than 1 in 16 a taper is drawn, so that it can be seen."""


def crest_cut(form: Form) -> float:
    """How much of the sharp triangle is missing at the crest, over the pitch: H/8, H/6, or half of what depth leaves."""
    return form.sharp_height / 8 if not form.even else (form.sharp_height - form.depth) / 2


def profile(form: Form) -> list[Point]:
    """The outline of an external thread from root to root over two crests, as multiples of the pitch.

    x runs along the axis from the first crest, y is 0 on the pitch line and grows away from the axis.
    """
    one = [*_crest(form), *_root(form)]
    first = [(x - 1, y) for x, y in _root(form)]
    return [
        *first[len(first) // 2 :],
        *one,
        *((x + 1, y) for x, y in one[: len(_crest(form)) + len(_root(form)) // 2 + 1]),
    ]


def _crest(form: Form) -> list[Point]:
    """The crest at x = 0, left to right: an arc where crest and root are rounded alike, else a flat."""
    half, top = form.angle_deg / 2, form.sharp_height / 2
    if form.even and form.radius:
        r = _radius(form)
        return _arc(0.0, top - r / sin(radians(half)), r, 180 - half, half)
    cut = crest_cut(form)
    flat = cut * tan(radians(half))
    return [(-flat, top - cut), (flat, top - cut)]


def _root(form: Form) -> list[Point]:
    """The root at x = 1/2, left to right: an arc, or a flat for NPT."""
    half, bottom = form.angle_deg / 2, -form.sharp_height / 2
    if form.radius:
        r = _root_radius(form)
        return _arc(0.5, bottom + r / sin(radians(half)), r, 180 + half, 360 - half)
    cut = crest_cut(form)
    flat = cut * tan(radians(half))
    return [(0.5 - flat, bottom + cut), (0.5 + flat, bottom + cut)]


def _radius(form: Form) -> float:
    """The radius that touches both flanks and the crest line, over the pitch."""
    return crest_cut(form) / (1 / sin(radians(form.angle_deg / 2)) - 1)


def _root_radius(form: Form) -> float:
    """The radius that touches both flanks and the root line, over the pitch."""
    missing = form.sharp_height - crest_cut(form) - form.root_depth
    return missing / (1 / sin(radians(form.angle_deg / 2)) - 1)


def _arc(x: float, y: float, r: float, start: float, end: float) -> list[Point]:
    """Points of an arc with y upwards, its middle among them, where the crest or root is furthest out."""
    half = (start + end) / 2
    points = [*arc_points((x, y), r, start, half)[:-1], *arc_points((x, y), r, half, end)]
    return [(px, 2 * y - py) for px, py in points]


def thread_form(thread: str, name: str = "thread-form") -> str:
    """The profile of the external thread of that designation, dimensioned in mm."""
    named = thread_named(thread)
    form, view = named.form, View(LEFT, MIDDLE, PITCH_ON_PAPER)
    floor = view(0, -form.sharp_height / 2)[1] + 4
    height = floor + 9 + 6 * (3 if named.taper else 2)
    d = Drawing(name, f"Form of {named.designation}", 170, height, {"thread": named.designation})
    outline = view.all(profile(form))
    d.polyline(outline)
    d.hatch([*outline, (outline[-1][0], floor), (outline[0][0], floor)], gaps=_radius_label(d, named, view))
    _sharp_lines(d, form, view)
    _dimensions(d, named, view)
    _figures_under(d, named, floor + 9)
    return d.svg()


def _sharp_lines(d: Drawing, form: Form, view: View) -> None:
    """The sharp triangle in narrow lines, and the pitch line as a chain line."""
    half, cut = form.sharp_height / 2, crest_cut(form)
    low = form.sharp_height - cut - form.root_depth
    for x in (0.0, 1.0):
        d.polyline(
            view.all([(x - cut * 0.6, half - cut * 1.2), (x, half), (x + cut * 0.6, half - cut * 1.2)]), "narrow"
        )
    for x in (0.5,):
        d.polyline(
            view.all([(x - low * 0.6, low * 1.2 - half), (x, -half), (x + low * 0.6, low * 1.2 - half)]), "narrow"
        )
    d.line(view(-0.62, 0), view(1.54, 0), "chain")
    d.text((view(0.5, 0)[0], view(0, 0)[1] - 1.2), "pitch line", "middle")


def _dimensions(d: Drawing, thread: Thread, view: View) -> None:
    form, pitch = thread.form, thread.pitch_mm
    half, top = form.sharp_height / 2, form.sharp_height / 2 - crest_cut(form)
    d.dim_horizontal(view(0, top), view(1, top), view(0, half)[1] - 7, f"P = {_mm(pitch)}")
    d.dim_angle(
        view(0.5, -half),
        0.78 * form.sharp_height * PITCH_ON_PAPER,
        90 - form.angle_deg / 2,
        90 + form.angle_deg / 2,
        f"{plain(form.angle_deg)}°",
    )
    right = view(1.5, 0)[0] + 7
    d.dim_vertical(view(1.0, top), view(1.5, top - form.root_depth), right, _mm(form.root_depth * pitch))
    d.dim_vertical(view(0, half), view(-0.5, -half), view(-0.5, 0)[0] - 12, f"H = {_mm(form.sharp_height * pitch)}")


def _radius_label(d: Drawing, thread: Thread, view: View) -> list[list[Point]]:
    """Writes the root radius on a leader from the middle root; gives the box that the hatching leaves free for it."""
    form = thread.form
    if not form.radius:
        return []
    r = _root_radius(form)
    words = f"R {_mm(r * thread.pitch_mm)}"
    root = view(0.5 + 0.3 * r, -form.sharp_height / 2 + r / sin(radians(form.angle_deg / 2)) - 0.954 * r)
    knee = (root[0] + 12, root[1] + 3)
    d.leader([root, knee], words)
    return [box(knee[0] + 0.3, knee[1] - 5.2, text_width(words) + 1.6, 5.6)]


def _figures_under(d: Drawing, thread: Thread, y: float) -> None:
    lines = [
        f"{thread.designation}: major {_mm(thread.major_mm)}, pitch diameter {_mm(thread.pitch_diameter_mm)}, minor {_mm(thread.minor_mm)} mm",
        f"{plain(thread.form.angle_deg)}°, P = {_mm(thread.pitch_mm)} mm ({plain(round(thread.tpi, 2))} per inch), H = {thread.form.sharp_height:.4f} P, "
        f"depth {thread.form.root_depth:.4f} P",
    ]
    if thread.taper:
        lines.append("drawn square to the axis; the thread tapers 1 in 16 on the diameter")
    d.lines_of_text((8, y), lines)


def _mm(value: float) -> str:
    return written(value, 3)


def taper_thread(thread: str) -> str:
    """A taper plug from the side: small end, gauge plane and useful thread; the taper is drawn steeper than it is."""
    named = _tapered(thread)
    length, gauge = thread_length_mm(named) or 0.0, named.gauge_length_mm or 0.0
    scale = 78 / length
    d = Drawing("taper-thread", f"{named.designation} from the side", 170, 112, {"thread": named.designation})
    small = 44.0

    def at(along_mm: float, side: int) -> Point:
        return 30 + along_mm * scale, 50 - side * (small / 2 + along_mm * scale * EXAGGERATED / 32)

    _plug(d, at, length)
    d.dim_horizontal(at(0, -1), at(gauge, -1), 84, f"{written(gauge, 2)}")
    d.dim_horizontal(at(0, -1), at(length, -1), 93, f"{written(length, 1)}")
    d.dim_vertical(at(0, 1), at(0, -1), 18, f"{written(named.small_end_mm, 2)}")
    plane = named.small_end_mm + named.taper * gauge
    x = at(gauge, 1)[0]
    d.line((x, at(gauge, 1)[1] - 4), (x, at(gauge, -1)[1] + 4), "chain")
    d.leader([at(gauge, 1), (x + 10, 14)], f"gauge plane: {_mm(plane)} over the crests")
    d.lines_of_text((8, 103), [f"{named.designation}: a caliper on the first thread reads {written(named.small_end_mm, 2)} mm.",
                               "Taper 1 in 16 on the diameter, drawn three times as steep."])  # fmt: skip
    return d.svg()


def _tapered(thread: str) -> Thread:
    named = thread_named(thread)
    if named.designation.startswith("Rc"):
        named = thread_named(named.designation.replace("Rc", "R"))
    if not named.taper:
        raise BadValue("thread", f"{named.designation} has no taper", "take an R or NPT thread, like R 1/2 or 1/2 NPT")
    return named


def _plug(d: Drawing, at: Callable[[float, int], Point], length: float) -> None:
    """Outline of the plug, its centre line, its root line narrow, and a piece of shank with a break line."""
    top, bottom = [at(0, 1), at(length, 1)], [at(length, -1), at(0, -1)]
    d.polyline([*top, *bottom, top[0]])
    for side in (1, -1):
        a, b = at(0, side), at(length, side)
        d.line((a[0], a[1] + side * 3), (b[0], b[1] + side * 3), "narrow")
    end = at(length, 1)[0] + 18
    for side in (1, -1):
        y = at(length, side)[1]
        d.line((at(length, side)[0], y), (end, y))
    d.break_line((end, at(length, 1)[1] - 2), (end, at(length, -1)[1] + 2))
    d.line((at(0, 1)[0] - 6, 50), (end + 5, 50), "chain")


def _form_alt(thread: str) -> str:
    named = thread_named(thread)
    form = named.form
    return (
        f"Section through the thread {named.designation}: flanks at {plain(form.angle_deg)}°, pitch {_mm(named.pitch_mm)} mm, depth to the root "
        f"{_mm(form.root_depth * named.pitch_mm)} mm of a sharp height of {_mm(form.sharp_height * named.pitch_mm)} mm; crest "
        f"{'rounded' if form.even and form.radius else 'flat'}, root {'rounded' if form.radius else 'flat'}."
    )


def _taper_alt(thread: str) -> str:
    named = _tapered(thread)
    return (
        f"{named.designation} from the side: {written(named.small_end_mm, 2)} mm over the crests at the small end, "
        f"{written(named.small_end_mm + named.taper * (named.gauge_length_mm or 0), 2)} mm at the gauge plane {written(named.gauge_length_mm or 0, 2)} mm further, "
        "tapering 1 in 16 on the diameter."
    )


def _drawn(name: str, title: str, default: str) -> Drawn:
    return Drawn(
        name,
        title,
        (Parameter("thread", "Thread", kind="text", default=default, example=default),),
        partial(thread_form, name=name),
        _form_alt,
        ("thread-sizes",),
    )


FIGURES = (
    _drawn("thread-form", "Form of a metric or Unified thread, 60°", "M10x1.5"),
    _drawn("thread-form-whitworth", "Form of a Whitworth or British pipe thread, 55°", "1/2 BSW"),
    _drawn("thread-form-ba", "Form of a BA thread, 47.5°", "2BA"),
    _drawn("thread-form-npt", "Form of an American pipe thread, 60°", "1/2 NPT"),
    Drawn("taper-thread", "A taper thread and its gauge plane", (Parameter("thread", "Thread", kind="text", default="R 1/2", example="R 1/2"),), taper_thread,
          _taper_alt, ("thread-sizes", "thread-finder")),
)  # fmt: skip
