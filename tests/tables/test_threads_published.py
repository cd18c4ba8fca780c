"""Threads against the figures of tests/published/threads.yml."""

from functools import cache
from pathlib import Path

import pytest
import yaml

from fettlebook import data
from fettlebook.tables import thread_limits_asme_b1_1 as asme
from fettlebook.tables import thread_limits_iso965 as iso965
from fettlebook.tables import thread_tolerance_formulas as formulas
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.designations import thread_named
from fettlebook.tables.figures import written
from fettlebook.tables.infeed import depth_mm
from fettlebook.tables.thread_forms import FORMS
from fettlebook.tables.threads import threads_of

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "threads.yml").read_text(encoding="utf-8"))
by_id = {"ids": lambda case: case["id"]}


@cache
def sizes(family):
    table = table_named("thread-sizes").table({"family": family})
    return {row["designation"]: row for row in table.rows}, " ".join(table.notes)


@pytest.mark.parametrize("case", CASES["forms"], **by_id)
def test_a_form_agrees_with_its_printed_fractions(case):
    form = FORMS[case["family"]]
    for name, value in case["expect"].items():
        assert getattr(form, name) == pytest.approx(value, abs=case["tolerance"]), name
    for name, value in case["also"].items():
        assert form.sharp_height / int(name.removeprefix("H/")) == pytest.approx(value, abs=case["tolerance"]), name


@pytest.mark.parametrize("case", CASES["sizes"], **by_id)
def test_sizes_agree_with_what_is_printed(case):
    unit = 25.4 if case.get("unit") == "in" else 1
    for name, expected in case["expect"].items():
        rows, notes = sizes(thread_named(name).family)
        for column, value in zip(case["columns"], expected, strict=True):
            length = unit if column.endswith("_mm") else 1
            width = case["tolerance"][column] if isinstance(case["tolerance"], dict) else case["tolerance"]
            assert rows[name][column] / length == pytest.approx(value, abs=width), (name, column)
        for words in case.get("says", ()):
            assert words in notes


@pytest.mark.parametrize("case", CASES["limits"], **by_id)
def test_limits_agree_with_what_is_printed(case):
    unit = 25.4 if case.get("unit") == "in" else 1
    with_class = {"class": case["class"]} if "class" in case else {}
    table = table_named("thread-limits").table({"thread": case["thread"], **with_class})
    rows = dict(zip(("e", "i"), table.rows, strict=True))
    for name, expected in case["expect"].items():
        if name == "allowance":
            assert case["basic_in"] - rows["e"]["major_max_mm"] / unit == pytest.approx(expected, abs=case["tolerance"])
            continue
        side, what = name.split("_")
        for end, value in zip(("min", "max"), expected, strict=True):
            if value is not None:
                column = f"{what if what != 'pitch' else 'pitch_diameter'}_{end}_mm"
                assert rows[side][column] / unit == pytest.approx(value, abs=case["tolerance"]), (name, end)
    for words in case.get("says", ()):
        assert words in " ".join(table.notes)


def test_the_formulas_of_asme_b1_1_give_the_printed_terms():  # un-f1
    case = next(c for c in CASES["tolerances"] if c["standard"] == "asme_b1_1")
    td2 = asme.pitch_tolerance_in(0.5, 13, 0.5, "2A")
    found = {"Td2_2A": td2, "allowance_2A": 0.3 * td2, "Td_2A": asme.major_tolerance_in(13, "2A"),
             "TD2_2B": asme.pitch_tolerance_in(0.5, 13, 0.5, "2B"), "TD1_2B": asme.minor_tolerance_in(0.5, 13, "2B")}  # fmt: skip
    assert found == pytest.approx(case["expect"], abs=case["tolerance"])


def test_the_formulas_of_iso_965_give_the_published_values():  # iso-f2
    case = next(c for c in CASES["tolerances"] if c["standard"] == "iso965")
    found = {
        kind: formulas.tolerance_formula_um(kind, case["d"], case["pitch"]) for kind in ("Td", "Td2", "TD2", "TD1")
    }
    found["es_g"] = formulas.deviation_formula_um(case["pitch"], "g")
    assert found == pytest.approx(case["expect"], abs=case["tolerance"])


