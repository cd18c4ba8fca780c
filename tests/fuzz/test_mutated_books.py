"""The long run of tests/book/test_mutations.py: `make fuzz`. FETTLEBOOK_FUZZ sets the number of cases."""

import os
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_mutations import book_to_spoil, spoilt_and_tried

from fettlebook.book.kept import Kept

CASES = int(os.environ.get("FETTLEBOOK_FUZZ", "100000"))


@pytest.fixture(scope="module")
def demo(root, tmp_path_factory):
    return book_to_spoil(root, tmp_path_factory.mktemp("book"))


@pytest.fixture(scope="module")
def kept():
    return Kept(keeping=True)


@settings(max_examples=CASES, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**63))
def test_no_traceback_whatever_is_written_and_what_is_accepted_builds(demo, kept, seed):
    spoilt_and_tried(demo, kept, Random(seed))
