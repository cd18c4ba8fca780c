"""Wall charts are one sheet each with figures from the tables; the whole book has its contents, index and bookmarks."""

import dataclasses

import pytest

from fettlebook.handout import charts as drawn
from fettlebook.handout.chart_machine import _flats
from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.handout.printing import UnknownSheet, printed
from fettlebook.handout.whole_book import whole_book
from fettlebook.tables.levelling_layout import layout_from


@pytest.mark.parametrize(
    "paper, long", [("", (842, 1191)), ("letter", (792, 1224))], ids=["A4 or A3", "Letter or Tabloid"]
)
def test_each_chart_is_one_sheet_and_names_its_sources(book, read, paper, long):
    # ISO 216: A4 is 297 mm long, A3 420 mm. ANSI Y14.1: A is 11 in long, B 17 in. In points of 1/72 in.
    for chart in charts(book):
        pdf = read(chart_pdf(book, chart, paper))
        assert len(pdf.pages) == 1, chart.id
        assert round(max(float(x) for x in pdf.pages[0].mediabox[2:])) in long and pdf.metadata.title == chart.title
        words = " ".join(pdf.pages[0].extract_text().split())
        assert "Sources:" in words and len(words.split("Sources:")[1]) > 60, chart.id


def test_every_chart_that_a_shop_hangs_up_is_there(book):
    ids = {chart.id for chart in charts(book)}
    assert {"temper-colours", "heat-colours", "threads-m", "threads-un", "threads-bsw", "threads-bsf", "threads-ba", "threads-g", "oil-names",
            "levelling-green-lathe", "indexing", "steels"} == ids  # fmt: skip


def grids_of(book, id):
    return next(c for c in charts(book) if c.id == id).data(book, False)["grids"]


def rows_of(grid):
    return [[cell.get("t", cell.get("colour")) for cell in row] for row in grid["rows"]]


def test_heat_colours_say_what_each_heat_is_for(book):
    # Annealing and hardening heats as published: data/steels.yml cites each. O1 at 780 to 820 in oil is cherry to bright red in dim light.
    colours, uses = grids_of(book, "heat-colours")
    assert [row[0] for row in rows_of(colours)][:4] == ["black red", "dark red", "dark cherry", "cherry"]
    steels = {row[0].split(" ")[0]: row[1:] for row in rows_of(uses)}
    assert steels["O1"][2:] == ["780\u00a0°C to 820\u00a0°C", "oil", "cherry to bright red"]
    assert steels["Silver"][2:] == ["770\u00a0°C to 780\u00a0°C", "water", "cherry"]
    assert not any("carburising" in row[0] or "Mild" in row[0] for row in rows_of(uses))


def test_temper_colours_say_uses_and_temperatures(book):
    colours, uses = grids_of(book, "temper-colours")
    assert len(rows_of(colours)) == 11
    said = " ".join(" ".join(row) for row in rows_of(uses))
    assert "cold chisels" in said and "scribers" in said and "springs" in said


def test_indexing_follows_the_worm_and_the_circles_of_the_shop(book):
    other = dataclasses.replace(
        book,
        workshop=dataclasses.replace(
            book.workshop, defaults={**book.workshop.defaults, "dividing_ratio": 60, "circles": [20, 36]}
        ),
    )
    chart = next(c for c in charts(other) if c.id == "indexing").data(other, False)
    assert chart["lead"].startswith("Worm 60 to 1; circles 20, 36.")
    rows = {row[0]: row[1:] for grid in chart["grids"] for row in rows_of(grid)}
    # 60 to 1: 8 divisions are 7 1/2 turns, 10 holes of 20; 7 divisions need a circle of 7, which 20 and 36 do not give.
    assert rows["8"] == ["7", "10", "20"] and rows["7"] == ["–", "–", "–"]


def chart_words(book, read, id):
    return read(chart_pdf(book, next(c for c in charts(book) if c.id == id))).pages[0].extract_text()


def test_charts_say_what_the_published_tables_say(book, read):
    # ISO 2306: 5, 8.5 and 14 mm for M6, M10 and M16. Indexing by 40 to 1 (any handbook): 13 divisions is 3 turns and 3 of 39. ISO 3448: VG 68 is 61.2 to 74.8.
    grid = next(c for c in charts(book) if c.id == "threads-m").data(book, False)["grids"][0]
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
    grid = next(c for c in charts(book) if c.id == "threads-m").data(book, False)["grids"][0]
    shown = [float(row[-1]["t"]) for row in grid["rows"] if row[-1]["t"] != "–"]
    assert shown and all(55 <= percent <= 85 for percent in shown)


def test_one_flat_of_a_jack():
    # Geometry: 2 mm pitch, a sixth of a turn is 0.333 mm; over 420 mm that is 0.794 mm/m, 40 divisions of 0.02 mm/m.
    jack = {"jack": True, "screw_pitch_mm": 2}
    feet = [
        {"name": "F", "x_mm": 0, "y_mm": -210, **jack},
        {"name": "R", "x_mm": 0, "y_mm": 210, "jack": False},
        {"name": "T", "x_mm": 1000, "y_mm": 0, **jack},
    ]
    layout = layout_from({"feet": feet, "stations": [{"name": "S", "x_mm": 500}]})
    assert list(_flats(layout, 0.02)) == [["F", "R", "0.333", "0.79", "40"]]


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


def test_patches_of_colour_are_as_large_as_the_sheet_allows(book, monkeypatch):
    by_id, press, tried = {chart.id: chart for chart in charts(book)}, drawn.pdf, {}

    def pdf(kind, data):
        made = press(kind, data)
        tried[made] = data.get("patch")
        return made

    monkeypatch.setattr(drawn, "pdf", pdf)
    patch = tried[chart_pdf(book, by_id["heat-colours"], "a4")]
    assert patch in drawn.PATCHES and patch >= 7
    assert tried[chart_pdf(book, by_id["oil-names"], "a4")] is None, "a chart without colours has no patches to enlarge"
