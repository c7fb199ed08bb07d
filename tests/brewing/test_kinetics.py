"""Rates, hours and curves against computed rows, and the closed form against an ODE solver."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tests.brewing.yeast_tables import CURVE, HOURS, RATE
from workbench.brewing import kinetics

YEASTS = sorted(kinetics.CARDINAL)
growths = st.floats(1.001, 1000.0)
lags = st.floats(0.1, 3.0)
rates = st.floats(0.005, 0.45)
motions = st.sampled_from(sorted(kinetics.MOTION_HOURS))


@pytest.mark.parametrize(("yeast", "t_c", "rate"), RATE)
def test_rate_by_temperature(yeast, t_c, rate):
    assert kinetics.rate_per_h(t_c, yeast) == pytest.approx(rate, rel=1e-8)


@pytest.mark.parametrize("yeast", YEASTS)
def test_the_cardinal_temperatures_are_what_they_are_called(yeast):
    best, low, top, high = kinetics.CARDINAL[yeast]
    assert kinetics.rate_per_h(top, yeast) == pytest.approx(best, rel=1e-12)
    slope = (kinetics.rate_per_h(top + 1e-4, yeast) - kinetics.rate_per_h(top - 1e-4, yeast)) / 2e-4
    assert slope == pytest.approx(0.0, abs=1e-8)
    for end in (low, high):
        assert kinetics.rate_per_h(end, yeast) == 0.0
        assert kinetics.rate_per_h(end + math.copysign(1e-6, top - end), yeast) == pytest.approx(0.0, abs=1e-6)


def test_ale_yeast_has_the_optimum_and_maximum_of_its_species():
    # Salvado et al. 2011, abstract read: S. cerevisiae 32.3 and 45.4 °C
    assert kinetics.CARDINAL["ale"][2:] == (32.3, 45.4)


@given(st.floats(-20.0, 110.0), st.sampled_from(YEASTS))
def test_no_temperature_beats_the_optimum_or_falls_below_nothing(t_c, yeast):
    assert 0.0 <= kinetics.rate_per_h(t_c, yeast) <= kinetics.CARDINAL[yeast][0] * (1.0 + 1e-12)


@given(st.floats(2.8, 32.0), st.floats(0.001, 0.3))
def test_warmer_is_faster_below_the_optimum(t_c, warmer):
    assert kinetics.rate_per_h(t_c + warmer, "ale") > kinetics.rate_per_h(t_c, "ale")


@pytest.mark.parametrize(("yeast", "t_c", "cold"), [("ale", 2.0, True), ("ale", 46.0, False), ("lager", 36.0, False)])
def test_hardly_growing_is_for_cold_or_for_heat(yeast, t_c, cold):
    assert kinetics.is_too_cold(t_c, yeast) is cold


def test_the_lag_agrees_with_lag_times_in_malt_wort():
    # Merritt 1966, abstract read in reprints: 6 h at 20 °C, 2.8 h at 25 °C ("2-8 hr" in print, read as 2.8)
    h0 = [hours * kinetics.rate_per_h(t_c, "ale") for t_c, hours in ((20.0, 6.0), (25.0, 2.8))]
    assert h0 == pytest.approx([1.43, 0.93], abs=0.005)
    assert min(h0) < kinetics.H0_AFTER_DECANT < max(h0)


@pytest.mark.parametrize(("viability", "h0"), [(1.0, 1.3), (0.7, 1.3), (0.5, 1.9), (0.3, 2.5), (0.0, 2.5)])
def test_weak_yeast_lags_longer(viability, h0):
    assert kinetics.h0_of_stored(viability) == pytest.approx(h0)  # recommended


@pytest.mark.parametrize(("yeast", "t_c", "growth", "h0", "to_95", "to_90"), HOURS)
def test_hours_until_growth_is_done(yeast, t_c, growth, h0, to_95, to_90):
    rate = kinetics.rate_per_h(t_c, yeast)
    assert kinetics.hours_to_share(growth, h0, rate, "stirred") == pytest.approx(to_95, abs=2e-6)
    assert kinetics.hours_to_share(growth, h0, rate, "stirred", 0.90) == pytest.approx(to_90, abs=2e-6)


@pytest.mark.parametrize(("yeast", "t_c", "growth", "h0", "hours", "out_per_in"), CURVE)
def test_the_curve_hour_by_hour(yeast, t_c, growth, h0, hours, out_per_in):
    curve = kinetics.after_hours(growth, h0, kinetics.rate_per_h(t_c, yeast), "stirred", hours)
    assert curve.out_per_in == pytest.approx(out_per_in, rel=1e-9)


@pytest.mark.parametrize("t_c", [8.0, 15.0, 21.0, 30.0])
@pytest.mark.parametrize("growth", [1.05, 3.0, 20.0])
@pytest.mark.parametrize("h0", [0.3, 1.3, 2.5])
def test_the_closed_form_solves_the_differential_equation(t_c, growth, h0):
    # Baranyi & Roberts 1994, in the form given in the documentation of the R package growthrates (read)
    rate = kinetics.rate_per_h(t_c, "ale")
    hours = kinetics.hours_to_share(growth, h0, rate, "stirred")

    def slopes(_, state):
        n, q = state
        return q / (1.0 + q) * rate * (1.0 - n / growth) * n, rate * q

    times = [0.3 * hours, 0.7 * hours, hours]
    start = [1.0, 1.0 / math.expm1(h0)]
    solved = solve_ivp(slopes, (0.0, hours), start, "DOP853", t_eval=times, rtol=1e-10, atol=1e-12)
    for t, n in zip(times, solved.y[0], strict=True):
        curve = kinetics.after_hours(growth, h0, rate, "stirred", t)
        assert curve.out_per_in == pytest.approx(n, rel=1e-8)
        assert curve.share == pytest.approx((n - 1.0) / (growth - 1.0), abs=1e-7)
    assert solved.y[0][-1] == pytest.approx(1.0 + 0.95 * (growth - 1.0), rel=1e-8)


@given(growths, lags, rates, motions, st.floats(0.001, 0.999))
def test_hours_and_share_are_inverse(growth, h0, rate, motion, share):
    hours = kinetics.hours_to_share(growth, h0, rate, motion, share)
    assume(rate * hours < 49.0)
    curve = kinetics.after_hours(growth, h0, rate, motion, hours)
    assert curve.share == pytest.approx(share, rel=1e-9, abs=1e-12)
    assert curve.out_per_in == pytest.approx(1.0 + share * (growth - 1.0), rel=1e-9)


@given(growths, lags, rates, motions, st.floats(0.0, 1e6), st.floats(0.0, 1e6))
def test_growth_never_turns_back_and_never_passes_its_end(growth, h0, rate, motion, hours, more):
    earlier, later = (kinetics.after_hours(growth, h0, rate, motion, t) for t in (hours, hours + more))
    assert 1.0 - 1e-12 <= earlier.out_per_in <= later.out_per_in * (1.0 + 1e-12) <= growth * (1.0 + 1e-9)
    assert -1e-12 <= earlier.share <= later.share + 1e-12 <= 1.0 + 1e-9


@given(growths, lags, motions, st.floats(0.0, 1000.0))
def test_without_a_rate_nothing_grows(growth, h0, motion, hours):
    curve = kinetics.after_hours(growth, h0, 0.0, motion, hours)
    assert curve.out_per_in == pytest.approx(1.0)
    assert curve.share == pytest.approx(0.0, abs=1e-12)


@given(growths, lags, rates)
def test_less_motion_takes_longer(growth, h0, rate):
    stirred, swirled, still = (
        kinetics.hours_to_share(growth, h0, rate, motion) for motion in ("stirred", "swirled", "still")
    )
    assert (swirled / stirred, still / stirred) == pytest.approx((1.25, 1.5))  # recommended


def test_a_stirred_step_at_room_temperature_takes_18_to_24_hours():
    # common practice, no source
    assert 18.0 <= kinetics.hours_to_share(3.0, 1.3, kinetics.rate_per_h(21.0, "ale"), "stirred") <= 24.0
