"""Begun late: it grows until what comes next. Begun early: it waits. Chilled: it loses cells, and wants waking."""

from __future__ import annotations

import math
from datetime import timedelta

import pytest

from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    PITCH_AT,
    STIRRED_ALE,
    before,
    codes,
    happened,
    plan_of,
    replace,
    session,
)
from workbench.brewing import spread
from workbench.brewing.viability import LOSS_PER_DAY
from workbench.plan.derive import derive
from workbench.session.model import Batch, Keep, Step
from workbench.units.when import hours_between

DECANTED = {**STIRRED_ALE, "batch": Batch("x", PITCH_AT, "decanted")}


def text(plan, code):
    return next(w.text for w in plan.warnings if w.code == code)


def at(hours_before, **tables):
    """The plan as it is so long before pitching."""
    return derive(session(**tables), before(hours=hours_before))


# ---- begun late ------------------------------------------------------------------------------------------------


def test_begun_late_it_grows_only_until_pitching():
    plan, late = plan_of(**STIRRED_ALE), at(16, **STIRRED_ALE, event=(happened("yeast-in", 17.5),))
    (step,) = late.steps
    assert (step.hours_planned, step.start, step.end) == (17.5, before(hours=17.5), PITCH_AT)
    given = plan_of(**{**STIRRED_ALE, "step": (Step(1.6, hours_s=17.5 * 3600.0),)})
    assert step.cells_out_b.value == pytest.approx(given.steps[0].cells_out_b.value)
    assert late.final.chance.value == given.final.chance.value < plan.final.chance.value
    out = step.cells_out_b
    assert text(late, "short-growth") == (
        f"only 17.5 h to grow of the 22 h it wants: {out.value:.0f} B ({out.low:.0f}–{out.high:.0f} B)"
    )


def test_begun_in_time_it_is_not_short():
    assert "short-growth" not in codes(at(20, **STIRRED_ALE, event=(happened("yeast-in", 22.1),)))


def test_the_brewers_hours_stand_even_where_there_are_fewer():
    given = {**STIRRED_ALE, "step": (Step(1.6, hours_s=24 * 3600.0),)}
    plan = at(16, **given, event=(happened("yeast-in", 17.5),))
    assert plan.steps[0].hours_planned == 24.0
    assert text(plan, "short-growth") == "24 h are set, but there are only 17.5 h: set those"


def test_a_first_feeding_begun_late_leaves_the_second_less_to_start_with_and_so_more_time():
    first, second = plan_of(**LAGER_IN_TWO_STEPS).steps
    late_at = hours_between(first.start, PITCH_AT) - 12
    plan = at(late_at - 1, **LAGER_IN_TWO_STEPS, event=(happened("yeast-in", late_at),))
    short, after = plan.steps
    assert (short.start, after.end) == (before(hours=late_at), second.end)
    assert after.cells_in_b.value < second.cells_in_b.value
    assert after.hours_planned >= second.hours_planned
    assert short.hours_planned == hours_between(short.start, short.end) <= first.hours_planned - 12
    assert after.hours_planned - 1.0 <= after.hours.value <= after.hours_planned


def test_a_stamped_second_feeding_ends_the_first():
    events = (happened("yeast-in", 140), happened("yeast-in", 80, step=2))
    first, second = at(70, **LAGER_IN_TWO_STEPS, event=events).steps
    assert first.hours_planned == 140 - 80 - 48  # less the rest before it was poured off
    assert second.start == before(hours=80)


def test_begun_after_its_end_it_does_not_grow_at_all():
    plan = at(10, **DECANTED, event=(happened("yeast-in", 12),))  # the rest before pitching takes 24 h
    (step,) = plan.steps
    assert (step.hours_planned, step.start) == (0.0, step.end)
    assert step.cells_out_b.value == pytest.approx(step.cells_in_b.value)
    assert plan.final.pitched_b.value == pytest.approx(0.95 * step.cells_in_b.value)


def test_a_feeding_too_slow_to_tell_grows_for_the_time_there_is():
    plan = at(100, step=(Step(1.0, temperature_c=4.0),), event=(happened("yeast-in", 120),))
    assert plan.steps[0].hours_planned == 120.0
    assert plan.steps[0].cells_out_b.value > plan.steps[0].cells_in_b.value


# ---- begun early -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hours_before", "tired"), [(60.0, False), (69.0, False), (71.0, True)])
def test_a_grown_culture_keeps_48_hours_warm(hours_before, tired):
    plan = at(hours_before - 1, **STIRRED_ALE, event=(happened("yeast-in", hours_before),))
    assert ("waits-warm" in codes(plan)) is tired
    assert plan.steps[0].hours_planned == 22.0
    if tired:
        assert "grown after 21.4 h, it stands warm for 49.6 h more, over 48 h" in text(plan, "waits-warm")


def test_chilled_in_time_it_does_not_wait_warm():
    events = (happened("yeast-in", 200), happened("chill-on", 170))
    plan = at(160, **DECANTED, event=events)
    assert "waits-warm" not in codes(plan)
    assert plan.steps[0].end == before(hours=170)


# ---- chilled ---------------------------------------------------------------------------------------------------

CHILLED = {**DECANTED, "event": (happened("yeast-in", 24 * 9), happened("chill-on", 24 * 6))}


