"""Levels, screws and least moves against the figures of tests/published/levelling.yml."""

from math import radians, tan
from pathlib import Path

import pytest
import yaml

from fettlebook import data
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.levelling_layout import layout_from
from fettlebook.tables.levelling_model import beam_matrix, foot_matrix
from fettlebook.tables.levels import arc_seconds, vial_radius_m

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "levelling.yml").read_text(encoding="utf-8"))
by_id = {"ids": lambda case: case["id"]}


@pytest.mark.parametrize("case", CASES["rows"], **by_id)
def test_a_row_agrees_with_the_published_figure(case):
    rows = table_named(case["table"]).table(case["with"]).rows
    found = [row for row in rows if all(row[name] == value for name, value in case["where"].items())]
    assert len(found) == 1
    for name, expected in case["expect"].items():
        assert found[0][name] == pytest.approx(expected, abs=case["tolerance"]), name


@pytest.mark.parametrize("case", CASES["slopes"], **by_id)
def test_an_angle_is_a_slope_by_its_tangent(case):
    assert 1000 * tan(radians(case["degrees"])) == pytest.approx(case["mm_per_m"], abs=0.005)
    assert arc_seconds(case["mm_per_m"]) / 3600 == pytest.approx(case["degrees"], abs=case["tolerance_deg"])


@pytest.mark.parametrize("case", CASES["vial"], **by_id)
def test_the_radius_of_a_vial(case):
    assert vial_radius_m(case["division"], case["travel_mm"]) == pytest.approx(case["radius_m"], abs=case["tolerance"])


def far_end_low(pitch, height_mm):
    """The row of a jack that must rise by a height, on four feet a metre and a half along."""
    stands = [{"name": f"{x}{y}", "x_mm": 1500 * (x == "t"), "y_mm": 225 if y == "r" else -225, "screw_pitch_mm": pitch,
               "jack": x + y == "tr"} for x in "ht" for y in "fr"]  # fmt: skip
    machine = {"feet": stands, "stations": [{"name": "t", "x_mm": 1500}]}
    given = {"machine": machine, "readings": f"t: -/{-height_mm / 0.45 / 0.02}", "division": 0.02}
    return next(row for row in table_named("jack-moves").table(given).rows if row["jack"] == "tr")


@pytest.mark.parametrize("case", CASES["screws"], **by_id)
def test_a_screw_lifts_by_its_pitch_and_by_a_sixth_of_it_for_a_flat(case):
    for screw in (case["pitch"], case["id"]):  # by its pitch, and by the thread's name
        row = far_end_low(screw, 0.2)
        turned = row["turns"] + row["flats"] / 6 + row["degrees"] / 360
        assert row["move_mm"] / turned == pytest.approx(case["per_turn"], abs=0.0005)
        assert row["move_mm"] / turned / 6 == pytest.approx(case["per_flat"], abs=0.0005)


@pytest.mark.parametrize("case", CASES["moves"], **by_id)
def test_the_least_moves_for_a_twist(case):
    stands = zip(case["feet_x_mm"], case["feet_y_mm"], strict=True)
    feet = [{"name": str(n), "x_mm": x, "y_mm": y} for n, (x, y) in enumerate(stands)]
    stations = [{"name": f"s{n + 1}", "x_mm": x} for n, x in enumerate(case["stations_x_mm"])]
    given = {"machine": {"feet": feet, "stations": stations}, "readings": case["readings"], "division": 0.02}
    found = {row["jack"]: row["move_mm"] for row in table_named("jack-moves").table(given).rows}
    for n, expected in enumerate(case["moves_mm"]):
        assert found[str(n)] == pytest.approx(expected, abs=case["tolerance"])
    alone = [
        row["move_mm"]
        for row in table_named("jack-moves").table({**given, "readings": case["cross_only"], "prefer": "few"}).rows
        if row["move_mm"]
    ]
    assert [abs(mm) for mm in alone] == [pytest.approx(case["one_jack_mm"], abs=2 * case["tolerance"])]


def rank(matrix):
    """Independent columns, by elimination with row exchange."""
    rows, found = [list(row) for row in matrix], 0
    for column in range(len(rows[0])):
        best = max(range(found, len(rows)), key=lambda i: abs(rows[i][column]), default=None)
        if best is None or abs(rows[best][column]) < 1e-9:
            continue
        rows[found], rows[best] = rows[best], rows[found]
        for i in range(found + 1, len(rows)):
            part = rows[i][column] / rows[found][column]
            rows[i] = [a - part * b for a, b in zip(rows[i], rows[found], strict=True)]
        found += 1
    return found


@pytest.mark.parametrize("case", CASES["ranks"], **by_id)
def test_how_many_directions_the_jacks_control(case):
    layout = layout_from(f"feet={case['feet']} length=3000 width=450")
    assert rank(foot_matrix(layout)) == case["flexible"]
    assert rank(beam_matrix(layout, 0.1, 20)) == case["flexible"]
    stiff = [[round(v, 5) for v in row] for row in beam_matrix(layout, 1e7, 20)]
    assert rank(stiff) == case["rigid"]


@pytest.mark.parametrize("case", CASES["said"], **by_id)
def test_a_table_says_what_was_read(case):
    said = " ".join(table_named(case["table"]).table(case["with"]).notes)
    assert all(words in said for words in case["words"])


# By angle this book's moves need fewer rounds than that solver's, since they come in portions; they may not need more.
@pytest.mark.parametrize("case", CASES["simulated"], **by_id)
def test_another_simulation_needed_about_as_many_rounds(case):
    rows = data.rows("levelling-simulation", "rows")
    for feet, rounds in case["rounds"].items():
        (row,) = (r for r in rows if (r["feet"], r["way"], r["condition"]) == (feet, case["way"], case["condition"]))
        assert row["rounds"] <= rounds + case["tolerance"]
        assert case.get("fewer_is_fine") or row["rounds"] >= rounds - case["tolerance"]
