"""Counts under the microscope against scipy, computed rows and a count that was really made."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest, chi2, poisson, variation

from tests.brewing.yeast_tables import (
    FIELDS,
    FIELDS_DISPERSION,
    FIELDS_MEAN,
    FIELDS_PER_ML,
    PER_ML,
    POISSON_95,
    WILSON_95,
)
from workbench.brewing.counts import Dispersion, cells_per_ml, counted, dispersion, poisson_limits, wilson

COUNTS = st.lists(st.integers(0, 300), min_size=1, max_size=60)


@pytest.mark.parametrize(("cells", "squares", "square_ul", "dilution", "per_ml"), PER_ML)
def test_cells_per_ml(cells, squares, square_ul, dilution, per_ml):
    assert cells_per_ml(cells, squares, square_ul, dilution) == pytest.approx(per_ml, rel=1e-12)


def test_the_fields_of_a_real_count():
    assert sum(FIELDS) / len(FIELDS) == pytest.approx(FIELDS_MEAN)
    assert cells_per_ml(sum(FIELDS), len(FIELDS), 1e3 / 160_000) == pytest.approx(FIELDS_PER_ML, rel=1e-12)
    found = dispersion(FIELDS)
    assert found.ratio == pytest.approx(FIELDS_DISPERSION, abs=0.005)
    assert found.squares == 10
    assert found.uneven  # by the same thread the limits of chance alone are too narrow here


@pytest.mark.parametrize(("cells", "low", "high"), POISSON_95)
def test_poisson_limits(cells, low, high):
    assert poisson_limits(cells) == pytest.approx((low, high), rel=1e-9)


@given(st.integers(1, 100_000))
def test_at_each_limit_chance_leaves_one_in_forty_outside(cells):
    low, high = poisson_limits(cells)
    assert poisson.sf(cells - 1, low) == pytest.approx(0.025, rel=1e-6)
    assert poisson.cdf(cells, high) == pytest.approx(0.025, rel=1e-6)


@pytest.mark.parametrize(("live", "cells", "low", "high"), WILSON_95)
def test_wilson_limits(live, cells, low, high):
    assert wilson(live, cells) == pytest.approx((low, high), rel=1e-9)


@given(st.integers(1, 5000).flatmap(lambda cells: st.tuples(st.integers(0, cells), st.just(cells))))
def test_wilson_limits_are_scipys(found):
    live, cells = found
    expected = binomtest(live, cells).proportion_ci(0.95, method="wilson")
    low, high = wilson(live, cells)
    assert (low, high) == pytest.approx((expected.low, expected.high), rel=1e-9, abs=1e-12)
    assert 0.0 <= low <= live / cells <= high <= 1.0


@given(COUNTS)
def test_the_dispersion_index_is_variance_by_mean(counts):
    found = dispersion(counts)
    if len(counts) < 2 or not any(counts):
        assert found is None
        return
    mean = sum(counts) / len(counts)
    assert found.ratio == pytest.approx(variation(counts, ddof=1) ** 2 * mean, rel=1e-9, abs=1e-12)
    freedom = len(counts) - 1
    assert found.limit == pytest.approx(chi2.ppf(0.95, freedom) / freedom, rel=1e-9)
    assert found.squares == len(counts)


@pytest.mark.parametrize(("ratio", "uneven"), [(2.0, False), (2.01, True), (0.1, False)])
def test_only_over_its_limit_it_is_uneven(ratio, uneven):
    assert Dispersion(ratio, 2.0, 8).uneven is uneven


def test_one_count_in_twenty_is_uneven_by_chance_alone():
    draws = poisson.rvs(40, size=(4000, 5), random_state=20261128).tolist()
    share = sum(dispersion(counts).uneven for counts in draws) / len(draws)
    assert share == pytest.approx(0.05, abs=0.01)


def test_squares_that_differ_by_chance_keep_the_exact_limits():
    found = counted([42, 38, 51, 47, 40])
    assert found.likely == 218
    assert (found.low, found.high) == poisson_limits(218)


def test_squares_that_differ_more_widen_them_by_the_root_of_the_index():
    low, high = poisson_limits(sum(FIELDS))
    found, root = counted(FIELDS), dispersion(FIELDS).ratio ** 0.5
    assert found.likely == 433
    # in proportion, which near the count is nearly the same distance
    assert found.likely / found.low == pytest.approx((433 / low) ** root)
    assert found.high / found.likely == pytest.approx((high / 433) ** root)
    assert found.likely - found.low == pytest.approx(root * (433 - low), rel=0.05)
    assert found.high - found.likely == pytest.approx(root * (high - 433), rel=0.05)


@given(COUNTS)
def test_a_count_lies_within_its_limits_and_above_nothing(counts):
    found = counted(counts)
    assert found.likely == sum(counts)
    assert found.low <= found.likely < found.high
    assert found.low > 0.0 or found.likely == 0


@pytest.mark.parametrize(("part", "whole"), [(-1, 5), (6, 5), (0, 0)])
def test_no_share_of_what_is_not_there(part, whole):
    with pytest.raises(ValueError, match="no share"):
        wilson(part, whole)


def test_no_count_below_nothing():
    with pytest.raises(ValueError, match="no count"):
        poisson_limits(-1)
