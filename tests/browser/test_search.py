"""The search answers some hundred and eighty questions in a practitioner's own words: the right page is among the first three."""

from pathlib import Path

import pytest
import yaml

QUERIES = yaml.load((Path(__file__).parent / "search_queries.yml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


@pytest.fixture(scope="module")
def found(browser, site):
    """What each question finds, asked in one page of the built site."""
    context = browser.new_context(viewport={"width": 810, "height": 1080})
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    page.focus("#book-find")
    page.wait_for_function("!!fettlebook.search")
    answers = page.evaluate("qs => qs.map(q => fettlebook.search(q).slice(0, 3))", [query[0] for query in QUERIES])
    context.close()
    return dict(zip([query[0] for query in QUERIES], answers, strict=True))


def uri(name):
    return f"tables/{name.removeprefix('table:')}" if name.startswith("table:") else f"procedures/{name}.html"


@pytest.mark.parametrize("query", QUERIES, ids=lambda query: query[0])
def test_the_right_page_is_among_the_first_three(found, query):
    words, *right = query
    assert any(hit.startswith(uri(name)) for name in right for hit in found[words]), found[words]


def test_there_are_enough_questions():
    assert len({query[0] for query in QUERIES}) >= 80
