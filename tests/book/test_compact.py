"""What is kept on disk comes back as it was, in no more memory than what was just parsed."""

import pickle
from pathlib import Path

from fettlebook.book.load import load
from fettlebook.book.places import Place
from fettlebook.book.procedure import Step
from fettlebook.book.text import Part, Text

DEMO = Path(__file__).parents[2]


def test_the_demo_book_comes_back_equal():
    book, _ = load(DEMO)
    for procedure in book.procedures.values():
        assert pickle.loads(pickle.dumps(procedure, protocol=5)) == procedure


def test_small_things_come_back_without_a_dict_of_their_own():
    book, _ = load(DEMO)
    procedure = pickle.loads(pickle.dumps(next(iter(book.procedures.values())), protocol=5))
    step = procedure.stages[0].steps[0]
    for thing, kind in ((step, Step), (step.place, Place), (step.do, Text), (step.do.parts[0], Part)):
        assert type(thing) is kind and not hasattr(thing, "__dict__")


def test_procedures_that_ask_for_the_same_table_share_its_rows_when_read_back():
    book, _ = load(DEMO)
    numbers = next(numbers for p in book.procedures.values() for numbers in p.numbers if numbers.rows)
    one, other = (pickle.loads(pickle.dumps(numbers, protocol=5)) for _ in range(2))
    assert one == numbers and one is not other
    assert one.rows is other.rows and one.columns is other.columns
