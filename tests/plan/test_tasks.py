"""The day's tasks: their order, what they need, how they are done, passed over, skipped and taken back."""

from __future__ import annotations

from datetime import timedelta, timezone

import pytest
from hypothesis import given

from tests.examples import at_most
from tests.plan.sessions import (
    LAGER_IN_TWO_STEPS,
    PITCH_AT,
    SACHET,
    STIRRED_ALE,
    SWIRLED_JAR,
    W_1034,
    ale,
    before,
    plan_of,
    read,
    session,
    small_ale,
)
from tests.plan.strategies import sessions
from workbench.plan.derive import derive
from workbench.plan.habits import Habits
from workbench.plan.tasks import STAMPS, in_turn
from workbench.session.model import Batch, Event, Keep, Step

CET = timezone(timedelta(hours=1))
MAKING = ("packs", "clean", "weigh", "dissolve", "boil", "off", "cool", "cooled", "gravity")


def names(plan, step=None):
    return [task.name for task in plan.moments if step is None or task.step == step]


def task(plan, name, step=1):
    return next(task for task in plan.moments if task.name == name and task.step == step)


def done(what, hours_before, step=1, task=""):
    return Event(before(hours=hours_before), step, what, task)


def after(*events, **tables):
    return plan_of(**{**STIRRED_ALE, **tables}, event=events)


def test_all_of_one_feeding_in_order():
    plan = plan_of(**STIRRED_ALE, keep=Keep(cells_b=60.0))
    assert names(plan) == [*MAKING, "start", "air", "move", "look", "keep", "near", "pitch"]
    assert [task.at for task in plan.moments[:10]] == sorted(task.at for task in plan.moments[:10])


def test_a_lager_in_two_steps_is_chilled_and_smelt_before_it_is_poured_off():
    plan = plan_of(**LAGER_IN_TWO_STEPS)
    assert names(plan, 2) == [*MAKING[1:], "taste", "start", "air", "move", "look", "chill"]
    assert names(plan, 0) == ["near", "taste", "pitch"]
    assert task(plan, "cool", 2).what == "cool the pot, lid on"
    assert (task(plan, "cooled", 1).what, task(plan, "cooled", 2).what) == ("out of the bath", "cool enough")


@pytest.mark.parametrize(
    ("tables", "name", "what"),
    [
        (STIRRED_ALE, "clean", "clean, sanitise flask, bar and foil"),
        (SWIRLED_JAR, "clean", "clean, sanitise flask and foil"),
        (SWIRLED_JAR, "dissolve", "drops in cold, dissolve"),
        (SWIRLED_JAR, "move", "swirl it whenever you pass"),
        ({**STIRRED_ALE, "step": (Step(1.6, boil_in="pot"),)}, "clean", "clean, sanitise pot and spoon"),
    ],
)
def test_each_is_about_this_kitchen(tables, name, what):
    assert task(plan_of(**tables), name).what == what


def test_what_there_is_no_need_of_is_no_task():
    still = plan_of(**{**STIRRED_ALE, "step": (Step(1.6, motion="still"),)})
    assert "move" not in names(still)
    assert "packs" not in names(plan_of(**{**STIRRED_ALE, "yeast": (SACHET,)}))
    assert "near" not in names(plan_of(beer=small_ale(), step=()))
    assert "top-up" in names(plan_of(**{**STIRRED_ALE, "step": (Step(1.6, top_up_l=0.3),)}))


def test_on_its_way_to_the_fridge_nothing_is_brought_near_a_beer():
    shelf = plan_of(**{**STIRRED_ALE, "beer": None}, keep=Keep(cells_b=60.0))
    assert task(shelf, "pitch", 0).what == "into the fridge"
    assert "near" not in names(shelf)


def test_each_brings_the_figures_it_needs():
    plan = plan_of(**STIRRED_ALE)
    step = plan.steps[0]
    assert task(plan, "weigh").figures == (("powder", step.powder_g), ("water", step.water_l))
    assert task(plan, "cool").figures == (("ice", step.bath.ice_kg), ("bath to", step.bath.fill_mm))
    assert [task(plan, name).asks for name in ("gravity", "cool", "weigh")] == ["gravity", "bath", ""]
    assert task(plan, "gravity").figures[0][1].value == W_1034


