"""Change wheels for a thread: which wheels of the drawer to put between spindle and leadscrew, and what error they leave."""

from __future__ import annotations

import re

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written
from fettlebook.tables.gear_trains import Found, Stand, nearest_trains, train_ratio
from fettlebook.tables.quantities import Unreadable, read_number, read_quantity

USEFUL = 0.02
"""Trains further off than this are not shown when a nearer one is: no nut takes them."""

USUAL_GEARS = (20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100, 110, 120, 127)
"""A drawer of twenty wheels by fives, with the 127 that joins inch and metric: common practice."""


def leadscrew_lead_mm(text: str) -> float:
    """Lead of a leadscrew as written: `6 mm`, `8 tpi`, `8 threads per inch`, `1/4 in`.

    gives    [mm], from 0.5 to 51
    errors   BadValue for a bare number, which could be either

    >>> leadscrew_lead_mm("8 tpi"), leadscrew_lead_mm("6 mm")
    (3.175, 6.0)
    """
    plain = re.sub(r"(threads?\s+)?per\s+in(ch)?$", "tpi", text.strip().lower())
    hint = 'for example "6 mm" or "8 tpi"'
    try:
        read_number(plain)
        raise BadValue("leadscrew", f'"{text}" could be millimetres or threads per inch', hint)
    except Unreadable:
        pass
    try:
        unit = "tpi" if plain.endswith("tpi") else "mm"
        figure = read_quantity(plain, unit)
    except Unreadable as fault:
        raise BadValue("leadscrew", str(fault), hint) from None
    lead = figure if unit == "mm" else 25.4 / figure if figure > 0 else 0.0
    if not 0.5 <= lead <= 51:
        raise BadValue("leadscrew", f"{text} is no leadscrew's lead; it lies between 0.5 and 51 mm", hint)
    return lead


def wanted_lead_mm(pitch_mm: float | None, tpi: float | None, starts: int) -> float:
    """Lead of the thread to be cut [mm], from its pitch or its threads per inch, and its starts.

        lead = starts x pitch = starts x 25.4 / tpi

    >>> wanted_lead_mm(None, 12, 1) == 25.4 / 12, wanted_lead_mm(1.5, None, 2)
    (True, 3.0)
    """
    if (pitch_mm is None) == (tpi is None):
        both = "give pitch or tpi, not both" if tpi is not None else "the pitch or the threads per inch must be given"
        raise BadValue("pitch", both, 'for example pitch "1.5 mm", or tpi 12')
    pitch = pitch_mm if pitch_mm is not None else 25.4 / tpi  # type: ignore[operator]
    return starts * pitch


def change_gears(
    pitch_mm: float | None,
    tpi: float | None,
    leadscrew: str,
    gears: tuple[int, ...] = USUAL_GEARS,
    compound: bool = True,
    starts: int = 1,
    mounted: tuple[int, ...] = (),
    stud: float = 1.0,
    clearance: int = 15,
    centres_mm: float | None = None,
    module_mm: float | None = None,
    count: int = 10,
) -> Table:
    """The trains nearest to a thread's lead, best first.

        drivers / driven = lead of the thread / (lead of the leadscrew x turns of the first wheel per spindle turn)

    pitch_mm, tpi   of the thread, one of the two [mm], [1/in]
    leadscrew       as written, with its unit
    gears           teeth of the wheels at hand, from 2 to 40 of them
    stud            turns of the first wheel for one turn of the spindle
    mounted         the train on the lathe now, 2 or 4 wheels from the spindle
    """
    lead, screw = wanted_lead_mm(pitch_mm, tpi, starts), leadscrew_lead_mm(leadscrew)
    _check_drawer(gears, mounted, centres_mm, module_mm)
    ratio = lead / (screw * stud)
    stand = Stand(clearance, centres_mm, module_mm, mounted)
    found = nearest_trains(ratio, gears, compound, stand, count)
    shown = _shown(found, count)
    rows = tuple(_row(one, screw * stud, lead, starts) for one in shown)
    mixed = (tpi is not None) != bool(re.search(r"tpi|in|[\"″”]", leadscrew.lower()))
    return Table(rows, _notes(shown, mixed, gears), _warnings(shown))


def _check_drawer(
    gears: tuple[int, ...], mounted: tuple[int, ...], centres: float | None, module: float | None
) -> None:
    if not 2 <= len(gears) <= 40:
        raise BadValue(
            "gears", f"{len(gears)} wheels are given; from 2 to 40 can be searched", "list the wheels you have"
        )
    if len(mounted) not in (0, 2, 4):
        raise BadValue(
            "mounted", f"{len(mounted)} wheels are no train", "write 2 or 4 wheels from the spindle on, like 40, 80"
        )
    if (centres is None) != (module is None):
        missing = "module" if module is None else "centres"
        raise BadValue(missing, "centres and module are needed together", "give both, or neither")


def _shown(found: list[Found], count: int) -> list[Found]:
    """The best that fit and are worth a trial, then up to three nearer ones that do not fit."""
    fitting = worth_showing([one for one in found if one.fits][:count])
    others = [one for one in found if not one.fits]
    if not fitting:
        return worth_showing(others[:count])
    return fitting + [one for one in others if abs(one.error) < abs(fitting[0].error)][:3]


def worth_showing(found: list[Found]) -> list[Found]:
    """Those within USEFUL, or as near as the best."""
    return [one for one in found if abs(one.error) <= max(USEFUL, abs(found[0].error))]


