"""Quantiles of Student's t against scipy."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t

from workbench.brewing.student_t import quantile


@pytest.mark.parametrize("p", [0.9, 0.95, 0.975])
def test_the_usual_quantiles_are_scipys(p):
    freedoms = range(1, 201)
    assert [quantile(p, freedom) for freedom in freedoms] == pytest.approx(t.ppf(p, freedoms), rel=1e-8)


# Not nearer to 0.5: there scipy 1.17's own quantiles are off by 1e-5, as its distribution at 0 shows.
@given(st.floats(0.001, 0.45) | st.floats(0.55, 0.999), st.integers(1, 1000))
def test_so_are_all_others(p, freedom):
    assert quantile(p, freedom) == pytest.approx(t.ppf(p, freedom), rel=1e-9)


@given(st.floats(0.4, 0.6), st.integers(1, 1000))
def test_near_the_middle_the_share_below_a_quantile_is_what_was_asked(p, freedom):
    assert t.cdf(quantile(p, freedom), freedom) == pytest.approx(p, abs=1e-12)


def test_the_middle_is_nothing_and_the_sides_are_alike():
    assert quantile(0.5, 7) == 0.0
    assert quantile(0.05, 7) == pytest.approx(-quantile(0.95, 7), rel=1e-12)


@pytest.mark.parametrize(("p", "freedom"), [(0.0, 5), (1.0, 5), (float("nan"), 5), (0.95, 0), (0.95, -1)])
def test_no_quantile_where_there_is_none(p, freedom):
    with pytest.raises(ValueError, match="no quantile"):
        quantile(p, freedom)
