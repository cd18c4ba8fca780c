"""Where a line may not end in a text. Common practice in setting figures; that a space stands there is of the SI brochure, section 5.4.3."""

import pytest

from fettlebook.book.text import kept_together, text


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        ("Hold 45 °C for 10 min.", ["Hold", "45 °C", "for", "10 min."]),
        ("Thread M12 × 1.5, 30 mm long", ["Thread", "M12 × 1.5,", "30 mm", "long"]),
        ("Feed 0.12 mm/rev at 200 rpm", ["Feed", "0.12 mm/rev", "at", "200 rpm"]),
        ("Oil of 68 mm²/s (46 mm²/s in frost)", ["Oil", "of", "68 mm²/s", "(46 mm²/s", "in", "frost)"]),
        ("Take 3 measures and 2 minutes", ["Take", "3", "measures", "and", "2", "minutes"]),
        ("the bed × 2", ["the", "bed", "× 2"]),
    ],
)
def test_a_line_never_ends_between_a_figure_and_its_unit(words, lines):
    assert kept_together(words).split(" ") == [line.replace(" ", "\u00a0") for line in lines]


def test_the_words_themselves_stay_as_written():
    assert text("Hold 45 °C").written == text("Hold 45 °C").plain == "Hold 45 °C"
