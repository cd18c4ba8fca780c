"""Three wires: geometry that must close for every thread, the wires at hand, and what is refused."""

from math import cos, radians, sin

import pytest

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.threads import threads_of
from fettlebook.tables.wires import best_wire_mm, over_wires_mm, pitch_diameter_from_wires_mm, wire_range_mm

PARALLEL = [thread for family in ("M", "UN", "BSW", "BSF", "G", "BA") for thread in threads_of(family)[::9]]


def table(**given):
    return table_named("thread-wires").table(given)


@pytest.mark.parametrize("thread", PARALLEL, ids=lambda thread: thread.designation)
def test_the_best_wire_is_usable_and_touches_at_the_pitch_line(thread):
    """The centre of a wire that touches at the pitch line lies w/2 x sin(a) outside it; so M follows without the formula."""
    best, half = best_wire_mm(thread.pitch_mm, thread.angle_deg), radians(thread.angle_deg / 2)
    low, high = wire_range_mm(thread)
    assert low < best < high
    centre = thread.pitch_diameter_mm / 2 + best / 2 * sin(half)
    assert over_wires_mm(thread.pitch_diameter_mm, thread.pitch_mm, thread.angle_deg, best) == pytest.approx(
        2 * centre + best
    )
    assert best * cos(half) == pytest.approx(thread.pitch_mm / 2)


@pytest.mark.parametrize("thread", PARALLEL, ids=lambda thread: thread.designation)
def test_the_smallest_wire_is_level_with_the_crest(thread):
    low, _ = wire_range_mm(thread)
    over = over_wires_mm(thread.pitch_diameter_mm, thread.pitch_mm, thread.angle_deg, low)
    assert over == pytest.approx(thread.major_mm, abs=0.001)  # BA and G: printed diameters are rounded


def test_measuring_back_gives_the_pitch_diameter():
    over = over_wires_mm(9.026, 1.5, 60, 0.9)
    assert pitch_diameter_from_wires_mm(over, 1.5, 60, 0.9) == pytest.approx(9.026)


def test_every_class_has_both_limits():
    assert [(row["class"], row["limit"]) for row in table(thread="1/2-13").rows] == [
        ("basic", "basic"), ("1A", "least"), ("1A", "most"), ("2A", "least"), ("2A", "most"), ("3A", "least"), ("3A", "most"),
    ]  # fmt: skip


def test_of_the_wires_at_hand_the_nearest_to_the_best_is_taken():
    assert table(thread="M10", wire="0.5 mm, 0.9 mm, 1.2 mm").rows[0]["wire_mm"] == 0.9


def test_a_measured_thread_is_placed_in_its_classes():
    (warning,) = table(thread="M10", wire="0.9 mm", measured="10.3 mm").warnings
    assert warning == "The pitch diameter measured, 8.897 mm, is inside 6g, inside 6h, below 4h by 0.044 mm."


def test_a_coarse_helix_is_spoken_of_and_a_fine_one_is_not():
    """1-8 UNC by hand: w/2 x (P / (pi E))^2 x cos 30 x cot 30 = 0.9165 x 0.0433^2 x 1.5 = 0.0026 mm."""
    row = table(thread="1-8 UNC").rows[0]
    assert row["lead_correction_mm"] == pytest.approx(0.0026, abs=5e-5)
    assert "lifts the wires by 0.003 mm" in " ".join(table(thread="1-8 UNC").notes)
    assert "lifts" not in " ".join(table(thread="M10").notes)


@pytest.mark.parametrize(
    "given, message",
    [
        ({"thread": "1/2 NPT"}, "thread: 1/2 NPT is taper: three wires measure it only at a gauge plane; use the ring gauge"),
        ({"thread": "M10", "wire": "3 mm"}, "wire: 3 mm does not sit right in M10x1.5; it takes wires from 0.758 to 1.516 mm, best 0.866 mm"),
        ({"thread": "M10", "wire": "0"}, "wire: 0 is below the smallest value that holds here, 0.05 mm"),
        ({"thread": "M10", "measured": "20 mm"}, "measured: 20 mm over wires of 0.866 mm is no M10x1.5; measure again"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_in_one_line(given, message):
    with pytest.raises(BadValues) as caught:
        table(**given)
    assert str(caught.value) == message