def _row(one: Found, screw_mm: float, lead_mm: float, starts: int) -> dict[str, object]:
    got = train_ratio(one.train) * screw_mm
    error = 0.0 if one.error == 0 else got / lead_mm - 1
    pitch = (lead_mm if one.error == 0 else got) / starts
    return {
        "drivers": one.train[::2],
        "driven": one.train[1::2],
        "idler": one.idler,
        "pitch_mm": pitch,
        "tpi": 25.4 / pitch,
        "error_percent": 100 * error,
        "error_mm_per_300": 300 * error,
        "fits": one.fits,
        "wheels_to_change": one.changes,
    }


def _notes(shown: list[Found], mixed: bool, gears: tuple[int, ...]) -> tuple[str, ...]:
    notes = []
    best = shown[0].error
    if best:
        notes.append(
            f"No exact train in this drawer: the best is out by {written(abs(best) * 10000, 1)} µm over a nut 10 mm long, "
            f"{written(abs(best) * 300, 3)} mm over 300 mm."
        )
    if mixed and best and not any(teeth % 127 == 0 for teeth in gears):
        notes.append("Between inch and millimetre only a wheel of 127 teeth (or a multiple of it) is exact.")
    if mixed:
        notes.append(
            "Inch thread on a metric leadscrew or the reverse: keep the half-nut closed and reverse the lathe."
        )
    return tuple(notes)


def _warnings(shown: list[Found]) -> tuple[str, ...]:
    warnings = []
    if abs(shown[0].error) > 0.005:
        warnings.append(
            f"The nearest train is {written(abs(shown[0].error) * 100, 2)} percent off: no thread for a nut."
        )
    if not shown[0].fits:
        warnings.append("None of these trains passes the tooth-sum test: a wheel would foul a shaft.")
    return tuple(warnings)


TABLES = (
    Definition(
        name="change-gears",
        title="Change gears for a thread",
        about="Finds the wheels from your drawer for a thread. Drivers count from the spindle: the first driver meshes with "
        "the first driven wheel, the second driver sits on that wheel's stud and meshes with the second driven wheel, on the "
        "leadscrew. A simple train is joined by an idler of any size, which only turns the direction; one more idler cuts a "
        "left-hand thread. Switch off and lock the supply before the gear cover comes off, set a thickness of paper as "
        "backlash, and put the cover back before starting. Scratch a trial helix and measure it over ten threads.",
        group="Threads and gearing",
        parameters=(
            Parameter("pitch", "Pitch of the thread", unit="mm", low=0.05, high=200, default=None, example="1.5 mm"),
            Parameter("tpi", "or its threads per inch", unit="tpi", argument="tpi", low=0.125, high=400, default=None, example="12"),
            Parameter("leadscrew", "Leadscrew", kind="text", shop="leadscrew", example="6 mm", help="with its unit: 6 mm, or 8 tpi. "
                      "Where the lathe has a screw constant, that is the figure to give"),
            Parameter("gears", "Wheels in the drawer", kind="whole", many=True, low=8, high=400, shop="gears", default=USUAL_GEARS,
                      example="20, 30, 40, 60, 127", help="teeth; write a wheel twice if you have two"),
            Parameter("compound", "Compound trains too", kind="flag", default=True, example="true"),
            Parameter("starts", "Starts of the thread", kind="whole", low=1, high=24, default=1, example="1"),
            Parameter("mounted", "Wheels on the lathe now", kind="whole", many=True, low=8, high=400, default=(), example="40, 80",
                      help="from the spindle: driver, driven, driver, driven"),
            Parameter("stud", "Turns of the first wheel per spindle turn", kind="number", low=0.01, high=100, default=1.0, example="1"),
            Parameter("clearance", "Teeth to clear a shaft", kind="whole", low=0, high=60, default=15, example="15"),
            Parameter("centres", "First shaft to leadscrew", unit="mm", low=20, high=2000, default=None, example="180 mm",
                      help="with the module, checks that the quadrant can bring the wheels together"),
            Parameter("module", "Module of the wheels", unit="mm", low=0.2, high=20, default=None, example="1.25 mm",
                      help="outside diameter over teeth + 2; 25.4 over the diametral pitch"),
            Parameter("count", "Trains to show", kind="whole", low=1, high=50, default=10, example="10"),
        ),
        columns=(
            Column("drivers", "Drivers", kind="list", help="from the spindle"),
            Column("driven", "Driven", kind="list"),
            Column("idler", "Idler", help="a wheel of the drawer that can join the two"),
            Column("pitch_mm", "Pitch it cuts", "mm", decimals=5),
            Column("tpi", "Threads per inch", "tpi", decimals=4),
            Column("error_percent", "Error", "percent", decimals=4),
            Column("error_mm_per_300", "Error over 300 mm", "mm", decimals=3),
            Column("fits", "Fits", kind="flag", help="passes the tooth-sum test: no wheel fouls the next shaft"),
            Column("wheels_to_change", "Wheels to put on"),
        ),
        compute=change_gears,
        sources=(Cite("jones-1914", "change gears for metric pitches"), Cite("common-practice", "tooth-sum test with 15 teeth", "practice")),
        holds="leads up to 200 mm, and trains of two or four wheels; teeth by which a wheel must clear a shaft differ from lathe "
        "to lathe",
        also=("change wheels", "screwcutting", "quadrant", "banjo", "transposing gears", "127", "gear train"),
        examples=({"pitch": "1.5 mm", "leadscrew": "6 mm"}, {"tpi": "12", "leadscrew": "6 mm"}, {"pitch": "3 mm", "leadscrew": "6 tpi"}),
        browser="change-gears",
    ),
)  # fmt: skip
