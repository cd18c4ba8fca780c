"""Small dense least squares against numpy, and against the definition of the bounded minimum."""

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.tables.least_squares import Singular, bounded, dot, normal, solve, times

figures = st.floats(-10, 10).map(lambda x: round(x, 3))


@st.composite
def systems(draw):
    n = draw(st.integers(1, 8))
    tall = [draw(st.lists(figures, min_size=n, max_size=n)) for _ in range(draw(st.integers(1, 12)))]
    return n, tall, draw(st.lists(figures, min_size=len(tall), max_size=len(tall)))


@settings(deadline=None)
@given(systems())
def test_the_normal_equations_are_solved_as_numpy_solves_them(system):
    n, tall, right = system
    q, c = normal(tall, right)
    for j in range(n):
        q[j][j] += 0.1
    expected = numpy.linalg.solve(
        numpy.array(tall).T @ numpy.array(tall) + 0.1 * numpy.eye(n), numpy.array(tall).T @ right
    )
    assert solve(q, c) == pytest.approx(list(expected), rel=1e-6, abs=1e-6)


def test_equations_that_do_not_fix_every_unknown_are_refused():
    with pytest.raises(Singular):
        solve([[1, 1], [1, 1]], [1, 2])


@settings(deadline=None)
@given(systems(), st.data())
def test_the_bounded_minimum_keeps_its_bounds_and_no_step_inside_them_is_better(system, data):
    n, tall, right = system
    q, c = normal(tall, right)
    for j in range(n):
        q[j][j] += 0.1
    low = [-data.draw(st.sampled_from([0.0, 0.1, 2.0])) for _ in range(n)]
    high = [data.draw(st.sampled_from([0.0, 0.1, 2.0])) for _ in range(n)]
    x = bounded(q, c, low, high)
    assert all(a <= v <= b for v, a, b in zip(x, low, high, strict=True))
    slopes = [g - r for g, r in zip(times(q, x), c, strict=True)]
    for v, slope, a, b in zip(x, slopes, low, high, strict=True):
        if v > a + 1e-9:
            assert slope < 1e-5
        if v < b - 1e-9:
            assert slope > -1e-5


def test_a_product_needs_vectors_of_one_length():
    with pytest.raises(ValueError):
        dot([1, 2], [1])
