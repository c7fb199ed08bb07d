"""Boiling points, heat and ice against IAPWS (the iapws library) and worked examples of OpenStax with answers."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS97

from workbench.brewing import heat


# standard atmosphere: pressures to the pascal, computed with the formula of ISO 2533 (from memory); boiling points of
# IAPWS-95 computed with CoolProp
@pytest.mark.parametrize(
    ("altitude_m", "pascal", "boils_c"),
    [(0, 101325, 99.97), (300, 97773, 98.98), (1000, 89875, 96.65), (1600, 83524, 94.65), (3000, 70109, 89.97)],
)
def test_boiling_by_altitude(altitude_m, pascal, boils_c):
    assert heat.pressure_pa(altitude_m) == pytest.approx(pascal, abs=1.0)
    assert heat.boiling_c(altitude_m) == pytest.approx(boils_c, abs=0.03)


@pytest.mark.parametrize("altitude_m", [-500, 0, 1234, 4000, 9000])
def test_boiling_is_the_saturation_of_the_iapws_library(altitude_m):
    mpa = heat.pressure_pa(altitude_m) / 1e6
    assert heat.boiling_c(altitude_m) + 273.15 == pytest.approx(IAPWS97(P=mpa, x=0).T, abs=0.002)


# Bubnik et al. 1995, cp = 4184 - 2511 w + 7.5 w t (read): rows worked out from it
@pytest.mark.parametrize(
    ("w", "t_c", "cp"), [(0.0, 50.0, 4.184), (0.05, 10.0, 4.0622), (0.1, 20.0, 3.9479), (0.2, 60.0, 3.7718)]
)
def test_specific_heat(w, t_c, cp):
    assert heat.specific_heat(w, t_c) == pytest.approx(cp, abs=1e-4)


def test_ice_cools_a_drink_as_in_the_book():
    # OpenStax University Physics 2, 1.5 (read): 0.018 kg of ice at 0 °C in 0.25 kg of soda at 20 °C end at 13 °C
    ends_c = 13.296  # the book's own figures before rounding: c 4186, Lf 334 kJ/kg
    soda_kj, ice_kg = heat.heat_kj(250.0, 0.0, 20.0, ends_c), 0.018
    melted_warms_kj = ice_kg * 4.186 * ends_c
    assert heat.ice_kg(soda_kj - melted_warms_kj, 0.0, 0.0) == pytest.approx(ice_kg, rel=0.005)


def test_water_and_pan_as_in_the_book():
    # OpenStax University Physics 2, 1.4 (read): 0.25 kg of water over 60 K take 62.8 kJ
    assert heat.heat_kj(250.0, 0.0, 80.0, 20.0) == pytest.approx(62.8, rel=0.002)


def test_glass_takes_its_part():
    # 0.2 kg of glass over 6.3 K; the book's 840 J/kg/K for a beaker (OpenStax University Physics 2, 1.4, read)
    assert heat.heat_kj(0.0, 0.0, 16.3, 10.0, glass_g=200.0) == pytest.approx(0.2 * 0.840 * 6.3, rel=0.02)


def test_cold_water_topped_up_saves_ice_and_what_is_cool_needs_none():
    warm = heat.heat_kj(1000.0, 0.1, 100.0, 25.0)
    assert heat.heat_kj(1000.0, 0.1, 100.0, 25.0, top_up_g=500.0) == pytest.approx(warm - 0.5 * 4.184 * 5.0)
    assert heat.heat_kj(1000.0, 0.1, 20.0, 20.0) == 0.0
    assert heat.ice_kg(0.0, 4.0, 15.0) == pytest.approx(4.0 * 4.184 * 15.0 / 333.4)


@given(st.floats(-500.0, 8900.0))
def test_higher_up_it_boils_cooler(altitude_m):
    assert heat.boiling_c(altitude_m + 100.0) < heat.boiling_c(altitude_m)


@given(st.floats(0.0, 0.3), st.floats(30.0, 90.0))
def test_heat_adds_up_over_two_stretches(w, between_c):
    whole = heat.heat_kj(1000.0, w, 100.0, 20.0)
    parts = heat.heat_kj(1000.0, w, 100.0, between_c) + heat.heat_kj(1000.0, w, between_c, 20.0)
    assert math.isclose(whole, parts, rel_tol=1e-9)  # the specific heat is straight in temperature
