"""Formulas that mean harm: whatever is written is read or refused in words, in bounded time, and what is read can only calculate.

`make fuzz`; a short run of the same is in tests/book/test_hostile_formulas.py. FETTLEBOOK_FUZZ sets the number of cases.
"""

import os
from random import Random

import pytest
from hostile import hostile_text, read_and_try

CASES = int(os.environ.get("FETTLEBOOK_FUZZ", "100000"))


@pytest.mark.parametrize("seed", range(10))
def test_no_formula_does_anything_but_calculate(seed):
    chance = Random(seed)
    for _ in range(CASES // 10):
        read_and_try(hostile_text(chance))
