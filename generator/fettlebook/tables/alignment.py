"""From the twist of a bed, a test bar or two turned collars to the taper of the work, and back to what to move."""

from __future__ import annotations

from typing import Any

from fettlebook.tables.definition import BadValue, Cite, Column, Definition, Parameter, Table
from fettlebook.tables.figures import written

STIFF = 6.0
"""Longest free length of a test piece over its diameter before its own bending spoils the reading. common practice"""


def radial_shift_mm(twist_mm_per_m: float, centre_height_mm: float) -> float:
    """How far a twist of the bed moves the tool towards or away from the work.

        shift = centre height x twist angle

    twist_mm_per_m     change of the cross level between the ends of the cut [mm/m]
    centre_height_mm   of the spindle over the ways [mm]
    gives              [mm], on the radius; the diameter changes by twice that

    Source: definition (small angles)

    >>> round(radial_shift_mm(0.02, 165) * 1000, 1)
    3.3
    """
    return centre_height_mm * twist_mm_per_m / 1000


def twist_for_taper(taper_mm: float, centre_height_mm: float) -> float:
    """Twist [mm/m] between the ends of a cut that makes a taper [mm on the diameter]: the reverse of radial_shift_mm.

    >>> round(twist_for_taper(0.0066, 165), 3)
    0.02
    """
    return taper_mm / 2 / centre_height_mm * 1000


def bed_twist(
    centre_height_mm: float,
    twist_mm_per_m: float | None = None,
    bed_width_mm: float | None = None,
    length_mm: float | None = None,
    taper_mm: float | None = None,
) -> Table:
    """Taper on the work from a bed's twist, or the twist behind a taper; the work held in the chuck alone.

    twist_mm_per_m     change of the cross level between the ends of the cut [mm/m]
    bed_width_mm       across the ways, for the height difference [mm]
    centre_height_mm   [mm]
    length_mm          of the cut, for the taper per 100 mm [mm]
    taper_mm           measured on the diameter, in place of the twist [mm]
    """
    if (twist_mm_per_m is None) == (taper_mm is None):
        raise BadValue("twist", "either the twist or the taper must be given, and not both", "for example 0.02 mm/m")
    twist = twist_mm_per_m if twist_mm_per_m is not None else twist_for_taper(taper_mm or 0.0, centre_height_mm)
    radial = radial_shift_mm(twist, centre_height_mm)
    row = {
        "twist_mm_per_m": twist,
        "radial_mm": radial,
        "taper_mm": 2 * radial,
        "taper_um": 2000 * radial,
        "taper_per_100_mm": 200 * radial / length_mm if length_mm else None,
        "height_mm": twist * bed_width_mm / 1000 if bed_width_mm else None,
    }
    return Table((row,), TWIST_NOTES)


TWIST_NOTES = (
    "The twist is what the cross level changes by from one end of the cut to the other, not a reading at one place.",
    "Which way: where the rear way stands higher at the tailstock end than at the headstock end, the tool leans away from the work "
    "there and the work comes out larger at the tailstock end (tool in front).",
    "Only for work in the chuck alone. With the tailstock in use its centre moves too, and the taper is another.",
    "A worn bed gives taper near the chuck without any twist: turn two collars before you blame the feet.",
)


