"""Where steel changes on heating (Ac1, Ac3) and where martensite starts on cooling (Ms), from its composition.

A composition is mass percent by element; a missing element counts as 0. Each formula knows the range in which it was
fitted; `outside` says in words what lies beyond it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

from fettlebook.tables.definition import Cite

Composition = Mapping[str, float]
EUTECTOID_CARBON = 0.77
"""Carbon at the eutectoid point [mass %]; below it a steel is hypoeutectoid. Iron-carbon diagram."""


def _sum(composition: Composition, constant: float, **factors: float) -> float:
    return constant + sum(factor * composition.get(element, 0.0) for element, factor in factors.items())


def andrews_ac1(composition: Composition) -> float:
    """Lower critical temperature on heating [degC] by Andrews: 723 - 10.7 Mn - 16.9 Ni + 29.1 Si + 16.9 Cr + 290 As + 6.38 W.

    Source: andrews-1965. Fitted on low-alloy steels with at most 0.6 % carbon; it has no carbon term.
    """
    return _sum(composition, 723, Mn=-10.7, Ni=-16.9, Si=29.1, Cr=16.9, As=290, W=6.38)


def andrews_ac3(composition: Composition) -> float:
    """Upper critical temperature on heating [degC], Andrews, short form:
    910 - 203 sqrt(C) - 15.2 Ni + 44.7 Si + 104 V + 31.5 Mo + 13.1 W.

    Source: andrews-1965 (after Krauss). Within about 6 degC of handbook figures on heating for 1045, 4140, 4340, 8620, 5160.
    """
    return _sum(composition, 910, Ni=-15.2, Si=44.7, V=104, Mo=31.5, W=13.1) - 203 * sqrt(composition.get("C", 0.0))


def andrews_ac3_long(composition: Composition) -> float:
    """Andrews, long form [degC]: short form - (30 Mn + 11 Cr + 20 Cu - 700 P - 400 Al - 120 As - 400 Ti).

    Manganese, chromium and copper lower it; phosphorus, aluminium, arsenic and titanium raise it. Prints without the
    bracket have the wrong signs. 19 to 36 degC below the short form, nearer the equilibrium temperature.
    Source: andrews-1965, signs from memory.
    """
    return andrews_ac3(composition) + _sum(composition, 0, Mn=-30, Cr=-11, Cu=-20, P=700, Al=400, As=120, Ti=400)


def grange_ac1(composition: Composition) -> float:
    """Ac1 [degC] by Grange, who gives degF: 1333 - 25 Mn + 40 Si + 42 Cr - 26 Ni. Source: grange-1961."""
    return (_sum(composition, 1333, Mn=-25, Si=40, Cr=42, Ni=-26) - 32) * 5 / 9


def grange_ac3(composition: Composition) -> float:
    """Ac3 [degC] by Grange, who gives degF: 1570 - 323 C - 25 Mn + 80 Si - 3 Cr - 32 Ni. Source: grange-1961."""
    return (_sum(composition, 1570, C=-323, Mn=-25, Si=80, Cr=-3, Ni=-32) - 32) * 5 / 9


def yurioka_ac1(composition: Composition) -> float:
    """Ac1 [degC] for weldable low-alloy steel. Source: yurioka, from memory; agrees with a steelmaker's printed examples."""
    return _sum(composition, 750.8, C=-26.6, Si=17.6, Mn=-11.6, Cu=-22.9, Ni=-23, Cr=24.1, Mo=22.5, V=-39.7, Ti=-5.7,
                Nb=232.4, Al=-169.4, B=-894.7)  # fmt: skip


def yurioka_ac3(composition: Composition) -> float:
    """Ac3 [degC] for weldable low-alloy steel. Source: yurioka, from memory; agrees with a steelmaker's printed examples."""
    return _sum(composition, 937.2, C=-436.5, Si=56, Mn=-19.7, Cu=-16.3, Ni=-26.6, Cr=-4.9, Mo=38.1, V=124.8, Ti=136.3,
                Nb=-19.1, Al=198.4, B=3315)  # fmt: skip


def trzaska_ac1_2007(composition: Composition) -> float:
    """Ac1 [degC]. Source: trzaska-2007, from memory."""
    return _sum(composition, 739, C=-22.8, Mn=-6.8, Si=18.2, Cr=11.7, Ni=-15, Mo=-6.4, V=-5, Cu=-28)


def trzaska_ac3_2007(composition: Composition) -> float:
    """Ac3 [degC]. Source: trzaska-2007, from memory."""
    return _sum(composition, 937.3, Mn=-17, Si=34, Ni=-14, Mo=21.6, V=41.8, Cu=-20) - 224.5 * sqrt(
        composition.get("C", 0.0)
    )


def trzaska_ac1_2016(composition: Composition) -> float:
    """Ac1 [degC]. Source: trzaska-2016, from memory."""
    return _sum(composition, 742, C=-29, Mn=-14, Si=13, Cr=16, Ni=-17, Mo=-16, V=45, Cu=36)


def trzaska_ac3_2016(composition: Composition) -> float:
    """Ac3 [degC]. Source: trzaska-2016, from memory."""
    return _sum(composition, 925, Mn=-7, Si=39, Ni=-16, Mo=13, V=97) - 219 * sqrt(composition.get("C", 0.0))


def andrews_ms(composition: Composition) -> float:
    """Martensite start [degC], Andrews, linear: 539 - 423 C - 30.4 Mn - 17.7 Ni - 12.1 Cr - 7.5 Mo. Source: andrews-1965."""
    return _sum(composition, 539, C=-423, Mn=-30.4, Ni=-17.7, Cr=-12.1, Mo=-7.5)


