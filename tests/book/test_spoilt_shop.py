"""The demo shop's own files with parts changed: worksheets, machines, records. Each says what it refuses, and what it takes is made."""

import json
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from building import printed
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from mutations import by_parts

from fettlebook.book.computed import Shop
from fettlebook.book.load import load
from fettlebook.book.places import Place
from fettlebook.book.shapes import shape_findings
from fettlebook.book.shop import Record
from fettlebook.book.shop_files import machine_of
from fettlebook.book.strict_yaml import Map, read_bytes
from fettlebook.book.worksheet_assembly import worksheet
from fettlebook.check import own_values
from fettlebook.check.known import known
from fettlebook.check.rules import book_findings
from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.pages.procedure_page import procedure_page
from fettlebook.pages.shop_pages import front_page, machine_page
from fettlebook.pages.worksheets import worksheet_page, worksheet_script

FOLDERS = ("worksheets", "machines", "records")


@pytest.fixture(scope="module")
def demo_book(root):
    return load(root)[0]


def spoilt_and_tried(book, random: Random):
    """One file of the shop spoilt, and everything made that shows it."""
    folder = random.choice(FOLDERS)
    path = random.choice(sorted((book.root / "procedures/shop" / folder).iterdir()))
    bad = by_parts(random, path.read_bytes())
    note(f"{path.name}: {bad!r}")
    if folder == "records":
        _record(book, path, bad, random)
        return
    tree, found = read_bytes(bad, path.name)
    if isinstance(tree, Map):
        found += shape_findings(tree, folder.removesuffix("s"), path.name)
        {"worksheets": _worksheet, "machines": _machine}[folder](book, path.stem, tree, found, random)


def _worksheet(book, id, tree, found, random):
    shop = Shop(book.workshop.defaults, {id: machine.data for id, machine in book.machines.items()})
    if found:
        return
    sheet, found = worksheet(tree, id, f"{id}.yml", shop)
    if not found:
        worksheet_page(replace(book, worksheets={**book.worksheets, id: sheet}), sheet)
        worksheet_script(sheet, id)


def _machine(book, id, tree, found, random):
    machine = machine_of(tree, id, f"{id}.yml")
    changed = replace(book, machines={**book.machines, id: machine})
    machine_page(changed, machine)
    if not found and not list(own_values.book_faults(changed)) and random.randrange(10) == 0:
        for chart in charts(changed):
            if chart.id.endswith(id):
                printed(lambda one=chart: chart_pdf(changed, one))


def _record(book, path: Path, bad: bytes, random):
    try:
        content = json.loads(bad)
    except (ValueError, RecursionError):
        return
    if shape_findings(content, "record", path.name):
        return
    changed = replace(book, records=(Record(path.name, content, Place(path.name)),))
    list(book_findings(changed, known(changed)))
    front_page(changed)
    for machine in changed.machines.values():
        machine_page(changed, machine)
    if procedure := changed.procedures.get(content["procedure"]):
        procedure_page(changed, procedure, ())


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(seed=st.integers(0, 2**63))
def test_a_shop_s_file_says_what_it_refuses_and_what_it_takes_is_made(demo_book, seed):
    spoilt_and_tried(demo_book, Random(seed))
