"""A starter of several feedings: what each hands on to the next, and that more or younger yeast never does harm."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from workbench.brewing import growth, kinetics
from workbench.brewing.spread import Deviates
from workbench.brewing.starter import Feeding, cells_out, feed_all
from workbench.brewing.viability import Stock, left_after_cold

RATE = kinetics.rate_per_h(21.0, "ale")
FRESH = Stock(80.0, 0.9)

motions = st.sampled_from(sorted(kinetics.MOTION_HOURS))
hours = st.floats(1.0, 100.0)
extracts = st.floats(5.0, 500.0)
DEVIATES = st.builds(Deviates, *(st.floats(-2.5, 2.5) for _ in range(4)))


def feeding(extract_g=140.0, *, decant=False, motion="stirred", rate=RATE, hours=None):
    return Feeding(extract_g, decant, motion, rate, hours)


growing = {"motion": motions, "rate": st.floats(0.01, 0.4), "hours": hours}
any_feeding, decanted = (st.builds(feeding, extracts, decant=st.just(pour), **growing) for pour in (False, True))
# one feeding, or several with a decant before each: nothing is left of the wort before
fresh_feedings = any_feeding.map(lambda fed: [fed]) | st.lists(decanted, min_size=1, max_size=4)


def given_hours(fed):
    return [one.hours for one in fed]


def test_one_feeding_is_growth_by_the_curve():
    (fed,) = feed_all(FRESH, [feeding(hours=20.0)])
    full = 1.0 + growth.new_cells_b(80.0, 140.0, "stirred") / 80.0
    assert (fed.growth, fed.h0, fed.inoculum) == (full, 1.3, 80.0 / 140.0)
    assert fed.out_b == 80.0 * kinetics.after_hours(full, 1.3, RATE, "stirred", 20.0).out_per_in


def test_left_alone_it_takes_95_percent_of_the_growth():
    (fed,) = feed_all(FRESH, [feeding()])
    assert fed.run_hours == fed.hours == kinetics.hours_to_share(fed.growth, 1.3, RATE, "stirred")
    assert fed.share == pytest.approx(0.95)
    assert fed.out_b == pytest.approx(80.0 + 0.95 * 140.0 * 1.4)


def test_a_feeding_on_top_finds_what_the_one_before_left():
    first, second = feed_all(FRESH, [feeding(hours=10.0), feeding(200.0, hours=20.0)])
    assert second.cells_in_b == first.out_b
    assert second.extract_g == pytest.approx(200.0 + 140.0 * (1.0 - first.share))
    assert second.h0 == 0.3


def test_what_is_left_is_handed_on_through_several_feedings():
    fed = feed_all(FRESH, [feeding(hours=2.0), feeding(hours=2.0), feeding(hours=2.0)])
    assert fed[2].extract_g == pytest.approx(140.0 + fed[1].extract_g * (1.0 - fed[1].share))


def test_a_decant_takes_five_percent_of_the_cells_and_all_the_old_wort():
    first, second = feed_all(FRESH, [feeding(hours=10.0), feeding(200.0, decant=True, hours=20.0)])
    assert second.cells_in_b == pytest.approx(0.95 * first.out_b)
    assert second.extract_g == 200.0
    assert second.h0 == 1.3


def test_yeast_from_a_kept_jar_may_be_decanted_before_its_first_feeding():
    (fed,) = feed_all(Stock(80.0, 0.5), [feeding(decant=True, hours=20.0)])
    assert fed.cells_in_b == pytest.approx(76.0)
    assert fed.h0 == pytest.approx(1.9)  # it still comes from the fridge, and half of it is dead


def test_nothing_alive_tells_nothing():
    fed = feed_all(Stock(0.0, 0.0), [feeding(), feeding()])
    assert len(fed) == 1
    assert (fed[0].out_b, fed[0].hours, fed[0].growth) == (None, None, None)
    assert cells_out(Stock(0.0, 0.0), [feeding(), feeding()], [20.0, 20.0]) == [0.0, 0.0]


@pytest.mark.parametrize(("cells_b", "told"), [(0.279, False), (0.281, True)])
def test_too_thin_a_start_gives_no_count(cells_b, told):
    (fed,) = feed_all(Stock(cells_b, 1.0), [feeding()])  # 0.002 B/g on 140 g is 0.28 B
    assert (fed.out_b is not None) is told


@pytest.mark.parametrize(("brewers", "left"), [(None, 12.0), (30.0, 30.0)])
def test_where_hardly_anything_grows_there_are_no_hours(brewers, left):
    (fed,) = feed_all(Stock(500.0, 1.0), [feeding(hours=brewers)])
    assert (fed.hours, fed.slow, fed.run_hours) == (None, False, left)
    assert fed.out_b == pytest.approx(500.0)


@pytest.mark.parametrize("rate", [0.0, 0.005])
def test_in_the_cold_only_the_brewer_can_say_how_long(rate):
    (untold,) = feed_all(FRESH, [feeding(rate=rate), feeding()])
    assert (untold.hours, untold.slow, untold.run_hours, untold.out_b) == (None, True, None, None)
    told = feed_all(FRESH, [feeding(rate=rate, hours=48.0), feeding()])
    assert (told[0].hours, told[0].slow) == (None, True)
    assert 80.0 <= told[0].out_b < 90.0
    assert len(told) == 2


def test_two_weeks_are_the_longest_that_is_told():
    growing, _ = feed_all(FRESH, [feeding(), feeding()])
    edge = RATE * growing.hours / 336.0
    assert feed_all(FRESH, [feeding(rate=edge * 1.001)])[0].hours == pytest.approx(336.0, rel=0.002)
    assert feed_all(FRESH, [feeding(rate=edge * 0.999)])[0].slow


@given(st.floats(1.0, 300.0), st.floats(0.3, 1.0), st.lists(any_feeding | decanted, min_size=1, max_size=4))
def test_the_likely_draw_is_the_likely_course(cells_b, viability, fed):
    stock = Stock(cells_b, viability)
    course = [one.out_b for one in feed_all(stock, fed) if one.out_b is not None]
    assert cells_out(stock, fed[: len(course)], given_hours(fed)) == pytest.approx(course, rel=1e-12)


def test_the_time_multiplier_divides_the_rate():
    slow = cells_out(FRESH, [feeding(), feeding()], [10.0, 5.0], Deviates(time=1.645))
    assert slow == pytest.approx(cells_out(FRESH, [feeding(rate=RATE / 1.6), feeding(rate=RATE / 1.6)], [10.0, 5.0]))


def test_the_growth_multiplier_works_on_the_new_cells():
    (plain,), (lucky,) = (cells_out(FRESH, [feeding()], [500.0], Deviates(growth=z)) for z in (0.0, 1.645))
    assert lucky - 80.0 == pytest.approx(1.45 * (plain - 80.0))


@given(
    st.floats(0.5, 300.0),
    st.floats(0.01, 1.0),
    fresh_feedings,
    st.floats(1.0, 5.0),
)
def test_more_yeast_at_equal_hours_never_gives_fewer_cells(cells_b, viability, fed, more):
    few = cells_out(Stock(cells_b, viability), fed, given_hours(fed))
    many = cells_out(Stock(more * cells_b, viability), fed, given_hours(fed))
    assert all(m >= f * (1.0 - 1e-12) for f, m in zip(few, many, strict=True))


@given(
    st.floats(0.5, 300.0),
    st.floats(0.01, 0.99),
    fresh_feedings,
    st.floats(1.0, 5.0),
)
def test_younger_yeast_at_equal_hours_never_gives_fewer_cells(cells_b, viability, fed, livelier):
    livelier = min(livelier, 1.0 / viability)
    old = cells_out(Stock(cells_b, viability), fed, given_hours(fed))
    young = cells_out(Stock(livelier * cells_b, livelier * viability), fed, given_hours(fed))
    assert all(y >= o * (1.0 - 1e-12) for o, y in zip(old, young, strict=True))


def test_on_top_more_yeast_may_end_with_fewer_cells():
    """A gram left over by a small start counts for more than the cells a large one grew on it: so the model says.

    Whoever searches feedings must not take it that more cells before a feeding on top give more after it.
    """
    fed = [feeding(140.0, hours=18.0), feeding(100.0, hours=24.0)]
    few, many = (cells_out(Stock(cells_b, 1.0), fed, given_hours(fed))[-1] for cells_b in (20.0, 40.0))
    assert (round(few), round(many)) == (346, 327)


@given(st.floats(1.0, 300.0), fresh_feedings, st.floats(1.05, 3.0))
def test_longer_never_gives_fewer_cells(cells_b, fed, longer):
    stock = Stock(cells_b, 0.9)
    short = cells_out(stock, fed, given_hours(fed))
    assert all(
        late >= early * (1.0 - 1e-12)
        for early, late in zip(short, cells_out(stock, fed, [longer * one.hours for one in fed]), strict=True)
    )


@given(st.floats(1.0, 300.0), extracts, motions, hours, DEVIATES, st.floats(0.01, 1.0))
def test_better_luck_never_gives_fewer_cells(cells_b, extract_g, motion, run, z, luck):
    assume(cells_b / extract_g > growth.MIN_R)
    one = [feeding(extract_g, motion=motion)]
    plain = cells_out(Stock(cells_b, 0.9), one, [run], z)[-1]
    for better in (Deviates(growth=z.growth + luck, time=z.time), Deviates(growth=z.growth, time=z.time - luck)):
        assert cells_out(Stock(cells_b, 0.9), one, [run], better)[-1] >= plain * (1.0 - 1e-12)


@given(st.floats(0.0, 60.0), DEVIATES, st.booleans())
def test_days_in_the_cold_leave_fewer_for_the_next_feeding(days, z, decant):
    first, second = feeding(100.0, hours=20.0), feeding(140.0, decant=decant, hours=20.0)._replace(cold_days=days)
    warm, cold = (feed_all(FRESH, [first, second._replace(cold_days=d)])[1] for d in (0.0, days))
    assert cold.cells_in_b == pytest.approx(warm.cells_in_b * left_after_cold(days))
    # the likely draw is the likely course, whatever the wait
    assert cells_out(FRESH, [first, second], [20.0, 20.0])[1] == pytest.approx(cold.out_b)
    alone = cells_out(FRESH, [first, second], [20.0, 0.0], z)
    through = left_after_cold(days, z) * (growth.CELLS_LEFT_BY_DECANT if decant else 1.0)
    assert alone[1] == pytest.approx(alone[0] * through)
