"""The long run of tests/book/test_spoilt_shop.py: `make fuzz`. FETTLEBOOK_FUZZ sets the number of cases."""

import os
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_spoilt_shop import spoilt_and_tried

from fettlebook.book.load import load

CASES = int(os.environ.get("FETTLEBOOK_FUZZ", "100000"))


@pytest.fixture(scope="module")
def demo_book(root):
    return load(root)[0]


@settings(max_examples=CASES, deadline=None, database=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 2**63))
def test_a_shop_s_file_says_what_it_refuses_and_what_it_takes_is_made(demo_book, seed):
    spoilt_and_tried(demo_book, Random(seed))
