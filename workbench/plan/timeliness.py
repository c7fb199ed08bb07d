"""What is late by now, what is cut short or waits too long, and what falls into the hours of sleep."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from workbench.plan import happened, settle, words
from workbench.plan.awake import awake_warnings
from workbench.plan.model import Warning
from workbench.plan.readings import boil_over
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

_WORT_KEEPS_H = 24.0  # boiled wort, covered in the fridge (common practice)
_PITCHED_BY = timedelta(hours=1)  # so long after its hour nothing is said (recommended)
_SOON_H = 4.0  # so long it may stand covered until the yeast goes in, and nothing is said (recommended)


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
    """Everything about time until the yeast is pitched; `reckon` gives the plan of another session like this."""
    pitch_at = happened.pitch_at(session)
    if pitch_at is None:
        return
    if pitch_at <= now:
        if happened.pitched(session) is None:
            yield from _gone_by(session, pitch_at, now)
            yield from _wort_waits(session, steps, now)
        return
    late = bool(steps) and is_late(session, steps[0].start, now)
    for step in steps:
        way = ""
        if step.number == 1 and late and step.start is not None and step.start < now:
            from workbench.plan.late import still_possible  # with what edits need, which only this asks for

            way = f"if not, {still_possible(session, now, habits, reckon)}"
        yield from _overdue(session, step, now, way)
    yield from _wort_waits(session, steps, now)
    yield from waiting_warnings(session, steps, course, now, habits.tz)
    yield from awake_warnings(session, steps, moments, now, habits.tz)


def _gone_by(session: Session, pitch_at: datetime, now: datetime) -> Iterator[Warning]:
    """The hour of pitching went by, of a batch of which something is stamped, but not that."""
    if any(event.step for event in session.event) and now - pitch_at > _PITCHED_BY:
        goal = "fridge" if settle.is_shelf(session) else "beer"
        ago = f"by this plan the yeast went into the {goal} {lasting(now - pitch_at)} ago"
        yield Warning("pitch-gone-by", "caution", f"{ago}; if not, set the hour when it will", "batch.pitch_at")


def _wort_waits(session: Session, steps: Sequence[StepPlan], now: datetime) -> Iterator[Warning]:
    """Wort that is boiled while its yeast is not in: it keeps, cold and covered, for a day."""
    step = happened.next_to_begin(session)
    boiled = None if step is None else boil_over(session, step)
    if step is None or boiled is None or step > len(steps) or boiled > now:
        return
    start, key = steps[step - 1].start, f"step.{step - 1}.start"
    until = boiled + timedelta(hours=_WORT_KEEPS_H)
    if now > until:
        text = f"this wort was boiled {lasting(now - boiled)} ago, over {_WORT_KEEPS_H:.0f} h: boil it again first"
        yield Warning("wort-waits", "caution", text, key)
    elif start is not None and start - boiled > timedelta(hours=_SOON_H):
        late = f", and boil it again after {_WORT_KEEPS_H:.0f} h" if start > until else ""
        text = f"the wort waits {words.hours(hours_between(boiled, start))} for its yeast: cold and covered{late}"
        yield Warning("wort-waits", "note" if not late else "caution", text, key)


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
