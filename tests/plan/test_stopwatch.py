"""The boil stopwatch, rebuilt from stamps: kill, suspend, clock steps, reboot, another machine, no clock at all."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.plan.stopwatch import UNSURE, boil_of, boiled_s, held_s
from workbench.session.model import Event, Session
from workbench.units.mark import Mark

AT = datetime(2026, 11, 27, 15, 0, tzinfo=UTC)
PLANNED_S = 600.0


def stamp(what, seconds, *, boot="a", wall_s=None, step=1, **more):
    """An event so many seconds after AT by the clock that runs on; `wall_s` where the wall clock shows another time."""
    at = AT + timedelta(seconds=seconds if wall_s is None else wall_s)
    mark = Mark(at, boot, 1000.0 + seconds).text if boot else ""
    return Event(at, step, what, mark=mark, **more)


def now(seconds, *, boot="a", wall_s=None):
    return Mark(AT + timedelta(seconds=seconds if wall_s is None else wall_s), boot, 1000.0 + seconds if boot else 0.0)


def boil(*events):
    return boil_of(Session(event=events), 1, PLANNED_S)


def test_before_the_first_stamp_there_is_no_boil():
    assert boil() is None
    assert boil(stamp("boil-hold", 0), stamp("boil-done", 5)) is None
    assert boil(stamp("boil-on", 0, step=2)) is None


def test_only_time_at_a_boil_counts():
    found = boil(stamp("boil-on", 0), stamp("boil-hold", 100), stamp("boil-on", 130), stamp("boil-hold", 200))
    assert (boiled_s(found, now(900)), held_s(found, now(900)), found.holds) == (170.0, 730.0, 2)
    done = boil(stamp("boil-on", 0), stamp("boil-hold", 100), stamp("boil-on", 130), stamp("boil-done", 660))
    assert (boiled_s(done, now(9000)), held_s(done, now(9000)), done.done.at) == (630.0, 30.0, now(660).at)


def test_a_hold_may_end_the_boil():
    found = boil(stamp("boil-on", 0), stamp("boil-hold", 100), stamp("boil-done", 160))
    assert (found.boiled_s, found.held_s) == (100.0, 60.0)


def test_a_key_pressed_twice_changes_nothing():
    once = boil(stamp("boil-on", 0), stamp("boil-hold", 100))
    twice = boil(*(stamp("boil-on", 0), stamp("boil-on", 1), stamp("boil-hold", 100), stamp("boil-hold", 103)))
    assert once == twice


def test_killed_and_opened_again_it_has_run_on():
    events = (stamp("boil-on", 0), stamp("boil-hold", 50), stamp("boil-on", 60))
    assert boiled_s(boil(*events), now(360)) == 350.0  # all there is is in the file


def test_killed_in_a_hold_it_is_still_held():
    found = boil(stamp("boil-on", 0), stamp("boil-hold", 50))
    assert (boiled_s(found, now(3600)), held_s(found, now(3600))) == (50.0, 3550.0)


def test_a_lid_closed_counts():
    """The clock that counts sleep went on while the machine was suspended."""
    assert boiled_s(boil(stamp("boil-on", 0)), now(420)) == 420.0


@pytest.mark.parametrize("step_s", [-3600.0, 3600.0])
def test_a_wall_clock_that_is_set_changes_nothing_and_is_told(step_s):
    running = boil(stamp("boil-on", 0))
    assert boiled_s(running, now(300, wall_s=300 + step_s)) == 300.0
    held = boil(stamp("boil-on", 0), stamp("boil-hold", 300, wall_s=300 + step_s))
    assert (held.boiled_s, held.stepped_s) == (300.0, step_s)


def test_after_a_reboot_and_elsewhere_the_wall_clock_counts():
    found = boil(stamp("boil-on", 0), stamp("boil-hold", 100))
    assert held_s(found, now(160, boot="b")) == 60.0
    assert boiled_s(boil(stamp("boil-on", 0, boot="")), now(90, boot="b")) == 90.0  # typed into the file


def test_never_less_than_nothing():
    running = boil(stamp("boil-on", 0))
    assert boiled_s(running, now(-60, boot="b")) == 0.0


def test_the_bath_and_the_yeast_end_a_boil_that_nobody_ended():
    bath = boil(stamp("boil-on", 0), stamp("cool-on", 780), stamp("boil-done", 2310))
    assert (bath.boiled_s, bath.done.at) == (780.0, now(780).at)
    assert boil(stamp("boil-on", 0), stamp("yeast-in", 900)).boiled_s == 900.0


def test_where_nobody_knows_the_time_lies_between_none_and_all_of_it():
    found = boil(stamp("boil-on", 0), stamp("boil-hold", 900, task=UNSURE))
    assert (found.boiled_s, found.unsure_s, found.all_s) == (0.0, 900.0, PLANNED_S)  # as near the plan as may be
    short = boil(stamp("boil-on", 0), stamp("boil-hold", 200, task=UNSURE))
    assert short.all_s == 200.0
    long = boil(
        stamp("boil-on", 0), stamp("boil-hold", 700), stamp("boil-on", 710), stamp("boil-hold", 720, task=UNSURE)
    )
    assert long.all_s == 700.0


def test_it_may_be_longer_or_shorter():
    assert boil(stamp("boil-on", 0), stamp("boil-length", 60, length_s=900.0)).planned_s == 900.0


def test_boiled_again_it_counts_anew_and_remembers():
    again = boil(stamp("boil-on", 0), stamp("boil-done", 600), stamp("boil-on", 40_000), stamp("boil-done", 40_120))
    assert (again.boiled_s, again.earlier_s, again.all_s, again.holds) == (120.0, 600.0, 720.0, 0)


def test_what_was_lost_in_an_earlier_boil_is_known_by_its_own_minutes():
    again = boil(
        *(stamp("boil-on", 0), stamp("lost", 60, volume_l=0.1), stamp("boil-done", 600)),
        *(stamp("boil-on", 5000), stamp("lost", 5120, volume_l=0.1)),
    )
    assert [lost.after_s for lost in again.lost] == [60.0, 720.0]


def test_what_was_lost_is_known_with_the_minutes_boiled_by_then():
    found = boil(stamp("boil-on", 0), stamp("boil-hold", 100), stamp("lost", 110, volume_l=0.1), stamp("boil-on", 120))
    assert [(lost.volume_l, lost.after_s) for lost in found.lost] == [(0.1, 100.0)]


WHATS = st.sampled_from(["boil-on", "boil-hold", "boil-done", "lost", "boil-length", "note"])


@given(st.lists(st.tuples(WHATS, st.floats(0.0, 500.0)), max_size=12), st.floats(0.0, 1000.0))
def test_boiled_and_held_are_all_the_time_there_was(told, later):
    seconds, events = 0.0, []
    for what, gap in told:
        seconds = round(seconds + gap, 1)
        events.append(stamp(what, seconds))
    found = boil(*events)
    if found is None:
        return
    end = found.done if found.done is not None else now(round(seconds + later, 1))
    there_s = end.uptime_s - found.begun.uptime_s
    assert boiled_s(found, end) + held_s(found, end) == pytest.approx(there_s, abs=1e-6)
