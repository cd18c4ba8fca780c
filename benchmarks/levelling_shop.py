"""A simulated workshop for levelling: a bed that bends and twists on springy feet, a floor, a level, and hands.

The bed is a beam in bending and a bar in torsion along x; foot j is a spring that pushes and never pulls. Metres,
newtons and radians inside; lifts in mm and readings in mm/m outside. Theory of beams and torsion bars; the figures of
stiffness, weight and hands are chosen, not measured.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp
from operator import mul
from random import Random

from fettlebook.tables.least_squares import solve_many
from fettlebook.tables.levelling_layout import Foot, Layout, Station

EI, GJ = 8.8e6, 4.4e5
"""Bending and twisting stiffness of the usual bed [N m2]."""
WEIGHT_N_M, HEAD_N, HEAD_X, HEAD_Y = 4000.0, 5000.0, 0.2, 0.03
"""Weight of the bed along its length, and of the headstock with its place from the bed's end and off the middle [m]."""
WIDTH = 0.45
BEDS = {4: (1.6, (0.15, 1.45), 5), 6: (2.6, (0.15, 1.30, 2.45), 7), 8: (4.0, (0.20, 1.40, 2.60, 3.80), 9)}
"""By number of feet: length of the bed, places of the pairs of feet [m], number of stations."""
SEATED_N = 300.0
"""Load under which a foot counts as loose and is brought up until it bears."""
LEVEL_NOISE = 0.002
"""Standard error of one reading [mm/m]: a tenth of a division of 0.02 mm/m."""


@dataclass(frozen=True)
class Hands:
    """How well a screw is turned by angle (part of the move, and in mm) and set by a bubble [mm/m]."""

    part: float
    floor_mm: float
    bubble: float


CAREFUL, COARSE = Hands(0.10, 0.004, 0.002), Hands(0.20, 0.012, 0.005)
FIRM, SOFT = 1e8, 1e7
"""Stiffness of a foot on its floor [N/m]."""


def bed_layout(feet: int) -> Layout:
    """The layout as the program is told it."""
    _, pairs, places = BEDS[feet]
    step = (pairs[-1] - pairs[0]) / (places - 1)
    stands = tuple(
        Foot(f"{side}{n + 1}", 1000 * x, y)
        for n, x in enumerate(pairs)
        for side, y in (("F", -500 * WIDTH), ("R", 500 * WIDTH))
    )
    return Layout(stands, tuple(Station(str(m + 1), 1000 * (pairs[0] + m * step)) for m in range(places)))


class Bed:
    """Readings and foot loads for given lifts. give is 1/k of every foot."""

    def __init__(self, layout: Layout, length: float, ei: float, gj: float, k: list[float]) -> None:
        self.xs = [foot.x_mm / 1000 for foot in layout.feet]
        self.ys = [foot.y_mm / 1000 for foot in layout.feet]
        self.at = [station.x_mm / 1000 for station in layout.stations]
        self.length, self.ei, self.gj, self.k = length, ei, gj, k
        self._known: dict[tuple[int, ...], tuple[list[float], list[list[float]], list[float], list[list[float]]]] = {}

    def _height(self, x: float, y: float, force_x: float, force_y: float) -> float:
        gap = abs(x - force_x)
        return gap**3 / 12 / self.ei - y * force_y * gap / 2 / self.gj

    def _slopes(self, x: float, force_x: float, force_y: float) -> tuple[float, float]:
        gap = x - force_x
        return gap * abs(gap) / 4 / self.ei, -force_y * abs(gap) / 2 / self.gj

    def _linear(self, on: tuple[int, ...]):
        """(r0, A, f0, B): readings r0 + A u and loads f0 + B u while just the feet ON carry; also heights of the bed."""
        if on in self._known:
            return self._known[on]
        feet = len(self.xs)
        left = [[self._height(self.xs[i], self.ys[i], self.xs[j], self.ys[j]) + (1 / self.k[i] if i == j else 0.0) for j in on]
                + [1.0, self.xs[i], self.ys[i]] for i in on]  # fmt: skip
        for arms in ([1.0] * feet, self.xs, self.ys):
            left.append([arms[j] for j in on] + [0.0] * 3)
        weight = WEIGHT_N_M * self.length
        moments = [weight + HEAD_N, weight * self.length / 2 + HEAD_N * HEAD_X, HEAD_N * HEAD_Y]
        right = [[-self._own(self.xs[i], self.ys[i])] + [float(i == j) * 1e-3 for j in range(feet)] for i in on]
        right += [[m] + [0.0] * feet for m in moments]
        found = solve_many(left, right)
        r0, matrix = [], []
        for way in (0, 1):
            for x in self.at:
                parts = [self._slopes(x, self.xs[j], self.ys[j])[way] for j in on] + [
                    0.0,
                    float(way == 0),
                    float(way == 1),
                ]
                line = [sum(p * row[c] for p, row in zip(parts, found, strict=True)) for c in range(feet + 1)]
                r0.append(1e3 * (line[0] + self._own_slopes(x)[way]))
                matrix.append([1e3 * v for v in line[1:]])
        f0, loads = [0.0] * feet, [[0.0] * feet for _ in range(feet)]
        for place, j in enumerate(on):
            f0[j], loads[j] = found[place][0], found[place][1:]
        heights = [[self._height(self.xs[i], self.ys[i], self.xs[j], self.ys[j]) for j in on] + [1.0, self.xs[i], self.ys[i]]
                   for i in range(feet)]  # fmt: skip
        lines = [[sum(h * row[c] for h, row in zip(hs, found, strict=True)) for c in range(feet + 1)] for hs in heights]
        g0 = [line[0] + self._own(self.xs[i], self.ys[i]) for i, line in enumerate(lines)]
        self._known[on] = r0, matrix, f0, loads, g0, [line[1:] for line in lines]
        return self._known[on]

    def _own(self, x: float, y: float) -> float:
        """Height of the bed from its own weight and the headstock, before the feet push."""
        spread = -WEIGHT_N_M * (x**4 + (self.length - x) ** 4) / 48 / self.ei
        return spread - HEAD_N * self._height(x, y, HEAD_X, HEAD_Y)

    def _own_slopes(self, x: float) -> tuple[float, float]:
        long, cross = self._slopes(x, HEAD_X, HEAD_Y)
        return -WEIGHT_N_M * (x**3 - (self.length - x) ** 3) / 12 / self.ei - HEAD_N * long, -HEAD_N * cross

    def solve(self, lifts: list[float]) -> tuple[list[float], list[float]]:
        """(readings [mm/m], loads [N]) for lifts in mm; feet push, never pull."""
        on = tuple(range(len(lifts)))
        for _ in range(60):
            r0, matrix, f0, loads, g0, heights = self._linear(on)
            force = [f + _dot(row, lifts) for f, row in zip(f0, loads, strict=True)]
            if len(on) == len(lifts) and min(force) > 0:
                break
            gaps = [u / 1e3 - g - _dot(row, lifts) for u, g, row in zip(lifts, g0, heights, strict=True)]
            carry = tuple(j for j in range(len(lifts)) if (force[j] > 0 if j in on else gaps[j] > 0))
            if len(carry) < 3 or carry == on:
                break
            on = carry
        return [r + _dot(row, lifts) for r, row in zip(r0, matrix, strict=True)], [
            f if j in on else 0.0 for j, f in enumerate(force)
        ]


