"""What runs, read at an instant; and the alarms, each due at its hour and given once."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.plan.sessions import LAGER_IN_TWO_STEPS, PITCH_AT, STIRRED_ALE, before, happened, plan_of, small_ale
from workbench.plan.clock import boil_time, due, live
from workbench.session.model import Event, Reading
from workbench.units.mark import Mark

ON = before(hours=26)


def at(minutes):
    return Mark(ON + timedelta(minutes=minutes))


def stamp(what, minutes, **more):
    return Event(ON + timedelta(minutes=minutes), more.pop("step", 1), what, **more)


def clock(*events, reading=(), **tables):
    return plan_of(**{**STIRRED_ALE, **tables}, event=events, reading=reading).clock


def kinds(alarms):
    return [".".join(alarm.name.split(".")[:2]) for alarm in alarms]


def names(found, minutes):
    return kinds(due(found, at(minutes)))


def test_without_a_feeding_there_is_no_clock():
    assert plan_of(beer=small_ale(), step=()).clock is None


def test_before_the_boil_all_of_it_is_left():
    now = live(clock(), at(0))
    assert (now.boil, now.boiled_s, now.left_s, now.runs, now.cooling_s, now.grown) == (
        "none",
        0.0,
        600.0,
        False,
        None,
        None,
    )


def test_it_counts_down_and_over():
    running = clock(stamp("boil-on", 0))
    assert [live(running, at(minutes)).left_s for minutes in (0, 4, 10, 12)] == [600.0, 360.0, 0.0, -120.0]
    assert live(running, at(4)).runs


def test_held_the_hold_counts():
    held = live(clock(stamp("boil-on", 0), stamp("boil-hold", 3)), at(5))
    assert (held.boil, held.boiled_s, held.held_s, held.runs) == ("held", 180.0, 120.0, True)


def test_done_it_stands():
    done = live(clock(stamp("boil-on", 0), stamp("boil-done", 11)), at(30))
    assert (done.boil, done.boiled_s, done.runs) == ("done", 660.0, False)


def test_the_clock_is_of_the_feeding_that_is_to_be_made():
    first = clock(**LAGER_IN_TWO_STEPS)
    second = clock(happened("yeast-in", 100), **LAGER_IN_TWO_STEPS)
    last = clock(happened("yeast-in", 100), happened("yeast-in", 30, step=2), **LAGER_IN_TWO_STEPS)
    assert [found.step for found in (first, second, last)] == [1, 2, 2]
    assert second.growth.step == 1


def test_one_minute_left_and_done_ring_when_they_are_due():
    running = clock(stamp("boil-on", 0))
    assert names(running, 8.9) == []
    assert names(running, 9.0) == ["1.last-minute"]
    assert names(running, 10.0) == ["1.last-minute", "1.boiled"]
    assert [alarm.at for alarm in due(running, at(15))] == [at(9).at, at(10).at]  # when they were due, however late


def test_a_hold_puts_them_off():
    held = clock(stamp("boil-on", 0), stamp("boil-hold", 5), stamp("boil-on", 8))
    assert names(held, 10.0) == []
    assert [alarm.at for alarm in due(held, at(20))] == [at(12).at, at(13).at]
    assert names(clock(stamp("boil-on", 0), stamp("boil-hold", 5)), 60.0) == []


def test_a_boil_shorter_than_a_minute_has_no_last_minute():
    assert names(clock(stamp("boil-on", 0), stamp("boil-length", 0, length_s=45.0)), 5.0) == ["1.boiled"]


def rung(found, minutes):
    """Stamps of all that is due by then."""
    return tuple(stamp("rang", minutes, task=alarm.name) for alarm in due(found, at(minutes)))


def test_given_once_it_is_given_even_after_a_hold_but_again_where_the_boil_was_made_longer():
    on = stamp("boil-on", 0)
    given = (on, *rung(clock(on), 10.2))
    assert names(clock(*given), 30.0) == []
    assert names(clock(*given, stamp("boil-hold", 10.3), stamp("boil-on", 12)), 30.0) == []
    assert names(clock(*given, stamp("boil-length", 10.5, length_s=900.0)), 30.0) == ["1.last-minute", "1.boiled"]


def test_the_next_alarm_is_known():
    assert live(clock(stamp("boil-on", 0)), at(1)).rings.at == at(9).at
    assert live(clock(), at(1)).rings is None


def test_cool_enough_rings_by_the_curve():
    readings = tuple(
        Reading(at(minutes).at, 1, "temperature", celsius) for minutes, celsius in ((20.0, 60.0), (30.0, 40.0))
    )
    cooling = clock(stamp("cool-on", 15, temperature_c=2.0), reading=readings)
    eta = cooling.cool.eta_at
    assert due(cooling, Mark(eta - timedelta(seconds=1))) == []
    assert kinds(due(cooling, Mark(eta))) == ["1.cool"]
    assert live(cooling, at(30)).wort_c == pytest.approx(40.0, abs=1e-6)
    assert live(cooling, at(30)).cooling_s == 900.0


def test_growth_and_rest_ring_at_their_ends():
    grows = clock(happened("yeast-in", 100), **LAGER_IN_TWO_STEPS)
    end = grows.growth.end
    assert kinds(due(grows, Mark(end))) == ["1.grown"]
    assert live(grows, Mark(end)).left_h == pytest.approx(0.0)
    rests = clock(happened("yeast-in", 100), happened("chill-on", 80), **LAGER_IN_TWO_STEPS)
    assert kinds(due(rests, Mark(rests.growth.due))) == ["1.rested"]
    assert live(rests, Mark(before(hours=80))).left_h == pytest.approx(
        (rests.growth.due - before(hours=80)).total_seconds() / 3600.0
    )


def test_pitched_there_is_nothing_to_ring_for():
    assert due(clock(happened("yeast-in", 30), happened("pitched", 1, step=0)), Mark(PITCH_AT)) == []


def test_a_length_changed_while_it_boils_says_so():
    plan = plan_of(**STIRRED_ALE, event=(stamp("boil-on", 0),))
    usual = plan.steps[0].boil_time_s
    assert boil_time(plan.clock, usual) == usual
    longer = clock(stamp("boil-on", 0), stamp("boil-length", 4, length_s=660.0))
    changed = boil_time(longer, usual)
    assert changed.value == 660.0
    assert "changed while it boiled" in changed.why.says
    assert "Left out" not in changed.why.says