def test_the_hours_between_weighing_and_yeast_in_leave_room_for_the_boil():
    plan = plan_of(**STIRRED_ALE)
    boil, off, start = (task(plan, name).at for name in ("boil", "off", "start"))
    assert off - boil == timedelta(minutes=10)
    assert task(plan, "packs").at == start - timedelta(minutes=75)


def test_done_ones_stand_at_their_stamp_and_those_before_are_passed_over():
    events = (done("task-done", 30, task="clean"), done("boil-on", 29))
    plan = derive(session(**STIRRED_ALE, event=events), before(hours=29))
    assert [task(plan, name).stamped for name in ("clean", "boil")] == [before(hours=30), before(hours=29)]
    assert (task(plan, "weigh").done, task(plan, "weigh").stamped) == (True, None)
    assert plan.next == task(plan, "off")
    assert plan.next.at == before(hours=29) + timedelta(minutes=10)  # the plan follows what has happened


def test_what_runs_tells_when_its_end_is_to_come():
    held = (done("boil-on", 29), done("boil-hold", 28.9))
    plan = derive(session(**STIRRED_ALE, event=held), before(hours=28.5))
    assert task(plan, "off").at == before(hours=28.5) + timedelta(minutes=4)  # held since 6 min of 10
    assert task(plan, "cool").at > task(plan, "off").at


def test_out_of_order_the_last_stamp_tells_what_is_next():
    plan = after(done("boil-on", 29), done("task-done", 28, task="weigh"))
    assert plan.next.name == "off"


def test_skipped_is_neither_done_nor_next():
    plan = after(done("task-skipped", 30, task="packs"))
    assert task(plan, "packs").skipped
    assert plan.next.name == "clean"
    back = after(done("task-skipped", 30, task="packs"), done("task-undone", 29, task="packs"))
    assert not task(back, "packs").done


def test_what_is_skipped_ahead_passes_nothing_over():
    plan = derive(session(**STIRRED_ALE, event=(done("task-skipped", 30, task="air"),)), before(hours=30))
    assert task(plan, "air").skipped
    assert plan.next.name == "packs"
    assert not task(plan, "boil").done


def test_what_is_passed_over_does_not_stand_after_what_passed_it():
    """The yeast goes in before the wort was to be boiled: nothing of the boil has an hour to come."""
    events = (done("task-done", 23.2, task="clean"), done("yeast-in", 23.1))
    plan = derive(session(**STIRRED_ALE, event=events), before(hours=23.1))
    assert all(task(plan, name).at <= before(hours=23.1) for name in MAKING)


def test_undone_is_open_again():
    plan = after(done("task-done", 30, task="clean"), done("task-undone", 29.9, task="clean"))
    assert not task(plan, "clean").done


def test_a_gravity_read_is_the_gravity_checked():
    plan = plan_of(**STIRRED_ALE, event=(done("boil-done", 25),), reading=(read("gravity", W_1034, 24),))
    assert task(plan, "gravity").stamped == before(hours=24)
    assert plan.next.name == "cool"  # a sample was cooled, not the wort
    assert not task(plan, "cooled").done
    later = plan_of(**STIRRED_ALE, event=(done("yeast-in", 25),), reading=(read("gravity", W_1034, 10),))
    assert task(later, "gravity").stamped is None  # of the working starter


def test_an_end_of_the_boil_without_its_start_counts():
    assert after(done("boil-done", 28)).next.name == "cool"


def test_late_it_is_still_the_next_once_the_day_is_stepped_through():
    plan = derive(session(**STIRRED_ALE, event=(done("task-done", 30, task="clean"),)), before(hours=1))
    assert plan.next.name == "weigh"
    unstepped = derive(session(**STIRRED_ALE), before(hours=1))
    assert unstepped.next.name == "near"  # two hours past is not too late