def _dot(a: list[float], b: list[float]) -> float:
    return sum(map(mul, a, b))


class Shop:
    """One bed at its start, the level, and the hands. seized: a jack that turns and lifts nothing."""

    def __init__(self, feet: int, seed: int, hands: Hands = CAREFUL, floor: float = FIRM, seized: bool = False,
                 tilt: float = 0.5, rough: float = 0.15, spread: float = 0.4, noise: float = LEVEL_NOISE) -> None:  # fmt: skip
        self.random = Random(seed)
        gauss = self.random.gauss
        self.layout, self.hands, self.noise = bed_layout(feet), hands, noise
        self.bed = Bed(self.layout, BEDS[feet][0], EI * exp(gauss(0, spread)), GJ * exp(gauss(0, spread)),
                       [floor * exp(gauss(0, spread)) for _ in range(feet)])  # fmt: skip
        level = self.bed.solve([0.0] * feet)[0]
        self.ways = [gauss(0, 0.003) - r for r in level]
        middle = sum(self.bed.xs) / feet
        along, across = gauss(0, tilt), gauss(0, tilt)
        self.lifts = [
            along * (x - middle) + across * y + gauss(0, rough) for x, y in zip(self.bed.xs, self.bed.ys, strict=True)
        ]
        self.settings = self.placements = self.rounds = self.hanging = 0
        self.dead = self.random.randrange(feet) if seized else -1
        self.seat()

    def seat(self) -> None:
        """Before any reading: every loose foot is brought up until it bears."""
        for _ in range(80):
            loads = self.bed.solve(self.lifts)[1]
            lightest = min((j for j in range(len(loads)) if j != self.dead), key=lambda j: loads[j])
            if loads[lightest] >= SEATED_N:
                return
            self.lifts[lightest] += 0.01

    def end_round(self) -> None:
        """After a round: is a foot off the floor that a hand could have brought up? Then every loose foot is seated."""
        loads = self.bed.solve(self.lifts)[1]
        self.rounds += 1
        self.hanging += min(f for j, f in enumerate(loads) if j != self.dead) <= 0
        self.seat()

    def true(self) -> list[float]:
        return [r + w for r, w in zip(self.bed.solve(self.lifts)[0], self.ways, strict=True)]

    def read(self) -> list[float]:
        """Every station, long and cross [mm/m]."""
        self.placements += len(self.ways)
        return [r + self.random.gauss(0, self.noise) for r in self.true()]

    def turn(self, j: int, mm: float) -> None:
        """One jack by the angle of its screw."""
        gauss = self.random.gauss
        mm = mm * (1 + gauss(0, self.hands.part)) + gauss(0, self.hands.floor_mm)
        self.settings += 1
        self._lift([j], mm)

    def _lift(self, jacks: list[int], mm: float) -> None:
        for j in jacks:
            if j != self.dead:
                self.lifts[j] += mm

    def by_bubble(self, jacks: list[int], row: int, target: float) -> None:
        """Jacks turned alike while one bubble is watched, until it shows the target; given up if it does not move."""
        self.placements += 1
        self.settings += len(jacks)
        now, gain = self.true()[row], 0.0
        for _ in range(5):
            here = list(self.lifts)
            for j in jacks:
                here[j] += 0.02 if j != self.dead else 0.0
            gain = (self.bed.solve(here)[0][row] - self.bed.solve(self.lifts)[0][row]) / 0.02
            if abs(gain) < 0.02:
                return
            step = min(max((target - now) / gain, -0.6), 0.6)
            self._lift(jacks, step)
            now = self.true()[row]
            if abs(step) < 1e-4:
                break
        self._lift(jacks, self.random.gauss(0, self.hands.bubble) / gain)
