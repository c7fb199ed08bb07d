"""What is late by now, what is cut short or waits too long, and what falls into the hours of sleep."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import happened, words
from workbench.plan.awake import awake_warnings
from workbench.plan.model import Warning
from workbench.plan.timeline import before
from workbench.plan.waiting import waiting_warnings
from workbench.units.when import hours_between, lasting

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from datetime import datetime

    from workbench.plan.culture import Course
    from workbench.plan.habits import Habits
    from workbench.plan.model import Moment, Plan, StepPlan
    from workbench.session.model import Session

__all__ = ["is_late", "time_warnings"]


def is_late(session: Session, start: datetime | None, now: datetime) -> bool:
    """Whether weighing for a first feeding at `start` was to begin before `now`, nothing has, and pitching is ahead."""
    pitch_at, weigh_at = happened.pitch_at(session), before(start, session.day.prepare_s / 3600.0)
    if pitch_at is None or weigh_at is None or happened.last_begun(session):
        return False
    return weigh_at < now < pitch_at


def time_warnings(
    session: Session,
    steps: Sequence[StepPlan],
    course: Course,
    moments: Sequence[Moment],
    now: datetime,
    habits: Habits,
    reckon: Callable[[Session], Plan],
) -> Iterator[Warning]:
    """Everything about time, while pitching is still to come; `reckon` gives the plan of another session like this."""
    pitch_at = happened.pitch_at(session)
    if pitch_at is None or pitch_at <= now:
        return
    late = bool(steps) and is_late(session, steps[0].start, now)
    for step in steps:
        way = ""
        if step.number == 1 and late and step.start is not None and step.start < now:
            from workbench.plan.late import still_possible  # with what edits need, which only this asks for

            way = f"if not, {still_possible(session, now, habits, reckon)}"
        yield from _overdue(session, step, now, way)
    yield from waiting_warnings(session, steps, course, now, habits.tz)
    yield from awake_warnings(session, steps, moments, now, habits.tz)


def _overdue(session: Session, step: StepPlan, now: datetime, way: str) -> Iterator[Warning]:
    """A feeding that by this plan has begun, but is not stamped so; `way` is what is still possible."""
    if step.start is None or step.number <= happened.last_begun(session):
        return
    key = f"step.{step.number - 1}.start"
    weigh_at = before(step.start, session.day.prepare_s / 3600.0)
    if step.start < now:
        if not way and step.end is not None and now < step.end:
            way = f"if not, {words.hours(hours_between(now, step.end))} are left to grow"
        text = f"by this plan the yeast {'went in' if step.number == 1 else 'was fed'} {lasting(now - step.start)} ago"
        yield Warning("too-late", "caution", f"{text}; {way}" if way else text, key)
    elif weigh_at is not None and weigh_at < now and not happened.anything(session, step.number):
        yield Warning("late", "caution", f"weighing was to begin {lasting(now - weigh_at)} ago", key)