def test_printed_deviations_are_kept_where_rounding_the_formula_is_wrong():  # iso-dev
    case = CASES["deviations"]
    for pitch, printed in case["expect"].items():
        assert iso965.deviation_um(pitch, "G") == printed
        assert iso965.deviation_um(pitch, "g") == -printed
        rounded = float(written(formulas.deviation_formula_um(pitch, "G"), 0))
        if pitch in case["rounding_is_wrong_at"]:
            assert rounded != printed


@pytest.mark.parametrize("kind", ["TD1", "TD2", "Td", "Td2"])
def test_every_printed_tolerance_of_iso_965_lies_within_a_step_of_its_formula(kind):
    """Own check against typing errors: a step of the preferred numbers R 40 is 6 percent."""
    for row in data.rows("threads-iso965", kind):
        for grade, value in zip(iso965.GRADES[kind], row["tolerances"], strict=False):
            formula = formulas.tolerance_formula_um(kind, row.get("to", 10), row["pitch"], grade)
            assert value == pytest.approx(formula, rel=0.07), (row, grade)


def test_every_tolerance_of_iso_965_grows_with_its_grade():
    for kind in ("TD1", "TD2", "Td", "Td2"):
        for row in data.rows("threads-iso965", kind):
            assert row["tolerances"] == sorted(set(row["tolerances"]))


@pytest.mark.parametrize("name, expected", CASES["tap_chart"]["expect"].items())
def test_internal_pitch_tolerances_agree_with_a_tap_chart(name, expected):
    thread = thread_named(name)
    assert [iso965.tolerance_um("TD2", thread, grade) for grade in (4, 5, 6)[: len(expected)]] == expected


def test_bsw_and_unc_share_their_count_and_differ_in_angle():  # ti-same-tpi
    case = CASES["same_tpi"]
    for size, count in case["expect"].items():
        bsw, unc = thread_named(f'{size}" BSW'), thread_named(f'{size}" UNC')
        assert (bsw.tpi, unc.tpi, bsw.angle_deg, unc.angle_deg) == (count, count, 55, 60)
    for size, (bsw_count, unc_count) in case["differ"].items():
        assert (thread_named(f"{size} BSW").tpi, thread_named(f"{size} UNC").tpi) == (bsw_count, unc_count)


def test_three_minor_diameters_of_a_quarter_twenty_differ():  # un-basic2; ASME B1.1 in screw_thread_lib, American National depth
    thread = thread_named("1/4-20")
    d_max = asme.external(thread, "2A", 0.25).major[1] / 25.4
    assert thread.minor_mm / 25.4 == pytest.approx(0.1959, abs=5e-5)
    assert d_max - 1.08253 / 20 == pytest.approx(0.1948, abs=5e-5)
    assert d_max - 2 * thread.form.root_depth / 20 == pytest.approx(0.1894, abs=5e-5)
    national_mm = depth_mm(thread, "external", flat_mm=thread.pitch_mm / 8)
    assert 0.25 - 2 * national_mm / 25.4 == pytest.approx(0.1850, abs=5e-5)


def test_ten_threads_tell_a_five_eighths_unf_from_m16():  # ti-58-m16
    assert 10 * (thread_named("M16x1.5").pitch_mm - thread_named("5/8-18").pitch_mm) == pytest.approx(0.889, abs=0.001)


@pytest.mark.parametrize(
    "family, count",
    [("M", 40), ("UN", 33 + 24 + 25), ("BSW", 39), ("BSF", 31), ("G", 24), ("R", 15), ("NPT", 19), ("BA", 17)],
)
def test_the_lists_are_whole(family, count):
    """Counted in FreeCAD FeatureHole.cpp: 40 coarse metric, 33 UNC, 24 UNF (with No. 0), UNEF 24 there and 1 3/16 more here."""
    found = threads_of(family)
    if family == "M":
        found = [t for t in found if t.series == "coarse"]
    if family == "UN":
        found = [t for t in found if t.series in {"UNC", "UNF", "UNEF"}]
    assert len(found) == count
