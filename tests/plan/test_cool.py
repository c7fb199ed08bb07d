"""The cool-down of a batch: which readings count, what they say, what is told where they say too little."""

from __future__ import annotations

import math
from datetime import timedelta

import pytest

from tests.plan.sessions import PITCH_AT, STIRRED_ALE, codes, plan_of, session
from workbench.plan.cool import cool_plan
from workbench.session.model import Bath, Event, Reading
from workbench.units.mark import Mark

IN = PITCH_AT - timedelta(hours=25)
BATH_C, TARGET_C, K = 2.0, 21.0, 0.1


def bath(celsius=BATH_C, minutes=0.0, what="cool-on"):
    return Event(IN + timedelta(minutes=minutes), 1, what, temperature_c=celsius if what == "cool-on" else None)


def wort_c(minutes, k=K):
    return BATH_C + (98.0 - BATH_C) * math.exp(-k * minutes)


def read(minutes, celsius=None, *, step=1, mark=""):
    value = wort_c(minutes) if celsius is None else celsius
    return Reading(IN + timedelta(minutes=minutes), step, "temperature", value, mark=mark)


def cooled(*minutes, events=None, learnt=None, readings=None):
    tables = {**STIRRED_ALE, "event": events or (bath(),), "bath": Bath(rate_per_min=learnt)}
    return cool_plan(session(**tables, reading=readings or tuple(map(read, minutes))), 1, TARGET_C)


def test_the_rate_and_the_hour_by_newtons_law():
    plan = cooled(2.0, 5.0, 9.0)
    minutes = math.log((98.0 - BATH_C) / (TARGET_C - BATH_C)) / K
    assert plan.k_per_min.value == pytest.approx(K, rel=1e-6)
    assert plan.eta.value == pytest.approx(minutes, rel=1e-6)
    assert plan.eta_at == IN + timedelta(minutes=plan.eta.value)
    assert plan.eta.low < plan.eta.value < plan.eta.high
    assert plan.opens_at < plan.eta_at  # within 5 K of the yeast it may go in already
    assert plan.at(5.0) == pytest.approx(wort_c(5.0), rel=1e-6)


def test_two_readings_give_no_error_and_fewer_no_hour():
    two, one, none = cooled(2.0, 5.0), cooled(2.0), cooled()
    assert (two.eta.low, two.k_per_min.low) == (None, None)
    assert two.eta.value is not None
    assert (one.eta.value, one.eta.why.says) == (None, "needs two readings of the wort: t")
    assert (none.eta.value, none.at(1.0)) == (None, None)


def test_one_reading_is_enough_where_the_rate_is_known():
    plan = cooled(2.0, learnt=K)
    assert plan.eta.value == pytest.approx(math.log(96.0 / 19.0) / K)
    assert "earlier batches" in plan.k_per_min.why.says


@pytest.mark.parametrize(
    ("bath_c", "readings", "says"),
    [
        (None, (read(2.0), read(5.0)), "temperature of the bath"),
        (20.8, (read(2.0), read(5.0)), "too warm"),
        (BATH_C, (read(2.0, 60.0), read(5.0, 60.5)), "does not cool"),
    ],
)
def test_why_no_hour_can_be_told(bath_c, readings, says):
    plan = cooled(events=(bath(bath_c),), readings=readings)
    assert (plan.eta.value, plan.eta_at) == (None, None)
    assert says in plan.eta.why.says


def test_only_what_was_read_of_this_wort_in_this_bath_counts():
    others = (read(-3.0, 98.0), read(4.0, step=2), read(20.0, 15.0), read(6.0))
    plan = cooled(events=(bath(), bath(what="cool-done", minutes=15.0)), readings=others)
    assert [minutes for minutes, *_ in plan.readings] == [6.0]
    assert plan.done is not None


def test_into_the_bath_again_it_starts_anew():
    plan = cooled(
        events=(bath(), bath(what="cool-done", minutes=5.0), bath(minutes=10.0)), readings=(read(2.0), read(12.0))
    )
    assert (plan.done, [minutes for minutes, *_ in plan.readings]) == (None, [2.0])


def test_minutes_go_by_the_clock_nobody_sets():
    start = Event(IN, 1, "cool-on", temperature_c=BATH_C, mark="a 100.0")
    late = Reading(IN + timedelta(hours=1, minutes=5), 1, "temperature", wort_c(5.0), mark="a 400.0")
    assert cooled(events=(start,), readings=(late,)).readings == ((5.0, wort_c(5.0), 0),)


def test_a_change_is_told():
    slow = [read(minutes, wort_c(6.0) - (minutes - 6.0) * 0.5) for minutes in (8.0, 10.0)]
    plan = cooled(events=(bath(),), readings=(*map(read, (0.5, 2.0, 3.0, 4.5, 6.0)), *slow))
    assert plan.changed_at == IN + timedelta(minutes=8.0)
    events, readings = (bath(),), (*map(read, (0.5, 2.0, 3.0, 4.5, 6.0)), *slow)
    assert "cooling-changed" in codes(plan_of(**STIRRED_ALE, event=events, reading=readings))


@pytest.mark.parametrize(
    ("read_c", "later", "told"),
    [
        ((40.0, 3.0), (), True),  # left in its bath too long
        ((40.0, 17.0), (), False),  # within 5 K of where it grows: common practice, no source
        ((40.0, 3.0, 19.0), (), False),  # warmed up again
        ((40.0, 3.0), (bath(what="cool-done", minutes=30.0),), True),
        ((40.0, 3.0), (bath(what="yeast-in", minutes=30.0),), False),
    ],
)
def test_wort_too_cold_for_its_yeast_is_told_until_it_is_warm_or_in(read_c, later, told):
    readings = tuple(read(10.0 * (1 + index), celsius) for index, celsius in enumerate(read_c))
    plan = plan_of(**STIRRED_ALE, event=(bath(), *later), reading=readings)
    assert ("wort-cold" in codes(plan)) is told


def test_nothing_in_a_bath_is_no_cool_down():
    assert cool_plan(session(**STIRRED_ALE), 1, TARGET_C) is None


def test_begun_is_known_by_both_clocks():
    assert cooled(events=(Event(IN, 1, "cool-on", temperature_c=1.0, mark="a 1.0"),)).begun == Mark(
        cooled().begun.at, "a", 1.0
    )
