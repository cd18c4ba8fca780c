"""What the advice says in words: the verdict, what is left, what to look into."""

from __future__ import annotations

from fettlebook.tables.figures import written
from fettlebook.tables.least_squares import EQUAL, least
from fettlebook.tables.levelling_advice import Advice, Wish
from fettlebook.tables.levelling_layout import Layout
from fettlebook.tables.levelling_model import foot_matrix
from fettlebook.tables.levelling_plan import bend_share, bending_mm, watched
from fettlebook.tables.levelling_readings import Row
from fettlebook.tables.levelling_shape import shape


def signed(value: float, decimals: int = 1) -> str:
    """VALUE with its sign, as a level is read: +0.5, -1.0, 0.0.

    >>> signed(0.5), signed(-0.04)
    ('+0.5', '0.0')
    """
    text = written(value, decimals)
    return f"+{text}" if value > 0 and text.strip("0.") else text


def in_divisions(layout: Layout, readings: Row, wish: Wish) -> str:
    """Readings [mm/m] as the level shows them, station by station: `1: +0.5/-1.0; 2: 0.0/-0.5`."""
    half = len(layout.stations)
    shown = ["-" if v is None else signed((v + wish.zero) / wish.division) for v in readings]
    return "; ".join(f"{s.name}: {shown[m]}/{shown[m + half]}" for m, s in enumerate(layout.stations))


def place(layout: Layout, row: int) -> str:
    """A row of the readings in words: station 3 cross."""
    half = len(layout.stations)
    return f"station {layout.stations[row % half].name} {'long' if row < half else 'cross'}"


def verdict(layout: Layout, advice: Advice, wish: Wish, loose: tuple[int, ...]) -> str:
    """The verdict in one or two sentences."""
    names = " and ".join(layout.feet[j].name for j in loose)
    found = f"{place(layout, advice.worst_row)} is worst with {written(advice.worst / wish.division, 1)} divisions ({written(advice.worst, 3)} mm/m)"
    apart = " from the mean" if wish.goal == "untwisted" else ""
    limit = f"limit {written(wish.limit, 3)} mm/m"
    best = written(advice.best, 3)
    missing = sum(v is None for v in advice.readings)
    more = (
        f" {missing} of {len(advice.readings)} readings are missing: take them too before you trust this."
        if missing
        else ""
    )
    return {
        "loose": f"First seat foot {names}: bring it up until it just bears, then read every station again. "
        "Readings taken with a foot hanging do not show what the jacks do.",
        "done": f"Done, stop turning: {found}{apart}, {limit}.{more}",
        "edge": f"Inside the limit, but by less than the level can tell: {found}{apart}, {limit}. "
        f"Read that station again; turn nothing.{more}",
        "contrary": f"Turn nothing yet: the readings contradict one another; {found}{apart}, {limit}.",
        "stuck": f"Stop: {found}{apart}, {limit}, and the jacks that are free bring it no lower than {best} mm/m. "
        "Look for wear or dirt at that station, a wrong reading, or a foot that cannot move.",
        "go on": f"Go on: {found}{apart}, {limit}. After this round {best} mm/m is expected.",
    }[advice.verdict]


def notes(layout: Layout, advice: Advice, wish: Wish, loose: tuple[int, ...]) -> tuple[str, ...]:
    """The sentences under the table, the verdict first."""
    parts = shape(layout, advice.readings, wish.division)
    out = [verdict(layout, advice, wish, loose)]
    out.append("What is left: " + "; ".join(f"{part.name}: {part.words}" for part in parts) + ".")
    if advice.steps:
        out.append("Expect afterwards, long/cross in divisions: " + in_divisions(layout, advice.expected, wish) + ".")
        out.append(_how(advice))
        out.append("Before the next readings try every foot: none may be loose. A turning test has the last word; "
                   "tighten holding-down bolts evenly, read again then, after some days, and at working temperature.")  # fmt: skip
    return tuple(out)


