"""Where a rule begins and ends, and what is taken when nothing is said: figures that no ordinary example touches."""

import inspect
from fractions import Fraction

import pytest

from fettlebook import data
from fettlebook.tables.catalogue import table_named, tables
from fettlebook.tables.definition import REQUIRED, BadValue, BadValues, Parameter
from fettlebook.tables.hardness import STRENGTHS
from fettlebook.tables.helices import helix_leads
from fettlebook.tables.infeed import usual_passes
from fettlebook.tables.least_squares import least
from fettlebook.tables.levelling_layout import layout_from
from fettlebook.tables.levelling_rounds import condition_named, hanging_word, honest_word
from fettlebook.tables.maynier import outside
from fettlebook.tables.o_rings import o_rings
from fettlebook.tables.quantities import UNITS, Unreadable, convert, read_quantity, unit_named
from fettlebook.tables.quenching import bath
from fettlebook.tables.thread_forms import H60, ISO, UNIFIED
from fettlebook.tables.viscosity import viscosity_index

DEFAULTS = [
    (definition.name, parameter.name)
    for definition in tables().values()
    for parameter in definition.parameters
    if parameter.default is not REQUIRED
    and getattr(inspect.signature(definition.compute).parameters.get(parameter.keyword), "default", inspect.Parameter.empty)
    is not inspect.Parameter.empty
]  # fmt: skip


@pytest.mark.parametrize(("table", "name"), DEFAULTS)
def test_the_page_and_a_caller_in_python_get_the_same_when_nothing_is_said(table, name):
    definition = table_named(table)
    parameter = definition.parameter(name)
    there = inspect.signature(definition.compute).parameters[parameter.keyword].default
    if parameter.shop and there is None:
        return  # the shop's own value stands for it
    same = tuple(there) if isinstance(there, list | tuple) else there
    assert same == (tuple(parameter.default) if isinstance(parameter.default, list | tuple) else parameter.default)


def test_there_are_defaults_to_compare():
    assert len(DEFAULTS) > 60


def test_an_unknown_table_gets_the_nearest_name_or_the_list():
    with pytest.raises(BadValue, match=r'did you mean "thread-sizes"\?'):
        table_named("thread-size")
    with pytest.raises(BadValue, match="`fettlebook tables` lists them"):
        table_named("qqqq")


@pytest.mark.parametrize(("example", "spaced"), [("ISO VG 46, 30", True), ("30, ISO VG 46", False), ("a,b", False)])
def test_the_first_of_an_example_says_whether_spaces_part(example, spaced):
    assert Parameter("x", "X", kind="text", many=True, example=example).spaced is spaced


def test_a_head_may_have_sixteen_gears():
    gears = (24, 28, 32, 36, 40, 44, 48, 52, 56, 60, 64, 72, 76, 80, 86, 100)
    assert helix_leads(100.0, 20.0, gears=gears).rows
    with pytest.raises(BadValue, match="17 gears are given"):
        helix_leads(100.0, 20.0, gears=(*gears, 20))


@pytest.mark.parametrize("hundredths", range(50, 305, 5))
def test_passes_between_two_rows_are_rounded_half_up(hundredths):
    """Against the proportion in whole fractions, from the rows as they stand. Source: threading-passes-ingersoll"""
    rows = data.rows("thread-passes", "passes")
    pitch = Fraction(hundredths, 100)
    at = [Fraction(str(row["pitch"])) for row in rows]
    i = max(0, min(next((n for n, p in enumerate(at) if pitch <= p), len(at) - 1), len(at) - 1) - 1)
    if pitch <= at[0]:
        expected = rows[0]["few"], rows[0]["many"]
    else:
        part = (pitch - at[i]) / (at[i + 1] - at[i])
        expected = tuple(
            int(rows[i][key] + part * (rows[i + 1][key] - rows[i][key]) + Fraction(1, 2)) for key in ("few", "many")
        )
    exact = [Fraction(rows[i][key]) for key in ("few", "many")] if pitch <= at[0] else [
        rows[i][key] + part * (rows[i + 1][key] - rows[i][key]) for key in ("few", "many")
    ]  # fmt: skip
    if any((one + Fraction(1, 2)).denominator == 1 for one in exact):
        return  # a half exactly: the last bit of a float decides
    assert usual_passes(float(pitch)) == expected


def test_the_first_of_equal_figures_is_taken_even_of_nothings():
    assert least([0.0, 0.0]) == 0 and least([2.0, 0.0, 0.0]) == 1


