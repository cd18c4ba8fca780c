"""Everything that a book is made into, in memory: pages, files, search, one-file pages, sheets and charts."""

from __future__ import annotations

from random import Random

from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.handout.press import SheetFault
from fettlebook.handout.sheet import handout, sheet_data
from fettlebook.pages import site
from fettlebook.pages.procedure_page import procedure_page
from fettlebook.pages.search_index import search_index
from fettlebook.pages.single import single_page

READERS = ("bench", "trainee")
PRINTED_IN = 40
"""One in so many is laid out as a PDF, which takes longer than all the rest."""


def make_site(book, kept):
    """Every page and file, as the build and the preview make them."""
    pages = list(site.pages(book, kept=kept))
    site.files(book, kept)
    search_index([(page.uri, page.title, page.findable) for page in pages if page.findable], book.glossary, kept)
    kept.forget()
    return pages


def make_procedure(book, procedure, files, random: Random):
    """Everything that one procedure is made into."""
    page = procedure_page(book, procedure, ())
    search_index([(page.uri, page.title, page.findable)], book.glossary)
    single_page(page, "site", "A shop", files)
    for reader in READERS:
        sheet_data(book, procedure, reader, "a4")
    if random.randrange(PRINTED_IN) == 0:
        printed(lambda: handout(book, procedure, random.choice(READERS)))


def make_paper(book, random: Random):
    """The sheet of each procedure, and now and then one of them and a chart laid out."""
    for procedure in book.procedures.values():
        for reader in READERS:
            sheet_data(book, procedure, reader, "letter")
    if random.randrange(PRINTED_IN) == 0:
        chart = random.choice(charts(book))
        printed(lambda: chart_pdf(book, chart))
        for procedure in book.procedures.values():
            printed(lambda one=procedure: handout(book, one, random.choice(READERS)))


def printed(make):
    """What is laid out, or the plain words that say why it cannot be."""
    try:
        assert make().startswith(b"%PDF")
    except SheetFault as fault:
        assert "\n" not in str(fault)
