"""The cool-down against worked examples, scipy, a bath whose ice runs out, and a thousand simulated ones."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit
from scipy.stats import norm
from scipy.stats import t as student

from workbench.brewing.cooling import USUAL_PER_MIN, Cooling, Rate, Reach, Reading, cooling, learnt, reach


def celsius(fahrenheit):
    return (fahrenheit - 32.0) / 1.8


def newton(minutes, k, bath_c, start_c):
    return Reading(minutes, bath_c + (start_c - bath_c) * math.exp(-k * minutes))


# OpenStax Calculus, worked examples and exercises with printed answers, read. °F at the start, around, after so many
# minutes, and there; °F wanted, the minutes printed, and how closely they are.
BOOK = (
    # Volume 1, 6.8 Exponential Growth and Decay
    (200.0, 70.0, 2.0, 180.0, 175.0, 2.56, 0.005), (200.0, 70.0, 2.0, 180.0, 155.0, 5.09, 0.005),
    (200.0, 75.0, 2.0, 185.0, 175.0, 3.5, 0.25), (200.0, 75.0, 2.0, 185.0, 155.0, 7.0, 0.25),
    # Volume 2, 4.3 Separable Equations; the last in hours there, from a rounded rate
    (200.0, 75.0, 1.0, 190.0, 150.0, 6.12, 0.01), (450.0, 70.0, 10.0, 330.0, 75.0, 114.0, 0.5),
    (210.0, 20.0, 120.0, 170.0, 30.0, 24.95 * 60.0, 0.05 * 60.0),
)  # fmt: skip


@pytest.mark.parametrize(("start", "around", "minutes", "then", "wanted", "printed", "near"), BOOK)
def test_the_examples_of_a_textbook(start, around, minutes, then, wanted, printed, near):
    readings = [Reading(0.0, celsius(start)), Reading(minutes, celsius(then))]
    found = cooling(readings, celsius(around), celsius(wanted))
    assert found.reach.minutes == pytest.approx(printed, abs=near)
    assert (found.reach.se_min, found.reach.band_min, found.curve.k_se, found.curve.band(1.0)) == (None,) * 4


def test_the_rate_of_a_textbook():  # the same, Volume 2, 4.3: a pizza, ln 125 - ln 115, printed 0.08338
    found = cooling([Reading(0.0, celsius(200.0)), Reading(1.0, celsius(190.0))], celsius(75.0), celsius(150.0))
    assert found.curve.k_per_min == pytest.approx(0.08338, abs=5e-6)


# Ten readings of an invented cool-down; the figures computed elsewhere, by a closed form and by scipy.
TEN = tuple(
    map(Reading, (0, 2, 4, 6, 8, 10, 12, 15, 18, 20), (98.0, 82.9, 69.8, 58.6, 49.7, 41.7, 35.7, 28.4, 21.4, 18.0))
)


def test_ten_readings():
    found = cooling(TEN, 0.5, 20.0)
    assert found.curve.k_per_min == pytest.approx(0.0852497, abs=1e-6)
    assert found.curve.k_se == pytest.approx(0.0004413, abs=1e-6)
    assert found.curve.celsius(0.0) == pytest.approx(97.9773, abs=1e-3)
    assert found.curve.s_k == pytest.approx(0.3501, abs=1e-4)
    # not on the logarithm there, but on the temperature: the same but for the scatter
    assert found.reach.minutes == pytest.approx(18.8724, abs=0.005)
    assert found.reach.se_min == pytest.approx(0.0792, abs=0.001)
    assert found[2:] == (None, None, None)


@pytest.mark.parametrize("n", [3, 4, 6, 20])
@pytest.mark.parametrize("bath_c", [-1.0, 14.0])
def test_the_fit_and_its_errors_are_those_of_scipy(n, bath_c):
    rng = np.random.default_rng(20261128 + n)
    times = np.sort(rng.uniform(0.0, 20.0, n))
    above = (95.0 - bath_c) * np.exp(-0.09 * times) + rng.normal(0.0, 0.8, n)
    found = cooling(map(Reading, times.tolist(), (bath_c + above).tolist()), bath_c, bath_c + 12.0)
    assert found.former is None
    (a, k), covariance = curve_fit(lambda t, a, k: a - k * t, times, np.log(above), p0=(4.0, 0.1), sigma=1.0 / above)
    assert found.curve.k_per_min == pytest.approx(k, rel=1e-6)
    assert found.curve.k_se == pytest.approx(math.sqrt(covariance[1, 1]), rel=1e-6)
    scatter = math.sqrt(np.sum((above * (np.log(above) - a + k * times)) ** 2) / (n - 2))
    assert scatter > 0.1
    assert found.curve.s_k == pytest.approx(scatter, rel=1e-6)
    minutes = (a - math.log(12.0)) / k
    assert found.reach.minutes == pytest.approx(minutes, rel=1e-6)
    by_a_and_k = np.array([1.0, -minutes]) / k  # the delta method
    deviate = student.ppf(0.95, n - 2)
    assert found.reach.se_min == pytest.approx(math.sqrt(by_a_and_k @ covariance @ by_a_and_k), rel=1e-6)
    assert found.reach.band_min == pytest.approx(deviate * found.reach.se_min, rel=1e-9)

    line, error = a - 7.0 * k, math.sqrt(np.array([1.0, -7.0]) @ covariance @ np.array([1.0, -7.0]))
    low, high = found.curve.band(7.0)
    assert math.log(low - bath_c) == pytest.approx(line - deviate * error, rel=1e-6)
    assert math.log(high - bath_c) == pytest.approx(line + deviate * error, rel=1e-6)
    limit = float(deviate * math.hypot(math.exp(line) * error, scatter))
    for side in (-1, 1):
        edge = float(bath_c + math.exp(line) + side * limit)
        assert found.curve.side(Reading(7.0, edge + side * 1e-3)) == side
        assert found.curve.side(Reading(7.0, edge - side * 1e-3)) == 0


# 1.2 kg of wort in 0.6 kg of glass, from 100 °C in 4 kg of ice water with 0.9 kg of ice, all of 1 atm: heat capacities
# 4186 and 840 J/kg/K and heat of fusion 334 kJ/kg (OpenStax University Physics 2, 1.4 and 1.5, read); 12 W/K between.
HELD, THROUGH, FUSION = 1.2 * 4186.0 + 0.6 * 840.0, 12.0, 0.9 * 334e3
BATH = 4.9 * 4186.0


@pytest.fixture(scope="module")
def ice_runs_out():
    """When the ice is gone, when 20 °C are reached, both in seconds, and a reading at any minute."""

    def gone(_, y):
        return y[1] - FUSION

    def cool(_, y):
        return y[0] - 20.0

    gone.terminal = True
    accurate = {"rtol": 1e-10, "atol": 1e-10, "dense_output": True}
    first = solve_ivp(
        lambda _, y: [-THROUGH * y[0] / HELD, THROUGH * y[0]], (0, 3600), [100.0, 0.0], events=gone, **accurate
    )
    then = solve_ivp(
        lambda _, y: [THROUGH * (y[1] - y[0]) / HELD, THROUGH * (y[0] - y[1]) / BATH],
        (first.t[-1], 3600), [first.y[0, -1], 0.0], events=cool, **accurate,
    )  # fmt: skip

    def reading(minute):
        seconds = 60.0 * minute
        return Reading(minute, float((first if seconds < first.t[-1] else then).sol(seconds)[0]))

    return first.t[-1], then.t_events[0][0], reading


def test_while_there_is_ice_the_fit_is_the_law(ice_runs_out):
    gone_s, _, reading = ice_runs_out
    assert gone_s == pytest.approx(361.5, abs=0.1)  # computed elsewhere, as is the next
    found = cooling([reading(minute) for minute in range(7)], 0.0, 20.0)
    assert found.former is None
    assert found.curve.k_per_min == pytest.approx(60.0 * THROUGH / HELD, rel=1e-6)
    assert 60.0 * found.reach.minutes == pytest.approx(741.3, abs=0.1)
    assert found.curve.s_k == 0.1  # no reading is surer


@pytest.mark.parametrize("scatter_k", [0.0, 0.2])
def test_when_the_ice_has_run_out_the_readings_leave_the_curve(ice_runs_out, scatter_k):
    gone_s, cool_s, reading = ice_runs_out
    assert cool_s == pytest.approx(814.3, abs=0.1)  # computed elsewhere
    rng = np.random.default_rng(20261128)
    readings = [reading(minute) for minute in range(13)]
    readings = [it._replace(celsius=it.celsius + rng.normal(0.0, scatter_k)) for it in readings]
    found = cooling(readings, 0.0, 20.0)
    assert gone_s / 60.0 < found.changed_min <= 10.0
    assert found.curve.start_min == found.changed_min
    assert found.curve.readings == 13 - found.changed_min
    late_s = [cool_s - 60.0 * reach(curve, 0.0, 20.0).minutes for curve in (found.former, found.curve)]
    assert late_s[0] == pytest.approx(70.0, abs=10.0)
    assert abs(late_s[1]) < 0.5 * late_s[0]  # the bath goes on warming, so that this one is late as well, but by less


COOL_DOWNS, EACH = 1000, 9


@pytest.fixture(scope="module")
def thousand():
    """Cool-downs of nine readings, 0.5 K of scatter, each with the minute at which it really comes to 20 °C."""
    rng = np.random.default_rng(20261128)
    found = []
    for _ in range(COOL_DOWNS):
        k, start_c = rng.uniform(0.05, 0.3), rng.uniform(85.0, 99.0)
        true_min = math.log((start_c - 0.5) / 19.5) / k
        exact = [newton(0.9 * true_min * (i + rng.random()) / EACH, k, 0.5, start_c) for i in range(EACH)]
        found.append((cooling([Reading(at, c + rng.normal(0.0, 0.5)) for at, c in exact], 0.5, 20.0), true_min))
    return found


def test_nine_bands_in_ten_hold_the_true_time(thousand):
    stated = [(it.reach, true_min) for it, true_min in thousand if it.reach and it.reach.band_min is not None]
    assert len(stated) > 0.95 * COOL_DOWNS  # the others are left with two readings by a false alarm
    held = sum(abs(it.minutes - true_min) <= it.band_min for it, true_min in stated)
    assert held / len(stated) == pytest.approx(0.9, abs=0.05)


def test_a_change_is_rarely_told_where_there_is_none(thousand):
    told = sum(it.former is not None for it, _ in thousand) / COOL_DOWNS
    assert told < 0.15
    assert told / (EACH - 4) < 0.03  # of a reading that is looked at


def test_a_change_is_hardly_ever_told_of_readings_better_than_a_tenth_of_a_kelvin():
    rng = np.random.default_rng(20261128)
    told = 0
    for _ in range(300):
        exact = [newton(1.5 * i, 0.12, 0.5, 98.0) for i in range(EACH)]
        told += cooling([Reading(at, c + rng.normal(0.0, 0.1)) for at, c in exact], 0.5, 20.0).former is not None
    assert told <= 6


# One after another: a curve, a faster one from minute 6 on, a slower one from minute 12 on.
BROKEN = (
    *(newton(minute, 0.05, 0.0, 95.0) for minute in range(6)),
    *(Reading(6 + i, newton(i, 0.15, 0.0, 68.0).celsius) for i in range(6)),
    *(Reading(12 + i, newton(i, 0.04, 0.0, 29.0).celsius) for i in range(6)),
)


def test_after_a_change_the_curve_is_watched_as_before():
    told = [cooling(BROKEN[: n + 1], 0.0, 15.0).changed_min for n in range(len(BROKEN))]
    assert told == [None] * 7 + [6] * 6 + [12] * 5
    found = cooling(BROKEN, 0.0, 15.0)
    assert found.former.k_per_min == pytest.approx(0.15)
    assert found.former.start_min == 6
    assert found.curve.k_per_min == pytest.approx(0.04)
    assert found.curve.readings == 6


def test_the_fifth_reading_is_the_first_to_tell_a_change():
    exact = [newton(minute, 0.1, 0.0, 95.0) for minute in range(3)]
    off = [Reading(3.0, 80.0), Reading(4.0, 76.0)]
    found = cooling(exact + off, 0.0, 20.0)
    assert found.changed_min == 3.0
    assert found.former == cooling(exact, 0.0, 20.0).curve
    assert found.curve == cooling(off, 0.0, 20.0).curve
    assert cooling(exact[1:] + off, 0.0, 20.0).former is None


def test_after_a_change_no_rate_learnt_helps():
    exact = [newton(minute, 0.1, 0.0, 95.0) for minute in range(3)]
    found = cooling([*exact, Reading(3.0, 80.0), Reading(3.0, 81.0)], 0.0, 20.0, learnt_k=0.1)
    assert (found.curve, found.why_not, found.changed_min) == (None, "too-few", 3.0)


def test_one_reading_far_off_is_no_change():
    exact = [newton(minute, 0.1, 0.0, 95.0) for minute in range(8)]
    exact[5] = exact[5]._replace(celsius=exact[5].celsius + 8.0)
    assert cooling(exact, 0.0, 20.0).former is None


def test_two_readings_off_to_different_sides_are_no_change():
    exact = [newton(minute, 0.1, 0.0, 95.0) for minute in range(8)]
    off = [it._replace(celsius=it.celsius + by) for it, by in zip(exact, (0, 0, 0, 0, 0, 0, 3, -3), strict=True)]
    assert cooling(off, 0.0, 20.0).former is None


def test_without_readings_there_is_no_curve():
    assert cooling([], 1.0, 20.0, learnt_k=0.1) == Cooling(None, None, "too-few", None, None)


def test_one_reading_goes_by_the_rate_learnt_and_says_so():
    one = [newton(3.0, 0.1, 2.0, 90.0)]
    assert cooling(one, 2.0, 20.0) == Cooling(None, None, "too-few", None, None)
    found = cooling(one, 2.0, 20.0, learnt_k=0.1)
    assert found.curve.learnt
    assert found.curve.k_se is None
    assert found.reach == Reach(pytest.approx(math.log(88.0 / 18.0) / 0.1))
    assert cooling(one * 3, 2.0, 20.0, learnt_k=0.1).reach == found.reach  # of one moment, as good as one
    two = cooling([*one, newton(5.0, 0.2, 2.0, 90.0)], 2.0, 20.0, learnt_k=0.1)
    assert not two.curve.learnt
    assert two.curve.k_per_min > 0.2


def test_what_was_read_before_the_bath_or_near_its_temperature_does_not_count():
    exact = [newton(minute, 0.1, 4.0, 94.0) for minute in (0, 5, 10, 44)]
    assert exact[-1].celsius > 5.0
    assert cooling(exact, 4.0, 20.0).curve.readings == 4
    more = [Reading(-2.0, 94.0), Reading(50.0, 4.9), Reading(60.0, 3.0), *exact]
    assert cooling(more, 4.0, 20.0) == cooling(exact, 4.0, 20.0)
    assert cooling([*exact, Reading(45.0, 4.98)], 4.0, 20.0).curve.readings == 4
    assert cooling([*exact, Reading(45.0, 5.0)], 4.0, 20.0).curve.readings == 5
    assert cooling([Reading(45.0, 2.3), Reading(46.0, 2.3)], 1.3, 20.0).curve.readings == 2  # in binary 2.3 - 1.3 < 1


@pytest.mark.parametrize(
    ("then_c", "bath_c", "why_not"),
    [
        (79.0, 19.5, "target-below-bath"),
        (79.0, 19.4, None),
        (80.0, 1.0, "not-cooling"),
        (79.9999, 1.0, "not-cooling"),  # 20 °C in nine years
        (81.0, 1.0, "not-cooling"),
        (81.0, 25.0, "target-below-bath"),
    ],
)
def test_where_the_target_is_not_reached_it_says_why(then_c, bath_c, why_not):
    found = cooling([Reading(0.0, 80.0), Reading(4.0, then_c)], bath_c, 20.0)
    assert found.why_not == why_not
    assert (found.reach is None) is (why_not is not None)
    assert found.curve is not None


@given(
    st.floats(-1.0, 25.0), st.floats(0.02, 0.4), st.floats(60.0, 100.0), st.floats(0.6, 30.0),
    st.lists(st.integers(0, 100), min_size=2, max_size=12, unique=True),
)  # fmt: skip
def test_exact_readings_give_back_rate_and_time(bath_c, k, start_c, target_above, minutes):
    readings = [newton(minute, k, bath_c, start_c) for minute in minutes]
    target_c = bath_c + target_above
    found = cooling(readings, bath_c, target_c)
    if sum(it.celsius - bath_c >= 1.0 for it in readings) < 2:
        assert found.why_not == "too-few"
        return
    assert found.former is None
    assert found.curve.k_per_min == pytest.approx(k, rel=1e-9)
    assert found.reach.minutes == pytest.approx(math.log((start_c - bath_c) / target_above) / k, rel=1e-9, abs=1e-9)
    assert found.curve.celsius(found.reach.minutes) == pytest.approx(target_c, abs=1e-9)


TIMES = st.floats(-1e5, 1e5) | st.sampled_from([0.0, 0.0011, 1.0, 2.0, 3.0, 1e5])
WARMTHS = st.floats(-100.0, 1000.0) | st.floats(0.0, 100.0) | st.sampled_from([20.0, 90.0])
READINGS = st.lists(st.builds(Reading, TIMES, WARMTHS), max_size=14)


def numbers(it):
    if isinstance(it, tuple):
        return [number for part in it for number in numbers(part)]
    return [it] if isinstance(it, float) else []


@given(READINGS, WARMTHS, WARMTHS, st.none() | st.floats(1e-6, 100.0), TIMES)
def test_whatever_the_readings_all_is_a_number_or_nothing(readings, bath_c, target_c, learnt_k, at):
    found = cooling(readings, bath_c, target_c, learnt_k)
    assert (found.reach is None) is (found.why_not is not None)
    assert all(map(math.isfinite, numbers(found)))
    for curve in filter(None, (found.curve, found.former)):
        assert math.isfinite(curve.celsius(at))
        assert all(map(math.isfinite, curve.band(at) or ()))
        assert curve.side(Reading(at, 50.0)) in (-1, 0, 1)


@given(READINGS, st.randoms(use_true_random=False))
def test_the_order_in_the_list_does_not_matter(readings, rng):
    shuffled = rng.sample(readings, len(readings))
    assert cooling(shuffled, 0.0, 20.0) == cooling(readings, 0.0, 20.0)


@given(st.lists(st.floats(5.0, 100.0), min_size=5, max_size=14))
def test_a_change_once_told_stays_until_there_is_another(warmths):
    readings = list(map(Reading, range(len(warmths)), warmths))
    told = [cooling(readings[:n], 0.0, 20.0).changed_min or 0.0 for n in range(5, len(readings) + 1)]
    assert told == sorted(told)


@pytest.mark.parametrize(
    ("readings", "bath_c", "target_c", "learnt_k"),
    [
        ([Reading(math.nan, 50.0)], 1.0, 20.0, None), ([Reading(1.0, math.nan)], 1.0, 20.0, None),
        ([Reading(math.inf, 50.0)], 1.0, 20.0, None), ([Reading(1.0, 1001.0)], 1.0, 20.0, None),
        ([], -math.inf, 20.0, None), ([], 1.0, math.nan, None), ([], 1.0, 20.0, 0.0), ([], 1.0, 20.0, math.nan),
    ],
)  # fmt: skip
def test_what_is_no_cool_down_is_refused(readings, bath_c, target_c, learnt_k):
    with pytest.raises(ValueError, match=r"no cool-down|no rate"):
        cooling(readings, bath_c, target_c, learnt_k)


RATES = st.builds(Rate, st.floats(0.01, 1.0), st.floats(1e-4, 0.1))


@given(st.lists(RATES, min_size=1, max_size=6))
def test_the_rate_learnt_is_prior_times_data(earlier):
    logs = [math.log(k) for k, _ in earlier]
    between = max(0.15, float(np.std(logs, ddof=1))) if len(logs) > 1 else 0.15
    found = learnt(earlier)
    x = math.log(found.k_per_min) + np.linspace(-4.0, 4.0, 8001)
    density = norm.logpdf(
        x, math.log(USUAL_PER_MIN.likely), math.log(USUAL_PER_MIN.high / USUAL_PER_MIN.likely) / 1.645
    )
    for ln, (k, se) in zip(logs, earlier, strict=True):
        density += norm.logpdf(x, ln, math.hypot(between, se / k))
    density = np.exp(density - density.max())
    density /= density.sum()
    mean = float(density @ x)
    assert math.log(found.k_per_min) == pytest.approx(mean, abs=1e-6)
    expected = math.sqrt(density @ (x - mean) ** 2 + between**2)
    assert found.se_per_min / found.k_per_min == pytest.approx(expected, rel=1e-5)


def test_the_error_of_the_rate_learnt_is_never_silly_small():
    assert learnt([]) is None
    alike = learnt([Rate(0.1, 1e-6)] * 100)
    assert alike.k_per_min == pytest.approx(0.1, rel=0.01)
    assert 0.015 < alike.se_per_min < 0.016
    unlike = learnt([Rate(0.08, 0.001), Rate(0.2, 0.001)])
    assert unlike.k_per_min - unlike.se_per_min < 0.08
    assert unlike.k_per_min + unlike.se_per_min > 0.2


@pytest.mark.parametrize(("k", "se"), [(0.0, 0.1), (-0.1, 0.1), (math.nan, 0.1), (0.1, 0.0), (0.1, math.nan)])
def test_nothing_is_learnt_from_what_is_no_rate(k, se):
    with pytest.raises(ValueError, match="no rate"):
        learnt([Rate(k, se)])