def _how(advice: Advice) -> str:
    rounds = advice.steps[0].by_screw
    last = "turn one jack after the other, in this order, until the bubble at its station shows the figure given"
    if any(step.row < 0 for step in advice.steps):
        last += "; where no bubble is named, the last portion by the screw as well"
    if not rounds:
        return last[0].upper() + last[1:] + "; degrees are only a guide."
    times = "Once" if rounds == 1 else f"{rounds} times"
    return f"{times} round all jacks by the screw, one portion each, so that no foot is left hanging; then {last}."


def warnings(layout: Layout, advice: Advice, wish: Wish, loose_before: bool, loose: tuple[int, ...]) -> tuple[str, ...]:
    """What must be looked into before anything is turned."""
    out = []
    if loose and loose_before:
        out.append(
            "A foot is loose for the second round running: stop turning and look at the floor, the packing and the foot."
        )
    if advice.suspicion:
        out.append(_suspected(layout, advice))
    if advice.doubted >= 0:
        out.append(f"The reading at {place(layout, advice.doubted)} fits neither its neighbours nor anything the jacks "
                   "can do; it is left out here. Clean that spot and read it again; if it stays, the way is worn there.")  # fmt: skip
    if advice.contrary:
        out.append(f"The readings contradict one another: {written(100 * advice.contrary, 0)} percent of what they show (in squares) is "
                   "nothing that jacks can make or mend. Read every station again with the level laid the same way round, "
                   "the carriage in one place and no foot loose, before you turn anything.")  # fmt: skip
    blind = [
        foot.name
        for j, foot in enumerate(layout.feet)
        if foot.jack and watched(foot_matrix(layout), advice.readings, j) < 0
    ]
    if blind and advice.verdict in {"go on", "stuck"}:
        out.append(f"No reading taken shows what jack {' and '.join(blind)} does: read the stations near it.")
    lifts = [0.0] * len(layout.feet)
    for step in advice.steps:
        lifts[step.foot] = step.mm
    bend = bending_mm(layout, lifts)
    if advice.steps and bend_share(layout, bend) <= 1.001:
        j = least([-abs(b) for b in bend])
        out.append(f"This bends the bed as far as one round should ({written(abs(bend[j]), 2)} mm at foot {layout.feet[j].name}); "
                   "a foot may go light. Try every foot afterwards.")  # fmt: skip
    far = sum(abs(v + wish.zero) > wish.vial * wish.division * (1 + EQUAL) for v in advice.readings if v is not None)
    if far:
        out.append(f"{far} {'reading lies' if far == 1 else 'readings lie'} beyond the {wish.vial:g} divisions that the vial shows: read or guessed? "
                   "Take the large tilt out with a coarser level first.")  # fmt: skip
    if wish.limit < wish.noise:
        out.append(f"The limit is finer than the level can be read ({written(wish.noise, 4)} mm/m).")
    return tuple(out)


def _suspected(layout: Layout, advice: Advice) -> str:
    odd = advice.suspicion
    assert odd is not None
    name = layout.feet[odd.foot].name if odd.foot >= 0 else ""
    where = place(layout, odd.row) if odd.row >= 0 else ""
    off = f"The last round changed the readings {written(100 * odd.part, 0)} percent otherwise than foretold. "
    return (
        off
        + {
            "idle": f"It looks as if jack {name} did nothing: its foot is off the floor, or the screw is seized or slips. "
            "Try it; if so, name it among those that stay.",
            "backwards": f"It looks as if jack {name} went the other way: try which way its screw lifts.",
            "long": "All long readings went the other way: was the level turned end for end, or its sign taken wrongly?",
            "cross": "All cross readings went the other way: was the level turned end for end, or its sign taken wrongly?",
            "reading": f"Only {where} disagrees: read it again.",
            "nothing": "Nothing changed at all: were the old readings written again, or was nothing turned? If jacks were turned, "
            "their feet hang or their screws slip.",
            "unknown": "Look for a loose foot, a seized screw, a reading with the wrong sign, or the wrong jack turned; "
            "nothing is learnt from that round.",
        }[odd.kind]
    )
