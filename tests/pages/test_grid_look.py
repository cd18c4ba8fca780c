"""How a computed table is laid out on a page: names said once, words that keep their room."""

from fettlebook.pages.writer import grid, group_column, same_columns
from fettlebook.tables.catalogue import table_named


def written(name, **given):
    table = table_named(name).table(given)
    return table, str(grid(table.columns, table.rows))


def test_a_steel_stands_once_over_its_operations():
    table, html = written("heat-treatment", steel="silver steel", section=6)
    assert len(table.rows) == 8
    assert html.count('<tr class="group">') == 2
    assert html.count("Silver steel (BS 1407)") == 1


def test_what_every_row_says_is_said_once_over_the_table():
    table, html = written("thread-limits", thread="M10")
    assert [column.name for column in same_columns(table.columns, table.rows)] == ["thread"]
    assert html.count("M10x1.5") == 1


def test_a_label_that_goes_on_from_its_neighbour_stays_beside_it():
    table, _ = written("cutting-speeds", material="cast iron", diameter="80 mm")
    assert [column.name for column in same_columns(table.columns, table.rows)] == ["material", "operation"]


def test_designations_that_differ_are_no_groups():
    table, html = written("thread-sizes", family="BA")
    assert group_column(table.columns, table.rows) is None
    assert 'class="group"' not in html


def test_a_train_of_wheels_is_kept_on_one_line():
    _, html = written("change-gears", pitch="1.5 mm", leadscrew="6 mm")
    assert '<td class="txt txt--list">' in html
