"""Our own pictograms for the safety signs: plain shapes in a square of 100 by 100, by the number of the sign.

They mean what the registered sign of that number means and are drawn from simple geometry. INK and GROUND stand for the
colours that the kind of sign gives.
"""

from __future__ import annotations

INK, GROUND = "INK", "GROUND"


def fill(path: str, colour: str = INK) -> str:
    """A filled outline."""
    return f'<path d="{path}" fill="{colour}"/>'


def line(path: str, width: float = 4, colour: str = INK) -> str:
    """A stroke with round ends."""
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width:g}" stroke-linecap="round" stroke-linejoin="round"/>'  # fmt: skip


def disc(x: float, y: float, radius: float, colour: str = INK) -> str:
    """A filled circle."""
    return f'<circle cx="{x:g}" cy="{y:g}" r="{radius:g}" fill="{colour}"/>'


def ring(x: float, y: float, radius: float, width: float, colour: str = INK) -> str:
    """A circle's outline."""
    return f'<circle cx="{x:g}" cy="{y:g}" r="{radius:g}" fill="none" stroke="{colour}" stroke-width="{width:g}"/>'


def bar(x: float, y: float, width: float, height: float, radius: float = 0, colour: str = INK) -> str:
    """A filled rectangle."""
    return f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" rx="{radius:g}" fill="{colour}"/>'


def placed(shape: str, x: float, y: float, scale: float = 1, turn: float = 0) -> str:
    """A shape drawn about 0,0, moved, scaled and turned (degrees, clockwise)."""
    turned = f" rotate({turn:g})" if turn else ""
    scaled = f" scale({scale:g})" if scale != 1 else ""
    return f'<g transform="translate({x:g} {y:g}){turned}{scaled}">{shape}</g>'


HAND = line("M-9,-4V-24M-3,-4V-29M3,-4V-28M9,-4V-23", 5) + fill(
    "M-11.5,-8H11.5V8Q11.5,19 1,19H-2Q-8,19 -13,12L-21,1Q-23,-2 -20,-4Q-17,-5.5 -14.5,-3L-11.5,1Z"
)
"""A right hand from its back, fingers up, about 0,0."""

GLOVE = HAND + bar(-12, 21, 24, 8, 2)

HEAD = disc(50, 40, 18) + fill("M18,84Q18,64 38,61L50,66L62,61Q82,64 82,84Z")
"""A head and shoulders from the front."""

FLAME = fill("M0,-22Q3,-12 9,-6Q16,2 13,11Q10,20 0,20Q-10,20 -13,11Q-15,3 -8,-4Q-7,2 -4,3Q-4,-10 0,-22Z")

DROP = fill("M0,-7Q5,0 5,3A5,5 0 0 1 -5,3Q-5,0 0,-7Z")


def gear(radius: float, teeth: int, hole: float) -> str:
    """A gear wheel about 0,0."""
    tooth = bar(-radius * 0.16, -radius * 1.28, radius * 0.32, radius * 0.5)
    around = "".join(f'<g transform="rotate({360 / teeth * n:g})">{tooth}</g>' for n in range(teeth))
    return around + disc(0, 0, radius) + disc(0, 0, hole, GROUND)


def walker(x: float, y: float, scale: float = 1) -> str:
    """Somebody standing."""
    return placed(disc(0, -25, 5.5) + line("M0,-15V2", 9) + line("M-3,3L-4,22M3,3L4,22", 5) + line("M-5,-15L-9,0M5,-15L9,0", 4), x, y, scale)  # fmt: skip


CYLINDER = bar(-7, -16, 14, 36, 5) + bar(-3.5, -24, 7, 6, 1) + line("M-7,-24H7", 3)

