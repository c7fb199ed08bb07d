"""Flask geometry against the integral of its own profile and hand-worked rows."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from workbench.brewing.flask import TYPICAL, Measures, shape, typical_measures

# Levels of typical flasks, mm over the inner bottom, and rise factors: computed from the closed form and checked
# with scipy's quad and brentq to 0.01 mm. size L, volume L, height mm, rise factor.
ROWS = [
    (2.0, 1.0, 59.67, 1.564), (2.0, 1.5, 106.04, 2.411), (2.0, 1.8, 150.72, 4.097), (1.0, 0.5, 48.18, 1.559),
    (1.0, 0.9, 121.1, 4.008), (5.0, 2.5, 84.99, 1.576), (5.0, 4.5, 217.84, 4.372),
]  # fmt: skip
# Brimful volumes of the same model, mL, computed; no maker's figure was found.
BRIM_ML = {0.5: 534.1, 1.0: 1056.1, 2.0: 2105.8, 3.0: 3086.0, 5.0: 5061.1}


@pytest.mark.parametrize(("size", "volume", "height", "rise"), ROWS)
def test_levels_and_rise_of_typical_flasks(size: float, volume: float, height: float, rise: float) -> None:
    glass = shape(size, typical_measures(size))
    assert glass.height_mm(volume) == pytest.approx(height, abs=0.02)
    assert glass.rise_factor(volume) == pytest.approx(rise, abs=0.02)


@pytest.mark.parametrize("size", TYPICAL)
def test_brimful(size: float) -> None:
    assert 1000 * shape(size, typical_measures(size)).brim_l == pytest.approx(BRIM_ML[size], abs=1.0)


@given(st.sampled_from(sorted(TYPICAL)), st.floats(0.01, 1.0))
def test_what_stands_below_a_level_is_what_was_poured_in(size: float, share: float) -> None:
    glass = shape(size, typical_measures(size))
    volume = share * glass.brim_l
    top = glass.height_mm(volume)
    mm3, _ = quad(lambda h: pi * glass.radius_mm(h) ** 2, 0.0, top, points=[min(glass.cone, top)])
    assert mm3 / 1e6 == pytest.approx(volume, rel=1e-6)


@given(st.floats(0.25, 6.0), st.floats(0.0, 0.99), st.floats(0.001, 0.01))
def test_levels_rise_with_volume(size: float, share: float, more: float) -> None:
    glass = shape(size, typical_measures(size))
    assert glass.height_mm(share * glass.brim_l) < glass.height_mm((share + more) * glass.brim_l)


def test_above_the_brim_nothing_is_told() -> None:
    glass = shape(2.0, typical_measures(2.0))
    assert glass.level_mm(2.2) is None
    assert glass.rise_factor(2.2) is None


def test_a_flask_without_taper_is_a_cylinder() -> None:
    pot = shape(2.0, Measures(150.0, 150.0, 149.0, 2.0, 3.0))
    assert pot.height_mm(1.0) == pytest.approx(1e6 / (pi * 73.0**2))
    assert pot.rise_factor(1.0) == pytest.approx(1.0)


def test_own_brim_comes_first() -> None:
    assert shape(2.0, typical_measures(2.0)._replace(brim_l=2.3)).brim_l == 2.3
