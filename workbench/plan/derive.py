"""Session in, Plan out: the only place that joins the science and the session. Pure: `now` and habits are passed in."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from workbench.plan import culture, finish, made, readings, settle, stepplan, supply, warn
from workbench.plan.habits import Habits
from workbench.plan.model import Moment, Plan

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from workbench.plan.model import StepPlan, Warning
    from workbench.session.model import Session

__all__ = ["derive"]


def derive(session: Session, now: datetime, habits: Habits | None = None) -> Plan:
    """Every figure of the session at one moment, with ranges, reasons and warnings. Raises nothing."""
    habits = habits or Habits()
    worts = [made.make(session, index, habits) for index in range(len(session.step))]
    contents = made.fill(session, worts)
    course = culture.run(session, worts)
    drawn = culture.outcomes(session, course)
    need = supply.need(session)
    hand = supply.hand(session, course, drawn)
    steps = tuple(
        stepplan.step_plan(session, index, wort, contents[index], course, drawn) for index, wort in enumerate(worts)
    )
    final = finish.final(session, need, hand, course, drawn, contents)
    originals = [content.original_w if content is not None else None for content in contents]
    corrected, doubts = readings.correct_all(session, habits, originals)
    warnings: list[Warning] = [*warn.missing(session, hand), *warn.lot_warnings(session, course, hand), *doubts]
    for wort, plan in zip(worts, steps, strict=True):
        warnings += warn.step_warnings(session, wort, plan, course, need)
    warnings += warn.end_warnings(session, need, final)
    at_pitching = culture.stock_at(session, session.batch.pitch_at) if session.batch.pitch_at is not None else None
    return Plan(
        session=session,
        now=now,
        need=need,
        hand=hand,
        starter_needed=supply.starter_needed(session, need, at_pitching),
        planned_by="brewer" if session.step else "none",
        steps=steps,
        final=final,
        readings=corrected,
        moments=tuple(sorted(_moments(session, steps), key=lambda m: m.at)),
        flask=settle.flask_shape(session),
        warnings=tuple(warnings),
    )


def _moments(session: Session, steps: tuple[StepPlan, ...]) -> Iterator[Moment]:
    """The hours the plan knows already."""
    prepare = timedelta(seconds=session.day.prepare_s)
    rest = timedelta(hours=settle.rest_h(session))
    decanted = settle.pitch(session) == "decanted"
    for step in steps:
        if step.start is None:
            continue
        yield Moment(step.start - prepare, f"make the wort of feeding {step.number}", step.number)
        if step.decant and step.number > 1:
            yield Moment(step.start - rest, f"chill feeding {step.number - 1} to settle", step.number - 1)
            yield Moment(step.start, f"pour off, feed {step.number}", step.number)
        else:
            yield Moment(step.start, "yeast in" if step.number == 1 else f"feed {step.number}, on top", step.number)
    if session.batch.pitch_at is None:
        return
    if steps and decanted:
        yield Moment(session.batch.pitch_at - rest, f"chill feeding {len(steps)} to settle", len(steps))
    shelf = settle.is_shelf(session)
    yield Moment(session.batch.pitch_at, "into the fridge" if shelf else "yeast into the beer", 0)
