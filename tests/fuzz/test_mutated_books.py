"""The long run of tests/book/test_mutations.py: `make fuzz`. FETTLEBOOK_FUZZ sets the number of cases."""

import os
import shutil
from random import Random

import pytest
from hypothesis import HealthCheck, given, note, settings
from hypothesis import strategies as st
from mutations import by_bytes, by_parts
from test_mutations import FILES, read_and_report

CASES = int(os.environ.get("FETTLEBOOK_FUZZ", "100000"))


@pytest.fixture(scope="module")
def demo(tmp_path_factory, pytestconfig):
    folder = tmp_path_factory.mktemp("book")
    shutil.copytree(pytestconfig.rootpath / "tests/book/demo/procedures", folder / "procedures")
    return folder


@settings(max_examples=CASES, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**63))
def test_no_traceback_whatever_is_written(demo, seed):
    random = Random(seed)
    path = demo / "procedures" / random.choice(FILES)
    good = path.read_bytes()
    bad = random.choice([by_bytes, by_parts])(random, good)
    note(f"{path.name}: {bad!r}")
    try:
        path.write_bytes(bad)
        read_and_report(demo)
    finally:
        path.write_bytes(good)
