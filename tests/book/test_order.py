"""What waits for what, as the file says it."""

from dataclasses import replace

from fettlebook.book.load import load
from fettlebook.book.order import has_order, order
from fettlebook.draw.order_map import Box, order_map

MASTER = "recommission-an-imported-machine"


def test_stages_follow_one_another_where_nothing_is_said(root):
    book, _ = load(root)
    procedure = book.procedures["two-collar-test"]
    assert not has_order(procedure)
    assert [(t.after, t.beside) for t in order(procedure)] == [((), ()), ((1,), ()), ((2,), ())]


def test_the_master_runs_electricity_beside_leaks_and_guards_and_starts_after_all(root):
    """Common practice: nothing is started before supply, oil and guards are signed; nothing levelled before a warm run."""
    book, _ = load(root)
    turns = {t.stage.id: t for t in order(book.procedures[MASTER])}
    number = {id: t.number for id, t in turns.items()}
    assert {number["leaks"], number["oil"], number["guards"]} <= set(turns["power"].beside)
    assert set(turns["start"].after) == {number["power"], number["levers"]}
    assert turns["level"].after == (number["start"],) and turns["start"].beside == ()
    assert turns["power"].signed and turns["start"].signed and not turns["level"].signed


def test_what_waits_already_is_not_said_twice(root):
    book, _ = load(root)
    procedure = book.procedures["two-collar-test"]
    ids = [stage.id for stage in procedure.stages]
    third = replace(procedure.stages[2], after=(ids[0], ids[1]))
    assert order(replace(procedure, stages=(*procedure.stages[:2], third)))[2].after == (2,)


def test_page_and_sheet_show_the_map_of_the_file(root):
    from fettlebook.handout.pictures import MAP_SCALE, on_paper, order_picture
    from fettlebook.pages.procedure_page import procedure_page

    book, _ = load(root)
    procedure = book.procedures[MASTER]
    page = procedure_page(book, procedure)
    links = [f'<a href="#stage-{stage.id}" tabindex="-1">' for stage in procedure.stages]
    assert all(page.html.count(link) == 1 for link in links)
    assert 'Can be done beside 3 <a href="#stage-power">Electricity</a>' in page.html
    assert ("order", 2) in [(h.id, h.level) for h in page.headings]
    turns = order(procedure)
    boxes = [Box(t.number, t.stage.title, t.after, t.signed) for t in turns]
    sheet = order_picture(procedure)
    assert sheet["svg"] == on_paper(order_map(f"Order of work: {procedure.title}", boxes), MAP_SCALE)
    assert "8 First start: after 3, 7" in sheet["alt"]
    assert "The order, as a map" not in procedure_page(book, book.procedures["two-collar-test"]).html