def two_collars(
    headstock_mm: float,
    tailstock_mm: float,
    distance_mm: float,
    centre_height_mm: float,
    across_mm: float | None = None,
    along_mm: float | None = None,
    pitch_mm: float | None = None,
    bar_mm: float | None = None,
    limit_mm_per_300: float = 0.02,
) -> Table:
    """What to move after turning two collars of one setting, the bar in the chuck alone.

        twist over the collars = (difference / 2) / centre height
        lift at a tailstock foot = twist x (feet apart along / collars apart) x feet apart across

    headstock_mm, tailstock_mm   diameters of the collars [mm]
    distance_mm                  between their middles [mm]
    centre_height_mm             of the spindle over the ways [mm]
    across_mm, along_mm          between the tailstock's two feet, and from the headstock's feet to them [mm]
    pitch_mm                     of the jack screws [mm]
    bar_mm                       smallest diameter of the bar [mm]
    limit_mm_per_300             taper allowed on the diameter [mm over 300 mm]

    Source: definition (small angles; the bed taken to twist evenly from foot to foot)
    """
    if abs(headstock_mm - tailstock_mm) > 0.02 * distance_mm:
        what = f"collars {headstock_mm:g} and {tailstock_mm:g} mm differ by far too much for a test cut"
        raise BadValue("tailstock", what, "give the two diameters turned at one setting of the tool")
    if (across_mm is None) != (along_mm is None):
        raise BadValue(
            "across" if across_mm is None else "along",
            "the feet have a distance across and one along; only one is given",
        )
    difference = tailstock_mm - headstock_mm
    inside = abs(difference) / distance_mm * 300 <= limit_mm_per_300
    rows = list(_collar_rows(difference, distance_mm, centre_height_mm, across_mm, along_mm, pitch_mm))
    verdict = _collar_verdict(difference, distance_mm, limit_mm_per_300, inside)
    return Table(tuple(row | {"verdict": verdict} for row in rows), COLLAR_NOTES, _collar_warnings(bar_mm, distance_mm))


def _collar_rows(
    difference: float, distance: float, height: float, across: float | None, along: float | None, pitch: float | None
) -> list[dict[str, Any]]:
    """Two ways to take the taper out: by the feet, or by swinging a headstock that is made to swing."""
    twist = twist_for_taper(difference, height)
    lift = twist / 1000 * along / distance * across if across and along else None
    foot = {
        "way": "tailstock feet",
        "difference_mm": difference,
        "twist_mm_per_m": twist,
        "move_mm": abs(lift) if lift is not None else None,
        "turns": abs(lift) / pitch if lift is not None and pitch else None,
        "degrees": abs(lift) / pitch * 360 if lift is not None and pitch else None,
        "move": _foot_words(difference),
    }
    swing = {
        "way": "headstock, if it is made to swing",
        "difference_mm": difference,
        "twist_mm_per_m": None,
        "move_mm": abs(difference) / 2,
        "turns": None,
        "degrees": None,
        "move": _swing_words(difference, distance),
    }
    return [foot, swing]


def _foot_words(difference: float) -> str:
    if difference == 0:
        return "nothing"
    up, down = ("front", "rear") if difference > 0 else ("rear", "front")
    return f"raise the {up} foot at the tailstock end, or lower the {down} one, by the whole; or half on each"


def _swing_words(difference: float, distance: float) -> str:
    if difference == 0:
        return "nothing"
    side = "towards" if difference > 0 else "away from"
    return f"swing the free end of the bar {side} the tool, by this much over {written(distance, 0)} mm"


def _collar_verdict(difference: float, distance: float, limit: float, inside: bool) -> str:
    if difference == 0:
        return "parallel"
    larger = "tailstock" if difference > 0 else "headstock"
    taper = written(abs(difference) / distance * 300, 4)
    kept = "inside" if inside else "outside"
    return f"larger at the {larger} end, {taper} mm over 300 mm: {kept} {limit:g} mm"


def _collar_warnings(bar: float | None, distance: float) -> tuple[str, ...]:
    if bar is None or distance <= STIFF * bar:
        return ()
    return (SPRINGS,)


SPRINGS = (
    f"The bar stands out more than {STIFF:g} times its diameter: it springs from the tool and comes out larger at the free end, "
    "whatever the bed does. Take a thicker bar or shorten it."
)


COLLAR_NOTES = (
    "Turn both collars at one setting with a sharp tool and a cut of a few hundredths, twice, and measure when the bar is cold.",
    "Level the bed first: it must be straight along and across before the collars decide the last of it. After each move wait, tighten, measure again.",
    "The move by the feet takes the bed to twist evenly from the headstock's feet to the tailstock's; a bed bolted to a stand moves less. "
    "Half the move, and look.",
    "A lathe may turn larger at the headstock end by a little, never smaller (ISO 1708, from memory).",
)


