"""Growth cut short by a late start, and cultures that wait: warm until they tire, cold until they want waking."""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbench.plan import happened, settle, words
from workbench.plan.model import Warning
from workbench.units.when import hours_between, moment

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime, tzinfo

    from workbench.plan.culture import Course
    from workbench.plan.model import StepPlan
    from workbench.session.model import Session

__all__ = ["KEEPS_WARM_H", "waiting_warnings"]

KEEPS_WARM_H = 48  # a grown culture stands so long at room temperature (common practice)
KEEPS_COLD_DAYS = 7.0  # and so long in the cold before it wants waking (common practice)
_HARDLY_H = 1.0  # hours are rounded up to whole ones: less than that is none too few
WAKING_SHARE = 0.1  # of the feeding it grew in (recommended)


def waiting_warnings(
    session: Session, steps: Sequence[StepPlan], course: Course, now: datetime, tz: tzinfo | None
) -> Iterator[Warning]:
    """For every feeding whose times are known."""
    for step, wanted_h, fed in zip(steps, course.wanted_h, course.fed, strict=False):
        if step.start is None or step.end is None:
            continue
        there_h = hours_between(step.start, step.end)
        if wanted_h is not None and there_h < wanted_h - _HARDLY_H:
            yield _short(session, step, there_h, wanted_h)
        grown_h = fed.free_hours
        if grown_h is not None and there_h - grown_h > KEEPS_WARM_H:
            text = (
                f"grown after {words.hours(grown_h)}, it stands warm for {words.hours(there_h - grown_h)} more, "
                f"over {KEEPS_WARM_H:.0f} h: chill it once it is grown"
            )
            yield Warning("waits-warm", "caution", text, f"step.{step.number - 1}.hours")
    if steps and not settle.is_shelf(session):
        yield from _to_wake(session, steps[-1], now, tz)


def _short(session: Session, step: StepPlan, there_h: float, wanted_h: float) -> Warning:
    """Begun late, or chilled early: it grows only until what comes next, unless the brewer has given its hours."""
    key = f"step.{step.number - 1}.hours"
    there, wanted, out = words.hours(there_h), words.hours(wanted_h), step.cells_out_b
    if session.step[step.number - 1].hours_s is not None:
        return Warning("short-growth", "caution", f"{wanted} are set, but there are only {there}: set those", key)
    grows = "" if out.value is None else f": {words.cells(out.value)} ({words.spread(out.low, out.high)})"
    return Warning("short-growth", "caution", f"only {there} to grow of the {wanted} it wants{grows}", key)


def _to_wake(session: Session, step: StepPlan, now: datetime, tz: tzinfo | None) -> Iterator[Warning]:
    """A finished culture that stands cold for long is given a little fresh wort before it is pitched."""
    since, until, of_l = happened.chilled(session, step.number), happened.pitch_at(session), step.wort_l.value
    if since is None or until is None or not of_l:
        return
    days = hours_between(since, until) / 24.0
    if days <= KEEPS_COLD_DAYS:
        return
    volume_l, dose = WAKING_SHARE * of_l, step.powder_g_per_l.value
    powder = "" if dose is None else f", {words.grams(dose * volume_l)} of powder"
    text = (
        f"cold since {moment(since, now, tz)}, {days:.0f} days by pitching: pour off, wake it the evening before with "
        f"{words.millilitres(1000.0 * volume_l)} of wort at {words.gravity(step.planned_w)}{powder}: "
        f"{100 * WAKING_SHARE:.0f} % of its feeding (recommended)"
    )
    yield Warning("wake-it", "note", text, f"step.{step.number - 1}.chill")