def andrews_ms_product(composition: Composition) -> float:
    """Martensite start [degC], Andrews, with products:
    512 - 453 C - 16.9 Ni + 15 Cr - 9.5 Mo + 217 C^2 - 71.5 C Mn - 67.6 C Cr. Source: andrews-1965, from memory.
    """
    c, mn, cr = (composition.get(element, 0.0) for element in ("C", "Mn", "Cr"))
    return _sum(composition, 512, C=-453, Ni=-16.9, Cr=15, Mo=-9.5) + 217 * c * c - 71.5 * c * mn - 67.6 * c * cr


def steven_haynes_ms(composition: Composition) -> float:
    """Martensite start [degC]: 561 - 474 C - 33 Mn - 17 Cr - 17 Ni - 21 Mo. Source: steven-haynes-1956."""
    return _sum(composition, 561, C=-474, Mn=-33, Cr=-17, Ni=-17, Mo=-21)


def steven_haynes_ms_f(composition: Composition) -> float:
    """Martensite start [degF] as printed in Fahrenheit: 1042 - 853 C - 60 Mn - 30 Cr - 30 Ni - 38 Mo. Source: steven-haynes-1956."""
    return _sum(composition, 1042, C=-853, Mn=-60, Cr=-30, Ni=-30, Mo=-38)


def lehnert_ms(composition: Composition) -> float:
    """Martensite start [degC]: 548 - 440 C - 14 Si - 26 Mn - 11 Cr - 9 Mo - 14 Ni + 2 V. Source: lehnert-cuong."""
    return _sum(composition, 548, C=-440, Si=-14, Mn=-26, Cr=-11, Mo=-9, Ni=-14, V=2)


@dataclass(frozen=True)
class Formula:
    """A set of formulas by one author with the composition range [mass %] in which they were fitted."""

    name: str
    limits: Mapping[str, tuple[float, float]]
    cite: Cite
    ac1: Callable[[Composition], float] | None = None
    ac3: Callable[[Composition], float] | None = None
    ms: Callable[[Composition], float] | None = None
    note: str = ""

    def range_words(self) -> str:
        """The range in words."""
        return ", ".join(f"{element} {low:g} to {high:g} %" for element, (low, high) in self.limits.items())

    def outside(self, composition: Composition) -> tuple[str, ...]:
        """What of COMPOSITION lies outside the range, in words; empty when all is inside."""
        return tuple(
            f"{element} {composition.get(element, 0.0):g} % lies outside {low:g} to {high:g} %"
            for element, (low, high) in self.limits.items()
            if not low <= composition.get(element, 0.0) <= high
        )


ANDREWS_LIMITS = {"C": (0.0, 0.6), "Mn": (0.0, 4.87), "Si": (0.0, 1.9), "Ni": (0.0, 5.04), "Cr": (0.0, 4.61), "Mo": (0.0, 5.4)}  # fmt: skip
TRZASKA_LIMITS = {"C": (0.06, 0.68), "Mn": (0.13, 2.04), "Si": (0.12, 1.75), "Ni": (0.0, 3.85), "Cr": (0.0, 2.3), "Mo": (0.0, 1.05), "V": (0.0, 0.38), "Cu": (0.0, 0.38)}  # fmt: skip

FORMULAS = (
    Formula("Andrews", ANDREWS_LIMITS, Cite("andrews-1965", "Ac1, short Ac3, linear Ms", "secondary"), andrews_ac1, andrews_ac3, andrews_ms,
            "Upper ends of the range as usually quoted for his data, from memory."),
    Formula("Andrews, long form", ANDREWS_LIMITS, Cite("andrews-1965", "long Ac3, product Ms", "memory"), andrews_ac1, andrews_ac3_long, andrews_ms_product,
            "Lies nearer the equilibrium temperature than what is measured on heating."),
    Formula("Grange", {"C": (0.0, EUTECTOID_CARBON), "Cr": (0.0, 2.0), "Ni": (0.0, 4.0)}, Cite("grange-1961", "Ac1, Ac3 in degF", "secondary"), grange_ac1, grange_ac3,
            note="Range not printed; meant for low-alloy steels below the eutectoid."),
    Formula("Trzaska 2007", TRZASKA_LIMITS, Cite("trzaska-2007", "Ac1, Ac3", "memory"), trzaska_ac1_2007, trzaska_ac3_2007),
    Formula("Trzaska 2016", TRZASKA_LIMITS, Cite("trzaska-2016", "Ac1, Ac3", "memory"), trzaska_ac1_2016, trzaska_ac3_2016),
    Formula("Yurioka", {"C": (0.0, EUTECTOID_CARBON), "Cr": (0.0, 1.5), "Ni": (0.0, 3.0)}, Cite("yurioka", "Ac1, Ac3", "memory"), yurioka_ac1, yurioka_ac3,
            note="Made for weldable steel; its range is not known here, and above 0.3 % carbon its Ac3 falls low."),
    Formula("Steven and Haynes", {"C": (0.1, 0.55), "Mn": (0.2, 1.7), "Si": (0.0, 0.5), "Ni": (0.0, 5.0), "Cr": (0.0, 3.5), "Mo": (0.0, 1.0)},
            Cite("steven-haynes-1956", "Ms", "secondary"), ms=steven_haynes_ms, note="Martensite is complete about 215 °C lower."),
    Formula("Lehnert and Cuong", {"C": (0.0, 0.6), "Cr": (0.0, 4.0), "Ni": (0.0, 5.0)}, Cite("lehnert-cuong", "Ms"), ms=lehnert_ms,
            note="Range not known here; taken to be that of low-alloy steels."),
)  # fmt: skip
"""The formulas, the one that the other tables use first."""

ANDREWS = FORMULAS[0]
