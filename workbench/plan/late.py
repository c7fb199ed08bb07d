"""Too late to start as planned, and nothing begun: what is still possible, each way as a session and its edits."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from workbench.plan import culture, happened, made, settle, supply, words
from workbench.plan.awake import next_waking_hour
from workbench.plan.chance import chance_text
from workbench.plan.habits import Habits
from workbench.plan.option import Option
from workbench.plan.readings import boil_over, stamp
from workbench.plan.timeline import before, rests_h
from workbench.plan.timeliness import is_late
from workbench.session.edits import RemoveTable, SetValue
from workbench.units.when import hours_between, local, moment

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from datetime import datetime

    from workbench.plan.model import Plan
    from workbench.session.edits import Edit
    from workbench.session.model import Session

__all__ = ["options", "still_possible"]

_LEAST_H = 1.0  # less than that is no time to grow
_QUARTERS = 4.0  # of an hour: hours are written so
_ROUNDS = 30  # later is older yeast, which may take longer again


def options(session: Session, plan: Plan, now: datetime, habits: Habits | None = None) -> list[Option]:
    """The ways on where it is late, none where it is not. `session` has the feedings of `plan`; so must the file."""
    if not plan.steps or not is_late(session, plan.steps[0].start, now):
        return []
    habits = habits or Habits()
    found = (
        _start_now(session, now, habits),
        _pitch_later(session, now, habits),
        _more_packs(session, plan.need.cells_b.value),
        _as_it_is(session),
    )
    return [option for option in found if option is not None]


def still_possible(session: Session, now: datetime, habits: Habits, reckon: Callable[[Session], Plan]) -> str:
    """The best of them in brief, with its figures. `reckon` gives the plan of another session."""
    start, later = _start_now(session, now, habits), _pitch_later(session, now, habits)
    stock = culture.at_pitching(session)
    as_it_is_b = stock.live_b if stock is not None else 0.0
    said = _with_figures(start, reckon(start.session), as_it_is_b) if start is not None else ""
    ways = [said or f"pitch the yeast as it is: {words.cells(as_it_is_b)}", *([later.says] if later else [])]
    return "; or ".join(ways)


def _with_figures(start: Option, plan: Plan, least_b: float) -> str:
    """What starting now still gives; nothing where that is not even `least_b`."""
    grown, chance = plan.final.pitched_b, plan.final.chance.value
    if grown.value is None or grown.value <= least_b:
        return ""
    odds = "" if chance is None else f", chance {chance_text(chance)}"
    return f"{start.says} still give {words.cells(grown.value)} ({words.spread(grown.low, grown.high)}){odds}"


def _start_now(session: Session, now: datetime, habits: Habits) -> Option | None:
    """Go on now; the first attempt that leaves time to grow, its feedings shorter in proportion."""
    for attempt in _attempts(session):
        hours_h = _hours_there_are(attempt.session, now, habits)
        if hours_h is None:
            continue
        steps = tuple(step._replace(hours_s=3600.0 * h) for step, h in zip(attempt.session.step, hours_h, strict=True))
        given = attempt.session.given | {f"step.{index}.hours" for index in range(len(steps))}
        edits = [SetValue(f"step.{index}.hours", f"{h:g} h") for index, h in enumerate(hours_h)]
        says = f"start now{attempt.says}: {' + '.join(f'{h:g}' for h in hours_h)} h"
        return Option("start-now", says, attempt.session._replace(step=steps, given=given), (*attempt.edits, *edits))
    return None


def _attempts(session: Session) -> Iterator[Option]:
    """All feedings, or but the largest; each pitched as planned, then whole: that saves the rest before a decant."""
    yield from _also_whole(Option("all", "", session, ()))
    if len(session.step) > 1:
        largest = max(range(len(session.step)), key=lambda index: session.step[index].wort_l or 0.0)
        one, edits = _with_steps(session, (largest,))
        yield from _also_whole(Option("one", f" with feeding {largest + 1} alone", one, edits))


def _also_whole(attempt: Option) -> Iterator[Option]:
    yield attempt
    own = attempt.session
    if settle.pitch(own) == "decanted":
        whole = own._replace(batch=own.batch._replace(pitch="whole"), given=own.given | {"batch.pitch"})
        edits = (*attempt.edits, SetValue("batch.pitch", "whole"))
        yield Option(attempt.code, f"{attempt.says}, pitched whole", whole, edits)


def _hours_there_are(session: Session, now: datetime, habits: Habits) -> list[float] | None:
    """Hours of each feeding from now to pitching, at most as planned; None where there is no time to grow."""
    worts = [made.make(session, index, habits) for index in range(len(session.step))]
    pitch_at, ready = happened.pitch_at(session), _ready(session, now)
    wanted_h = [h for h in culture.run(session, worts).planned_h if h]
    if pitch_at is None or ready is None or not worts or len(wanted_h) < len(worts):
        return None
    room_h = hours_between(ready, pitch_at) - rests_h(session, [wort.asked for wort in worts])
    if room_h < _LEAST_H:
        return None
    share = min(1.0, room_h / sum(wanted_h))
    hours_h = [math.floor(_QUARTERS * share * h) / _QUARTERS for h in wanted_h]
    return hours_h if all(hours_h) else None


def _ready(session: Session, now: datetime) -> datetime | None:
    """When the yeast can go in: now where the wort is cool, after half of the preparing once its boil is over."""
    boiled, cooled = boil_over(session, 1), stamp(session, "cool-done", 1)
    left = 1.0 if boiled is None else 0.5 if cooled is None or cooled < boiled else 0.0
    return before(now, -left * session.day.prepare_s / 3600.0)


def _pitch_later(session: Session, now: datetime, habits: Habits) -> Option | None:
    """The first waking full hour of pitching at which the plan as it stands can still be begun."""
    worts = [made.make(session, index, habits) for index in range(len(session.step))]
    pitch_at, ready = happened.pitch_at(session), _ready(session, now)
    for _ in range(_ROUNDS):
        if pitch_at is None or ready is None or not worts:
            return None
        variant = session._replace(batch=session.batch._replace(pitch_at=pitch_at))
        start = culture.run(variant, worts).starts[0]
        if start is None:
            return None
        if start >= ready:
            at = local(pitch_at, habits.tz)
            return Option(
                "pitch-later", f"pitch {moment(at, now, habits.tz)}", variant, (SetValue("batch.pitch_at", at),)
            )
        needed = before(pitch_at, hours_between(ready, start))
        pitch_at = None if needed is None else next_waking_hour(needed, session.day.awake, habits.tz)
    return None


def _more_packs(session: Session, need_b: float | None) -> Option | None:
    """As many more of the packs or sachets on hand as meet the need without a starter."""
    found = supply.packs_instead(session, need_b)
    if found is None:
        return None
    index, more = found
    lot = session.yeast[index]
    what = {"pack": "pack", "dry": "sachet"}[lot.kind or "pack"] + ("s" if more > 1 else "")
    bare, edits = _with_steps(session, ())
    yeast = (*session.yeast[:index], lot._replace(packs=lot.packs + more), *session.yeast[index + 1 :])
    more_of_it = bare._replace(yeast=yeast, given=bare.given | {f"yeast.{index}.count"})
    count = SetValue(f"yeast.{index}.count", lot.packs + more)
    return Option("more-packs", f"{more} {what} more, no starter", more_of_it, (count, *edits))


def _as_it_is(session: Session) -> Option:
    """The lots into the beer as they are; the file is to say so, or feedings would be proposed again."""
    bare, edits = _with_steps(session, ())
    asked = bare._replace(batch=bare.batch._replace(starter=False), given=bare.given | {"batch.starter"})
    no_starter = SetValue("batch.starter", value=False)
    return Option("as-it-is", "pitch the yeast as it is, no starter", asked, (*edits, no_starter))


def _with_steps(session: Session, kept: tuple[int, ...]) -> tuple[Session, tuple[Edit, ...]]:
    """The session with these of its feedings alone, by index from 0, and what takes the others out of the file."""
    given = frozenset(moved for key in session.given if (moved := _moved(key, kept)))
    gone = (index for index in reversed(range(len(session.step))) if index not in kept)
    left = session._replace(step=tuple(session.step[index] for index in kept), given=given)
    return left, tuple(RemoveTable("step", index) for index in gone)


def _moved(key: str, kept: tuple[int, ...]) -> str:
    """A key of the session as it is called with these feedings alone; nothing where it is gone."""
    table, *rest = key.split(".")
    if table != "step":
        return key
    if not rest:
        return key if kept else ""
    index = int(rest[0])
    return ".".join((table, str(kept.index(index)), *rest[1:])) if index in kept else ""
