"""Milling a helix on the dividing head: gears from the table's screw to the head, for long leads and for short ones."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, pi

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.dividing import USUAL_GEARS
from fettlebook.tables.figures import written
from fettlebook.tables.gear_trains import Found, Stand, Train, compound_fits, nearest_trains, train_ratio
from fettlebook.tables.gearing import leadscrew_lead_mm

USUAL_SCREW = "4 tpi"
"""Feed screw of the tables for which the leads of old lists are worked out: a quarter of an inch."""

SWIVEL = 45.0
"""How far the table of a universal milling machine turns either way [deg]: common practice."""


def helix_lead_mm(screw_mm: float, turns_of_head: int, train: tuple[int, ...]) -> float:
    """Lead of the helix: how far the table goes while the work turns once.

        lead = lead of the screw x turns of the head x driven / drivers

    screw_mm        lead of the table's feed screw [mm]
    turns_of_head   of the worm for one turn of the work (40); 1 where the gears drive the spindle itself
    train           teeth from the screw on: gear on the screw, driven on the stud, driver on the stud, gear on the worm

    Source: milling-treatise, pages 62 and 63

    >>> round(helix_lead_mm(6.35, 40, (100, 44, 40, 56)) / 25.4, 3), round(helix_lead_mm(6.35, 1, (100, 44, 40, 56)) / 25.4, 3)
    (6.16, 0.154)
    """
    return screw_mm * turns_of_head / train_ratio(train)


def helix_angle_deg(lead_mm: float, diameter_mm: float) -> float:
    """Angle to which the table is swung: of the helix to the axis of the work.

        tan(angle) = pi x diameter / lead

    Source: definition

    >>> round(helix_angle_deg(1000, 1000 / pi), 6)
    45.0
    """
    return degrees(atan(pi * diameter_mm / lead_mm))


def helix_leads(
    lead_mm: float,
    diameter_mm: float | None = None,
    divisions: int | None = None,
    screw: str = USUAL_SCREW,
    ratio: int = 40,
    direct: bool = False,
    gears: tuple[int, ...] = USUAL_GEARS,
    clearance: int = 15,
    count: int = 10,
) -> Table:
    """The gears nearest to a lead, best first.

    lead_mm      wanted [mm]
    diameter_mm  of the work, for the angle of the table
    divisions    grooves or teeth; with DIRECT only gears on the spindle that it divides are shown
    screw        feed screw of the table, as written, with its unit
    ratio        turns of the worm for one turn of the work
    direct       short leads: the worm out of mesh and the gears on the spindle itself
    gears        of the head, from 2 to 16 of them
    """
    if not 2 <= len(gears) <= 16:
        raise BadValue(
            "gears", f"{len(gears)} gears are given; from 2 to 16 can be searched", "list the gears of your head"
        )
    screw_mm = _screw_mm(screw)
    turns = 1 if direct else ratio
    # A gear that divides the work without the plate is rare: all trains are looked through, then thinned out.
    wanted = 4000 if direct and divisions else count
    found = nearest_trains(screw_mm * turns / lead_mm, gears, True, Stand(clearance), wanted)
    fitting = [one for one in found if one.fits]
    if direct and divisions:
        fitting = [each for one in fitting if (each := _dividing(one, divisions, clearance))]
        if not fitting:
            raise BadValue("divisions", f"no gear on the spindle is a multiple of {divisions}", "then the work cannot be indexed by its teeth; use another gear or a short-lead attachment")  # fmt: skip
    if not fitting:
        raise BadValue(
            "gears", "none of the trains passes the tooth-sum test", "give more gears, or a smaller clearance"
        )
    rows = tuple(
        _row(one, screw_mm, turns, lead_mm, diameter_mm, divisions if direct else None) for one in fitting[:count]
    )
    return Table(rows, _notes(direct, divisions), _warnings(rows, diameter_mm, lead_mm, screw_mm * turns, direct))


def _dividing(one: Found, divisions: int, clearance: int) -> Found | None:
    """The same gears hung so that the one on the spindle is a multiple of DIVISIONS; None where no such way fits."""
    ways: list[Train] = [one.train]
    if len(one.train) == 4:
        a, b, c, d = one.train
        ways = [(a, b, c, d), (a, d, c, b), (c, b, a, d), (c, d, a, b)]
        ways = [way for way in ways if compound_fits(way, Stand(clearance))]
    return next((replace(one, train=way) for way in ways if way[-1] % divisions == 0), None)


def _screw_mm(screw: str) -> float:
    try:
        return leadscrew_lead_mm(screw)
    except BadValue as fault:
        raise BadValue("screw", fault.what, fault.hint) from None


def _row(
    one: Found, screw_mm: float, turns: int, lead_mm: float, diameter_mm: float | None, divisions: int | None
) -> dict[str, object]:
    got = lead_mm if one.error == 0 else helix_lead_mm(screw_mm, turns, one.train)
    return {
        "gear_on_screw": one.train[0],
        "stud_gears": one.train[1:-1] or None,
        "gear_on_head": one.train[-1],
        "lead_mm": got,
        "error_mm": got - lead_mm,
        "error_percent": 100 * (got / lead_mm - 1),
        "angle_deg": None if diameter_mm is None else helix_angle_deg(got, diameter_mm),
        "teeth_to_advance": None if divisions is None else one.train[-1] // divisions,
    }


def _notes(direct: bool, divisions: int | None) -> tuple[str, ...]:
    notes = [
        "One idler more or less turns the hand of the helix. Without gears on the stud any idler joins the two. "
        "Try it without a cut: the work must turn the way you want while the table feeds."
    ]
    if direct:
        notes.append(
            "Worm out of mesh, gears on the spindle itself: the plate cannot index. Swing the gears out of mesh and turn the gear on the "
            "spindle by whole teeth"
            + (", as the last column says." if divisions else "; give the divisions to see which gears allow it.")
        )
    else:
        notes.append(
            "Index by the plate as usual, with the table where it stands; the plate's stop pin is drawn while the table feeds."
        )
    return tuple(notes)


def _warnings(
    rows: tuple[dict[str, object], ...], diameter_mm: float | None, lead_mm: float, machine_mm: float, direct: bool
) -> tuple[str, ...]:
    said = []
    best = abs(float(rows[0]["error_percent"]))  # type: ignore[arg-type]
    if best > 1:
        said.append(f"The nearest gears are {written(best, 2)} percent off the lead.")
    if not direct and lead_mm < machine_mm / 10:
        said.append(
            "A lead this short turns the head fast and strains worm and gears: put the gears on the spindle itself (direct)."
        )
    if diameter_mm is not None and (angle := helix_angle_deg(lead_mm, diameter_mm)) > SWIVEL:
        said.append(
            f"The table must swing {written(angle, 1)}°, and tables stop at about {SWIVEL:g}°: use an end mill on the axis, or a swivelling head."
        )
    return tuple(said)


TABLES = (
    Definition(
        name="helix-leads",
        title="Gears for milling a helix",
        about="Gears from the table's feed screw to the dividing head, so that the work turns while the table feeds: flutes of drills and reamers, "
        "helical teeth. Swing the table to the angle and set the cutter over the middle of the work first. Lock the supply off before you change "
        "gears, and put the guard back. Short leads put the gears on the spindle itself, with the worm out of mesh.",
        group="Dividing and flats",
        parameters=(
            Parameter("lead", "Lead wanted", unit="mm", low=1, high=5000, example="250 mm", help="how far the groove goes while it turns once"),
            Parameter("diameter", "Diameter of the work", unit="mm", low=0.5, high=1000, default=None, example="25 mm"),
            Parameter("divisions", "Grooves or teeth", kind="whole", low=1, high=1000, default=None, example="9"),
            Parameter("screw", "Table's feed screw", kind="text", default=USUAL_SCREW, shop="table_screw", example="5 mm", help="with its unit: 5 mm, or 4 tpi"),
            Parameter("ratio", "Turns of the crank for one turn of the work", kind="whole", low=1, high=720, shop="dividing_ratio", default=40, example="40"),
            Parameter("direct", "Gears on the spindle (short leads)", kind="flag", default=False, example="true"),
            Parameter("gears", "Gears of the head", kind="whole", many=True, low=12, high=200, shop="dividing_gears", default=USUAL_GEARS,
                      example="24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100"),
            Parameter("clearance", "Teeth to clear a shaft", kind="whole", low=0, high=60, default=15, example="15"),
            Parameter("count", "Trains to show", kind="whole", low=1, high=50, default=10, example="10"),
        ),
        columns=(
            Column("gear_on_screw", "Gear on screw"),
            Column("stud_gears", "Gears on stud", kind="list", help="driven by the screw's gear, then the one that drives the head"),
            Column("gear_on_head", "Gear on the head", help="on the worm shaft; with short leads on the spindle"),
            Column("lead_mm", "Lead it gives", "mm", decimals=3),
            Column("error_mm", "Off by", "mm", decimals=3),
            Column("error_percent", "Error", "percent", decimals=3),
            Column("angle_deg", "Swing the table", "deg", decimals=2),
            Column("teeth_to_advance", "Teeth for one division"),
        ),
        compute=helix_leads,
        sources=(Cite("milling-treatise", "pages 62 and 63"), Cite("common-practice", "tooth-sum test with 15 teeth", "practice")),
        holds="heads geared from the table's screw, trains of two or four gears; which idlers turn the hand differs from head to head",
        also=("helical milling", "spiral milling", "lead of a helix", "flutes", "universal dividing head", "short lead"),
        examples=({"lead": "250 mm", "diameter": "25 mm"}, {"lead": "0.261 in", "direct": "true", "divisions": 9}, {"lead": "6.16 in"}),
    ),
)  # fmt: skip