def test_within_the_planned_rest_nothing_is_lost():
    rested = at(10, **DECANTED, event=(happened("yeast-in", 60), happened("chill-on", 24)))
    assert rested.final.pitched_b.value == pytest.approx(0.95 * rested.final.cells_b.value)


def test_beyond_it_the_pitch_loses_at_the_kept_rate():
    # 0.75 % a day at 4 °C (recommended), five days beyond the rest of one
    plan = at(24, **CHILLED)
    assert plan.final.pitched_b.value == pytest.approx(plan.final.cells_b.value * 0.95 * math.exp(-0.0075 * 5))
    assert "× 0.963 (5.0 days in the cold beyond the rest)" in plan.final.pitched_b.why.says


def test_the_loss_has_its_range_in_every_draw():
    plan = at(24, **CHILLED)
    warm = at(24, **{**CHILLED, "event": CHILLED["event"][:1]})
    assert plan.final.chance.value < warm.final.chance.value
    # the loss of each draw, by its own deviate, on what the same draw grew
    from workbench.plan import culture, made
    from workbench.plan.habits import Habits

    own = plan.session
    course = culture.run(own, [made.make(own, 0, Habits())])
    grown = culture.outcomes(own, course).out_b[-1]
    left = [math.exp(-LOSS_PER_DAY["kept"].at(z.loss) * 5) for z in spread.draws()]
    pitched = sorted(0.95 * b * share for b, share in zip(grown, left, strict=True))
    assert plan.final.pitched_b.low == pytest.approx(pitched[25])
    assert plan.final.pitched_b.high == pytest.approx(pitched[-26])


def test_what_is_kept_back_is_taken_before_the_cold():
    plan = at(24, **CHILLED, keep=Keep(cells_b=60.0))
    final = plan.final
    assert final.kept_b.value == 60.0
    assert final.pitched_b.value == pytest.approx((final.cells_b.value - 60.0) * 0.95 * math.exp(-0.0075 * 5))


def test_taken_out_again_it_loses_nothing():
    plan = at(24, **{**CHILLED, "event": (*CHILLED["event"], happened("chill-off", 24 * 5))})
    assert plan.final.pitched_b.value == pytest.approx(0.95 * plan.final.cells_b.value)


def test_the_next_feeding_starts_with_fewer_after_days_in_the_cold():
    second = plan_of(**LAGER_IN_TWO_STEPS).steps[1]
    chill_h = hours_between(second.start, PITCH_AT) + 48 + 240  # ten days beyond the rest
    events = (happened("yeast-in", chill_h + 30), happened("chill-on", chill_h))
    plan = at(chill_h - 20, **LAGER_IN_TWO_STEPS, event=events)
    cold_days = hours_between(before(hours=chill_h), plan.steps[1].start) / 24 - 2
    assert cold_days == pytest.approx(10.0, abs=0.2)
    expected = plan.steps[0].cells_out_b.value * 0.95 * math.exp(-0.0075 * cold_days)
    assert plan.steps[1].cells_in_b.value == pytest.approx(expected)
    assert "days in the cold beyond the rest" in plan.steps[1].cells_in_b.why.says
    assert second.start - plan.steps[1].start in (timedelta(), timedelta(hours=1))


def test_a_week_in_the_cold_wants_waking():
    assert "wake-it" not in codes(at(24, **CHILLED))
    events = (happened("yeast-in", 24 * 12), happened("chill-on", 24 * 9))
    plan = at(24, **{**CHILLED, "event": events})
    # a tenth of 1.6 L at 93 g/L: 149.1 g make 1.6 L of 1.034
    assert text(plan, "wake-it").endswith(
        "9 days by pitching: pour off, wake it the evening before with 160 mL of wort at 1.034, 15 g of powder: "
        "10 % of its feeding (recommended)"
    )


def test_a_build_for_the_shelf_is_not_woken():
    events = (happened("yeast-in", 24 * 12), happened("chill-on", 24 * 9))
    shelf = {"beer": None, "keep": Keep(cells_b=100.0), "event": events}
    assert "wake-it" not in codes(at(24, **shelf))


# ---- pitched ---------------------------------------------------------------------------------------------------


def test_a_stamped_pitching_ends_the_growth():
    plan = at(1, **STIRRED_ALE, event=(happened("yeast-in", 22), happened("pitched", 4, step=0)))
    (step,) = plan.steps
    assert (step.hours_planned, step.end) == (18.0, before(hours=4))
    assert plan.moments[-1].at == before(hours=4)
    assert plan.session.batch.pitch_at == PITCH_AT


def test_without_a_feeding_the_lots_are_as_old_as_at_the_stamped_pitching():
    assert at(1, step=(), event=(happened("pitched", 30, step=0),)).hand.at == before(hours=30)


def test_all_at_once_settles():
    steps = tuple(Step(0.5 + n / 4, decant=n % 2 == 1) for n in range(4))
    events = (happened("yeast-in", 90), happened("chill-on", 85), happened("yeast-in", 60, step=2))
    plan = at(50, step=steps, event=events)
    assert [s.hours_planned is not None for s in plan.steps] == [True] * 4
    for one, after in zip(plan.steps, plan.steps[1:], strict=False):
        assert one.end <= after.start
    assert replace(plan, now=PITCH_AT) == replace(at(50, step=steps, event=events), now=PITCH_AT)
