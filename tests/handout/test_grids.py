"""A table too wide for the paper is cut so that every part still says which row is meant, and loses no cell."""

from fettlebook.handout.grids import grid
from fettlebook.handout.words import Words
from fettlebook.tables.definition import Column

COLUMNS = [Column("a", "Operation", kind="text"), *(Column(f"c{n}", f"Considerably{n}", kind="text") for n in range(9))]


def parts_of(book, names):
    rows = [{"a": name, **{f"c{n}": f"cell-{n}-{k}" for n in range(9)}} for k, name in enumerate(names)]
    return grid(Words(book, {}), COLUMNS, rows)


def test_rows_of_the_same_name_are_numbered_in_every_part(book):
    parts = parts_of(book, ["harden", "harden", "temper", "temper"])
    assert len(parts) > 1
    for part in parts:
        assert part["columns"][0]["label"] == "Row"
        assert [row[0]["t"] for row in part["rows"]] == ["1", "2", "3", "4"]
    shown = {cell["t"] for part in parts for row in part["rows"] for cell in row}
    assert {f"cell-{n}-{k}" for n in range(9) for k in range(4)} <= shown


def test_rows_with_names_of_their_own_repeat_the_name(book):
    for part in parts_of(book, ["one", "two", "three", "four"]):
        assert [row[0]["t"] for row in part["rows"]] == ["one", "two", "three", "four"]
