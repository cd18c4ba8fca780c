"""Printed sheets read back by another library (pypdf), and looked at for what a person at the bench needs."""

import dataclasses
import re

import pytest

from fettlebook.book.text import text
from fettlebook.handout.press import SheetFault
from fettlebook.handout.sheet import handout, sheet_data, terms_used


def squeezed(words):
    return re.sub(r"[\s\u200b\u00ad-]", "", words)


def whole_text(pdf):
    return "\n".join(page.extract_text() for page in pdf.pages)


def fonts(pdf):
    found = {}
    for page in pdf.pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            found[inner["/FontName"]] = any(key in inner for key in ("/FontFile", "/FontFile2", "/FontFile3"))
    return found


@pytest.mark.parametrize("reader", ["bench", "trainee"])
def test_every_procedure_has_all_its_cautions_on_its_first_page(book, read, reader):
    for procedure in book.procedures.values():
        pages = [squeezed(page.extract_text()) for page in read(handout(book, procedure, reader)).pages[:2]]
        first = pages[0]
        for caution in sheet_data(book, procedure, reader, "a4")["cautions"]:
            assert caution["signal"].upper() in first
            for said in ("hazard", "harm", "avoid"):
                words = squeezed("".join(run["t"] for run in caution[said]))
                assert words in first, f"{procedure.id}: {caution['id']}"
        both = "".join(pages)
        assert both.index("Cautions:readthesefirst") < both.index("When,andwho"), procedure.id


@pytest.mark.parametrize("paper, size", [("a4", (595, 842)), ("letter", (612, 792))])
def test_title_revision_and_page_of_pages_stand_on_every_page(book, read, paper, size):
    procedure = book.procedures["replace-drain-plug-seals"]
    pdf = read(handout(book, procedure, "bench", paper))
    assert tuple(round(float(x)) for x in pdf.pages[0].mediabox[2:]) == size
    for n, page in enumerate(pdf.pages, 1):
        words = page.extract_text()
        assert procedure.title in words and f"Revision {procedure.revision.number}, {procedure.revision.date}" in words
        assert f"Page {n} of {len(pdf.pages)}" in words


def test_it_is_tagged_titled_in_a_language_with_bookmarks_and_fonts_embedded(book, read):
    procedure = book.procedures["mill-flats-by-touch-off"]
    pdf = read(handout(book, procedure))
    root = pdf.trailer["/Root"]
    assert pdf.metadata.title == procedure.title
    assert root["/Lang"] == "en-GB" and root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root
    assert "pdfuaid" in root["/Metadata"].get_object().get_data().decode()
    assert [one.title for one in pdf.outline if not isinstance(one, list)] == [procedure.title]
    embedded = fonts(pdf)
    assert embedded and all(embedded.values())
    assert all("SourceSans3" in name or "NewCMMath" in name for name in embedded), embedded


def test_the_same_procedure_gives_the_same_bytes(book):
    procedure = book.procedures["find-a-leak"]
    assert handout(book, procedure, "trainee") == handout(book, procedure, "trainee")
    assert b"CreationDate" not in handout(book, procedure)


def test_a_trainee_gets_reasons_terms_questions_and_places_to_sign_and_the_bench_fewer_pages(book, read):
    procedure = book.procedures["replace-drain-plug-seals"]
    bench, trainee = (read(handout(book, procedure, reader)) for reader in ("bench", "trainee"))
    short, full = (squeezed(whole_text(pdf)) for pdf in (bench, trainee))
    why = squeezed(next(s.why.plain for s in procedure.steps if s.why and not s.why.named))
    assert why in full and why not in short
    assert "Trainee:Ihaveread" in full and "Trainee:Ihaveread" not in short
    assert len(bench.pages) < len(trainee.pages)
    for question in procedure.questions:
        assert squeezed(question.answer.plain) in squeezed(trainee.pages[-1].extract_text())
        assert squeezed(question.answer.plain) not in squeezed("".join(p.extract_text() for p in trainee.pages[:-1]))
    assert all(squeezed(term.means.plain) in full for term in terms_used(book, procedure))


def test_every_step_check_and_reading_of_the_book_is_on_paper(book, read):
    for procedure in book.procedures.values():
        words = squeezed(whole_text(read(handout(book, procedure))))
        for stage in sheet_data(book, procedure, "bench", "a4")["stages"]:
            for step in stage["steps"]:
                wanted = [step["do"], step["hold"], *(reading["name"] for reading in step["readings"])]
                for runs in wanted:
                    for run in runs:
                        piece = squeezed(run["t"])[:30]
                        assert piece in words, f"{procedure.id} step {step['number']}: {piece}"


def test_a_figure_named_in_a_text_is_put_in(book):
    procedure = book.procedures["replace-drain-plug-seals"]
    data = str(sheet_data(book, procedure, "trainee", "a4"))
    assert "{thick-cold}" not in data and procedure.values["thick-cold"].shown in data


def test_120_steps_and_the_longest_word_stay_on_the_page(book, read, long_procedure):
    word = "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichenhalterungsschraube" * 2
    pdf = read(handout(book, long_procedure(120, word)))
    places = []
    for page in pdf.pages:
        page.extract_text(
            visitor_text=lambda t, cm, tm, font, size: places.append((t, tm[4] * cm[0] + cm[4])) if t.strip() else None
        )
    assert max(x for _, x in places) < 595 - 17 * 2.8
    words = squeezed(whole_text(pdf))
    assert words.count(word) == 120
    assert all(f"Turnscrew{n}ofthe" in words for n in range(1, 121))


def test_a_sign_without_a_glyph_is_a_clear_fault(book):
    procedure = dataclasses.replace(book.procedures["find-a-leak"], summary=text("Do ➊ first."))
    with pytest.raises(SheetFault, match=r"no glyph for ➊ \(U\+278A\)"):
        handout(book, procedure)


def test_words_are_never_read_as_markup(book, read):
    nasty = '#panic("x") $x$ *star* <label> @ref \\ "quote" // no'
    procedure = dataclasses.replace(book.procedures["find-a-leak"], title=nasty)
    assert squeezed(nasty) in squeezed(read(handout(book, procedure)).pages[0].extract_text())


def test_a_square_code_stands_there_only_with_an_address(book):
    procedure = book.procedures["find-a-leak"]
    assert sheet_data(book, procedure, "bench", "a4")["code"] == ""
    made = sheet_data(book, procedure, "bench", "a4", "https://book.example.org/")
    assert made["address"] == "https://book.example.org/procedures/find-a-leak.html" and made["code"].startswith("<svg")
