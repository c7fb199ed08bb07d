"""Bisection."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing.roots import bisect


@given(st.floats(-100.0, 100.0), st.sampled_from([1.0, -1.0]))
def test_the_root_of_a_rising_or_falling_line(root, slope):
    assert bisect(lambda x: slope * (x - root), -100.0, 100.0) == pytest.approx(root, abs=1e-12)


@pytest.mark.parametrize("root", [0.0, 1.0])
def test_a_root_at_either_end(root):
    assert bisect(lambda x: x - root, 0.0, 1.0) == root


def test_a_jump_over_zero_is_found():
    assert bisect(lambda x: -1.0 if x < 0.3 else 1.0, 0.0, 1.0) == pytest.approx(0.3, abs=1e-12)


def test_no_change_of_sign_is_refused():
    with pytest.raises(ValueError, match=r"no change of sign between 1 and 2"):
        bisect(lambda x: x, 1.0, 2.0)