@pytest.mark.parametrize("way", ["travel_up_mm", "travel_down_mm"])
def test_a_jack_cannot_travel_less_than_nothing(way):
    feet = [
        {"name": n, "x_mm": x, "y_mm": y} for n, x, y in (("a", 0, 0), ("b", 0, 400), ("c", 900, 0), ("d", 900, 400))
    ]
    feet[0][way] = -1
    with pytest.raises(BadValue, match="a travel below zero is impossible"):
        layout_from({"feet": feet, "stations": [{"name": "1", "x_mm": 0}, {"name": "2", "x_mm": 900}]})


def row(way, feet, nine, finished, median, hanging=None):
    return {"way": way, "feet": feet, "rounds_of_nine_in_ten": nine, "finished_percent": finished, "rounds": median,
            "hanging_percent": hanging}  # fmt: skip


def test_the_word_on_the_traditional_way_is_made_from_the_rows():
    rows = [
        row("advice, to the bubble", 4, 3, 100, 2), row("along the bed", 4, 3, 100, 2),
        row("advice, to the bubble", 6, 3, 100, 2), row("along the bed", 6, 2, 90, 3),
        row("advice, to the bubble", 8, 3, 100, 2), row("along the bed", 8, 3, 100, 3),
    ]  # fmt: skip
    assert honest_word(rows) == (
        "The traditional way, along the bed with the bubble watched, against this book's moves: on 6 feet it is quicker; "
        "on 4 feet it is as good; on 8 feet it takes more rounds or fails more often."
    )


def test_several_beds_are_named_together_and_unfinished_starts_count():
    rows = [
        row("advice, to the bubble", 4, 3, 99, 2), row("along the bed", 4, 3, 98, 1),
        row("advice, to the bubble", 6, 3, 99, 2), row("along the bed", 6, None, 99, None),
        row("advice, to the bubble", 8, 4, 99, 2), row("along the bed", 8, 4, 99, 1),
    ]  # fmt: skip
    assert "on 8 feet it is quicker" in honest_word(rows)
    assert "on 4 and 6 feet it takes more rounds or fails more often" in honest_word(rows)


def test_what_hangs_is_told_only_where_it_was_counted():
    counted = [row("advice, to the bubble", 4, 3, 100, 2, 1.4), row("along the bed", 4, 3, 100, 2, 12.6)]
    (word,) = hanging_word(counted)
    assert "After at most 1 percent" in word and "after up to 13" in word
    assert hanging_word([counted[0], row("along the bed", 4, 3, 100, 2)]) == ()


def test_a_seized_jack_is_known_with_coarse_hands_only():
    assert condition_named("coarse", "seized") == "coarse hands, firm floor, a jack seized"
    assert condition_named("careful", "soft") == "careful hands, soft floor"
    assert condition_named("coarse", "firm") == "coarse hands, firm floor"
    with pytest.raises(BadValue, match="with coarse hands only"):
        condition_named("careful", "seized")


ENDS = [
    ("C", 0.1, 0.5),
    ("Si", 0, 1),
    ("Mn", 0, 2),
    ("Ni", 0, 4),
    ("Cr", 0, 3),
    ("Mo", 0, 1),
    ("V", 0, 0.2),
    ("Cu", 0, 0.5),
]


@pytest.mark.parametrize(("element", "low", "high"), ENDS)
def test_the_ranges_of_the_hardness_equations(element, low, high):
    """Maynier, Dollet, Bastien 1978, ranges from memory."""
    small = dict.fromkeys((name for name, _, _ in ENDS), 0.0) | {"C": 0.3}
    assert outside({**small, element: high}) == ()
    assert len(outside({**small, element: high + 0.01})) == 1
    assert outside({**small, element: low}) == ()
    assert low == 0 or len(outside({**small, element: low - 0.01})) == 1


def test_the_alloying_elements_together():
    assert outside({"C": 0.3, "Ni": 3.0, "Cr": 2.0}) == ()
    assert outside({"C": 0.3, "Ni": 3.0, "Cr": 2.05}) == ("Mn + Ni + Cr + Mo 5.05 % is over 5 %",)


def test_a_measured_section_may_be_off_by_fifteen_hundredths():
    """ISO 3601-1 sections: 1.78, 2.62, 3.53, 5.33, 6.99 mm."""
    assert {r["section_mm"] for r in o_rings(section_mm=1.78 + 0.147).rows} == {1.78}
    with pytest.raises(BadValue, match="no standard section"):
        o_rings(section_mm=1.78 + 0.153)


def test_a_data_sheets_index_may_be_off_by_five():
    """common practice; the index itself (ASTM D2270) is tested elsewhere, here how far a given one may stand from it"""
    near = [n for n in range(60, 140) if accepted(table_named("oil-viscosity"), n)]
    found = viscosity_index(46.0, 6.8)
    assert near == [n for n in range(60, 140) if abs(n - found) <= 5] and len(near) == 10
    assert accepted(table_named("oil-viscosity"), found + 4.95) and not accepted(
        table_named("oil-viscosity"), found + 5.05
    )


