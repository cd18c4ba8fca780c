"""The demo book's own procedures, with parts changed: every table and drawing must say what it refuses."""

import os
from dataclasses import replace
from random import Random

import pytest
from building import make_procedure
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from mutations import by_parts

from fettlebook.book.assembly import Shared, assembled
from fettlebook.book.computed import Shop
from fettlebook.book.load import load
from fettlebook.book.shapes import shape_findings
from fettlebook.book.strict_yaml import Map, read_bytes
from fettlebook.check.known import known
from fettlebook.check.rules import procedure_findings
from fettlebook.pages import site

CASES = int(os.environ.get("FETTLEBOOK_FUZZ", "100000"))


@pytest.fixture(scope="module")
def book(root):
    return load(root)[0]


@pytest.fixture(scope="module")
def shared(root, book):
    """What procedures share, read from the shop's own files."""
    cautions, steps = (
        read_bytes((root / f"procedures/shop/{name}.yml").read_bytes(), name)[0] for name in ("cautions", "steps")
    )
    shop = Shop(book.workshop.defaults, {id: machine.data for id, machine in book.machines.items()})
    return Shared(shop, cautions, steps, book.worksheets)


@pytest.fixture(scope="module")
def other_files(book):
    return site.files(book)


@pytest.fixture(scope="module")
def files(root):
    return {path.stem: path.read_bytes() for path in sorted((root / "procedures").glob("*.yml"))}


@settings(max_examples=CASES, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**63))
def test_every_table_and_drawing_says_what_it_refuses_and_what_is_accepted_is_made(
    book, shared, other_files, files, seed
):
    random = Random(seed)
    id = random.choice(sorted(files))
    bad = by_parts(random, files[id])
    note(f"{id}: {bad!r}")
    tree, found = read_bytes(bad, id)
    if isinstance(tree, Map):
        found += shape_findings(tree, "procedure", id)
        procedure, more = assembled(tree, id, id, shared)
        assert not [one for one in more if one.rule in {"table-failed", "drawing-failed"}]
        if not found and not more:
            changed = replace(book, procedures={**book.procedures, id: procedure})
            list(procedure_findings(procedure, known(changed)))
            make_procedure(changed, procedure, other_files, random)
