"""The counts are those of the files, by a second way of counting: the YAML read plainly and its keys counted."""

import re
from dataclasses import replace

import pytest
import yaml

from fettlebook.book.counts import counted, of_book, sources_of
from fettlebook.book.load import load
from fettlebook.pages.counts_page import COLUMNS, counts_page


@pytest.fixture(scope="module")
def book(root):
    return load(root)[0]


@pytest.fixture(scope="module")
def written(root):
    """Each procedure as plain YAML."""
    return {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((root / "procedures").glob("*.yml"))}  # fmt: skip


def test_counts_agree_with_the_files_counted_another_way(book, written):
    assert set(written) == set(book.procedures)
    for id, tree in written.items():
        steps = [step for stage in tree["stages"] for step in stage["steps"]]
        readings = [r for step in steps for r in step.get("readings", [])]
        counts = counted(book.procedures[id])
        assert (counts.stages, counts.steps, counts.cautions) == (
            len(tree["stages"]),
            len(steps),
            len(tree["cautions"]),
        )
        assert counts.readings == sum(len(r.get("at", [1])) for r in readings)
        assert counts.tables == len(tree.get("numbers", []))
        assert counts.holds == sum("hold" in step for step in steps)
        drawn = sum("draw" in step.get("figure", {}) for step in steps) + any(
            "after" in stage for stage in tree["stages"]
        )
        assert (counts.drawings, counts.pictures) == (drawn, sum("image" in step.get("figure", {}) for step in steps))
        assert counts.symptoms == len(tree.get("symptoms", [])) + len(tree.get("trouble", []))


def test_every_step_has_a_check_and_every_procedure_numbers_sources_and_symptoms(book):
    for procedure in book.procedures.values():
        counts = counted(procedure)
        assert counts.checks == counts.steps, procedure.id
        assert min(counts.figures, counts.sources, counts.symptoms) > 0, procedure.id


def test_figures_are_the_cells_shown_and_the_names_used(book):
    procedure = book.procedures["two-collar-test"]
    (speed,) = procedure.numbers
    numeric = [v for row in speed.rows for c in speed.columns if isinstance(v := row.get(c.name), (int, float)) and not isinstance(v, bool)]  # fmt: skip
    assert counted(procedure).figures == len(numeric) > 0
    assert counted(replace(procedure, numbers=(replace(speed, hidden=True),))).figures == 0


def test_a_source_that_several_share_counts_once_in_the_sum(book):
    each = sum(counted(p).sources for p in book.procedures.values())
    assert of_book(book).sources == len({s for p in book.procedures.values() for s in sources_of(p)}) < each


def test_the_page_shows_what_is_counted(book):
    html = counts_page(book).html
    for procedure in book.procedures.values():
        row = re.search(rf'<tr><th scope="row"><a href="procedures/{procedure.id}\.html">.*?</tr>', html)[0]
        counts = counted(procedure)
        assert [int(n) for n in re.findall(r"<td class=\"num\">(\d+)</td>", row)] == [getattr(counts, field) for field, _ in COLUMNS]  # fmt: skip
    assert f"<dt>Steps, in all procedures</dt> <dd><strong>{of_book(book).steps}</strong>" in html


def test_one_procedure_less_is_one_less_on_the_page(book):
    fewer = replace(book, procedures={k: v for k, v in book.procedures.items() if k != "two-collar-test"})
    assert of_book(fewer).steps == of_book(book).steps - counted(book.procedures["two-collar-test"]).steps
    assert "two-collar-test" not in counts_page(fewer).html
