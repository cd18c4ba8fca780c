"""What the oil tables say, written once: the program and the page fill in the same sentences."""

from __future__ import annotations

WORDS = {
    "hint": 'write the system and its number, like "ISO VG 46", "SAE 30", "SAE 90 gear" or "AGMA 5"',
    "unknown": '"{shown}" is not an oil grade known here',
    "outside": '"{shown}" lies outside 2 to 10000 mm²/s at 40 °C',
    "mixed": '"{shown}" mixes two number systems',
    "bare0": '"{shown}" is a number without its system, and no system known here has that number',
    "bare1": '"{shown}" is a number without its system: is {homes} meant? No other system has that number',
    "bare2": '"{shown}" is a number without its system: it could be {homes}, which are different oils',
    "not_there": '"{shown}": {system} has no grade {number}.{also} {system} numbers are {known}',
    "also": " It is a number of another system: {homes}.",
    "winter": '"{shown}": a winter number alone sets only a lower limit at 100 °C and limits in the cold, so it names no thickness at work',
    "turned": '"{shown}": a multigrade begins with its winter number, like {number}W-{second}',
    "sheet": "give v40 from the oil's data sheet",
    "slip": '"{shown}": SAE has no grade {number}. {number} is an ISO viscosity grade: ISO VG {number} is {number} mm²/s at 40 °C '
    "(its name may be rounded). SAE numbers are set at 100 °C and mean something else, so an SAE number is never an ISO VG number",
    "slip_hint": 'write "ISO VG {number}" if the drum says so',
    "no_sae": '"{shown}": SAE has no grade {number}; it has engine oils {engine}, gear oils {gear}',
    "no_middle": '"{shown}" has no upper limit, so it has no middle',
    "multigrade": "{name} is a multigrade: its viscosity index must be given, since the usual assumption does not hold",
    "multigrade_hint": "read it off the data sheet, like 140",
    "two": "give the two viscosities of the data sheet instead",
    "too_thin_for_index": "{v40} mm²/s at 40 °C with index {index} is thinner than 2 mm²/s at 100 °C, where the index is not defined",
    "index_undefined": "the viscosity index is not defined below 2 mm²/s at 100 °C",
    "temperature": "{t} °C lies outside -40 to 200 °C",
    "thick": "at {t} °C the oil would be thicker than 20000000 mm²/s",
    "thin": "at {t} °C the oil would be thinner than 0.21 mm²/s",
    "either": "give either a grade or a viscosity at 40 °C, not both",
    "needed": "a grade, or the viscosity at 40 °C as v40, must be given",
    "needed_hint": 'for example "ISO VG 46"',
    "exchanged": "an oil is thinner at 100 °C than at 40 °C; {v100} is not below {v40} mm²/s",
    "exchanged_hint": "were the two exchanged?",
    "index_apart": "an index of {index} does not belong to these two viscosities; they give {found}",
    "index_none": "none, being below 2 mm²/s at 100 °C",
    "index_apart_hint": "leave the index out, or the viscosity at 100 °C",
    "measured": "{v40} mm²/s at 40 °C",
    "two_points": "{v40} mm²/s at 40 °C and {v100} at 100 °C",
    "is": "{name}: {v40} mm²/s at 40 °C, {v100} mm²/s at 100 °C, viscosity index {index}.",
    "index_not_defined": "not defined, since it is thinner than 2 mm²/s at 100 °C",
    "assumed": "{index}, assumed",
    "grade_is": "By its thickness at 40 °C it is {grade}.",
    "no_grade": "no ISO grade: it falls between grades or beyond them; nearest is {name}",
    "band": "The middle of the grade is taken; a drum may hold anything from {low} to {high} mm²/s at {at} °C.",
    "wax": "Below about -10 °C wax can form in a mineral oil and it thickens more than the line says; look for the pour point on its data sheet.",
    "ends": "{count} temperatures are given",
    "ends_hint": "give one, or the lowest and the highest",
    "no_iso": "with an index of {index} no ISO grade can be worked out at {t} °C",
    "same": "as thick as the maker meant",
    "one": "one grade too {side}",
    "more": "{steps} grades too {side}",
    "does_thick": "It reaches bearings and clutches late, starves drip and wick feeds, drags and warms the headstock, and loads the motor "
    "at a cold start.",
    "does_thin": "The film gives way at load and low speed, so bearings and gears wear and sound rough; it leaks and runs through feeds "
    "faster, and a hydraulic clutch or gauge shows less pressure.",
    "not_compared": "not compared: {what}",
    "there_here": "{maker} at {there} °C is {wanted} mm²/s; here at {here} °C {grade} is {found} mm²/s, and {maker} itself would be {own}.",
    "index_assumed": "A viscosity index of {index} is assumed for every oil.",
    "index_taken": "A viscosity index of {index} is taken for every oil.",
    "oil_temperature": "Temperatures are the oil's own at work. If you know only the rooms', give the rise as well: measure it in the sump "
    "after an hour's run.",
    "kind": "Thickness is not the whole oil: keep the maker's kind (hydraulic, way, spindle, gear). Sulphur additives of some gear oils "
    "attack bronze.",
    "manual": "The maker's manual goes first where it names a grade for this temperature.",
    "none_fits": "Nothing in the store is as thick as the maker meant; the nearest, {grade}, is {verdict}.",
    "between": "Nothing in the store is as thick as the maker meant; {thinner} and {thicker} lie either side of it, and two oils of one "
    "kind can be mixed (see Mixing two oils).",
    "no_fit": "No ISO grade fits: the nearest, {grade}, is {verdict}.",
    "cold_start": "At the coldest, {t} °C, {grade} is {times} times as thick as the maker meant for a cold start: warm the oil or the "
    "room, and run slowly first.",
}
"""Sentences by a short key; what stands in braces is filled in."""


def say(key: str, **given: object) -> str:
    """A sentence of WORDS with its blanks filled in.

    >>> say("one", side="thick")
    'one grade too thick'
    """
    return WORDS[key].format(**given)
