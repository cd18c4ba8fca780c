"""The thread finder against measurements of known threads, and what it must never do."""

from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.designations import thread_named
from fettlebook.tables.thread_finder_figures import known

FINDER = table_named("thread-finder")
CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "threads-finder.yml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_a_measured_thread_is_found_with_its_look_alikes(case):
    table = FINDER.table(case["given"])
    rows = {row["designation"]: row for row in table.rows}
    if "first" in case:
        assert table.rows[0]["designation"] == case["first"]
    if "pitch_mm" in case:
        assert table.rows[0]["pitch_mm"] == pytest.approx(case["pitch_mm"], abs=0.001)
    for name in case.get("fits", ()):
        assert rows[name]["verdict"] == "fits", name
    for name in case.get("look_alike", ()):
        assert rows[name]["verdict"] == "look-alike", name
    assert set(case.get("listed", ())) <= set(rows)
    assert not set(case.get("not_listed", ())) & {name for name, row in rows.items() if row["verdict"] != "look-alike"}
    for name, off in case.get("off", {}).items():
        assert rows[name]["off_diameter_mm"] == pytest.approx(off, abs=0.001)
    for name, words in case.get("tells", {}).items():
        assert all(word in rows[name]["tell"] for word in words), rows[name]["tell"]
    for words in case.get("says", ()):
        assert words in " ".join(table.notes)
    if case.get("several"):
        assert "before you have told them apart" in table.warnings[0]


@pytest.mark.parametrize("side", ["external", "internal"])
def test_every_thread_is_found_when_measured_at_its_basic_size(side):
    for thread in known(side):
        given = {"diameter": min(max(thread.low, 0.5), 350), "pitch": thread.pitch, "side": side}
        fitting = [row["designation"] for row in FINDER.table(given).rows if row["verdict"] == "fits"]
        assert thread.designation in fitting or len(fitting) >= 10, thread.designation


@settings(max_examples=150, deadline=None)
@given(
    st.floats(0.5, 350), st.floats(0.1, 13), st.sampled_from(["external", "internal"]), st.sampled_from(["worn", "new"])
)
def test_the_first_row_stands_alone_only_where_nothing_else_fits(diameter, pitch, side, age):
    table = FINDER.table({"diameter": diameter, "pitch": pitch, "side": side, "age": age})
    could = [row for row in table.rows if row["verdict"] in {"fits", "may fit"}]
    assert len(table.warnings) == 1
    if len(could) > 1:
        assert "One thread fits. Prove" not in table.warnings[0]
    assert all(row["tell"] for row in table.rows) or len(table.rows) < 2


def test_wear_thins_a_bolt_and_widens_a_hole():
    # 0.44 mm below basic is more than M16x1.5-6g (0.268 mm) and the measuring error allow, less than with wear
    assert verdict("M16x1.5", diameter=15.56, pitch=1.5) == "fits"
    assert verdict("M16x1.5", diameter=15.56, pitch=1.5, age="new") == "may fit"
    minor = thread_named("M16x1.5").minor_mm
    assert verdict("M16x1.5", diameter=minor + 0.5, pitch=1.5, side="internal") == "fits"
    assert verdict("M16x1.5", diameter=minor - 0.5, pitch=1.5, side="internal") != "fits"


def test_metal_does_not_grow():
    assert verdict("M16x1.5", diameter=16.3, pitch=1.5) != "fits"
    assert verdict("M16x1.5", diameter=16.3, pitch=1.5, error=0.3) == "fits"


def verdict(name, **given):
    return next((row["verdict"] for row in FINDER.table(given).rows if row["designation"] == name), None)


def test_without_the_pitch_nothing_is_decided():
    table = FINDER.table({"diameter": "12.6 mm"})
    assert table.warnings[0].startswith("Without the pitch nothing is decided")
    assert {row["off_pitch_percent"] for row in table.rows} == {None}


@pytest.mark.parametrize("given, words", [
    ({"diameter": "0", "tpi": 19}, "diameter: 0 is below the smallest value that holds here, 0.5 mm"),
    ({"diameter": "-3 mm"}, "diameter: -3 mm is below"),
    ({"diameter": "1e9"}, "diameter: 1e9 is above"),
    ({"diameter": "wide"}, 'diameter: "wide" does not start with a number'),
    ({"diameter": "13 kg"}, "diameter: kg measures mass, mm measures length"),
    ({"diameter": "13", "tpi": 0}, "tpi: 0 is below the smallest value that holds here, 2"),
    ({"diameter": "13", "side": "upper"}, 'side: "upper" is not one of external, internal'),
    ({"diameter": "13", "pitch": "1.5", "tpi": 18}, "tpi: a pitch of 1.5 mm is 16.93 threads per inch, not 18; give the one that you measured"),
    ({}, "diameter: must be given; for example 13.1 mm"),
])  # fmt: skip
def test_bad_input_gets_one_clear_line(given, words):
    with pytest.raises(BadValues) as fault:
        FINDER.table(given)
    assert words in str(fault.value) and "\n" not in str(fault.value)


def test_a_thread_that_none_is_near_is_said_to_be_special():
    assert FINDER.table({"diameter": "300 mm", "pitch": "0.3 mm"}).warnings[0].startswith("No standard thread fits")
