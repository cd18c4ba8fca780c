"""Wall charts are one sheet each with figures from the tables; the whole book has its contents, index and bookmarks."""

import pytest

from fettlebook.handout.charts import _flats, chart_pdf, charts
from fettlebook.handout.printing import UnknownSheet, printed
from fettlebook.handout.whole_book import whole_book


def test_each_chart_is_one_sheet_of_a4_or_a3(book, read):
    for chart in charts(book):
        pdf = read(chart_pdf(book, chart))
        assert len(pdf.pages) == 1, chart.id
        long = max(float(x) for x in pdf.pages[0].mediabox[2:])
        assert round(long) in (842, 1191) and pdf.metadata.title == chart.title


def chart_words(book, read, id):
    return read(chart_pdf(book, next(c for c in charts(book) if c.id == id))).pages[0].extract_text()


def test_charts_say_what_the_published_tables_say(book, read):
    # ISO 2306: 5, 8.5 and 14 mm for M6, M10 and M16. Indexing by 40 to 1 (any handbook): 13 divisions is 3 turns and 3 of 39. ISO 3448: VG 68 is 61.2 to 74.8.
    grid = next(c for c in charts(book) if c.id == "threads-m").data(book, "a4")["grids"][0]
    drills = {row[0]["t"]: row[-2]["t"] for row in grid["rows"]}
    assert {size: drills[size] for size in ("M6x1", "M10x1.5", "M16x2")} == {
        "M6x1": "5 mm",
        "M10x1.5": "8.5 mm",
        "M16x2": "14 mm",
    }
    assert "61.2" in chart_words(book, read, "oil-names") and "74.8" in chart_words(book, read, "oil-names")
    words = chart_words(book, read, "indexing").split()
    assert any(words[n : n + 4] == ["13", "3", "3", "39"] for n in range(len(words)))


def test_no_drill_is_named_that_breaks_a_tap_or_leaves_no_thread(book):
    grid = next(c for c in charts(book) if c.id == "threads-m").data(book, "a4")["grids"][0]
    shown = [float(row[-1]["t"]) for row in grid["rows"] if row[-1]["t"] != "–"]
    assert shown and all(55 <= percent <= 85 for percent in shown)


def test_one_flat_of_a_jack():
    # Geometry: 2 mm pitch, a sixth of a turn is 0.333 mm; over 420 mm that is 0.794 mm/m, 40 divisions of 0.02 mm/m.
    feet = [
        {"name": "F", "x_mm": 0, "y_mm": -210, "jack": True, "screw_pitch_mm": 2},
        {"name": "R", "x_mm": 0, "y_mm": 210},
    ]
    assert list(_flats(feet, 0.02)) == [["F", "R", "0.333", "0.79", "40"]]


def test_the_whole_book_has_contents_bookmarks_index_glossary_and_sources(book, read):
    pdf = read(whole_book(book))

    def titles(outline):
        for one in outline:
            if isinstance(one, list):
                yield from titles(one)
            else:
                yield one.title

    marks = list(titles(pdf.outline))
    assert {p.title for p in book.procedures.values()} | {"Index of symptoms", "Glossary", "Sources"} <= set(marks)
    words = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
    symptom = next(s for p in book.procedures.values() for s in p.symptoms)
    assert "Contents" in words and symptom in words and book.glossary[0].means.plain in words
    assert f"Page {len(pdf.pages)} of {len(pdf.pages)}" in words


def test_what_is_asked_for_by_a_wrong_name_is_refused_with_the_nearest(book):
    with pytest.raises(UnknownSheet, match='did you mean "find-a-leak"'):
        printed(book, ["find-a-leek"], "bench", "a4")
