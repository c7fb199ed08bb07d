"""The schedule: every task of the plan in order of time, how early and how late it may be, and why then."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing.growth import TIME_FACTOR
from workbench.plan import happened, settle, timeline, words
from workbench.plan.model import Figure, Moment, Reason
from workbench.plan.sources import ASKED, BARANYI, MEASURED, RECKONED, RECOMMENDED, TRADE
from workbench.plan.timeline import before
from workbench.units.when import hours_between, local, moment

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime, tzinfo

    from workbench.plan.culture import Course
    from workbench.plan.model import Source
    from workbench.plan.settle import Asked
    from workbench.plan.timeline import Span
    from workbench.session.model import Session

__all__ = ["moments"]


class _Task(NamedTuple):
    """A task at an hour; `how` that follows from the hour `base` of another, if it does; whether it is done."""

    what: str
    step: int
    key: str
    at: datetime | None
    how: str
    source: Source
    base: datetime | None = None
    done: bool = False


def moments(
    session: Session, asked: Sequence[Asked], course: Course, now: datetime, tz: tzinfo | None
) -> tuple[Moment, ...]:
    """All tasks whose hour is known, times told in the zone `tz`.

    Their earliest and latest are those of the plan in which every growth that is not begun, and whose hours the brewer
    has not given, takes its slow or its quick time.
    """
    slow, quick = (
        _tasks(session, asked, timeline.spans(session, asked, _hours(session, asked, course, factor)))
        for factor in (TIME_FACTOR.high, TIME_FACTOR.low)
    )
    found = [
        _moment(task, local(task.at, tz), (early.at, late.at), now, tz)
        for task, early, late in zip(_tasks(session, asked, course.spans), slow, quick, strict=True)
        if task.at is not None
    ]
    return tuple(sorted(found, key=lambda told: told.at))


def _hours(session: Session, asked: Sequence[Asked], course: Course, factor: float) -> list[float | None]:
    """Hours of each feeding where growth takes `factor` times as long; as planned where the hours stand."""
    hours = list(course.wanted_h)
    for index, fed in enumerate(course.fed):
        planned_h, number = hours[index], index + 1
        stands = asked[index].hours is not None or happened.begun(session, number) or happened.chilled(session, number)
        if stands or fed.hours is None or planned_h is None:
            continue
        hours[index] = (max if factor > 1.0 else min)(planned_h, factor * fed.hours)
    return hours


def _tasks(session: Session, asked: Sequence[Asked], spans: Sequence[Span]) -> Iterator[_Task]:
    """Every task, in the order in which one leads to the next."""
    pitch_at = happened.pitch_at(session)
    decanted = settle.pitch(session) == "decanted" and bool(spans)
    dues = [*(span.start for span in spans[1:]), pitch_at]
    pitched, reached = happened.pitched(session) is not None, happened.last_begun(session)
    for index, (feeding, span, due) in enumerate(zip(asked, spans, dues, strict=False)):
        last, number = index + 1 == len(spans), feeding.number
        cold = happened.chilled(session, number) is not None
        for task in _feeding(session, feeding, span):
            yield task._replace(done=pitched or number <= reached)
        gone = pitched or cold or number < reached
        if last and _keeps(session):
            yield _Task("keep part of it back", number, "keep.at", span.end, "as growth ends", RECKONED, done=gone)
        if cold or (decanted if last else asked[index + 1].decant):
            yield _chill(session, feeding, span, due)._replace(done=gone)
    if not spans and _keeps(session):
        how = "when the rest is pitched"
        yield _Task("keep part of it back", 0, "keep.at", pitch_at, how, RECKONED, done=pitched)
    goal = "into the fridge" if settle.is_shelf(session) else "yeast into the beer"
    what = f"pour off, {goal.removeprefix('yeast ')}" if decanted else goal
    how, source = ("as stamped", MEASURED) if pitched else ("as typed", ASKED)
    yield _Task(what, 0, "batch.pitch_at", pitch_at, how, source, done=pitched)


def _keeps(session: Session) -> bool:
    keep = session.keep
    return keep is not None and not settle.is_shelf(session) and bool(keep.cells_b or keep.volume_l)


def _feeding(session: Session, asked: Asked, span: Span) -> Iterator[_Task]:
    """Making the wort, and the yeast in or on."""
    number, key = asked.number, f"step.{asked.number - 1}"
    begun = happened.begun(session, number) is not None
    prepare_h = session.day.prepare_s / 3600.0
    wort = "make the wort, yeast out" if number == 1 else f"make the wort of feeding {number}"
    how = f"- {60.0 * prepare_h:.0f} min to weigh, boil and cool"
    source = ASKED if session.is_given("day.prepare") else RECOMMENDED
    yield _Task(wort, number, f"{key}.weigh", before(span.start, prepare_h), how, source, span.start)
    pour = "pour off, " if asked.decant else ""
    feed = f"{pour}yeast in" if number == 1 else f"{pour}feed {number}" if pour else f"feed {number}, on top"
    if begun:
        yield _Task(feed, number, f"{key}.start", span.start, "as stamped", MEASURED)
        return
    hours = "" if span.hours is None else words.hours(span.hours)
    given = asked.hours is not None
    how = f"- {hours} of growth, {'as set' if given else 'as it takes, rounded up'}"
    yield _Task(feed, number, f"{key}.start", span.start, how, ASKED if given else BARANYI, span.end)


def _chill(session: Session, asked: Asked, span: Span, due: datetime | None) -> _Task:
    """Into the cold, so that the yeast settles before spent wort is poured off."""
    what, key = f"chill feeding {asked.number} to settle", f"step.{asked.number - 1}.chill"
    if span.end is not None and span.end == happened.chilled(session, asked.number):
        return _Task(what, asked.number, key, span.end, "as stamped", MEASURED)
    rest_h = settle.rest_h(session)
    if span.end is not None and due is not None and hours_between(span.end, due) < rest_h - 1e-6:
        return _Task(what, asked.number, key, span.end, "as soon as its yeast is in: no time is left", RECKONED)
    how = f"- {words.hours(rest_h)} of cold rest before pouring off"
    return _Task(what, asked.number, key, span.end, how, ASKED if session.is_given("wort.rest") else TRADE, due)


def _moment(
    task: _Task, at: datetime, bounds: tuple[datetime | None, datetime | None], now: datetime, tz: tzinfo | None
) -> Moment:
    earliest, latest = (None if bound is None else local(bound, tz) for bound in bounds)
    base = f"{moment(task.base, now, tz)} " if task.base is not None else ""
    says = f"{task.what}: {base}{task.how}{' =' if base else ','} {moment(at, now, tz)}"
    unsure = ""
    if earliest is not None and latest is not None and earliest < latest:
        unsure = (
            f"earlier than {moment(earliest, now, tz)} it waits for nothing, later than {moment(latest, now, tz)} even "
            f"quick growth is not done (growth × {TIME_FACTOR.low:g} to × {TIME_FACTOR.high:g}, recommended)"
        )
    why = Figure(None, "", Reason(says, task.source, unsure=unsure))
    return Moment(at, task.what, task.step, task.key, earliest, latest, why, task.done)
