"""The profile of each family of screw thread: its angle, its sharp height and what is cut off or rounded."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan


@dataclass(frozen=True)
class Form:
    """A symmetrical thread profile, every height as a fraction of the pitch.

    angle_deg    between the flanks [deg]
    depth        basic depth: half the difference of basic major and basic minor diameter
    root_depth   greatest basic depth of an external thread's root, below the basic major diameter
    radius       of the root (and of the crest where the standard rounds both)
    even         crest and root end alike, so that the pitch line lies half-way between them
    """

    name: str
    angle_deg: float
    depth: float
    root_depth: float
    radius: float
    even: bool = True

    @property
    def sharp_height(self) -> float:
        """Height of the sharp triangle over the pitch: H = 1 / (2 tan(angle / 2)). Exact, by geometry."""
        return 0.5 / tan(radians(self.angle_deg / 2))

    @property
    def pitch_offset(self) -> float:
        """Basic major less basic pitch diameter, over the pitch."""
        return self.depth if self.even else 0.75 * self.sharp_height


H60 = 0.5 / tan(radians(30))
"""Sharp height of a 60 degree thread over its pitch, sqrt(3)/2. Exact, by geometry."""

H55 = 0.5 / tan(radians(27.5))
"""Sharp height of a 55 degree thread over its pitch, 0.960491. Exact, by geometry."""

ISO = Form("ISO metric, 60°", 60, 5 / 8 * H60, 17 / 24 * H60, H60 / 6, even=False)
"""ISO 68-1: H/8 off the crest, H/4 off the root; the rounded root of a bolt reaches 17H/24 and has the radius H/6."""

UNIFIED = Form("Unified, 60°", 60, 5 / 8 * H60, 11 / 16 * H60, 3 / 16 * H60, even=False)
"""ASME B1.1: as ISO 68-1. The UNR root reaches 11H/16 (0.595392 P) below the basic major diameter,
with the radius 3H/16 that touches both flanks; the flat UN root, 5H/8."""

WHITWORTH = Form("Whitworth, 55°", 55, 2 / 3 * H55, 2 / 3 * H55, 0.137329)
"""BS 84: a sixth of the sharp height H rounded off at crest and root; depth 2H/3 = 0.640327 P, radius 0.137329 P."""

BRITISH_ASSOCIATION = Form("British Association, 47.5°", 47.5, 0.6, 0.6, 0.1808)
"""BS 93: depth 0.6 P, radius 0.1808 P at crest and root, as printed and as the geometry wants it (2/11 P as a rule)."""

NPT = Form("American pipe, 60°", 60, 0.8, 0.8, 0.0)
"""ASME B1.20.1: greatest height of the truncated thread 0.8 P; crest and root cut off by at least 0.033 P."""

PIPE_TAPER = 1 / 16
"""Taper of R, Rc and NPT threads, on the diameter. Exact, by definition (ISO 7-1, ASME B1.20.1)."""

FORMS: dict[str, Form] = {
    "M": ISO,
    "UN": UNIFIED,
    "BSW": WHITWORTH,
    "BSF": WHITWORTH,
    "G": WHITWORTH,
    "R": WHITWORTH,
    "NPT": NPT,
    "BA": BRITISH_ASSOCIATION,
}
"""The form of each family."""


def pitch_diameter_mm(major_mm: float, pitch_mm: float, form: Form) -> float:
    """Basic pitch (effective) diameter.

        d2 = d - 3/4 H          ISO and Unified: the crest loses H/8, the pitch line halves the sharp triangle
        d2 = d - depth x P      Whitworth, BA and NPT: crest and root end alike

    major_mm   basic major diameter [mm]
    pitch_mm   crest to crest [mm], above 0
    gives      [mm], unrounded

    Sources: iso-68-1; asme-b1-1; bs-84; bs-93

    >>> round(pitch_diameter_mm(16, 2, ISO), 3)
    14.701
    """
    return major_mm - form.pitch_offset * pitch_mm


def minor_mm(major_mm: float, pitch_mm: float, form: Form) -> float:
    """Basic minor diameter, d1 = D1 = d - 2 x depth x P [mm], unrounded.

    Sources: iso-68-1; asme-b1-1; bs-84; bs-93

    >>> round(minor_mm(16, 2, ISO), 3), round(minor_mm(25.4, 3.175, WHITWORTH) / 25.4, 4)
    (13.835, 0.8399)
    """
    return major_mm - 2 * form.depth * pitch_mm


def root_mm(major_mm: float, pitch_mm: float, form: Form) -> float:
    """Diameter over the rounded root of an external thread (d3 of ISO 724) [mm], unrounded.

    Sources: iso-68-1; iso-724; asme-b1-1

    >>> round(root_mm(10, 1.25, ISO), 3)
    8.466
    """
    return major_mm - 2 * form.root_depth * pitch_mm
