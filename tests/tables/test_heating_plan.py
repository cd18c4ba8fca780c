"""The heating plan: what shares a heating, the order on the hearth and in the oven, and faults told by part."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.heating_plan import SAMPLE, plan_of, timeline

STEELS = (
    "silver steel",
    "O1",
    "W1",
    "A2",
    "D2",
    "C45",
    "EN8",
    "EN9",
    "42CrMo4",
    "4340",
    "EN24",
    "8620",
    "5160",
    "EN45",
    "EN31",
    "mild steel",
    "unknown",
)


def part(name, steel, section, **more):
    return {"name": name, "steel": steel, "section": section, **more}


def table(*parts, **more):
    return table_named("heating-plan").table({"parts": list(parts), **more})


def test_the_sample_batch_is_planned_as_a_careful_hand_would():
    rows = table(*SAMPLE).rows
    assert [(r["part"], r.get("heating"), r.get("quench"), r.get("temper_c")) for r in rows] == [
        ("punch", 1, "oil", 235.0), ("key", 1, "water", 625.0), ("scriber", 1, "oil", 230.0), ("detent spring", 2, "oil", 450.0), ("washer", None, None, None),
    ]  # fmt: skip
    assert rows[0]["place"].startswith("at the back, in the way of the waste heat")
    assert [r.get("quench_order") for r in rows] == [3, 2, 1, 1, None]


def test_mild_steel_is_left_out_and_said_first():
    assert table(*SAMPLE).warnings[0].startswith("washer, Mild steel: it does not harden")


def test_ranges_apart_may_not_share_and_the_reason_is_said():
    found = table(part("rod", "BS 1407", "12 mm"), part("leaf", "EN45", "4 mm"))
    assert [r["heating"] for r in found.rows] == [1, 2]
    assert (
        "Heatings 1 and 2 may not be one: the second needs at least 830 °C, the first must not pass 780 °C (coarse grain, cracks)."
        in found.notes
    )


def test_a_wrapped_steel_never_lies_beside_a_bare_one():
    found = {
        r["part"]: r["heating"]
        for r in table(part("die", "A2", "12 mm"), part("leaf", "EN45", "6 mm"), part("ring", "D2", "10 mm")).rows
    }
    assert found["leaf"] != found["die"]
    assert found["leaf"] != found["ring"]


def test_silver_steel_goes_into_oil_only_when_thin():
    rows = {r["part"]: r for r in table(part("thin", "BS 1407", "5 mm"), part("thick", "BS 1407", "14 mm")).rows}
    assert (rows["thin"]["quench"], rows["thick"]["quench"]) == ("oil", "water")


def test_a_thin_part_beside_a_thick_one_goes_in_later():
    rows = table(part("block", "O1", "30 mm"), part("pin", "O1", "5 mm")).rows
    assert rows[1]["place"].endswith("goes in later, when the thick one is red")


def test_tempering_may_be_asked_for_by_hardness_or_temperature():
    rows = {
        r["part"]: r
        for r in table(part("a", "O1", "10 mm", hardness=58), part("b", "O1", "10 mm", temper="200 degC")).rows
    }
    assert rows["a"]["hardness_hrc"] == pytest.approx(58, abs=0.7)
    assert rows["b"]["temper_c"] == 200
    assert rows["b"]["temper_order"] < rows["a"]["temper_order"]


EXAMPLE = "{name: scriber, steel: silver steel, section: 6 mm, does: scribes lines}"


@pytest.mark.parametrize(
    "parts, words",
    [
        ("scriber", f"parts: part 1 is not a part with name, steel and section; write each like {EXAMPLE}"),
        ([{"name": "a", "section": 3}], f"parts: part 1 has no steel; write each like {EXAMPLE}"),
        ([part("a", "O1", 0)], "parts: part 1, a: section 0 is outside 0.2 to 300 mm"),
        ([part("a", "O1", "6 mm", hardnes=58)], 'parts: part 1 has an unknown key "hardnes"; did you mean "hardness"?'),
        ([part("a", "O1", "6 mm", quench="water")], "parts: part 1, a: O1 (gauge plate, oil-hardening drill rod) is not published for water; its own: oil"),
        ([part("a", "O1", "6 mm", hardness=68)], "parts: part 1, a: O1 (gauge plate, oil-hardening drill rod) does not get 68 HRC by tempering for 1 h between 160 and 550 °C"),
        ([part("a", "O1", "6 mm"), part("a", "W1", "6 mm")], 'parts: two parts are called "a"; give each its own name; for several alike write count'),
        ([part("a", "1046", "6 mm")], 'parts: part 1, a: "1046" is not a steel known here; did you mean "1045" or "1040" or "1016"? for an unmarked piece write unknown: a trial piece comes first'),
        ([part("a", "drill rod", "6 mm")], "Drill rod is a finish, not a steel"),
        ([part(f"p{n}", "O1", "6 mm") for n in range(41)], "parts: 41 parts are too many for one plan; at most 40; use count for several alike"),
    ],
)  # fmt: skip
def test_a_fault_names_its_part(parts, words):
    with pytest.raises(BadValues) as told:
        table_named("heating-plan").table({"parts": parts})
    assert words in str(told.value)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(STEELS), st.floats(0.5, 60)), min_size=1, max_size=8))
def test_the_laws_of_a_plan_hold_for_any_batch(batch):
    parts = tuple(part(f"p{n}", steel, section) for n, (steel, section) in enumerate(batch))
    plan = plan_of(parts)
    planned = [p.name for h in plan.heatings for p in h.parts] + [p.name for p in plan.left_out]
    assert sorted(planned) == sorted(p["name"] for p in parts)
    assert [h.low_c for h in plan.heatings] == sorted(h.low_c for h in plan.heatings)
    for heating in plan.heatings:
        assert all(p.low_c - 1e-9 <= heating.aim_c <= p.high_c + 1e-9 for p in heating.parts)
        assert [p.section_mm for p in heating.parts] == sorted((p.section_mm for p in heating.parts), reverse=True)
    assert [t for t, _ in plan.rounds] == sorted(t for t, _ in plan.rounds)
    clock = timeline(plan)
    assert all(s.start_min <= s.end_min for s in clock)
    hearth = [s for s in clock if s.kind in {"warm", "soak", "quench"}]
    assert all(a.end_min == pytest.approx(b.start_min) for a, b in zip(hearth, hearth[1:], strict=False))
