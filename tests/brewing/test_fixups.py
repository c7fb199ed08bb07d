"""Mending a wort lands on the gravity wanted: conservation of mass, tried in the model itself."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.brewing import fixups

strengths = st.floats(0.01, 0.3)
masses = st.floats(100.0, 20_000.0)


@given(masses, strengths, strengths, st.floats(0.5, 1.0))
def test_powder_lands_on_the_target(mass_g, w, target_w, f):
    grams = fixups.powder_g(mass_g, w, target_w, f)
    if grams is None:
        assert target_w <= w or target_w >= f
        return
    assert (w * mass_g + f * grams) / (mass_g + grams) == pytest.approx(target_w, rel=1e-6)


@given(masses, strengths, strengths)
def test_water_and_boiling_land_on_the_target(mass_g, w, target_w):
    water_g, boiled_g = fixups.water_g(mass_g, w, target_w), fixups.boiled_g(mass_g, w, target_w)
    assert (water_g is None) == (w <= target_w)
    assert (boiled_g is None) == (w >= target_w)
    if water_g is not None:
        assert w * mass_g / (mass_g + water_g) == pytest.approx(target_w, rel=1e-6)
    if boiled_g is not None:
        assert w * mass_g / (mass_g - boiled_g) == pytest.approx(target_w, rel=1e-6)


def test_by_hand():
    # 1 kg at 10 °P to 8 °P takes 250 g of water; at 8 to 10 °P a fifth boils away; powder of 95 %: 20 g / 0.85
    assert fixups.water_g(1000.0, 0.10, 0.08) == pytest.approx(250.0)
    assert fixups.boiled_g(1000.0, 0.08, 0.10) == pytest.approx(200.0)
    assert fixups.powder_g(1000.0, 0.08, 0.10, 0.95) == pytest.approx(23.529, abs=1e-3)
    assert fixups.water_g(1000.0, 0.10, 0.0) is None
    assert fixups.boiled_g(1000.0, 0.0, 0.10) is None