PICTOGRAMS: dict[str, str] = {
    "W001": fill("M44.5,36H55.5L53.5,64H46.5Z") + disc(50, 73, 5.2),
    "W002": fill("M50,42L54,54L66,46L61,58L74,62L61,66L65,78L54,71L50,82L46,71L35,78L39,66L26,62L39,58L34,46L46,54Z") + disc(42, 40, 2.5) + disc(58, 38, 2.2) + disc(50, 33, 2) + disc(50, 62, 5, GROUND),
    "W006": line("M38,50V64A12,12 0 0 0 62,64V50", 8) + line("M38,43V46M62,43V46", 8) + line("M30,42L33,47M70,42L67,47M50,34V42", 3),
    "W007": bar(55, 72, 16, 9) + disc(47, 36, 5) + line("M46,45L40,60", 8) + line("M40,60L50,67L54,76M39,61L34,70L27,76", 5) + line("M46,46L57,52M45,46L37,53", 4),
    "W011": disc(58, 40, 5) + line("M53,47L44,60", 8) + line("M44,60L57,65L68,72M43,61L40,70L30,72", 5) + line("M53,48L64,47M50,50L37,47", 4) + line("M28,81Q34,77 40,81T52,81T64,81T74,81", 3.5),
    "W012": fill("M55,32L38,60H48L43,83L64,53H53L60,32Z"),
    "W014": fill("M36,58H58V72H34Q32,72 32,69V62Z") + line("M40,58V45H54L58,58", 4) + line("M63,42V76H74", 4.5) + disc(40, 76, 5.5) + disc(55, 76, 5.5) + bar(65, 62, 9, 9),
    "W015": line("M50,34V42", 3) + line("M50,42A4,4 0 1 1 46,46", 3) + line("M50,50L37,59M50,50L63,59", 3) + bar(34, 59, 32, 13) + line("M30,81H70", 4),
    "W016": disc(50, 50, 11) + bar(44, 57, 12, 9, 2) + disc(45.5, 50, 3, GROUND) + disc(54.5, 50, 3, GROUND) + fill("M50,54L52,58H48Z", GROUND) + line("M34,70L66,82M66,70L34,82", 4.5),
    "W017": bar(29, 74, 42, 6) + "".join(line(f"M{x},67Q{x - 5},61 {x},55T{x},43", 4.5) for x in (39, 50, 61)),
    "W018": placed(gear(8.5, 8, 3), 50, 66) + line("M33,66A17,17 0 0 1 62,54", 4) + fill("M58,46L69,57L56,60Z"),
    "W019": bar(28, 44, 12, 38) + bar(60, 44, 12, 38) + walker(50, 62, 0.72) + fill("M44,60L40,56V64ZM56,60L60,56V64Z"),
    "W021": placed(FLAME, 50, 57, 0.95) + bar(34, 78, 32, 4.5),
    "W022": fill("M30,46L66,58Q70,60 69,64L30,52Z") + line("M70,62L76,65", 5) + placed(HAND, 42, 76, 0.62, 72) + placed(DROP, 40, 60, 0.6),
    "W023": placed(bar(-4, -12, 8, 20, 3), 42, 47, 0.9, 50) + placed(DROP, 56, 54, 0.55) + placed(DROP, 55, 62, 0.55) + bar(46, 69, 26, 6) + fill("M52,69Q56,76 60,69Z", GROUND) + placed(HAND, 36, 76, 0.45, 80) + line("M30,83H70", 3),
    "W024": bar(32, 38, 36, 7) + bar(30, 76, 42, 7) + fill("M50,58L44,47H56Z") + placed(HAND, 44, 67, 0.55, 88),
    "W025": ring(50, 49, 8, 5) + ring(50, 73, 8, 5) + placed(HAND, 31, 61, 0.5, 90) + line("M58,36A16,16 0 0 1 66,46M58,86A16,16 0 0 0 66,76", 3) + fill("M60,47L71,44L67,54ZM60,75L71,78L67,68Z"),
    "W026": bar(31, 56, 38, 24, 2) + bar(37, 50, 7, 6) + bar(56, 50, 7, 6) + line("M37,68H44", 3, GROUND) + line("M56,68H63M59.5,64.5V71.5", 3, GROUND) + line("M44,44Q46,38 44,34M52,46Q54,40 52,36", 3),
    "W027": disc(50, 64, 8) + line("M50,52V36M39,58L28,50M61,58L72,50M40,72L32,79M60,72L68,79M38,64H27M62,64H73", 3.5),
    "W028": placed(FLAME, 50, 49, 0.68) + ring(50, 71, 7.5, 4) + line("M36,81H64", 4),
    "W029": placed(CYLINDER, 50, 62, 0.92, 35) + line("M30,52Q34,49 33,44M26,58Q31,57 34,53", 3),
    "W035": walker(56, 66, 0.7) + fill("M40,36L50,38L47,46L38,45Z") + bar(55, 36, 7, 6) + bar(34, 51, 6, 6) + line("M45,49V53M36,62V70M58.5,44V46", 2.5),
    "W038": fill("M33,56H40L49,48V78L40,70H33Z") + line("M55,56Q59,63 55,70M61,51Q68,63 61,75M67,60H70", 4),
    "W041": disc(38, 74, 5) + line("M44,75L62,77M62,77L74,77M47,77L54,81", 5) + line("M30,57Q36,52 42,57T54,57T66,57M35,47Q41,42 47,47T59,47", 3.5),
    "W042": walker(39, 68, 0.62) + fill("M66,50L56,64H62L57,78L71,60H64L70,50Z") + line("M52,52L47,49M53,66H47M54,44L52,39", 3),
    "W089": placed(gear(9.5, 8, 3.5), 42, 68) + placed(gear(7.5, 7, 2.8), 60, 53, 1, 26),
    "M001": fill("M41,17H59L55.5,62H44.5Z") + disc(50, 76, 8),
    "M002": fill("M50,36Q38,26 20,30V72Q38,68 50,77Q62,68 80,72V30Q62,26 50,36Z") + line("M50,37V75", 3, GROUND) + line("M27,42Q36,41 44,46M27,52Q36,51 44,56M56,46Q64,41 73,42M56,56Q64,51 73,52", 3, GROUND),
    "M003": HEAD + line("M30,40A20,22 0 0 1 70,40", 4.5) + bar(22, 33, 11, 19, 4.5) + bar(67, 33, 11, 19, 4.5) + line("M33.5,33V52M66.5,33V52", 2, GROUND),
    "M004": HEAD + line("M32,38H68", 4, GROUND) + bar(36, 33, 12, 11, 4, GROUND) + bar(52, 33, 12, 11, 4, GROUND),
    "M005": line("M50,20V50", 6) + line("M26,50H74M35,62H65M43,74H57", 6),
    "M008": fill("M40,20H60V50L80,62Q84,65 84,71V73H40Z") + bar(38, 76, 47, 6, 2) + fill("M65,72Q66,61 76,61Q84,65 83,72Z", GROUND) + fill("M67.5,71Q69,64 75.5,64Q80.5,67 80.5,71Z"),
    "M009": placed(GLOVE, 38, 50, 1.05, -8) + placed(f'<g transform="scale(-1 1)">{GLOVE}</g>', 70, 54, 0.85, 10),
    "M010": fill("M40,16H60L80,28L72,48L64,44V58H66L68,86H54L50,66L46,86H32L34,58H36V44L28,48L20,28Z") + line("M50,20V58", 2.5, GROUND) + line("M36,59H64", 2.5, GROUND),
    "M011": placed(HAND, 36, 62, 0.95, 62) + placed(HAND, 66, 74, 0.8, -70) + placed(DROP, 40, 30) + placed(DROP, 54, 24) + placed(DROP, 62, 38),
    "M013": disc(50, 42, 13) + fill("M18,84Q18,66 38,64L50,70L62,64Q82,66 82,84Z") + line("M30,27H70V46Q68,60 50,64Q32,60 30,46Z", 3.2) + bar(26, 18, 48, 9, 4),
    "M014": HEAD + fill("M27,37A23,23 0 0 1 73,37Z") + bar(22, 36, 56, 6, 3) + line("M26,44.5H74", 2.5, GROUND) + line("M50,16V34", 3, GROUND),
    "M015": fill("M34,18L44,20Q50,30 56,20L66,18L72,84H28Z") + line("M50,28V84", 2.5, GROUND) + line("M30,56H70M29,68H71", 5, GROUND) + line("M38,20L40,54M62,20L60,54", 4, GROUND),
    "M016": HEAD + bar(38, 41, 24, 14, 4, GROUND) + line("M32,38L39,43M68,38L61,43M33,50L39,52M67,50L61,52", 2.5, GROUND) + line("M41,46H59M41,50H59", 1.8),
    "M017": HEAD + fill("M38,45Q50,32 62,45Q62,58 50,60Q38,58 38,45Z", GROUND) + disc(36, 54, 8.5, GROUND) + disc(64, 54, 8.5, GROUND) + disc(36, 54, 6) + disc(64, 54, 6) + disc(50, 50, 4.5) + line("M32,37L40,42M68,37L60,42", 2.5, GROUND),
    "M019": HEAD + fill("M29,22Q50,10 71,22V46Q70,62 50,68Q30,62 29,46Z", GROUND) + fill("M32,24Q50,14 68,24V45Q67,58 50,64Q33,58 32,45Z") + bar(38, 32, 24, 10, 1, GROUND),
    "M021": line("M18,50H30", 6) + fill("M30,38H40Q46,38 46,44V56Q46,62 40,62H30Z") + line("M46,45H54M46,55H54", 4) + line("M82,50H74", 6) + bar(63, 36, 13, 28, 3) + line("M59,30L63,24M67,28V20M59,70L63,76", 3),
    "M022": placed(HAND, 42, 66, 1, -70) + placed(bar(-9, -16, 18, 24, 2) + bar(-4, 8, 8, 6), 58, 28, 0.9, 20) + placed(DROP, 50, 49, 0.8),
    "M026": disc(50, 24, 9) + fill("M38,36H62L74,62L68,65L62,52V84H38V52L32,65L26,62Z") + fill("M42,42H58V52H64V82H36V52H42Z", GROUND) + fill("M44,44H56V54H62V80H38V54H44Z"),
    "M027": placed(gear(11, 8, 4), 50, 58) + line("M27,62A24,24 0 0 1 73,62", 5) + line("M27,62V74M73,62V74", 5) + line("M38,26L47,34L64,16", 6),
    "M028": bar(30, 46, 40, 34, 5) + line("M38,46V34A12,12 0 0 1 62,34V46", 7) + disc(50, 60, 5, GROUND) + bar(48, 60, 4, 11, 1, GROUND),
    "M046": placed(CYLINDER, 50, 54, 1.35) + line("M26,50H74", 5, GROUND) + line("M22,50H78", 3) + bar(76, 26, 6, 54),
    "M057": "".join(f'<g transform="rotate({n} 50 50)">{fill("M50,47Q40,34 46,20Q60,20 62,30Q60,42 50,47Z")}</g>' for n in (0, 120, 240)) + disc(50, 50, 5),
    "P002": bar(22, 50, 44, 9) + bar(68, 50, 6, 9) + line("M70,44Q76,38 70,32Q66,26 72,22", 3.5),
    "P003": line("M36,80L48,56", 5) + placed(FLAME, 52, 38, 0.85),
    "P010": placed(HAND, 52, 46, 1, -18) + bar(26, 72, 48, 6),
    "P011": fill("M80,34L64,24L54,40L70,50Z") + placed(DROP, 50, 44) + placed(DROP, 43, 54) + placed(DROP, 54, 56) + placed(FLAME, 35, 66, 0.8),
    "P015": bar(52, 26, 6, 20) + bar(52, 62, 6, 14) + line("M58,26H76M58,76H76", 5) + placed(HAND, 52, 54, 0.75, 90) + line("M22,54H36", 9),
    "P024": walker(50, 50, 1.05) + line("M32,77H68", 5),
    "P028": placed(GLOVE, 50, 50, 1.15),
    "P031": bar(32, 58, 36, 18, 3) + disc(50, 56, 9) + placed(bar(-4.5, -40, 9, 40, 4.5), 50, 56, 1, 24) + line("M28,40Q32,26 46,21", 4.5) + fill("M41,14L53,19L43,28ZM22,38L34,40L26,50Z"),
    "P080": walker(44, 54, 1.05) + placed(HAND, 66, 40, 0.5),
}  # fmt: skip
"""By number. P001 is the empty ring."""