def accepted(oil, index):
    try:
        oil.table({"v40": 46.0, "v100": 6.8, "index": index, "temperatures": [40]})
    except BadValues:
        return False
    return True


def test_units_in_which_figures_are_kept():
    """SI, and what the trade keeps to: each is the unit of its dimension, so its size is 1."""
    for unit in ("mm", "kg", "s", "K", "N", "MPa", "V", "A", "W", "Hz", "Nm", "deg", "l"):
        assert UNITS[unit].factor == 1, unit
    assert convert(230, "V", "V") == 230


@pytest.mark.parametrize(
    "written", [{"a": 1}, ["6 mm"], None, 10**309, -(10**400), True, float("nan"), float("inf")], ids=lambda _: ""
)
def test_what_is_no_figure_is_refused_in_words(written):
    with pytest.raises(Unreadable):
        read_quantity(written, "mm")
    with pytest.raises(BadValues, match="section"):
        table_named("heating-plan").table({"parts": [{"name": "a", "steel": "O1", "section": written or {}}]})


def test_feeds_in_inches():
    """One inch is 25.4 mm exactly."""
    assert convert(0.004, "in/rev", "mm/rev") == pytest.approx(0.1016, rel=1e-15)
    assert convert(2.54, "mm/rev", "in/rev") == pytest.approx(0.1, rel=1e-15)


@pytest.mark.parametrize("form", [ISO, UNIFIED])
def test_the_round_root_touches_both_flanks(form):
    """Geometry of a 60 degree groove: an arc that touches both flanks leaves its own radius to the sharp root, 7H/8 below the major."""
    assert form.radius == pytest.approx(7 / 8 * H60 - form.root_depth, rel=1e-12)


@pytest.mark.parametrize(("feet", "said"), [(2, True), (3, False)])
def test_three_feet_hold_a_bed(feet, said):
    places = [(0, 0), (900, 400), (0, 400)][:feet]
    machine = {
        "feet": [{"name": f"f{n}", "x_mm": x, "y_mm": y, "jack": True} for n, (x, y) in enumerate(places)],
        "stations": [{"name": "1", "x_mm": 0}, {"name": "2", "x_mm": 900}],
    }
    try:
        layout_from(machine)
        refused = ""
    except BadValue as fault:
        refused = str(fault)
    assert ("do not hold a bed" in refused) is said


def test_a_bed_is_no_longer_than_a_hundred_metres():
    feet = [
        {"name": n, "x_mm": x, "y_mm": y}
        for n, x, y in (("a", 0, 0), ("b", 0, 400), ("c", 95000, 0), ("d", 95000, 400))
    ]
    stations = [{"name": "1", "x_mm": 0}, {"name": "2", "x_mm": 900}]
    layout_from({"feet": feet, "stations": stations})
    feet[2]["x_mm"] = 100001
    with pytest.raises(BadValue, match="out of all proportion"):
        layout_from({"feet": feet, "stations": stations})


@pytest.mark.parametrize("written", ["1: 1/2/3", "1: 1 / 2 / 3", "1: 1"])
def test_a_pair_of_readings_has_one_slash(written):
    with pytest.raises(BadValues, match="with a slash between"):
        table_named("jack-moves").table(
            {"machine": "feet=4 length=1600 width=450 pitch=2", "readings": written, "division": 0.02}
        )


def test_passes_beyond_the_largest_pitch_go_on_in_proportion_to_the_last_two_rows():
    rows = data.rows("thread-passes", "passes")
    (a, b), pitch = rows[-2:], rows[-1]["pitch"] + 1
    share = (pitch - a["pitch"]) / (b["pitch"] - a["pitch"])
    assert usual_passes(pitch) == tuple(int(a[k] + share * (b[k] - a[k]) + 0.5) for k in ("few", "many"))


def test_nanometre_and_newton_metre_are_told_apart():
    assert unit_named("nm") == "nm" and unit_named("Nm") == "Nm"
    with pytest.raises(Unreadable):
        unit_named("NM")


def test_pounds_force_a_square_inch():
    """NIST SP 811: 1 psi = 6.894757 kPa."""
    assert (
        STRENGTHS["psi"] * 1000 == STRENGTHS["ksi"] == pytest.approx(0.45359237 * 9.80665 / 0.0254**2 / 1000, rel=1e-13)
    )


@pytest.mark.parametrize(("start_c", "warned"), [(39.9, False), (40.2, True)])
def test_water_that_ends_above_forty_degrees_is_warned_of(start_c, warned):
    """common practice"""
    table = bath(0.001, 1000.0, "water", bath_c=start_c)
    assert any("Water above about 40" in said for said in table.warnings) is warned
