"""What the seal tables say, written once: the program and the page fill in the same sentences."""

from __future__ import annotations

WORDS = {
    "both": "a recess has a diameter and a depth; only one is given",
    "both_hint": "measure both, or leave both out for a flat face",
    "narrow": "a recess of {diameter} mm leaves no room round {thread}, which is {major} mm",
    "narrow_hint": "measure the recess across its wall, not the thread",
    "taper": "seals in its own thread, with sealant: no washer, no O-ring",
    "taper_note": "Clean both threads, wind tape or put paste on the plug only, two threads back from its end, and stop when it is tight: "
    "turned further a taper splits the casting.",
    "taper_warning": "Be sure that it is a taper: a taper plug wedged into a parallel hole, or the other way round, holds by a thread or two.",
    "no_gland": "wrong: on a flat face without a gland nothing limits the squeeze; the head crushes the ring, it creeps out and is cut",
    "enters": "wrong: the head goes into the recess, so nothing limits the squeeze and the ring is crushed",
    "no_ring": "no standard ring fits: this depth wants a section of {low} to {high} mm and a bore near {bore} mm; measure again, look "
    "among metric rings, or take a seal that is thicker than the recess is deep",
    "no_room": "wrong: ring {size} of {section} mm is squeezed rightly at this depth but has no room, it would fill the recess to {fill} %; "
    "open the recess to {wide} mm, or take a seal that is thicker than the recess is deep",
    "no_rubber": "no common rubber stands {oil} at {t} °C; ask the seal's maker",
    "ring_on": "fits: it sits on the thread and the head closes the gland",
    "ring_loose": "fits: lay it into the recess with a little grease, it is held by the wall",
    "no_size": "no size kept here for {thread}: wanted is a bore just over {bore} mm, flat and wide enough for the head",
    "heat": "wrong: {material} holds from {low} to {high} °C",
    "rating": "wrong: {material} is rated {rating} in {oil}",
    "head_small": "wrong: it is {outside} mm wide and the head only {head} mm, so its rim is not pressed",
    "wider": "wrong: it is {outside} mm wide and does not go into the recess of {diameter} mm",
    "sunk": "wrong: it is {thick} mm thick and lies in a recess {depth} mm deep, so a head wider than the recess lands before it is squeezed",
    "bonded_fits": "fits: needs clean flat faces, can be used again while its lip is whole",
    "copper_fits": "fits: soft new copper on clean flat faces, once",
    "fibre_fits": "a stopgap: it hardens and weeps with the years",
    "relief": "A bonded seal needs a face: the mouth of the tapped hole must not be opened more than 0.25 mm over the thread.",
    "hardens": "Fibre is paper treated to swell: it gives up its moisture with heat and years, shrinks, hardens and no longer follows the face, "
    "so the plug weeps although it is tight. Tightening further cracks it; replace it.",
    "copper": "Copper hardens when it is squeezed: use a new ring, or anneal the old one (dull red, then water) and rub it flat.",
    "torque": "Torque: one engine maker's standard for a steel plug with a copper ring, threads oiled; a guide only. The machine's manual "
    "wins, and old cast iron and brass sight plugs want less.",
    "nbr": "NBR is sold for -30 to 100, -25 to 120 and -40 to 120 °C: the compound decides, so ask for the data sheet near the ends.",
    "sizes": "Bonded and flat ring sizes are from memory, makers differ by a few tenths: check against the seal in hand.",
    "bsp": "{thread} measures {major} mm over its crests: its name is the bore of a pipe, not its size.",
    "gland": "The gland is {width} mm wide (thread to wall) and {depth} mm deep with the head home on the boss. Remove burrs and break the "
    "edge of the recess, or it cuts the ring.",
    "nothing": "Nothing kept here fits {thread} as measured: measure again before you force a seal that nearly fits.",
    "ratings": "A excellent, B good, C fair, D poor, E not recommended.",
    "memory_ratings": "Ratings in coolant, ester and paraffin are from memory: soak a ring in the liquid for a day and look before you trust it.",
}  # fmt: skip
"""Sentences by a short key; what stands in braces is filled in."""


def say(key: str, **given: object) -> str:
    """A sentence of WORDS with its blanks filled in.

    >>> say("ratings")[:11]
    'A excellent'
    """
    return WORDS[key].format(**given)
