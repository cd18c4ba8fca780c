"""What holds for everything that is printed, measured on the letters of the finished PDF files (ink.py)."""

import dataclasses

import pytest
from ink import letters

from fettlebook.book.text import text
from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.handout.sheet import handout, sheet_data
from fettlebook.handout.whole_book import whole_book

SMALLEST = 11
"""Points; the least that is read at arm's length with oily hands, in drawings and formulas too."""
EDGE = 25
"""Points (9 mm) that no letter comes nearer to the edge of the paper: what a shop's printer can reach, and a thumb."""
MARGIN = 42
"""Points of white at the left and right of a procedure's sheet, rounded down."""


@pytest.fixture(scope="session")
def printed_pages(book, read):
    """(name, page) of every bench sheet, some for a trainee, every chart on both papers, and the book's first and last pages."""
    found = []

    def keep(name, content, pages=slice(None)):
        found.extend((f"{name} page {n}", page) for n, page in list(enumerate(read(content).pages, 1))[pages])

    for n, procedure in enumerate(book.procedures.values()):
        keep(f"{procedure.id}, bench", handout(book, procedure))
        if n % 6 == 0:
            keep(f"{procedure.id}, trainee", handout(book, procedure, "trainee", "letter", "https://book.example.org"))
    for chart in charts(book):
        keep(f"chart {chart.id}", chart_pdf(book, chart))
        keep(f"chart {chart.id}, Letter", chart_pdf(book, chart, "letter"))
    whole = whole_book(book)
    keep("book", whole, slice(0, 6))
    keep("book", whole, slice(-6, None))
    return [(name, page, letters(page)) for name, page in found]


def test_there_is_much_to_look_at(printed_pages):
    assert len(printed_pages) > 150 and all(runs for _, _, runs in printed_pages)


def test_no_letter_is_smaller_than_11_point(printed_pages):
    small = [
        (name, round(run.size, 2)) for name, _, runs in printed_pages for run in runs if run.size < SMALLEST - 0.01
    ]
    assert small == []


def test_every_sign_has_a_glyph_in_formulas_and_drawings_too(printed_pages):
    # OpenType: glyph 0 is the box that stands for a missing sign; it is never the glyph of a sign that the font has.
    boxes = [(name, run.font) for name, _, runs in printed_pages for run in runs if 0 in run.glyphs]
    assert boxes == []


def test_only_the_fonts_that_are_shipped_are_used(printed_pages):
    used = {run.font.split("+")[-1] for _, _, runs in printed_pages for run in runs}
    assert used <= {"SourceSans3-Regular", "SourceSans3-Semibold", "SourceSans3-Bold", "SourceSans3-It", "NewCMMath-Regular"} | {
        name for name in used if name.startswith("NewCMMath")
    } and "SourceSans3-Regular" in used  # fmt: skip


def test_nothing_leaves_the_paper(printed_pages):
    for name, page, runs in printed_pages:
        wide, high = (float(x) for x in page.mediabox[2:])
        side = EDGE if "chart" in name else MARGIN
        for run in runs:
            for x, y in (run.begins, run.ends):
                assert side <= x <= wide - side + 1, f"{name}: letters at {x:.0f} of {wide:.0f} points across"
                assert 18 <= y <= high - EDGE, f"{name}: letters at {y:.0f} of {high:.0f} points up"


LONG = "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichenhalterungsschraube" * 2


def with_long_words(procedure):
    """The procedure with a word that no line can hold wherever a person writes words."""
    word = text(f"The {LONG} here.")
    steps = tuple(
        dataclasses.replace(
            s, do=word, check=word, why=word, hold=word,
            readings=tuple(dataclasses.replace(r, name=word, outside=word) for r in s.readings),
        )
        for s in procedure.steps
    )  # fmt: skip
    return dataclasses.replace(
        procedure, title=f"Mend {LONG}", summary=word, when=word, symptoms=(LONG,),
        cautions=tuple(dataclasses.replace(c, hazard=word, avoid=word) for c in procedure.cautions[:3]),
        tools=tuple(dataclasses.replace(t, name=word, note=word) for t in procedure.tools),
        stages=(dataclasses.replace(procedure.stages[0], title=LONG, steps=steps),),
        trouble=tuple(dataclasses.replace(t, seen=word, cause=word, do=word) for t in procedure.trouble),
        afterwards=(word,),
    )  # fmt: skip


@pytest.mark.parametrize("reader", ["bench", "trainee"])
def test_the_longest_words_stay_on_the_page_wherever_they_stand(book, read, reader):
    procedure = with_long_words(book.procedures["replace-drain-plug-seals"])
    pdf = read(handout(book, procedure, reader, "letter"))
    assert pdf.metadata.title == f"Mend {LONG}"
    for n, page in enumerate(pdf.pages, 1):
        wide = float(page.mediabox[2])
        furthest = max(max(run.begins[0], run.ends[0]) for run in letters(page))
        assert furthest <= wide - MARGIN + 1, f"page {n}: letters at {furthest:.0f} of {wide:.0f} points"


def test_120_steps_follow_each_other_without_a_gap_or_a_loss(book, read, long_procedure):
    pdf = read(handout(book, long_procedure(120), "trainee"))
    words = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
    places = [words.find(f"Turn screw {n} of the") for n in range(1, 121)]
    assert -1 not in places and places == sorted(places)
    for page in pdf.pages[1:-2]:
        low = min(run.begins[1] for run in letters(page) if run.begins[1] > 40)
        assert low < 200, "a page in the middle that is left half empty"


def test_cautions_stay_with_their_heading_and_on_one_page_in_the_whole_book_and_on_letter(book, read):
    whole = read(whole_book(book, "letter"))
    first = {}
    for page in whole.pages:
        words = "".join(page.extract_text().replace("\u200b", "").split()).replace("-", "").replace("\u00ad", "")
        for procedure in book.procedures.values():
            title = "".join(procedure.title.split()).replace("-", "")
            if "Cautions:readthesefirst" in words and words.startswith(f"{title}Revision"):
                first.setdefault(procedure.id, words)
    assert set(first) == set(book.procedures)
    for procedure in book.procedures.values():
        for caution in sheet_data(book, procedure, "bench", "letter")["cautions"]:
            avoid = "".join("".join(run["t"] for run in caution["avoid"]).split()).replace("-", "")
            assert avoid in first[procedure.id], f"{procedure.id}: {caution['id']}"


def test_every_figure_of_a_bench_sheet_is_named_by_its_step(book, read):
    procedure = book.procedures["anneal-and-reharden-a-chuck-key"]
    words = " ".join(" ".join(page.extract_text() for page in read(handout(book, procedure)).pages).split())
    numbers = [step.number for step in procedure.steps if step.figure]
    assert numbers
    for number in numbers:
        assert f"Figure {number}." in words and f"figure {number}." in words


def test_small_print_of_the_author_is_no_smaller(book, read):
    procedure = dataclasses.replace(book.procedures["find-a-leak"], summary=text("Ac~1~ and 10^3^ are read."))
    runs = letters(read(handout(book, procedure)).pages[0])
    assert min(run.size for run in runs) >= SMALLEST - 0.01
