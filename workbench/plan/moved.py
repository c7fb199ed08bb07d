"""Pitching, or one feeding, at another hour than planned: what can be done then, each way with its edits."""

from __future__ import annotations

from datetime import UTC, timedelta
from typing import TYPE_CHECKING

from workbench.plan import fixed, happened, planner, settle, words
from workbench.plan.adopt import steps_edits
from workbench.plan.derive import derive
from workbench.plan.option import Option
from workbench.plan.readings import boil_over
from workbench.plan.ways import is_past, worked_out
from workbench.session.edits import AddTable, SetValue
from workbench.session.model import Event
from workbench.units.when import hours_between, local, moment

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import datetime

    from workbench.plan.habits import Habits
    from workbench.plan.model import Plan
    from workbench.plan.ways import Way
    from workbench.session.edits import Edit
    from workbench.session.model import Session

__all__ = ["feeding_moved", "pitch_moved"]

_LEAST_H = 1.0  # less than that is no time to grow


def pitch_moved(session: Session, now: datetime, habits: Habits, pitch_at: datetime) -> tuple[Way, ...]:
    """What comes of it if the yeast goes into the beer at `pitch_at`: everything worth comparing, worked out."""
    plan = derive(session, now, habits)
    if happened.pitched(session) is not None or session.batch.pitch_at is None:
        return ()
    proposed = steps_edits(0, plan.session.step) if plan.planned_by == "planner" else ()
    found = _pitch_options(plan, now, habits, pitch_at)
    return _open(found, proposed, now, habits)


def feeding_moved(session: Session, now: datetime, habits: Habits, step: int, start: datetime) -> tuple[Way, ...]:
    """What comes of it if the yeast of feeding `step` (from 1), which has not begun, goes in at `start`."""
    plan = derive(session, now, habits)
    proposed = steps_edits(0, plan.session.step) if plan.planned_by == "planner" else ()
    found = _feeding_options(plan, now, habits, step, start)
    return _open(found, proposed, now, habits)


def _open(options: Iterable[Option], first: tuple[Edit, ...], now: datetime, habits: Habits) -> tuple[Way, ...]:
    """Those that can still be gone, worked out: nothing in them would have had to begin by now."""
    found = (worked_out(o._replace(edits=(*first, *o.edits)), now, habits) for o in options)
    return tuple(way for way in found if way.option.code == "as-is" or not is_past(way.plan, now))


def _pitch_options(plan: Plan, now: datetime, habits: Habits, pitch_at: datetime) -> Iterator[Option]:
    session, last = plan.session, happened.last_begun(plan.session)
    made = _wort_made(session)
    hour = moment(pitch_at, now, habits.tz)
    moved, edits = _pitched_at(session, pitch_at, habits)
    growing = last and happened.chilled(session, last) is None
    if not last:
        yield Option("start-later", f"all of it moved, pitch {hour}", moved, edits)
        if made is not None:
            yield _begun_now(moved, edits, made, now)
    elif growing and last == len(session.step):
        yield Option("stands-warm", f"let it stand warm, pitch {hour}", moved, edits)
        yield _chilled_now(moved, edits, last, now)
    else:
        yield Option("next-later", f"what has not begun moved, pitch {hour}", moved, edits)
        if growing:
            yield _chilled_now(moved, edits, last, now)
    if made is None:
        yield from _fed_again(moved, edits, last)
    yield _as_is(session, now, habits)


def _pitched_at(session: Session, pitch_at: datetime, habits: Habits) -> tuple[Session, tuple[Edit, ...]]:
    at = local(pitch_at, habits.tz)
    moved = session._replace(batch=session.batch._replace(pitch_at=at), given=session.given | {"batch.pitch_at"})
    return moved, (SetValue("batch.pitch_at", at),)


def _wort_made(session: Session) -> int | None:
    """The feeding whose wort has been boiled while its yeast is not in yet."""
    step = happened.next_to_begin(session)
    return None if step is None or boil_over(session, step) is None else step