def test_whatever_is_stamped_once_the_yeast_is_in_the_beer_all_is_over():
    plan = after(done("yeast-in", 25), done("pitched", 1, step=0))
    assert plan.next is None
    assert all(task.done for task in plan.moments)


def test_one_looks_at_the_starter_while_awake():
    early = Batch("Alder Lane Amber", PITCH_AT.replace(hour=5))
    plan = plan_of(Habits(tz=CET), **STIRRED_ALE, batch=early)
    assert task(plan, "look").at == before(hours=21)  # the yeast goes in at 7:00, half of its growth is over at 18:00
    late = Batch("Alder Lane Amber", PITCH_AT.replace(hour=13))
    assert task(plan_of(Habits(tz=CET), **STIRRED_ALE, batch=late), "look").at == before(hours=8)  # not at 2:00


def test_every_stamp_has_its_task():
    known = set(names(plan_of(**LAGER_IN_TWO_STEPS)))
    assert set(STAMPS) <= known


@at_most(100)
@given(sessions)
def test_any_day_can_be_stepped_through_to_its_end(any_session):
    """Each next task, stamped, is done, and never comes again."""
    now, seen = before(days=3), []
    for minutes in range(200):
        plan = derive(any_session, now)
        if plan.next is None:
            break
        assert (plan.next.step, plan.next.name) not in seen
        seen.append((plan.next.step, plan.next.name))
        event = Event(now + timedelta(seconds=minutes), plan.next.step, STAMPS.get(plan.next.name, "task-done"),
                      "" if plan.next.name in STAMPS else plan.next.name)  # fmt: skip
        any_session = any_session._replace(event=(*any_session.event, event))
    assert derive(any_session, now).next is None


def test_wort_made_early_does_not_pass_over_what_the_feeding_before_still_wants():
    events = (done("yeast-in", 140), done("boil-on", 125, step=2), done("boil-done", 124.8, step=2))
    plan = derive(session(**LAGER_IN_TWO_STEPS, event=events), before(hours=124.8))
    assert not task(plan, "chill").done
    assert plan.next == task(plan, "cool", 2)  # now; the chilling is due later
    assert [it.name for it in in_turn(plan.moments)].index("chill") > 2


def test_a_wort_that_is_late_still_comes_before_its_yeast():
    plan = after(done("boil-on", 22.3), done("boil-done", 22.1))  # the yeast was to go in 22 h before
    assert [it.name for it in in_turn(plan.moments)][:4] == ["cool", "cooled", "gravity", "start"]


def test_boiled_again_it_is_cooled_and_read_again():
    once = (done("boil-on", 30), done("boil-done", 29.8), done("cool-on", 29.7), done("cool-done", 29.4))
    read_once = (read("gravity", W_1034, 29.3),)
    plan = plan_of(**STIRRED_ALE, event=once, reading=read_once)
    assert plan.next.name == "start"
    again = derive(session(**STIRRED_ALE, event=(*once, done("boil-on", 10)), reading=read_once), before(hours=9.9))
    assert again.next.name == "off"


def test_a_gravity_read_before_the_boil_is_none_of_the_finished_wort():
    plan = derive(session(**STIRRED_ALE, reading=(read("gravity", W_1034, 23.5),)), before(hours=23.4))
    assert plan.next.name == "packs"


def test_yeast_taken_out_early_draws_nothing_along():
    plan = derive(session(**STIRRED_ALE, event=(done("task-done", 40, task="packs"),)), before(hours=39))
    assert task(plan, "clean").at == before(hours=22) - timedelta(minutes=75)


def test_a_starter_comes_within_five_kelvin_of_its_beer():
    beer = ale(23.0, 1.056)._replace(temperature_c=18.0)
    ((label, near),) = task(plan_of(**{**STIRRED_ALE, "beer": beer}), "near", 0).figures
    assert (label, near.value, near.low, near.high) == ("beer at", 18.0, 13.0, 23.0)
    assert task(plan_of(**STIRRED_ALE), "near", 0).figures == ()
