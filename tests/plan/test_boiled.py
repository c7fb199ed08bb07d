"""What the boil really left: a mass balance over the minutes that were boiled and the wort that was lost."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.plan.sessions import PITCH_AT, STIRRED_ALE, W_1034, happened, plan_of, read, session
from workbench.brewing import density
from workbench.plan.boiled import really_boiled
from workbench.plan.habits import Habits
from workbench.plan.made import make
from workbench.session.model import Event

OFF_ML, MINUTES = 80.0, 10.0


def boiled(minutes, *more):
    start = PITCH_AT - timedelta(hours=30)
    ends = (Event(start, 1, "boil-on"), Event(start + timedelta(minutes=minutes), 1, "boil-done"))
    return session(**STIRRED_ALE, event=(ends[0], *more, ends[1]))


def lost_at(minutes, volume_l):
    return Event(PITCH_AT - timedelta(hours=30) + timedelta(minutes=minutes), 1, "lost", volume_l=volume_l)


def made(any_session):
    return make(any_session, 0, Habits())


def test_as_long_as_planned_leaves_what_was_planned():
    found, planned = made(boiled(MINUTES)), made(session(**STIRRED_ALE))
    assert found.gravity_w == pytest.approx(planned.gravity_w, rel=1e-9)
    assert found.wort_l == pytest.approx(planned.wort_l, rel=1e-9)
    assert (planned.boiled, found.boiled.boiled_s) == (None, 600.0)


@given(st.floats(0.5, 60.0))
def test_water_goes_with_the_minutes_and_extract_stays(minutes):
    """Conservation of mass: what is not there any more is water, 8 mL a minute."""
    found, planned = made(boiled(minutes)), made(session(**STIRRED_ALE))
    assert found.extract_g == pytest.approx(planned.extract_g, rel=1e-9)
    gone_g = planned.mass_g - found.mass_g
    assert gone_g == pytest.approx((round(60.0 * minutes) / 60.0 - MINUTES) * OFF_ML / MINUTES * 0.9982, abs=0.15)
    assert found.gravity_w == pytest.approx(found.extract_g / found.mass_g, rel=1e-12)


def test_wort_lost_at_the_end_takes_its_own_strength_along():
    found, planned = made(boiled(MINUTES, lost_at(MINUTES, 0.1))), made(session(**STIRRED_ALE))
    assert found.gravity_w == pytest.approx(planned.gravity_w, rel=1e-9)
    assert planned.wort_l - found.wort_l == pytest.approx(0.1, rel=1e-6)


def test_wort_lost_at_the_start_was_thinner_so_that_less_extract_goes():
    early, late = (made(boiled(MINUTES, lost_at(minute, 0.1))).extract_g for minute in (0.0, MINUTES))
    assert early > late


def test_before_the_end_only_what_was_lost_is_known():
    start = PITCH_AT - timedelta(hours=30)
    running = session(**STIRRED_ALE, event=(Event(start, 1, "boil-on"),))
    assert made(running).boiled is None
    spilt = session(**STIRRED_ALE, event=(Event(start, 1, "boil-on"), lost_at(5.0, 0.2)))
    assert made(spilt).boiled.boiled_s == 600.0  # the rest as planned


def test_boiled_dry_stays_within_what_is_known():
    found = made(boiled(500.0))
    assert found.gravity_w == pytest.approx(0.36)
    assert found.extract_g == pytest.approx(made(session(**STIRRED_ALE)).extract_g, rel=1e-9)


def test_all_of_it_lost_leaves_nothing_but_a_plan():
    plan = plan_of(**STIRRED_ALE, event=boiled(MINUTES, lost_at(5.0, 50.0)).event)
    assert plan.steps[0].extract_g.value == pytest.approx(0.0, abs=1e-9)


def test_a_gravity_read_counts_for_more_than_the_minutes():
    """The reading sets the strength, and the planned mass stays."""
    reading = (read("gravity", W_1034, 29.5),)
    plan = plan_of(**STIRRED_ALE, event=boiled(20.0).event, reading=reading)
    assert plan.steps[0].gravity_w.value == pytest.approx(W_1034, abs=1e-6)
    assert plan.steps[0].extract_g.value == pytest.approx(W_1034 * 1.6 * density.wort(W_1034, 20.0), rel=1e-6)


def test_the_figures_say_how_long_it_boiled():
    step = plan_of(**STIRRED_ALE, event=boiled(15.0, lost_at(3.0, 0.1)).event).steps[0]
    assert "15.0 min at a boil took 120 mL of water, 100 mL lost" in step.gravity_w.why.says
    assert "15.0 min at a boil" in step.wort_l.why.says


def test_a_boil_of_another_feeding_is_none_of_this():
    assert really_boiled(session(**STIRRED_ALE, event=(happened("boil-on", 30, step=2),)), made(
        session(**STIRRED_ALE)
    ).asked, 148.0, 1.6) is None  # fmt: skip


def test_what_was_lost_stays_lost_whatever_is_read_of_the_rest():
    """The planned mass, less what is gone."""
    event, reading = boiled(MINUTES, lost_at(MINUTES, 0.3)).event, (read("gravity", W_1034, 29.5),)
    step = plan_of(**STIRRED_ALE, event=event, reading=reading).steps[0]
    assert step.wort_l.value == pytest.approx(1.3, abs=0.001)


def test_while_it_boils_again_what_was_read_before_is_void():
    again = Event(PITCH_AT - timedelta(hours=25), 1, "boil-on")
    event, reading = (*boiled(MINUTES).event, again), (read("gravity", W_1034 * 1.1, 29.5),)
    step = plan_of(**STIRRED_ALE, event=event, reading=reading).steps[0]
    assert step.gravity_w.value == pytest.approx(W_1034, rel=1e-6)
