"""The schedule: every task in its order, how early and how late it may be, hours that pass over changed clocks."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import at_most
from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    PACK,
    PITCH_AT,
    STIRRED_ALE,
    SWIRLED_JAR,
    before,
    happened,
    plan_of,
    replace,
    session,
    small_ale,
)
from tests.plan.strategies import sessions
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.session.model import Batch, Keep, Step
from workbench.units.when import hours_between

HOUR = timedelta(hours=1)
BERLIN, NEW_YORK = ZoneInfo("Europe/Berlin"), ZoneInfo("America/New_York")


def told(plan):
    return {task.key: task for task in plan.moments}


def turns(plan):
    """The tasks that the schedule turns on, without the small ones among them."""
    return [task for task in plan.moments if not task.key.startswith("task.")]


def test_every_task_of_a_lager_in_its_order():
    plan = plan_of(**LAGER_IN_TWO_STEPS, keep=Keep(cells_b=60.0))
    assert [(task.step, task.what) for task in turns(plan)] == [
        (1, "yeast out; warm, swell as labelled"),
        (1, "yeast in"),
        (1, "chill feeding 1 to settle"),
        (2, "clean, sanitise pot and spoon"),
        (2, "pour off, feed 2"),
        (2, "keep part of it back"),
        (2, "chill feeding 2 to settle"),
        (0, "pour off, into the beer"),
    ]


def test_a_jar_is_poured_off_before_it_goes_in():
    plan = plan_of(**{**SWIRLED_JAR, "step": (Step(1.4, decant=True),)})
    assert told(plan)["step.0.start"].what == "pour off, yeast in"


def test_without_a_feeding_there_is_pitching_and_what_is_kept():
    plan = plan_of(beer=small_ale(), step=(), keep=Keep(cells_b=10.0))
    assert [task.what for task in plan.moments] == ["keep part of it back", "yeast into the beer"]
    assert plan_of(beer=small_ale(), step=(), keep=Keep(cells_b=0.0)).moments[0].what == "yeast into the beer"


def test_early_and_late_are_slow_and_quick_growth():
    plan = plan_of(**STIRRED_ALE)
    (step,), tasks = plan.steps, told(plan)
    start, weigh = tasks["step.0.start"], tasks["step.0.weigh"]
    assert hours_between(start.earliest, PITCH_AT) == pytest.approx(1.6 * step.hours.value)
    assert hours_between(start.latest, PITCH_AT) == pytest.approx(0.7 * step.hours.value)
    assert start.earliest - weigh.earliest == start.at - weigh.at == start.latest - weigh.latest == 75 * HOUR / 60
    pitch = tasks["batch.pitch_at"]
    assert pitch.earliest == pitch.at == pitch.latest == PITCH_AT


def test_the_spread_of_all_later_growth_adds_up():
    plan = plan_of(**LAGER_IN_TWO_STEPS)
    first, second = (step.hours.value for step in plan.steps)
    tasks = told(plan)
    assert hours_between(tasks["step.1.start"].earliest, PITCH_AT) == pytest.approx(48 + 1.6 * second)
    assert hours_between(tasks["step.0.chill"].earliest, PITCH_AT) == pytest.approx(96 + 1.6 * second)
    assert hours_between(tasks["step.0.start"].earliest, PITCH_AT) == pytest.approx(96 + 1.6 * (first + second))
    assert hours_between(tasks["step.0.start"].latest, PITCH_AT) == pytest.approx(96 + 0.7 * (first + second))
    assert tasks["step.1.chill"].earliest == tasks["step.1.chill"].latest == before(hours=48)


def test_given_hours_do_not_spread():
    first, second = LAGER_IN_TWO_STEPS["step"]
    steps = (first, replace(second, hours_s=20 * 3600.0))
    tasks = told(plan_of(**{**LAGER_IN_TWO_STEPS, "step": steps}))
    assert tasks["step.1.start"].earliest == tasks["step.1.start"].at == tasks["step.1.start"].latest
    assert tasks["step.0.start"].earliest < tasks["step.0.start"].at < tasks["step.0.start"].latest


def test_what_is_begun_does_not_spread_but_its_end_does():
    tasks = told(plan_of(**LAGER_IN_TWO_STEPS, event=(happened("yeast-in", 140),)))
    assert tasks["step.0.start"].earliest == tasks["step.0.start"].latest == before(hours=140)
    assert tasks["step.0.chill"].earliest < tasks["step.0.chill"].latest


def test_the_reason_tells_how_the_hour_follows():
    plan = derive(session(**STIRRED_ALE), before(days=3), Habits(tz=BERLIN))
    tasks = told(plan)
    start, weigh = tasks["step.0.start"].why.why, tasks["step.0.weigh"].why.why
    assert start.says == "yeast in: Sat 15:00 - 22 h of growth, as it takes, rounded up = Fri 17:00"
    assert start.unsure.startswith(
        "earlier than Fri 04:41 it waits for nothing, later than Fri 23:59 even quick growth"
    )
    assert weigh.says == "make the wort, yeast out: Fri 17:00 - 75 min to weigh, boil and cool = Fri 15:45"
    assert tasks["batch.pitch_at"].why.why.says == "yeast into the beer: as typed, Sat 15:00"
    stamped = told(plan_of(**STIRRED_ALE, event=(happened("yeast-in", 22),)))["step.0.start"].why.why
    assert (stamped.says.split(",")[0], stamped.source.cite) == ("yeast in: as stamped", "your own measurement")


def test_a_chill_that_is_stamped_is_shown_when_it_was():
    plan = plan_of(**LAGER_IN_TWO_STEPS, event=(happened("chill-on", 50, step=2),))
    assert told(plan)["step.1.chill"].at == before(hours=50)
    whole = plan_of(**STIRRED_ALE, event=(happened("chill-on", 10),))
    assert told(whole)["step.0.chill"].at == before(hours=10)


CLOCKS = {
    "Berlin in spring": (datetime(2027, 3, 28, 15, tzinfo=BERLIN), BERLIN),
    "Berlin in autumn": (datetime(2026, 10, 25, 15, tzinfo=BERLIN), BERLIN),
    "New York in spring": (datetime(2027, 3, 14, 15, tzinfo=NEW_YORK), NEW_YORK),
    "New York in autumn": (datetime(2026, 11, 1, 15, tzinfo=NEW_YORK), NEW_YORK),
}


@pytest.mark.parametrize(("pitch_at", "tz"), CLOCKS.values(), ids=CLOCKS)
def test_hours_are_hours_that_pass_while_the_clocks_change(pitch_at, tz):
    pack = replace(PACK, made_on=pitch_at.date() - timedelta(days=20))
    own = session(batch=Batch("x", pitch_at), yeast=(pack,), step=(Step(1.6, hours_s=22 * 3600.0),))
    plan = derive(own, pitch_at.astimezone(UTC) - timedelta(days=2), Habits(tz=tz))
    start, pitch = told(plan)["step.0.start"].at, told(plan)["batch.pitch_at"].at
    assert pitch - start == 22 * HOUR
    assert pitch.hour == 15
    # the day before, 23 hours by the clock where it was put on, 21 where it was put back
    assert (start.date(), start.hour) == (pitch.date() - timedelta(days=1), 16 if pitch_at.month == 3 else 18)
    assert start.utcoffset() == start.astimezone(tz).utcoffset() != pitch.utcoffset()
    assert plan.steps[0].start == start


def test_ages_are_days_that_pass_while_the_clocks_change():
    own = session(batch=Batch("x", datetime(2027, 3, 28, 15, tzinfo=BERLIN), starter=False), step=())
    plan = derive(own, datetime(2027, 3, 20, tzinfo=UTC), Habits(tz=BERLIN))
    since = datetime(2026, 10, 19, tzinfo=UTC)
    assert plan.hand.lots[0].age_days.value == pytest.approx(
        hours_between(since, datetime(2027, 3, 28, 13, tzinfo=UTC)) / 24
    )


@at_most(200)
@given(sessions)
def test_any_schedule_is_in_order_and_lies_between_early_and_late(any_session):
    moments = turns(derive(any_session, before(days=3)))
    open_ = [task for task in moments if not task.done]
    assert open_ == sorted(open_, key=lambda task: task.at)
    for task in moments:
        assert task.earliest is None or task.earliest <= task.at
        assert task.latest is None or task.at <= task.latest
    assert len({task.key for task in moments}) == len(moments)


a_step = st.tuples(st.floats(0.3, 2.0), st.booleans()).map(lambda made: Step(made[0], decant=made[1]))
three = st.lists(a_step, min_size=3, max_size=3)
some_hours = st.none() | st.floats(3600.0, 90 * 3600.0)


@at_most(100)
@given(three, st.integers(1, 2), st.lists(st.integers(1, 60), min_size=2, max_size=2), some_hours, st.floats(0.3, 2.0))
def test_nothing_begun_moves_when_later_feedings_or_hours_are_edited(steps, done, gaps, hours_s, wort_l):
    begun = (before(hours=200), before(hours=200 - gaps[0] - gaps[1]))
    events = tuple(happened("yeast-in", hours_between(at, PITCH_AT), step=n) for n, at in enumerate(begun[:done], 1))
    edited = [replace(step, hours_s=hours_s, wort_l=wort_l) if n >= done else step for n, step in enumerate(steps)]
    edited[0] = replace(edited[0], hours_s=hours_s)
    plans = [plan_of(step=tuple(own), event=events) for own in (steps, edited)]
    for plan in plans:
        for n, at in enumerate(begun[:done]):
            task = told(plan)[f"step.{n}.start"]
            assert task.at == task.earliest == task.latest == plan.steps[n].start == at
    assert plans[0].hand == plans[1].hand


def test_what_is_done_is_done_up_to_the_last_stamp():
    def done(*events):
        plan = plan_of(**LAGER_IN_TWO_STEPS, keep=Keep(cells_b=60.0), event=events)
        return [task.done for task in turns(plan)].count(True)

    first, second = happened("yeast-in", 150), happened("yeast-in", 70, step=2)
    assert [done(), done(first), done(first, happened("chill-on", 120))] == [0, 2, 3]
    assert [done(first, second), done(second), done(second, happened("chill-on", 50, step=2))] == [5, 5, 7]
    assert done(happened("pitched", 1, step=0)) == 8
