"""Chi-square quantiles against scipy's."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2

from workbench.brewing.chi_square import quantile

PROBABILITIES = (0.001, 0.025, 0.05, 0.5, 0.95, 0.975, 0.999)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 9, 60, 399, 801, 20_000, 200_002])
@pytest.mark.parametrize("p", PROBABILITIES)
def test_quantiles_are_scipys(p, freedom):
    assert quantile(p, freedom) == pytest.approx(chi2.ppf(p, freedom), rel=1e-9)


@given(st.floats(0.001, 0.999), st.integers(1, 3000))
def test_what_lies_below_a_quantile_has_its_probability(p, freedom):
    assert chi2.cdf(quantile(p, freedom), freedom) == pytest.approx(p, rel=1e-9)


@pytest.mark.parametrize(("p", "freedom"), [(0.0, 3), (1.0, 3), (-0.1, 3), (float("nan"), 3), (0.5, 0)])
def test_there_is_none_outside(p, freedom):
    with pytest.raises(ValueError, match="no chi-square quantile"):
        quantile(p, freedom)
