"""The page and the program choose the same seals, with the same words and refusals."""

import random

from parity import assert_same, in_python

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.seals import OILS
from fettlebook.tables.threads import all_threads


def inputs(chance, count):
    named = [
        "G 1/8",
        "G 1/4",
        "G 3/8",
        "G 1/2",
        "G 3/4",
        "M10x1",
        "M14x2",
        "M16x1.5",
        "M12x1.5",
        "M14x1.5",
        "M18x1.5",
        "M22x1.5",
        "R 1/2",
        "1/2 NPT",
    ]
    threads = {t.designation: t.major_mm for t in all_threads() if 6 <= t.major_mm <= 60}
    for _ in range(count):
        thread = chance.choice(named) if chance.random() < 0.7 else chance.choice(list(threads))
        major = threads[thread]
        given = {
            "thread": thread,
            "oil": chance.choice(OILS),
            "temperature": round(chance.uniform(-40, 200)),
            "housing": chance.choice(["iron", "aluminium"]),
        }
        if chance.random() < 0.8:
            given["counterbore_diameter"] = round(major * chance.uniform(0.98, 1.8), 1)
        if chance.random() < 0.8:
            given["counterbore_depth"] = round(chance.choice([1.3, 1.9, 2.0, 2.6, 4.0, chance.uniform(0.4, 6)]), 2)
        if chance.random() < 0.4:
            given["head_diameter"] = round(major * chance.uniform(1.1, 2.2), 1)
        yield given


def test_the_page_chooses_the_same_seals_as_the_program(run_in_browser):
    givens = list(inputs(random.Random(3601), 2000))
    for given, found in zip(givens, run_in_browser("seal-for-plug", givens), strict=True):
        assert_same(in_python(table_named("seal-for-plug"), given), found, given)


def test_the_page_asks_for_a_thread_it_does_not_know(run_in_browser):
    (found,) = run_in_browser("seal-for-plug", [{"thread": "bottle top"}])
    assert found["refused"]["parameter"] == "thread"
