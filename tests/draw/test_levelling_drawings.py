"""The drawings of levelling say what the tables say."""

from xml.etree import ElementTree

import pytest

from fettlebook import data
from fettlebook.draw.catalogue import drawing_named
from fettlebook.draw.levelling_moves import LEAN_DEG, _turned, order_of_work
from fettlebook.tables.catalogue import table_named
from fettlebook.tables.definition import BadValues
from fettlebook.tables.levelling_rounds import honest_word

SVG = "{http://www.w3.org/2000/svg}"


def words_of(name, given=None):
    return [e.text for e in ElementTree.fromstring(drawing_named(name).svg(given)).iter(f"{SVG}text")]


def test_the_high_end_is_the_one_the_sign_names():
    right = _turned([(10, 0)], (0, 0))[0]
    assert LEAN_DEG > 0 and right[1] < 0  # paper grows downwards: the right end rises
    assert "long +: tailstock end high" in words_of("levelling-moves") and "cross +: rear high" in words_of(
        "levelling-moves"
    )


@pytest.mark.parametrize("pairs", [2, 3, 5])
def test_the_order_names_every_pair_once_and_watches_the_span_left_behind(pairs):
    steps = order_of_work(pairs)
    assert len(steps) == pairs + 1
    for n in range(2, pairs + 1):
        assert steps[n - 1].startswith(f"Pair {n}: cross") and f"between {n - 1} and {n}." in steps[n - 1]
    assert [words for words in words_of("levelling-moves", {"pairs": pairs}) if words.startswith("Pair")] == steps[:-1]


def test_the_bars_show_the_rows_of_the_table():
    for hands, floor in (("coarse", "firm"), ("careful", "soft"), ("coarse", "seized")):
        rows = table_named("levelling-rounds").table({"hands": hands, "floor": floor}).rows
        shown = words_of("levelling-rounds", {"hands": hands, "floor": floor})
        for row in rows:
            assert ("over 20" if row["rounds"] is None else str(row["rounds"])) in shown
        assert sum(text.endswith(" feet") for text in shown) == len(rows) == 18


def test_what_was_not_simulated_is_said():
    with pytest.raises(
        BadValues, match="hands: a seized jack was simulated with coarse hands only; write hands=coarse"
    ):
        table_named("levelling-rounds").table({"hands": "careful", "floor": "seized"})
    with pytest.raises(BadValues, match="feet: 5 feet were not simulated; write 4, 6 or 8"):
        table_named("levelling-rounds").table({"feet": 5})


# What is asked of this book's own moves: with coarse hands a median of 2, 2 and 3 rounds on 4, 6 and 8 firm feet, and at
# least 95 % finished on 8 soft feet (a plain matrix solver on the same beds: 2, 2, 3).
def test_the_book_s_own_moves_keep_what_is_asked_of_them():
    known = data.read("levelling-simulation")
    assert known["starts"] == 1000
    ours = {(row["feet"], row["condition"]): row for row in known["rows"] if row["way"] == "advice, to the bubble"}
    assert all(ours[feet, "coarse hands, firm floor"]["rounds"] <= most for feet, most in ((4, 2), (6, 2), (8, 3)))
    assert all(row["finished_percent"] >= 95 for (feet, condition), row in ours.items() if "soft" in condition)


def test_the_word_on_the_traditional_way_follows_the_rows():
    note = table_named("levelling-rounds").table({"hands": "coarse", "floor": "soft"}).notes[1]
    assert note.endswith("8 feet it takes more rounds or fails more often.")
    rows = [{"feet": 4, "way": way, "rounds": 2, "rounds_of_nine_in_ten": most, "finished_percent": 100.0}
            for way, most in (("along the bed", 2), ("advice, to the bubble", 3))]  # fmt: skip
    assert honest_word(rows).endswith("on 4 feet it is quicker.")
    assert honest_word([{**row, "rounds_of_nine_in_ten": 3} for row in rows]).endswith("on 4 feet it is as good.")
