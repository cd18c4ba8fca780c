"""The pages that lead to a procedure: from what is noticed, and from what comes before what."""

import re

import pytest

from fettlebook.book.load import load
from fettlebook.pages.lists import needs_page
from fettlebook.pages.needs_map import families
from fettlebook.pages.symptoms_page import SENSES, senses, symptoms_page


@pytest.fixture(scope="module")
def book(root):
    return load(root)[0]


@pytest.mark.parametrize("words, by", [
    ("A smell of gas near the hearth", ("smelt",)), ("A rumble or a whine that rises with the speed", ("heard",)),
    ("Headstock too hot to leave a hand on", ("felt",)), ("Belt squeals at the start or smells of rubber", ("heard", "smelt")),
    ("A puddle under the machine in the morning", ("seen",)), ("Oil under the machine after the first warm run", ("seen",)),
    ("The key rocks in the chuck more than a few degrees", ("felt",)), ("Photographs of the shot", ("seen",)),
])  # fmt: skip
def test_a_symptom_stands_under_each_sense_that_its_words_name(words, by):
    assert senses(words) == by


def test_every_symptom_and_trouble_of_the_book_is_on_the_page_with_its_procedure_and_cause(book):
    page = symptoms_page(book)
    rows = re.findall(r'<a class="row" href="([^"]+)"><strong>(.*?)</strong>(.*?)</a>', page.html)
    leads = {(href, words) for href, words, _ in rows}
    for p in book.procedures.values():
        assert all((f"procedures/{p.id}.html", s.replace("'", "&#39;")) in leads for s in p.symptoms), p.id
        for n in range(1, len(p.trouble) + 1):
            (rest,) = {rest for href, _, rest in rows if href == f"procedures/{p.id}.html#trouble-{n}"}
            assert "Cause: " in rest and "<span>" in rest
    assert [h.id for h in page.headings] == list(SENSES)


def test_families_hang_together_and_stand_in_an_order_that_can_be_worked():
    first = {"a": (), "b": ("a",), "c": ("b", "a"), "x": ("y",), "y": (), "alone": ()}
    assert families(first) == [["a", "b", "c"], ["y", "x"]]
    assert families({"a": ("b",), "b": ("a",)}) == [
        ["a", "b"]
    ]  # a circle is a fault said elsewhere, and no endless loop


def test_the_map_has_a_box_for_each_procedure_that_needs_another_or_is_needed(book):
    html = needs_page(book).html
    boxes = set(re.findall(r'<a href="procedures/([a-z0-9-]+)\.html" tabindex="-1">', html))
    needing = {p.id for p in book.procedures.values() if p.first}
    assert boxes == needing | {id for p in book.procedures.values() for id in p.first}