def _begun_now(moved: Session, edits: tuple[Edit, ...], step: int, now: datetime) -> Option:
    return _with_event("yeast-in-now", "yeast in now, it waits grown", moved, edits, "yeast-in", step, now)


def _chilled_now(moved: Session, edits: tuple[Edit, ...], step: int, now: datetime) -> Option:
    says = "chill it now, as far as it has grown"
    return _with_event("chill-now", says, moved, edits, "chill-on", step, now)


def _with_event(
    code: str, says: str, moved: Session, edits: tuple[Edit, ...], what: str, step: int, now: datetime
) -> Option:
    at = now.astimezone(UTC).replace(microsecond=0)
    stamped = moved._replace(event=(*moved.event, Event(at, step, what)))
    event = AddTable("event", len(moved.event), {"at": at, "step": step, "what": what})
    return Option(code, says, stamped, (*edits, event))


def _fed_again(moved: Session, edits: tuple[Edit, ...], last: int) -> Iterator[Option]:
    """The feedings that the planner would make of the time there is then; what has begun stands."""
    keep = fixed.places(moved)
    steps = planner.propose(moved if keep else moved._replace(step=()), keep=keep)
    if not steps or steps == moved.step:
        return
    says = "feed it again, planned anew" if last else "planned anew for that hour"
    wanted = moved._replace(step=steps)
    yield Option("anew", says, wanted, (*edits, *steps_edits(len(moved.step), steps, keep)))


def _as_is(session: Session, now: datetime, habits: Habits) -> Option:
    """What there is by now goes into the beer, at once."""
    moved, edits = _pitched_at(session, now.replace(second=0, microsecond=0) + timedelta(minutes=1), habits)
    last = happened.last_begun(session)
    if not last:
        bare = moved._replace(step=(), batch=moved.batch._replace(starter=False))
        gone = steps_edits(len(session.step), ())
        return Option("as-is", "pitch as it is, now", bare, (*edits, *gone, SetValue("batch.starter", value=False)))
    whole = moved._replace(step=moved.step[:last], batch=moved.batch._replace(pitch="whole"))
    gone = steps_edits(len(session.step), whole.step, range(last))
    return Option("as-is", "pitch as it is, whole, now", whole, (*edits, *gone, SetValue("batch.pitch", "whole")))


def _feeding_options(plan: Plan, now: datetime, habits: Habits, step: int, start: datetime) -> Iterator[Option]:
    session, planned = plan.session, plan.steps[step - 1]
    if planned.start is None or planned.hours_planned is None or step <= happened.last_begun(session):
        return
    later_h = hours_between(planned.start, start)
    hours = planned.hours_planned - later_h
    if hours >= _LEAST_H:
        yield _hours_set(session, step, round(4.0 * hours) / 4.0, later_h)
    pitch_at = happened.pitch_at(session)
    if pitch_at is not None:
        at = pitch_at + timedelta(hours=later_h)
        moved, edits = _pitched_at(session, at, habits)
        yield Option("all-later", f"all behind it too, pitch {moment(at, now, habits.tz)}", moved, edits)


def _hours_set(session: Session, step: int, hours: float, later_h: float) -> Option:
    """Pitching stays, this feeding grows shorter or longer; rests stay as they are."""
    index = step - 1
    own = session.step[index]._replace(hours_s=3600.0 * hours)
    steps = (*session.step[:index], own, *session.step[index + 1 :])
    key = f"step.{index}.hours"
    says = f"{'shorter' if later_h > 0 else 'longer'}, {words.hours(hours)}; pitch as planned"
    decanted = settle.pitch(session) == "decanted"
    return Option(
        "hours",
        says + (", rest as planned" if decanted else ""),
        session._replace(step=steps, given=session.given | {key}),
        (SetValue(key, f"{hours:g} h"),),
    )