def test_bar(
    horizontal_mm: float,
    over_mm: float = 300.0,
    length_mm: float | None = None,
    vertical_mm: float = 0.0,
    diameter_mm: float = 30.0,
) -> Table:
    """Taper to expect from readings along a test bar in the spindle.

        taper on the diameter = 2 x horizontal reading x length / over

    horizontal_mm   change of the reading from the nose to the free end, bar's own run-out taken out [mm]
    over_mm         length over which it was read [mm]
    length_mm       of the cut asked about; the same where it is left out [mm]
    vertical_mm     change of the reading on top [mm]
    diameter_mm     of the work, for the effect of the vertical one [mm]
    """
    length = over_mm if length_mm is None else length_mm
    drop = vertical_mm * length / over_mm
    radius = diameter_mm / 2
    if abs(drop) >= radius:
        raise BadValue("vertical", "the bar would leave the tool altogether; was it read in hundredths?")
    row = {
        "horizontal_mm": horizontal_mm,
        "angle_mm_per_m": horizontal_mm / over_mm * 1000,
        "taper_mm": 2 * horizontal_mm * length / over_mm,
        "taper_vertical_mm": 2 * ((radius**2 + drop**2) ** 0.5 - radius),
    }
    return Table((row,), BAR_NOTES)


BAR_NOTES = (
    "Read at two positions half a turn of the spindle apart and take the mean: that takes the bar's own run-out out.",
    "A reading in the vertical plane hardly changes the diameter: height counts by its square.",
    "Horizontal: the free end towards the tool makes the work smaller there.",
)

HEIGHT = Parameter("centre_height", "Centre height over the ways", unit="mm", low=20, high=1000, example="160 mm",
                   help="half the swing over the bed")  # fmt: skip

