"""Hydrometer and refractometer against computed tables and against the refractive indices of the CRC Handbook."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.brewing.wort_tables import CRC_ETHANOL_N, CRC_SUCROSE_N, FERMENTING, HYDROMETER
from workbench.brewing import density, instruments

SIXTY_F = (60.0 - 32.0) / 1.8
WATER_N = 1.3330  # CRC Handbook, 102nd ed. 2021, read


@pytest.mark.parametrize(("reference_c", "reading", "sample_c", "true_sg"), HYDROMETER)
def test_hydrometer_in_a_warm_or_cold_sample(reference_c, reading, sample_c, true_sg):
    w = instruments.hydrometer_extract(reading, sample_c, reference_c)
    sg = density.wort(w, reference_c) / density.water(reference_c)
    assert 1000.0 * sg == pytest.approx(1000.0 * true_sg, abs=0.05)


@given(st.floats(0.0, 0.3), st.sampled_from([20.0, SIXTY_F]))
def test_a_sample_at_the_reference_needs_no_correction(w, reference_c):
    reading = density.wort(w, reference_c) / density.water(reference_c)
    assert instruments.hydrometer_extract(reading, reference_c, reference_c) == pytest.approx(w, abs=1e-12)


@given(st.floats(0.01, 0.3), st.floats(0.0, 60.0), st.sampled_from([20.0, SIXTY_F]))
def test_hydrometer_gives_back_the_wort_it_floated_in(w, sample_c, reference_c):
    glass = 1.0 - 25e-6 * (sample_c - reference_c)  # ISO 1768:1975, clause 3, read
    reading = density.wort(w, sample_c) / (density.water(reference_c) * glass)
    assert instruments.hydrometer_extract(reading, sample_c, reference_c) == pytest.approx(w, abs=1e-12)


@pytest.mark.parametrize("sample_c", [-0.1, 60.1, 95.0])
def test_a_sample_too_cold_or_too_hot_is_refused(sample_c):
    with pytest.raises(ValueError, match=r"let it come to 0 to 60 °C"):
        instruments.hydrometer_extract(1.040, sample_c)


def test_the_wort_factor_divides_brix():
    # 1.04 is common practice, no source
    assert instruments.refractometer_extract(10.4) == pytest.approx(0.10)
    assert instruments.refractometer_extract(10.0, 1.0) == pytest.approx(0.10)


@pytest.mark.parametrize(("original_p", "attenuation", "brix"), FERMENTING)
def test_fermenting_wort_gives_back_its_real_extract(original_p, attenuation, brix):
    real = instruments.refractometer_real_extract(brix, original_p / 100.0, 1.0)
    assert 100.0 * real == pytest.approx(original_p * (1.0 - attenuation), abs=0.001)


@given(st.floats(0.03, 0.3), st.floats(0.0, 0.8), st.floats(0.98, 1.08))
def test_refractometer_inverts_its_own_equation(original_w, attenuation, factor):
    real_w = original_w * (1.0 - attenuation)
    alcohol = instruments.alcohol_by_weight(original_w, real_w)
    brix = factor * 100.0 * (real_w + 0.415 * alcohol)
    assert instruments.refractometer_real_extract(brix, original_w, factor) == pytest.approx(real_w, abs=1e-12)


@given(st.floats(0.0, 0.3), st.floats(0.98, 1.08))
def test_without_alcohol_both_ways_agree(w, factor):
    brix = 100.0 * factor * w
    assert instruments.refractometer_real_extract(brix, w, factor) == pytest.approx(w, abs=1e-12)
    assert instruments.refractometer_extract(brix, factor) == pytest.approx(w, abs=1e-12)


@given(st.floats(0.01, 0.12), st.floats(0.0, 0.2))
def test_alcohol_inverts_ballings_original_extract(alcohol, real_w):
    # OE = 100 (2.0665 A + RE) / (100 + 1.0665 A), all in % w/w: Nielsen et al. 2007, read
    original = 100.0 * (2.0665 * 100.0 * alcohol + 100.0 * real_w) / (100.0 + 1.0665 * 100.0 * alcohol)
    assert instruments.alcohol_by_weight(original / 100.0, real_w) == pytest.approx(alcohol, abs=1e-12)


@pytest.mark.parametrize(("percent", "n"), [row for row in CRC_ETHANOL_N if row[0] <= 5.0])
def test_alcohol_refracts_as_much_as_the_constant_says(percent, n):
    five_percent_n = CRC_SUCROSE_N[0][1]
    brix = 5.0 * (n - WATER_N) / (five_percent_n - WATER_N)
    rounding = 0.07 / percent  # both indices have four decimals, ±0.034 °Bx each
    assert brix / percent == pytest.approx(instruments.BRIX_PER_ALCOHOL, abs=rounding)
