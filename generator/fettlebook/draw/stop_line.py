"""A thread up to a shoulder with no undercut: the tool leaves on a line in every pass, a die follows to the line."""

from __future__ import annotations

from fettlebook.draw.definition import Drawn
from fettlebook.draw.sheet import Drawing, Point, short
from fettlebook.tables.definition import BadValue, Parameter
from fettlebook.tables.designations import thread_named

SHOULDER, AXES, LONG = 46.0, (46.0, 131.0), 84.0
"""Place of the shoulder across the sheet, heights of the two axes, and length of the thread on paper, in mm."""

PITCHES = 1.5
"""How many pitches the line stands before the shoulder where nothing else is said. Common practice: one to two."""


def line_before_mm(stop_mm: float | None, pitch_mm: float, length_mm: float) -> float:
    """How far the line stands before the shoulder [mm]: one and a half pitches if nothing is given.

    Raises BadValue where that cannot be.
    """
    stop = PITCHES * pitch_mm if stop_mm is None else stop_mm
    if stop < pitch_mm:
        raise BadValue(
            "stop",
            f"{short(stop)} mm before the shoulder is less than one pitch of {short(pitch_mm)} mm: the tool cannot be out of the cut that fast",
            "leave one and a half to two pitches",
        )
    if stop >= length_mm:
        raise BadValue("stop", f"{short(stop)} mm leaves nothing of a thread {short(length_mm)} mm long", "give the length to the shoulder")  # fmt: skip
    return stop


def stop_line(thread: str, length_mm: float, stop_mm: float | None) -> str:
    """Above: the tool at the line and its way out. Below: the die that follows to the line."""
    named = thread_named(thread)
    stop = line_before_mm(stop_mm, named.pitch_mm, length_mm)
    d = Drawing(
        "stop-line",
        f"Thread {named.designation} to a stop line",
        170,
        173,
        {"thread": thread, "length": length_mm, "stop": stop},
    )
    s = LONG / length_mm
    half = min(12.0, max(7.0, s * named.major_mm / 2))
    root, line = max(1.4, 0.12 * half), SHOULDER + max(6.0, s * stop)
    for axis in AXES:
        _part(d, axis, half, root, line)
    _tool(d, (line, AXES[0] + half - root))
    _die(d, AXES[1], half, line)
    top = AXES[0] - half
    d.dim_horizontal((SHOULDER, AXES[0] - 17), (SHOULDER + LONG, top), 9, short(length_mm))
    d.dim_horizontal((SHOULDER, AXES[0] - 17), (line, top), 21, short(stop))
    d.leader([(line + 0.4, top + 3), (line + 12, top - 6)], "line scribed all round, in blue", "dot")
    d.leader([(SHOULDER + LONG - 4, AXES[0] + half), (SHOULDER + LONG + 4, AXES[0] + half + 8)], named.designation)
    d.text(
        (4, 93),
        f"1  Lathe: in every pass the tool leaves on the line, {short(stop / named.pitch_mm)} pitches before",
        bold=True,
    )
    d.text((8, 98.5), "the shoulder.", bold=True)
    d.text((4, 164), "2  The die, in its tailstock holder, follows the cut thread to the line.", bold=True)
    d.text((8, 169.5), "The nut reaches the shoulder only with a washer or a counterbore.")
    return d.svg()


def _part(d: Drawing, axis: float, half: float, root: float, line: float) -> None:
    end = SHOULDER + LONG
    d.polyline([(16, axis - 17), (SHOULDER, axis - 17), (SHOULDER, axis + 17), (16, axis + 17)])
    d.break_line((16, axis - 17), (16, axis + 17))
    for side in (-1, 1):
        d.polyline(
            [(SHOULDER, axis + side * half), (end - root, axis + side * half), (end, axis + side * (half - root))]
        )
        d.polyline(
            [
                (line, axis + side * half),
                (line + root, axis + side * (half - root)),
                (end, axis + side * (half - root)),
            ],
            "narrow",
        )
    d.line((end, axis - half + root), (end, axis + half - root))
    d.line((end - root, axis - half), (end - root, axis + half))
    d.line((line, axis - half), (line, axis + half))
    d.line((10, axis), (end + 8, axis), "chain")


def _tool(d: Drawing, tip: Point) -> None:
    x, y = tip
    d.polygon([(x, y), (x + 4.6, y + 8), (x + 4.6, y + 18), (x - 4.6, y + 18), (x - 4.6, y + 8)])
    d.arrow((x, y + 20), (x, y + 28), "wide")
    d.text((x + 3, y + 26), "out")
    d.arrow((x + 26, y + 14), (x + 8, y + 14))
    d.text((x + 28, y + 14), "cuts this way", middle=True)


def _die(d: Drawing, axis: float, half: float, line: float) -> None:
    thick, outer = 18.0, 24.0
    for side in (-1, 1):
        near, far, out = axis + side * half, axis + side * (half + 3.5), axis + side * outer
        ring = [(line + 3.5, near), (line, far), (line, out), (line + thick, out), (line + thick, near)]
        d.hatch(ring, angle=135)
        d.polygon(ring)
    d.leader([(line + 1.5, axis - half - 2), (line - 12, axis - outer + 1)], "lead")
    d.leader([(line + thick, axis - outer + 4), (line + thick + 8, axis - outer + 1)], "die")
    d.arrow((line + thick + 22, axis + outer - 4), (line + thick + 4, axis + outer - 4))
    d.text((line + thick + 24, axis + outer - 4), "by hand, with oil", middle=True)


def _alt(thread: str, length_mm: float, stop_mm: float | None) -> str:
    named = thread_named(thread)
    stop = line_before_mm(stop_mm, named.pitch_mm, length_mm)
    return (
        f"Two views of a part with a shoulder and a thread {named.designation}, {short(length_mm)} mm long, without an undercut. Above, the lathe tool leaves on a scribed line "
        f"{short(stop)} mm, {short(stop / named.pitch_mm)} pitches, before the shoulder. Below, a die follows the cut thread to the line, its lead towards the shoulder."
    )


FIGURES = (
    Drawn(
        "stop-line",
        "Thread to a stop line, no undercut",
        (
            Parameter("thread", "Thread", kind="text", default="M12x1.75", example="M12x1.75"),
            Parameter("length", "Length to the shoulder", unit="mm", low=3, high=300, default=30.0, example="30 mm"),
            Parameter("stop", "Line before the shoulder", unit="mm", low=0.3, high=100, default=None, example="2.6 mm"),
        ),
        stop_line,
        _alt,
        ("thread-passes",),
    ),
)  # fmt: skip
