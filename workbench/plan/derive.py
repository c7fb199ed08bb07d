"""Session in, Plan out: the only place that joins the science and the session. Pure: `now` and habits are passed in."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from workbench.plan import chain, culture, finish, made, readings, settle, standing, stepplan, supply, warn
from workbench.plan.culture import before
from workbench.plan.habits import Habits
from workbench.plan.model import Moment, Plan, Warning
from workbench.plan.timeliness import time_warnings

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from workbench.plan.model import StepPlan
    from workbench.session.model import Session, Step

__all__ = ["derive"]


def derive(session: Session, now: datetime, habits: Habits | None = None) -> Plan:
    """Every figure of the session at one moment, with ranges, reasons and warnings. Raises nothing."""
    habits = habits or Habits()
    proposed, misses = _proposed(session)
    session = session._replace(step=proposed or session.step)
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
    warnings: list[Warning] = [
        *misses,
        *warn.missing(session, hand),
        *warn.lot_warnings(session, course, hand),
        *doubts,
    ]
    for wort, plan, fed in zip_longest(worts, steps, course.fed):  # fed is shorter where the course cannot be told
        warnings += warn.step_warnings(session, wort, plan, fed, (need, final))
    warnings += time_warnings(session, steps, now)
    warnings += warn.end_warnings(session, need, final)
    coming = chain.chain(session, need, final, course, worts)
    warnings += warn.chain_warnings(session, need, coming)
    at_pitching = culture.stock_at(session, session.batch.pitch_at) if session.batch.pitch_at is not None else None
    return Plan(
        session=session,
        now=now,
        need=need,
        hand=hand,
        starter_needed=supply.starter_needed(session, need, at_pitching),
        starter=supply.starter(session, need, at_pitching),
        planned_by="planner" if proposed else "brewer" if session.step else "none",
        steps=steps,
        final=final,
        chain=coming,
        readings=corrected,
        moments=tuple(sorted(_moments(session, steps), key=lambda m: m.at)),
        fill_limit_l=standing.fill_limit(session),
        boil_limit_l=standing.boil_limit(session),
        flask=settle.flask_shape(session),
        warnings=tuple(warnings),
    )


def _proposed(session: Session) -> tuple[tuple[Step, ...] | None, list[Warning]]:
    """The planner's feedings where the file has none and the lots fall short; else why there are none."""
    if session.step or session.batch.pitch_at is None or not session.yeast:
        return None, []
    from workbench.plan import planner  # not for a file that has its feedings

    if not planner.is_wanted(session):
        return None, []
    steps = planner.propose(session)
    if steps is not None:
        return steps, []
    from workbench.plan.relax import diagnosis

    return None, [Warning("no-plan", "caution", diagnosis(session), "step")]


def _moments(session: Session, steps: tuple[StepPlan, ...]) -> Iterator[Moment]:
    """The hours the plan knows already."""
    prepare_h, rest_h = session.day.prepare_s / 3600.0, settle.rest_h(session)
    pitch_at, last = session.batch.pitch_at, len(steps)
    for step in steps:
        n = step.number
        yield from _moment(before(step.start, prepare_h), f"make the wort of feeding {n}", n)
        if step.decant and n > 1:
            yield from _moment(before(step.start, rest_h), f"chill feeding {n - 1} to settle", n - 1)
            yield from _moment(step.start, f"pour off, feed {n}", n)
        else:
            yield from _moment(step.start, "yeast in" if n == 1 else f"feed {n}, on top", n)
    if steps and settle.pitch(session) == "decanted":
        yield from _moment(before(pitch_at, rest_h), f"chill feeding {last} to settle", last)
    yield from _moment(pitch_at, "into the fridge" if settle.is_shelf(session) else "yeast into the beer", 0)


def _moment(at: datetime | None, what: str, step: int) -> Iterator[Moment]:
    """One, if its hour is known."""
    if at is not None:
        yield Moment(at, what, step)