TABLES = (
    Definition(
        name="bed-twist",
        title="Bed twist and taper",
        about="A twisted bed leans the tool towards the work or away from it as the carriage travels. This turns the twist into the taper on "
        "the diameter, and a taper back into the twist behind it.",
        group="Levelling and alignment",
        parameters=(
            Parameter("twist", "Twist between the ends of the cut", unit="mm/m", low=-20, high=20, default=None, example="0.02 mm/m"),
            Parameter("bed_width", "Width across the ways", unit="mm", low=30, high=2000, default=None, example="200 mm"),
            HEIGHT,
            Parameter("length", "Length of the cut", unit="mm", low=5, high=10000, default=None, example="300 mm"),
            Parameter("taper", "Taper on the diameter, in place of the twist", unit="mm", low=-5, high=5, default=None, example="0.02 mm"),
        ),
        columns=(
            Column("twist_mm_per_m", "Twist", "mm/m", decimals=4),
            Column("radial_mm", "On the radius", "mm", decimals=4),
            Column("taper_mm", "Taper on the diameter", "mm", decimals=4),
            Column("taper_um", "Taper", "µm", decimals=1),
            Column("taper_per_100_mm", "In 100 mm", "mm", decimals=4),
            Column("height_mm", "Height across the ways", "mm", decimals=4),
        ),
        compute=bed_twist,
        browser="alignment",
        browser_data=lambda: TWIST_NOTES,
        sources=(Cite("definition", "small angles", "computed"),),
        holds="twists to 20 mm/m; work in the chuck alone",
        also=("taper turning fault", "twisted bed", "work comes out tapered", "wind in the bed"),
        examples=({"twist": 0.02, "bed_width": 200, "centre_height": 165, "length": 300}, {"taper": 0.02, "centre_height": 165}),
    ),
    Definition(
        name="two-collars",
        title="Two collars: what to move",
        about="Turn two collars on a stout bar held in the chuck alone, without touching the cross slide between them. Their difference says which "
        "foot to move and by how much.",
        group="Levelling and alignment",
        parameters=(
            Parameter("headstock", "Diameter at the headstock end", unit="mm", low=3, high=1000, example="40.000 mm"),
            Parameter("tailstock", "Diameter at the tailstock end", unit="mm", low=3, high=1000, example="40.012 mm"),
            Parameter("distance", "Between the collars", unit="mm", low=20, high=5000, example="200 mm"),
            HEIGHT,
            Parameter("across", "Tailstock feet apart, across", unit="mm", low=50, high=3000, default=None, example="420 mm"),
            Parameter("along", "Headstock feet to tailstock feet", unit="mm", low=100, high=20000, default=None, example="1300 mm"),
            Parameter("pitch", "Pitch of the jack screws", unit="mm", low=0.2, high=10, default=None, example="2 mm"),
            Parameter("bar", "Smallest diameter of the bar", unit="mm", low=3, high=1000, default=None, example="40 mm"),
            Parameter("limit", "Taper allowed over 300 mm", unit="mm", low=0.001, high=1, default=0.02, example="0.02 mm", argument="limit_mm_per_300"),
        ),
        columns=(
            Column("way", "By", kind="text"),
            Column("difference_mm", "Tailstock less headstock", "mm", decimals=4),
            Column("twist_mm_per_m", "Twist between the collars", "mm/m", decimals=4),
            Column("move_mm", "Move", "mm", decimals=4),
            Column("turns", "Turns", decimals=3),
            Column("degrees", "Turn by", "deg", decimals=1),
            Column("move", "What to move", kind="text"),
            Column("verdict", "Verdict", kind="text"),
        ),
        compute=two_collars,
        browser="alignment",
        browser_data=lambda: {"notes": COLLAR_NOTES, "stiff": STIFF, "springs": SPRINGS},
        sources=(Cite("definition", "small angles", "computed"), Cite("common-practice", "how the test is turned", "practice"),
                 Cite("iso-1708", "P1: which end may be larger", "memory")),
        holds="work in the chuck alone, collars nearly alike; a bed that twists evenly from foot to foot",
        also=("collar test", "dumb-bell test", "turning test", "taper", "alignment of a lathe"),
        examples=({"headstock": 40, "tailstock": 40.012, "distance": 200, "centre_height": 160, "across": 420, "along": 1300, "pitch": 2, "bar": 40},),
    ),
    Definition(
        name="test-bar",
        title="Readings along a test bar",
        about="What a bar in the spindle says of the work: the taper to expect, from the change of a dial gauge carried along it.",
        group="Levelling and alignment",
        parameters=(
            Parameter("horizontal", "Change at the side", unit="mm", low=-5, high=5, example="0.015 mm", help="towards the tool is +"),
            Parameter("over", "Over this length", unit="mm", low=20, high=2000, default=300.0, example="300 mm"),
            Parameter("length", "Length of the cut", unit="mm", low=5, high=5000, default=None, example="150 mm"),
            Parameter("vertical", "Change on top", unit="mm", low=-5, high=5, default=0.0, example="0.02 mm"),
            Parameter("diameter", "Diameter of the work", unit="mm", low=1, high=1000, default=30.0, example="30 mm"),
        ),
        columns=(
            Column("horizontal_mm", "Change at the side", "mm", decimals=4),
            Column("angle_mm_per_m", "Angle", "mm/m", decimals=4),
            Column("taper_mm", "Taper on the diameter", "mm", decimals=4),
            Column("taper_vertical_mm", "More by the height", "mm", decimals=6),
        ),
        compute=test_bar,
        browser="alignment",
        browser_data=lambda: BAR_NOTES,
        sources=(Cite("definition", "geometry", "computed"),),
        holds="readings to 5 mm",
        also=("mandrel", "alignment bar", "spindle parallel", "dial gauge"),
        examples=({"horizontal": 0.015, "over": 300},),
    ),
)  # fmt: skip
