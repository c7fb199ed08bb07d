"""What is late by now, or falls into the hours when the brewer sleeps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan.culture import before
from workbench.plan.model import Warning
from workbench.plan.readings import stamp
from workbench.units.when import lasting

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime, time

    from workbench.plan.model import StepPlan
    from workbench.session.model import Session

__all__ = ["time_warnings"]


def time_warnings(session: Session, steps: tuple[StepPlan, ...], now: datetime) -> Iterator[Warning]:
    """For every feeding that is not stamped as begun, while pitching is still to come."""
    pitch_at = session.batch.pitch_at
    if pitch_at is None or pitch_at <= now:
        return
    for step in steps:
        if step.start is None or stamp(session, "yeast-in", step.number) is not None:
            continue
        key = f"step.{step.number - 1}.start"
        weigh_at = before(step.start, session.day.prepare_s / 3600.0)
        if step.start < now:
            ago = lasting(now - step.start)
            text = f"by this plan the yeast went in {ago} ago; if it did not, pitch later or grow shorter"
            yield Warning("too-late", "caution", text, key)
        elif weigh_at is not None and weigh_at < now:
            yield Warning("late", "caution", f"weighing was to begin {lasting(now - weigh_at)} ago", key)
        for at, what in ((weigh_at, "weighing"), (step.start, "yeast in")):
            if at is not None and at >= now and not _awake(at, session.day.awake):
                first, last = session.day.awake
                text = f"{what} at {at:%H:%M} is outside {first:%H:%M}–{last:%H:%M}"
                yield Warning("outside-awake", "note", text, key)


def _awake(at: datetime, hours: tuple[time, time]) -> bool:
    """Whether the local hour of `at` lies within, over midnight where the second is the earlier."""
    first, last = hours
    hour = at.timetz().replace(tzinfo=None)
    return first <= hour <= last if first <= last else hour >= first or hour <= last
