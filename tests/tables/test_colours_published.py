"""Temper and heat colours against printed tables and reports: tests/published/colours.yml, groups printed to said."""

from pathlib import Path

import pytest
import yaml

from fettlebook import data
from fettlebook.tables import film
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.colorimetry import hexadecimal, linear_srgb, xyz_by_reflection
from fettlebook.tables.quantities import convert
from fettlebook.tables.steel_data import one
from fettlebook.tables.temper_colours import colours_between, named_colours, temper_colours

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "colours.yml").read_text(encoding="utf-8"))
LADDER = [row["colour"] for row in named_colours()]
GAS_CONSTANT = 8.314462618e-3  # kJ/(mol K), exact in the SI of 2019
by_id = {"ids": lambda case: case["id"]}


def values(written):
    return written if isinstance(written, list) else [written]


@pytest.mark.parametrize("case", CASES["printed"], **by_id)
def test_a_printed_table_stands_in_the_data_and_inside_the_rows(case):
    named = {row["colour"]: row for row in data.rows("colour-names", "temper")}
    rows = {row["colour"]: row for row in temper_colours(5.0).rows}
    for _, celsius, fahrenheit, ours in case["rows"]:
        assert round(convert(celsius, "degC", "degF")) == pytest.approx(fahrenheit, abs=1)
        assert rows[ours]["low_c"] - 0.5 <= celsius <= rows[ours]["high_c"] + 0.5, (ours, celsius)
    kept = {(colour, v) for colour, row in named.items() for v in values(row["tables"].get(case["table"], []))}
    printed = {(ours, celsius) for _, celsius, _, ours in case["rows"]}
    spans = {colour: values(row["tables"].get(case["table"], [])) for colour, row in named.items()}
    inside = {(colour, v) for colour, v in printed if spans[colour] and min(spans[colour]) <= v <= max(spans[colour])}
    # "Above 316 degC grey-black" is a lower end of grey, which no row holds as a temperature of its own.
    assert printed - inside <= {("light blue", 316)}
    assert kept - printed == set()


@pytest.mark.parametrize("case", CASES["long"], **by_id)
def test_what_was_seen_after_a_long_time_lies_between_slow_and_fast_growth(case):
    ends = colours_between(case["temperature_c"], case["minutes"]).removeprefix("about ").split(" to ")
    low, high = LADDER.index(ends[0]), LADDER.index(ends[-1])
    assert all(low <= LADDER.index(colour) <= high for colour in case["seen"]), ends


@pytest.mark.parametrize("case", [case for case in CASES["long"] if case.get("paler")], **by_id)
def test_the_slow_end_is_needed_since_fast_growth_alone_is_too_deep(case):
    fast = film.grown_nm(case["temperature_c"], case["minutes"])
    palest = next(row for row in named_colours() if row["colour"] == case["seen"][0])
    assert fast > palest["to_nm"]


@pytest.mark.parametrize("case", CASES["short"], **by_id)
def test_a_few_minutes_spread_the_ladder_as_far_as_one_source_says(case):
    pale = temper_colours(5.0).rows[0]["low_c"]
    grey = temper_colours(1.0).rows[-1]["computed_low_c"]
    assert pale == pytest.approx(case["pale_straw_c"], abs=case["tolerance"])
    assert grey == pytest.approx(case["grey_c"], abs=case["tolerance"])


@pytest.mark.parametrize("case", CASES["uses"], **by_id)
def test_uses_by_temperature_are_the_printed_ones(case):
    low, high = case["c"][0] - case["within"], case["c"][-1] + case["within"]
    bands = data.read("temper-uses")["kinds"]["carbon-tool"]
    said = " ".join(band["use"] for band in bands if band["low"] <= high and band["high"] >= low)
    assert [word for word in case["words"] if word not in said] == [], said


@pytest.mark.parametrize("case", CASES["stainless"], **by_id)
def test_colours_of_stainless_steel(case):
    rows = {row["colour"]: row for row in table_named("stainless-temper-colours").table().rows}
    for colour, celsius in case["rows"].items():
        assert rows[colour]["temperature_c"] == pytest.approx(celsius, abs=case["tolerance"])
    assert {row["time_h"] for row in rows.values()} == {case["time_h"]}
    assert all(row["temperature_c"] > row["plain_c"] + 100 for row in rows.values() if row["plain_c"])


@pytest.mark.parametrize("case", CASES["films"], **by_id)
def test_published_thickness(case):
    row = next(row for row in temper_colours(5.0).rows if row["colour"] == case["colour"])
    assert row["published_low_nm"] - case["tolerance"] <= case["nm"] <= row["published_nm"] + case["tolerance"]
    assert case["nm"] == 5 or row["published_nm"] > row["film_nm"]


def test_a_film_as_thin_as_one_table_prints_for_pale_yellow_is_still_bright():
    assert named_colours()[0]["published_nm"] < named_colours()[0]["from_nm"] / 2


@pytest.mark.parametrize("case", CASES["haematite"], **by_id)
def test_haematite_alone_is_blue_where_steel_is_straw(case):
    xyz = xyz_by_reflection(
        lambda nm: film.reflectance(case["film_nm"], nm, film._index("haematite", nm), film.indices(nm)[1])
    )
    found, wanted = hexadecimal(linear_srgb(xyz)), case["expect"]
    off = [abs(int(found[n : n + 2], 16) - int(wanted[n : n + 2], 16)) for n in (1, 3, 5)]
    assert max(off) <= case["tolerance"], found
    assert film.film_srgb(case["film_nm"])[1:3] > film.film_srgb(case["film_nm"])[5:7], "ours is redder than blue"


@pytest.mark.parametrize("case", CASES["units"], **by_id)
def test_degrees_and_intervals_are_told_apart(case):
    value, unit = case["from"]
    if unit.endswith("/h"):
        got = convert(value, "degF", "degC") - convert(0, "degF", "degC")
        annealed = next(op for op in one("EN8").operations if op.op == "anneal" and op.way == "full")
        assert f"{got:.0f} °C/h" in annealed.cool, "what the sheet prints as 50 °F/h"
    else:
        got = convert(value, unit, case["to"])
    assert got == pytest.approx(case["expect"], abs=case["tolerance"])


@pytest.mark.parametrize("case", CASES["activation"], **by_id)
def test_the_apparent_activation_energy_is_half_of_the_literature_s(case):
    apparent = 2 * film.GROWTH["exponent_k"] * GAS_CONSTANT * (2 if case.get("twice") else 1)
    assert case["expect"][0] - case["tolerance"] <= apparent <= case["expect"][1] + case["tolerance"]


@pytest.mark.parametrize("case", CASES["said"], **by_id)
def test_the_table_says_so(case):
    notes = " ".join(table_named(case["table"]).table().notes)
    assert [words for words in case["says"] if words not in notes] == []
