"""The demo book's own procedures, with parts changed: every table and drawing must say what it refuses."""

import os
from random import Random

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from mutations import by_parts

from fettlebook.book.assembly import Shared, assembled
from fettlebook.book.computed import Shop
from fettlebook.book.load import load
from fettlebook.book.shapes import shape_findings
from fettlebook.book.strict_yaml import Map, read_bytes

CASES = int(os.environ.get("FETTLEBOOK_FUZZ", "100000"))


@pytest.fixture(scope="module")
def shared(root):
    book, _ = load(root)
    return Shared(Shop(book.workshop.defaults, {id: machine.data for id, machine in book.machines.items()}))


@pytest.fixture(scope="module")
def files(root):
    return {path.name: path.read_bytes() for path in sorted((root / "procedures").glob("*.yml"))}


@settings(max_examples=CASES, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**63))
def test_every_table_and_drawing_says_what_it_refuses(shared, files, seed):
    random = Random(seed)
    name = random.choice(sorted(files))
    bad = by_parts(random, files[name])
    note(f"{name}: {bad!r}")
    tree, _ = read_bytes(bad, name)
    if isinstance(tree, Map):
        shape_findings(tree, "procedure", name)
        _, findings = assembled(tree, "job", name, shared)
        assert not [one for one in findings if one.rule in {"table-failed", "drawing-failed"}]
