"""The fixed draws and the range they give."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kstest, norm

from workbench.brewing.spread import DRAWS, LIKELY, Deviates, Range, bounds, draws

DIMENSIONS = ("cells", "loss", "growth", "time")
ranges = st.tuples(st.floats(0.01, 1.0), st.floats(0.1, 100.0), st.floats(1.0, 10.0)).map(
    lambda t: Range(t[0] * t[1], t[1], t[2] * t[1])
)


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_each_dimension_holds_every_quantile_once(dimension):
    found = sorted(getattr(z, dimension) for z in draws())
    expected = norm.ppf([(k + 0.5) / 512 for k in range(512)])
    assert len(set(found)) == DRAWS == 512
    assert found == pytest.approx(list(expected), abs=1e-9)


def test_the_points_are_the_lattice_of_generator_227():
    places = [[round(norm.cdf(getattr(z, name)) * 512 - 0.5) for name in DIMENSIONS] for z in draws()]
    assert places == [[i * 227**j % 512 for j in range(4)] for i in range(512)]


def test_dimensions_do_not_go_together():
    for i, first in enumerate(DIMENSIONS):
        for second in DIMENSIONS[i + 1 :]:
            product = sum(getattr(z, first) * getattr(z, second) for z in draws())
            assert abs(product / DRAWS) < 0.06


def test_sums_of_dimensions_are_spread_as_they_should_be():
    half_sums = [(z.cells + z.loss + z.growth + z.time) / 2.0 for z in draws()]
    assert kstest(half_sums, norm.cdf).statistic < 0.03


def test_the_likely_draw_is_the_middle():
    assert Deviates() == LIKELY == Deviates(0.0, 0.0, 0.0, 0.0)


@given(ranges)
def test_a_range_at_its_ends_and_its_middle(span):
    assert span.at(-1.645) == pytest.approx(span.low)
    assert span.at(0.0) == span.likely
    assert span.at(1.645) == pytest.approx(span.high)


@given(ranges, st.floats(-4.0, 4.0), st.floats(0.0, 2.0))
def test_a_range_never_falls(span, z, more):
    assert span.at(z + more) >= span.at(z) * (1.0 - 1e-12)


def test_bounds_are_the_26th_from_either_end():
    shuffled = [float(227 * k % 512 + 1) for k in range(512)]
    assert bounds(shuffled, 250.0) == (26.0, 487.0)


@pytest.mark.parametrize(("likely", "expected"), [(3.0, (3.0, 487.0)), (500.0, (26.0, 500.0))])
def test_bounds_are_widened_to_hold_the_likely_value(likely, expected):
    assert bounds([float(k) for k in range(1, 513)], likely) == expected


def test_bounds_leave_about_five_percent_on_either_side():
    low, high = bounds([z.growth for z in draws()], 0.0)
    assert (low, high) == pytest.approx((-1.645, 1.645), abs=0.01)
