"""A small run of the simulation that benchmarks/levelling.py makes in full: few starts, the same conditions.

The marks are those of a plain matrix solver on the same beds: with coarse hands a median of 2, 2 and 3 rounds on 4, 6
and 8 firm feet; its own result here must not be worse.
"""

import sys
from pathlib import Path
from statistics import median

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent.parent / "benchmarks"))

from levelling import missed  # noqa: E402
from levelling_shop import CAREFUL, COARSE, FIRM, SOFT, Bed, Shop, bed_layout  # noqa: E402
from levelling_ways import CAP, WAYS  # noqa: E402

from fettlebook import data  # noqa: E402

OURS = "advice, to the bubble"


def test_the_figures_on_the_page_meet_what_is_asked_and_count_hanging_feet():
    rows = data.rows("levelling-simulation", "rows")
    assert missed(rows) == [] and data.read("levelling-simulation")["starts"] == 1000
    assert all(row.get("hanging_percent") is not None for row in rows if row["way"] == OURS)


def rounds(way, feet, starts=12, **condition):
    return [WAYS[way](Shop(feet, 7000 + seed, **condition)) for seed in range(starts)]


@pytest.mark.parametrize("feet, most", [(4, 2), (6, 2), (8, 3)])
def test_coarse_hands_need_few_rounds(feet, most):
    found = rounds(OURS, feet, hands=COARSE, floor=FIRM)
    assert median(found) <= most and max(found) <= CAP


def test_eight_soft_feet_are_finished():
    found = rounds(OURS, 8, hands=COARSE, floor=SOFT)
    assert median(found) <= 4 and max(found) <= CAP


def test_a_seized_jack_is_worked_around():
    found = rounds(OURS, 6, hands=COARSE, floor=FIRM, seized=True)
    assert median(found) <= 4 and sum(k <= CAP for k in found) >= 11


def test_a_bad_order_is_far_worse_than_a_good_one_on_eight_feet():
    good, bad = (rounds(way, 8, 5, hands=CAREFUL, floor=FIRM) for way in ("along the bed", "ends first"))
    assert median(bad) >= 3 * median(good)


def test_pitch_and_roll_alone_do_not_level_a_bed_that_bends():
    assert min(rounds("rigid plane", 6, 5)) > CAP


# Weights and reactions: the loads carry the weight and its moments (statics, exact), and no foot pulls.
@pytest.mark.parametrize("feet", [4, 6, 8])
def test_the_simulated_feet_carry_the_weight(feet):
    shop = Shop(feet, 11)
    loads = shop.bed.solve(shop.lifts)[1]
    assert min(loads) >= 0
    assert sum(loads) == pytest.approx(4000 * shop.bed.length + 5000, rel=1e-9)
    moment = sum(f * x for f, x in zip(loads, shop.bed.xs, strict=True))
    assert moment == pytest.approx(4000 * shop.bed.length**2 / 2 + 5000 * 0.2, rel=1e-9)


# The middle pair of a long even beam on three supports of no give carries 10/8 w l of its 2 w l (continuous beam of two
# equal spans, any handbook; from memory). Without the headstock.
def test_three_supports_share_as_the_handbook_says(monkeypatch):
    monkeypatch.setattr("levelling_shop.HEAD_N", 0.0)
    layout = bed_layout(6)
    bed = Bed(layout, 2.6, 8.8e6, 4.4e5, [1e12] * 6)
    bed.xs, bed.length = [0.0, 0.0, 1.3, 1.3, 2.6, 2.6], 2.6
    loads = bed.solve([0.0] * 6)[1]
    assert loads[2] + loads[3] == pytest.approx(10 / 8 * 4000 * 1.3, rel=1e-3)
    assert loads[0] + loads[1] == pytest.approx(3 / 8 * 4000 * 1.3, rel=1e-3)
