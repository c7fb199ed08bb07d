"""Yeast through time: starts reckoned back from pitching, ages, stamped starts; the ranges against random draws."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import at_most
from tests.plan.draws import at_draws
from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    PACK,
    PITCH_AT,
    STIRRED_ALE,
    SWIRLED_JAR,
    WORT,
    ale,
    before,
    codes,
    happened,
    plan_of,
    replace,
    small_ale,
    step_of,
)
from workbench.plan import lots
from workbench.session.model import Batch, Keep, Step

HOUR = timedelta(hours=1)


def test_a_single_feeding_ends_at_pitching():
    plan = plan_of(**STIRRED_ALE)
    (step,) = plan.steps
    assert step.end == PITCH_AT
    assert step.start == PITCH_AT - step.hours_planned * HOUR
    assert step.hours_planned == int(step.hours_planned)


def test_a_rest_comes_before_every_decant():
    # a lager rests 48 h (common practice: 24 to 48 h cold, no source), and is poured off before pitching
    first, second = plan_of(**LAGER_IN_TWO_STEPS).steps
    assert second.end == PITCH_AT - 48 * HOUR
    assert second.start == second.end - second.hours_planned * HOUR
    assert first.end == second.start - 48 * HOUR
    assert first.start == first.end - first.hours_planned * HOUR


def test_a_rest_may_be_set():
    rested = plan_of(**{**LAGER_IN_TWO_STEPS, "wort": replace(WORT, rest_s=12 * 3600.0)}).steps
    assert rested[1].end == PITCH_AT - 12 * HOUR
    assert rested[0].end == rested[1].start - 12 * HOUR


def test_a_feeding_on_top_follows_at_once():
    first, second = plan_of(step=(Step(0.5), Step(0.5))).steps
    assert first.end == second.start
    assert second.end == PITCH_AT


def test_the_brewers_hours_stand():
    step = step_of(step=(Step(1.0, hours_s=30.5 * 3600.0),))
    assert step.hours_planned == 30.5
    assert step.start == PITCH_AT - 30.5 * HOUR
    assert step.hours.value < 30.5


@pytest.mark.parametrize("scenario", [STIRRED_ALE, LAGER_IN_TWO_STEPS, SWIRLED_JAR])
def test_planned_hours_are_those_of_growth_rounded_up(scenario):
    for step in plan_of(**scenario).steps:
        # the lots are aged once more to the rounded start, which may shift the hours by a trifle
        assert step.hours_planned - 1.05 <= step.hours.value <= step.hours_planned + 0.05


@pytest.mark.parametrize("scenario", [STIRRED_ALE, LAGER_IN_TWO_STEPS, SWIRLED_JAR])
def test_the_lots_are_as_old_as_at_the_first_start(scenario):
    plan = plan_of(**scenario)
    assert plan.hand.at == plan.steps[0].start
    for lot, told in zip(plan.session.yeast, plan.hand.lots, strict=True):
        assert told.age_days.value == pytest.approx((plan.steps[0].start - lots.made_at(lot)) / timedelta(days=1))


def test_without_a_feeding_the_lots_age_to_pitching():
    assert plan_of(beer=small_ale(), step=()).hand.at == PITCH_AT


def test_yeast_made_after_its_start_is_fresh_and_told():
    plan = plan_of(yeast=(replace(PACK, made_on=PITCH_AT.date()),))
    assert plan.hand.lots[0].age_days.value == 0.0
    assert "yeast-not-there-yet" in codes(plan)


def test_a_stamped_start_stands():
    plan = plan_of(**STIRRED_ALE, event=(happened("yeast-in", 40.25),))
    assert plan.steps[0].start == plan.hand.at == before(hours=40.25)
    assert plan.steps[0].end == PITCH_AT


def test_a_stamped_second_start_moves_what_is_not_begun():
    plan = plan_of(**LAGER_IN_TWO_STEPS, event=(happened("yeast-in", 80, step=2),))
    first, second = plan.steps
    assert second.start == before(hours=80)
    assert first.end == before(hours=80 + 48)


def test_the_last_stamp_of_a_start_counts():
    events = (happened("yeast-in", 50), happened("yeast-in", 40))
    assert plan_of(**STIRRED_ALE, event=events).steps[0].start == before(hours=40)


def test_without_hours_a_cold_feeding_leaves_it_and_all_before_it_without_a_start():
    steps = (Step(0.4), Step(0.4, temperature_c=1.0), Step(0.4))
    first, cold, last = plan_of(step=steps).steps
    assert (first.start, cold.start, cold.hours.value, cold.hours_planned) == (None, None, None, None)
    assert cold.cells_out_b.value is None
    assert (last.hours_planned, last.start) == (None, None)  # its cells cannot be told
    first, cold, last = plan_of(step=(steps[0], steps[1], replace(steps[2], hours_s=36000.0))).steps
    assert (first.start, cold.start) == (None, None)
    assert last.start == cold.end == PITCH_AT - 10 * HOUR


def test_with_hours_a_cold_feeding_has_its_start_and_hardly_grows():
    step = step_of(step=(Step(1.0, temperature_c=4.0, hours_s=48 * 3600.0),))
    assert step.start == PITCH_AT - 48 * HOUR
    assert step.hours.value is None
    assert 1.0 <= step.cells_out_b.value / step.cells_in_b.value < 1.05


def test_a_crowded_feeding_is_left_half_a_day():
    step = step_of(yeast=(replace(PACK, packs=4),), step=(Step(0.5),))
    assert (step.hours.value, step.hours_planned) == (None, 12.0)
    assert step.start == PITCH_AT - 12 * HOUR


def test_without_a_pitching_hour_there_are_no_times_but_there_is_wort():
    plan = plan_of(**{**STIRRED_ALE, "batch": Batch("x")})
    step = plan.steps[0]
    assert (step.start, step.end, plan.hand.cells_b.value, plan.hand.at) == (None, None, None, None)
    assert step.powder_g.value > 0.0
    assert step.flask_l.value == 1.6


@at_most(50)
@given(st.integers(0, 200), st.integers(1, 60), st.floats(0.3, 3.0), st.sampled_from(["stirred", "swirled", "still"]))
def test_younger_yeast_never_gives_fewer_cells_at_equal_hours(days, younger, wort_l, motion):
    steps = (Step(wort_l, hours_s=20 * 3600.0, motion=motion),)
    old, young = (
        plan_of(yeast=(replace(PACK, made_on=before(days=age).date()),), step=steps) for age in (days + younger, days)
    )
    assert (young.final.cells_b.value or 0.0) >= (old.final.cells_b.value or 0.0)


@at_most(50)
@given(st.integers(1, 6), st.integers(1, 4), st.floats(0.3, 3.0), st.sampled_from(["stirred", "swirled", "still"]))
def test_more_packs_never_give_fewer_cells_at_equal_hours(count, more, wort_l, motion):
    steps = (Step(wort_l, hours_s=20 * 3600.0, motion=motion), Step(wort_l, decant=True, hours_s=20 * 3600.0))
    few, many = (plan_of(yeast=(replace(PACK, packs=n),), step=steps) for n in (count, count + more))
    assert many.final.cells_b.value >= few.final.cells_b.value


RANDOM_DRAWS = 100_000
SCENARIOS = {
    "stirred ale": STIRRED_ALE,
    "lager in two steps, decanted": LAGER_IN_TWO_STEPS,
    "kept jar, swirled, a fifth of a litre kept": {**SWIRLED_JAR, "keep": Keep(volume_l=0.2)},
    "two lots, part kept": {
        "beer": ale(19.0),
        "yeast": (PACK, replace(PACK, kind="slurry", cells_b=None, volume_l=0.05)),
        "step": (Step(1.0), Step(0.8)),
        "keep": Keep(cells_b=60.0),
    },
}


def random_outcomes(plan):
    """Cells on hand, grown and pitched, by pseudo-random draws."""
    drawn = at_draws(plan, np.random.default_rng(20261128).standard_normal((RANDOM_DRAWS, 4)))
    keep = plan.session.keep or Keep(cells_b=0.0)
    content_l = plan.steps[-1].flask_l.value
    out = drawn[:, 1]
    kept = out * keep.volume_l / content_l if keep.volume_l is not None else np.minimum(keep.cells_b, out)
    return drawn[:, 0], out, (out - kept) * (0.95 if plan.final.pitch == "decanted" else 1.0)


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS)
def test_ranges_and_chance_are_those_of_random_draws(scenario):
    plan = plan_of(**scenario)
    hand, out, pitched = random_outcomes(plan)
    figures = (plan.hand.cells_b, plan.final.cells_b, plan.final.pitched_b)
    for figure, drawn in zip(figures, (hand, out, pitched), strict=True):
        low, high = np.quantile(drawn, [0.05, 0.95])
        assert figure.low == pytest.approx(low, rel=0.04)
        assert figure.high == pytest.approx(high, rel=0.04)
    assert plan.final.chance.value == pytest.approx(np.mean(pitched >= plan.need.cells_b.value), abs=0.03)
