"""The brewer's waking hours, by the clock on the wall: which tasks fall outside them, and what would mend that."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from workbench.plan import happened, settle
from workbench.plan.model import Warning
from workbench.plan.timeline import before
from workbench.plan.waiting import KEEPS_WARM_H
from workbench.units.when import hours_between, local, moment

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime, time, tzinfo

    from workbench.plan.model import Moment, StepPlan
    from workbench.session.model import Session

__all__ = ["awake_warnings", "is_awake", "next_waking_hour"]

_LONGEST_REST_H = 48
_DAY_H = 24


def is_awake(at: datetime, hours: tuple[time, time], tz: tzinfo | None) -> bool:
    """Whether the local hour of `at` lies within, over midnight where the second is the earlier."""
    first, last = hours
    hour = local(at, tz).time()
    return first <= hour <= last if first <= last else hour >= first or hour <= last


def next_waking_hour(at: datetime, hours: tuple[time, time], tz: tzinfo | None) -> datetime:
    """The first full hour by the clock, not before `at`, at which the brewer is up; the first at all if never is."""
    there = local(at, tz)
    if there.replace(minute=0, second=0, microsecond=0) != there:
        there = local(there.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1), tz)
    return next((hour for hour in _hours_on(there, tz) if is_awake(hour, hours, tz)), there)


def _hours_on(at: datetime, tz: tzinfo | None) -> Iterator[datetime]:
    return (local(at + timedelta(hours=n), tz) for n in range(_DAY_H + 1))


def awake_warnings(
    session: Session, steps: Sequence[StepPlan], moments: Sequence[Moment], now: datetime, tz: tzinfo | None
) -> Iterator[Warning]:
    """One for every task to come, while pitching is, that falls into the hours of sleep."""
    first, last = session.day.awake
    for task in moments:
        if task.done or task.at < now or is_awake(task.at, session.day.awake, tz):
            continue
        mend = _Mend(session, steps, moments, now, tz).of(task)
        text = f"{_named(task)} at {task.at:%H:%M} is outside {first:%H:%M}–{last:%H:%M}"
        yield Warning("outside-awake", "note", f"{text}: {mend}" if mend else text, task.key)


def _named(task: Moment) -> str:
    """The task as the subject of a sentence."""
    table, _, name = task.key.rpartition(".")
    named = {"weigh": "weighing", "chill": "chilling", "at": "keeping back", "pitch_at": "pitching"}
    return named.get(name, "yeast in" if table == "step.0" else "feeding")


class _Mend:
    """What would bring a task of one plan into waking hours: whole hours more of growth or rest, or another pitch."""

    def __init__(
        self,
        session: Session,
        steps: Sequence[StepPlan],
        moments: Sequence[Moment],
        now: datetime,
        tz: tzinfo | None,
    ) -> None:
        self.session, self.steps, self.now, self.tz = session, steps, now, tz
        self.at = {task.key: task.at for task in moments}

    def of(self, task: Moment) -> str:
        """In words; nothing where nothing here would."""
        is_start = task.key.endswith((".weigh", ".start"))
        decanted = settle.pitch(self.session) == "decanted" and task.step > 0
        is_rest = task.key.endswith(".chill") or (task.key == "keep.at" and decanted)
        if task.key == "batch.pitch_at":
            return self._pitch(task)
        told = self._longer_growth(task) if is_start else self._longer_rest(task) if is_rest else ""
        return told or self._later_pitch(task)

    def _awake(self, *ats: datetime | None) -> bool:
        """Whether the brewer is up at all of these hours, and none has gone by."""
        return all(at is not None and at >= self.now and is_awake(at, self.session.day.awake, self.tz) for at in ats)

    def _told(self, at: datetime | None) -> str:
        return "" if at is None else moment(at, self.now, self.tz)

    def _longer_growth(self, task: Moment) -> str:
        """Hours of this feeding at which its wort is made and its yeast goes in while the brewer is up."""
        key = f"step.{task.step - 1}"
        tasks = [self.at.get(f"{key}.weigh"), self.at.get(f"{key}.start")]
        hours_h, spare_h = self.steps[task.step - 1].hours_planned, self._spare_h(task.step)
        for more in range(1, KEEPS_WARM_H + 1):
            if hours_h is not None and more <= spare_h and self._awake(*(before(at, more) for at in tasks)):
                there = self._told(before(task.at, more))
                return f"hours of {hours_h + more:g} instead of {hours_h:g} put it at {there}"
        return ""

    def _spare_h(self, number: int) -> float:
        """By how much this feeding may begin sooner without cutting short one that has begun."""
        if number == 1 or number - 1 > happened.last_begun(self.session):
            return KEEPS_WARM_H
        last = self.steps[number - 2]
        if last.start is None or last.end is None or last.hours_planned is None:
            return 0.0
        return hours_between(last.start, last.end) - last.hours_planned

    def _longer_rest(self, task: Moment) -> str:
        """A rest at which this feeding is chilled while the brewer is up; all rests grow, so nothing may have begun."""
        if happened.last_begun(self.session):
            return ""
        rest_h = settle.rest_h(self.session)
        rests = 1 + sum(step.decant for step in self.steps[task.step + 1 :])
        rests += task.step < len(self.steps) and settle.pitch(self.session) == "decanted"
        for more in range(1, _LONGEST_REST_H + 1):
            at = before(task.at, more * rests)
            if self._awake(at):
                return f"a rest of {rest_h + more:g} instead of {rest_h:g} h puts it at {self._told(at)}"
        return ""

    def _later_pitch(self, task: Moment) -> str:
        """An hour of pitching, all else as planned, at which this task falls into waking hours, and so does that."""
        pitch_at = happened.pitch_at(self.session)
        for later in range(1, _DAY_H + 1):
            at, pitch = before(task.at, -later), before(pitch_at, -later)
            if self._awake(at, pitch):
                return f"pitching at {self._told(pitch)} puts it at {self._told(at)}"
        return ""

    def _pitch(self, task: Moment) -> str:
        """The nearest waking hours before and after."""
        near = [
            next((self._told(at) for n in range(1, _DAY_H + 1) if self._awake(at := before(task.at, sign * n))), "")
            for sign in (1, -1)
        ]
        return " or ".join(text for text in near if text) + " would be within" if any(near) else ""
