"""Gas of working yeast: Balling's balance against stoichiometry and the ideal gas law."""

from __future__ import annotations

import pytest
from scipy.constants import R

from workbench.brewing import carbonation


def test_gas_is_what_the_stoichiometry_of_sugar_allows():
    # C12H22O11 + H2O -> 4 C2H5OH + 4 CO2; molar masses 342.30 and 44.01 (IUPAC): 0.514 g/g, less what yeast keeps
    share = carbonation.CO2_PER_EXTRACT
    assert 0.85 * 0.5143 < share < 0.5143


def test_litres_by_the_ideal_gas_law():
    # R of CODATA by scipy.constants, 20 °C, 101,325 Pa
    litres = 1000.0 * R * 293.15 / 101_325.0 / 44.0095
    assert pytest.approx(litres, rel=1e-3) == carbonation.L_PER_G


def test_a_usual_starter():
    # 115.1 g of extract, 62 % fermented, worked out by hand: 33.04 g, 18.06 L
    assert carbonation.co2_l(115.118) == pytest.approx(18.057, abs=0.01)
