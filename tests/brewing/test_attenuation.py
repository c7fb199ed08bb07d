"""Apparent and real extract of fermenting wort, against values computed by another way."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing.attenuation import FERMENTED, apparent_extract, fermented_share, real_extract

# Finished starters by Tabarie's rule from the densities of aqueous ethanol (OIML R 22) and of sucrose solutions
# (ICUMSA), and Balling's balance as given by Nielsen et al. 2007; computed elsewhere. OE, AE, RE in °P.
FINISHED = (
    (7.5688, 2.6491, 3.5935), (7.5688, 1.8922, 2.9813), (7.5688, 1.5138, 2.6752),
    (9.0349, 3.1622, 4.2863), (9.0349, 2.2587, 3.5549), (9.0349, 1.8070, 3.1892),
    (9.2778, 3.2472, 4.4009),
)  # fmt: skip


@pytest.mark.parametrize(("original", "apparent", "real"), FINISHED)
def test_real_extract_is_that_of_another_way_within_the_fits_error(original, apparent, real):
    """The fit's standard error of q, 0.005, is 0.03 °P here; two of them and the rounding of the table."""
    assert 100.0 * real_extract(original / 100.0, apparent / 100.0) == pytest.approx(real, abs=0.1)


@given(st.floats(0.0, 0.3), st.floats(-0.03, 0.3))
def test_there_and_back(original_w, apparent_w):
    assert apparent_extract(original_w, real_extract(original_w, apparent_w)) == pytest.approx(apparent_w, abs=1e-12)


@given(st.floats(0.01, 0.3), st.floats(0.05, 1.0), st.floats(0.0, 1.0))
def test_the_share_of_what_was_fresh(original_w, fresh, share):
    left_w = original_w * (1.0 - FERMENTED * (1.0 - fresh + fresh * share))
    assert fermented_share(original_w, left_w, fresh) == pytest.approx(share, abs=1e-9)


def test_nothing_to_ferment_is_not_fermented():
    assert fermented_share(0.0, 0.0) == fermented_share(0.08, 0.05, 0.0) == 0.0
