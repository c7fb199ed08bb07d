"""Density of water and wort against tables and IAPWS-95; SG and °P against the trade's cubic fits; inverses."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from tests.brewing.wort_tables import CRC_2021_SUCROSE_20C, CRC_EARLIER_SUCROSE_20C, SG_TO_PLATO, SHRINKAGE
from workbench.brewing import density

W = st.floats(-0.0299, 0.36)
T = st.floats(0.0, 100.0)


@pytest.mark.parametrize(("percent", "rho"), CRC_2021_SUCROSE_20C + CRC_EARLIER_SUCROSE_20C)
def test_sucrose_as_in_the_crc_handbook(percent, rho):
    # the table has four decimals of g/cm³, so ±0.05 kg/m³ is rounding; 0.07 is the largest difference found
    assert density.wort(percent / 100.0, 20.0) == pytest.approx(rho, abs=0.071)


def test_water_at_20_c_as_by_iapws95():
    # IAPWS-95 through the general-purpose package `iapws`
    assert pytest.approx(IAPWS95(T=293.15, P=0.101325).rho, abs=0.02) == density.RHO_WATER_20


@pytest.mark.parametrize("t_c", [*range(0, 100, 9), 15.5556])
def test_water_as_by_iapws95(t_c):
    # Kell 1975 stays within 0.006 kg/m³ of IAPWS-95 from 0 to 99.9 °C (computed)
    assert density.water(t_c) == pytest.approx(IAPWS95(T=273.15 + t_c, P=0.101325).rho, abs=0.006)


@pytest.mark.parametrize(("t_c", "water", "ten_plato"), SHRINKAGE)
def test_shrinkage_on_cooling_to_20_c(t_c, water, ten_plato):
    for w, percent in ((0.0, water), (0.10, ten_plato)):
        shrunk = 100.0 * (1.0 - density.wort(w, t_c) / density.wort(w, 20.0))
        assert shrunk == pytest.approx(percent, abs=0.01)


@pytest.mark.parametrize(("sg", "plato", "grams_per_litre"), SG_TO_PLATO)
def test_gravity_to_plato(sg, plato, grams_per_litre):
    w = density.extract_from_sg(sg)
    assert density.plato(w) == pytest.approx(plato, abs=0.003)
    assert w * density.wort(w, 20.0) == pytest.approx(grams_per_litre, abs=0.03)


def asbc_plato(sg):
    """The cubic fit of the American Society of Brewing Chemists (read in an encyclopaedia article on Brix)."""
    return -616.868 + sg * (1111.14 + sg * (-630.272 + sg * 135.997))


def nbs_plato(sg):
    """The cubic fit to the table of NBS Circular C440, 1942 (read in the same article)."""
    return ((182.4601 * sg - 775.6821) * sg + 1262.7794) * sg - 669.5622


@pytest.mark.parametrize(("fit", "error"), [(asbc_plato, 0.02), (nbs_plato, 0.016)])
@pytest.mark.parametrize("percent", range(26))
def test_gravity_against_the_trades_cubic_fits(fit, error, percent):
    # errors to 25 °P as computed elsewhere: the fits are made for weights in air
    assert fit(density.sg(percent / 100.0)) == pytest.approx(percent, abs=error)


def test_water_has_gravity_one_and_no_extract():
    assert density.sg(0.0) == 1.0
    assert density.extract_from_sg(1.0) == pytest.approx(0.0, abs=1e-15)


@given(W)
def test_gravity_and_extract_are_inverse(w):
    assert density.extract_from_sg(density.sg(w)) == pytest.approx(w, abs=1e-12)


@given(W, T)
def test_density_and_extract_are_inverse_at_any_temperature(w, t_c):
    assert density.solve_extract(density.wort(w, t_c), t_c) == pytest.approx(w, abs=1e-12)


@given(W)
def test_plato_and_extract_are_inverse(w):
    assert density.extract_from_plato(density.plato(w)) == pytest.approx(w, abs=1e-15)


@given(W, st.floats(1e-6, 0.1), T)
def test_more_extract_is_always_denser(w, more, t_c):
    assert density.wort(w + more, t_c) > density.wort(w, t_c)


@given(st.floats(0.0, 0.36), st.floats(4.1, 99.0), st.floats(0.01, 1.0))
def test_warmer_is_always_thinner_above_4_c(w, t_c, warmer):
    assert density.wort(w, t_c + warmer) < density.wort(w, t_c)


@pytest.mark.parametrize(("rho", "t_c"), [(980.0, 20.0), (1180.0, 20.0), (1150.0, 100.0), (500.0, 50.0)])
def test_no_extract_for_what_is_no_wort(rho, t_c):
    with pytest.raises(ValueError, match=r"is no wort between -3 and 36 °P"):
        density.solve_extract(rho, t_c)


@pytest.mark.parametrize("gravity", [0.990, 1.160])
def test_every_gravity_that_an_instrument_may_show_has_an_answer(gravity):
    assert density.sg(density.extract_from_sg(gravity)) == pytest.approx(gravity, abs=1e-12)
